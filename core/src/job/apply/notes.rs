//! Folding of photos, notes, runs and checks that fall due after running.
use super::*;

impl Job {
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
}
