//! The whole job as pure computing: a journal of acts, folded into a job, its
//! ledger, its debts, its order and its audit. No input or output, no clock,
//! no chance of its own: time, ids and names come in as arguments.
#![forbid(unsafe_code)]

pub mod access;
pub mod audit;
pub mod caution;
pub mod codec;
pub mod debts;
pub mod fastener;
pub mod find;
pub mod fluid;
pub mod guard;
pub mod handover;
pub mod job;
pub mod jobfile;
pub mod journal;
pub mod ledger;
pub mod permit;
pub mod procedure;
pub mod second;
pub mod tag;
pub mod torque;
pub mod view;
pub mod words;
