//! The doors to the browser: storage, camera, files, locks, clock.
//! This folder and the service worker are the only places that face JavaScript; JS values are turned
//! into plain rows on arrival and never travel further. What the rows mean is the core's affair.

pub mod archive;
pub mod ask;
pub mod bytes;
pub mod clip;
pub mod clock;
pub mod device;
pub mod fetch;
pub mod files;
pub mod hash;
mod js;
pub mod locale;
pub mod lock;
pub mod marker;
pub mod marks;
pub mod panic;
pub mod persist;
pub mod photo;
pub mod second;
pub mod share;
pub mod sight;
pub mod store;
pub mod wake;
pub mod when;
pub mod width;
pub mod worker;

use std::{future::Future, pin::Pin};

/// A port's answer that is still to come. Boxed so that ports can be held as `Rc<dyn …>`.
pub type Pending<'a, T> = Pin<Box<dyn Future<Output = T> + 'a>>;
