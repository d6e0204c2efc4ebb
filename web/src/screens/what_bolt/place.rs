//! What is said of a found fastener in the end: logged as found, of a place, or
//! of none. It is owed in every open job that it may be of, until it is settled
//! in one; then it is settled in the others with where it went.
use countback_core::fastener::FastenerSpec;
use countback_core::journal::*;
use countback_core::view::{self, OriginRow};
use countback_core::words;
use yew::prelude::*;

use super::record;
use crate::app::{Along, Desk, Told as Done};

/// What has been found out so far, and in which jobs.
#[derive(Clone)]
pub struct Told {
    /// The job at hand, then the others.
    pub keys: Vec<String>,
    pub spec: FastenerSpec,
    pub place: String,
    /// Logged already in the job at hand.
    pub stray: Option<StrayId>,
    /// Jobs that have a place it may be of.
    pub matching: Vec<usize>,
    /// Begins anew once it is said.
    pub after: Callback<()>,
}

impl Told {
    fn found(&self) -> Act {
        Act::StrayFound {
            spec: self.spec.clone(),
            place: self.place.trim().to_owned(),
        }
    }

    /// The stray as it stands in a job.
    fn there(&self, desk: &Desk, at: usize) -> Option<StrayId> {
        if at == 0 {
            return self.stray;
        }
        let (spec, place) = match self.stray {
            // As it was logged, whatever was measured since.
            Some(id) => desk.read(self.keys.first()?, |book| {
                let it = book.job().strays.get(id);
                it.map(|s| (s.spec.clone(), s.place.clone()))
            })??,
            None => return None,
        };
        let key = self.keys.get(at)?;
        desk.read(key, |book| view::same_stray(book.job(), &spec, &place))?
    }

    /// Logs it in the job at hand and in those that it may be of.
    pub fn log(&self, desk: &Desk) -> Callback<()> {
        let (desk, told) = (desk.clone(), self.clone());
        Callback::from(move |()| {
            for (n, key) in told.keys.iter().enumerate().rev() {
                if n == 0 || told.matching.contains(&n) {
                    desk.tell(key, record(told.found()));
                }
            }
            told.after.emit(());
        })
    }

    /// It is of this place: settled in its job, and in the others as gone there.
    pub fn belongs(&self, desk: &Desk, origin: &OriginRow) -> Callback<()> {
        let (desk, told) = (desk.clone(), self.clone());
        let (at, line) = (origin.job, origin.line);
        Callback::from(move |()| {
            let Some(key) = told.keys.get(at).cloned() else {
                return;
            };
            let name = desk
                .read(&key, |book| words::name(book.job(), Target::Job))
                .unwrap_or_default();
            for (n, other) in told.keys.iter().enumerate().filter(|&(n, _)| n != at) {
                if let Some(stray) = told.there(&desk, n) {
                    let reason = format!("belongs to {name}");
                    desk.tell(other, record(Act::StraySettled { stray, reason }));
                }
            }
            match told.there(&desk, at) {
                Some(stray) => desk.tell(&key, record(Act::StrayIdentified { stray, line })),
                None => {
                    let (desk2, key2) = (desk.clone(), key.clone());
                    let done = Callback::from(move |done: Done| {
                        if let Done::Saved(events) = done
                            && let Some(first) = events.first()
                        {
                            let stray = StrayId(first.id.thing(0));
                            desk2.tell(&key2, record(Act::StrayIdentified { stray, line }));
                        }
                    });
                    desk.tell_then(&key, record(told.found()), Along::default(), done);
                }
            }
            told.after.emit(());
        })
    }

    /// What was measured since it was logged, as the act that keeps it.
    pub fn since(&self, desk: &Desk, at: usize) -> Option<Act> {
        let stray = self.there(desk, at)?;
        let key = self.keys.get(at)?;
        desk.read(key, |book| {
            view::keep_readings(book.job(), stray, &self.spec)
        })?
    }

    /// Of none of the places: what was measured since is kept with it, in every
    /// job that has it.
    pub fn keep(&self, desk: &Desk) -> Callback<()> {
        let (desk, told) = (desk.clone(), self.clone());
        Callback::from(move |()| {
            // The job at hand last: the others are found by how it is logged there.
            for (n, key) in told.keys.iter().enumerate().rev() {
                if let Some(act) = told.since(&desk, n) {
                    desk.tell(key, record(act));
                }
            }
            told.after.emit(());
        })
    }

    /// Of no job here: set aside, in every job that has it.
    pub fn settle(&self, desk: &Desk) -> Callback<()> {
        let (desk, told) = (desk.clone(), self.clone());
        Callback::from(move |()| {
            for (n, key) in told.keys.iter().enumerate().rev() {
                if let Some(stray) = told.there(&desk, n) {
                    let reason = "of none of the jobs here".to_owned();
                    desk.tell(key, record(Act::StraySettled { stray, reason }));
                }
            }
            told.after.emit(());
        })
    }
}
