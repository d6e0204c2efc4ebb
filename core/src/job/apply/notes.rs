//! Folding of photos, notes, other ways, runs and checks that fall due after running.
use super::*;

impl Job {
    /// Another way to reach a thing. Of a part it counts on the way back too.
    pub(super) fn way_noted(&mut self, what: Target, needs: &[Need]) {
        if needs.is_empty() {
            // It can be reached with all that covers it on.
            let with = self.part_of_what(what);
            while let Some(by) = self.covered_by(what) {
                let Some(part) = self.parts.get_mut(by) else {
                    break;
                };
                part.buried.retain(|&it| it != what && Some(it) != with);
            }
        }
        let ways = match what {
            Target::Part(id) => {
                let Some(it) = self.parts.get_mut(id) else {
                    return;
                };
                if it.ways.is_empty() {
                    self.ways_noted.push(id);
                }
                &mut it.ways
            }
            Target::Connection(id) | Target::End(EndId { connection: id, .. }) => {
                match self.connections.get_mut(id) {
                    Some(it) => &mut it.ways,
                    None => return,
                }
            }
            Target::Opening(id) => match self.openings.get_mut(id) {
                Some(it) => &mut it.ways,
                None => return,
            },
            _ => return,
        };
        ways.push(needs.to_vec());
    }

    pub(super) fn photo_taken(&mut self, event: &Event, taken: &PhotoTaken) {
        self.photos.add(
            PhotoId(event.id.thing(0)),
            Photo {
                taken: taken.clone(),
                at: event.at,
                opened: event.id,
            },
        );
    }

    pub(super) fn note_added(&mut self, event: &Event, on: Target, text: &str) {
        self.notes.add(
            NoteId(event.id.thing(0)),
            Note {
                on,
                text: text.to_owned(),
                at: event.at,
                opened: event.id,
            },
        );
    }

    pub(super) fn after_run_owed(
        &mut self,
        id: EventId,
        sub: u16,
        what: AfterRunKind,
        on: Target,
        text: &str,
        due: Due,
    ) {
        self.after_runs.add(
            AfterRunId(id.thing(sub)),
            AfterRun {
                what,
                on,
                text: text.to_owned(),
                due,
                opened: id,
                done: false,
            },
        );
    }

    pub(super) fn ran(&mut self, event: &Event, heat_cycles: u16) {
        self.runs.push(Run {
            heat_cycles,
            at: event.at,
            event: event.id,
        });
    }

    /// Words that were put right.
    pub(super) fn called(&mut self, what: Target, name: &str) {
        let words = match what {
            Target::Part(id) => self.parts.get_mut(id).map(|it| &mut it.name),
            Target::Fixing(id) => self.fixings.get_mut(id).map(|it| &mut it.place),
            Target::Connection(id) => self.connections.get_mut(id).map(|it| &mut it.name),
            Target::End(id) => self.end_mut(id).map(|it| &mut it.end.label),
            Target::Item(id) => self.items.get_mut(id).map(|it| &mut it.name),
            Target::Container(id) => self.containers.get_mut(id).map(|it| &mut it.name),
            Target::Opening(id) => self.openings.get_mut(id).map(|it| &mut it.name),
            Target::Inside(id) => self.insides.get_mut(id).map(|it| &mut it.put.name),
            Target::Fluid(id) => self.fluids.get_mut(id).map(|it| &mut it.name),
            Target::Treatment(id) => {
                let it = self.treatments.get_mut(id);
                it.map(|it| &mut it.treatment.product)
            }
            Target::Supply(id) => self.supplies.get_mut(id).map(|it| &mut it.name),
            Target::Finding(id) => self.findings.get_mut(id).map(|it| &mut it.text),
            Target::Buy(id) => self.buys.get_mut(id).map(|it| &mut it.what),
            Target::Job
            | Target::Step(_)
            | Target::Stray(_)
            | Target::AfterRun(_)
            | Target::Line(_) => None,
        };
        if let Some(words) = words {
            name.clone_into(words);
        }
    }
}
