//! Everything the core says, in plain trade words. The only place where
//! sentences are made; rules and states elsewhere are values.
mod acts;
mod advice;
mod bolt;
mod doubt;
mod due;
mod fluid;
mod handover;
mod meant;
mod names;
mod owed;
mod refusals;
mod small;
mod tighten;
mod typed;

pub use acts::{act, want_target};
pub use advice::{
    NOT_LOOKED_AT, OWN_WORK, ask, broken_off, close_by, confirmed_late, cost, critical, do_not,
    first, minutes_by, over_by_clock, permit_answer, signed, since_signed, slip, to_be_found, wait,
};
pub use bolt::{
    TOO_SHORT_BEFORE, bolt_length, confidence, hole_old, hole_sum, hole_verdict, measurement,
    out_of_nut, pipe_alike, pipe_form, read_alike, share,
};
pub use doubt::{TorqueCheck, doubt_and_why, torque_check};
pub use due::due_note;
pub use fluid::{fill, fluid_state, holds_it, holds_none, volumes};
pub use handover::{parts_left, parts_total, stop};
pub use meant::{DRY_BUT_OILED, meant, meant_for, runs_with, tolerance};
pub use names::{
    Names, account, counted, each, fixing_count, fixing_short, lying, name, name_and_route,
    of_line, plural, route_to, still_inside, still_open,
};
pub use owed::{OwedText, VerdictText, group, lacks, owed, verdict};
pub use refusals::{LATE_REASONS, REACHED, open_again, open_over, refusal};
pub use small::*;
pub use tighten::*;
pub use typed::{TYPED_HINT, typed, typed_error};

/// How numbers and times are written for the reader.
#[derive(Clone, Copy, Debug)]
pub struct Style {
    /// The decimal sign of the reader's language.
    pub decimal: char,
    /// A time (ms since 1970) as day and hour where the reader is.
    pub when: fn(i64) -> String,
}

impl Default for Style {
    fn default() -> Self {
        Self {
            decimal: '.',
            when: |ms| format!("{} min", ms / 60_000),
        }
    }
}
