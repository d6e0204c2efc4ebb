//! What of a job can be found, and how much each field weighs: names before
//! notes, notes before places, the names of what a thing belongs to last.

use super::build::Builder;
use super::names::{kind_word, push, push_name};
use crate::job::Job;
use crate::journal::*;

const NAME: f32 = 3.0;
const SPEC: f32 = 2.0;
const NOTE: f32 = 1.5;
const PLACE: f32 = 1.0;
/// Of a thing that this one belongs to.
const OTHER: f32 = 0.6;

impl Builder {
    /// Takes in everything of one job.
    pub(super) fn take(&mut self, job: &Job) {
        if let Some(head) = &job.head {
            self.record(Target::Job)
                .text(&head.title, NAME)
                .text(&head.machine, NOTE)
                .text(&head.aim, NOTE);
        }
        self.take_parts(job);
        self.take_fixings(job);
        self.take_connections(job);
        self.take_containers(job);
        self.take_care(job);
        self.take_pictures(job);
        self.close_record();
    }

    fn take_parts(&mut self, job: &Job) {
        for (id, it) in job.parts.iter() {
            self.record(Target::Part(id))
                .text(&it.name, NAME)
                .text(&it.note, NOTE)
                .text(&it.lies, PLACE)
                .text(&it.left_off_why, PLACE);
            if let Some(new) = &it.replaced {
                self.text(&new.note, NOTE);
            }
        }
    }

    fn take_fixings(&mut self, job: &Job) {
        let mut names = String::new();
        for (id, it) in job.fixings.iter() {
            names.clear();
            for &part in &it.parts {
                push_name(job, Target::Part(part), &mut names);
            }
            self.record(Target::Fixing(id))
                .spec(&it.spec)
                .text(&it.spec.label(), SPEC)
                .text(&it.place, NOTE)
                .text(&it.detail.watch, NOTE)
                .text(&it.detail.tool, NOTE)
                .text(&it.detail.source, PLACE)
                .text(&names, OTHER);
            if it.detail.spanner_only {
                self.text("spanner only", NOTE);
            }
            if let Some(way) = it.detail.way {
                self.text(way_words(way), PLACE);
            }
        }
        for (id, it) in job.strays.iter() {
            self.record(Target::Stray(id))
                .spec(&it.spec)
                .text(&it.spec.label(), SPEC)
                .text(&it.place, NOTE)
                .text(&it.reason, PLACE);
        }
    }

    fn take_connections(&mut self, job: &Job) {
        let mut names = String::new();
        for (id, it) in job.connections.iter() {
            names.clear();
            for end in [&it.a.end, &it.b.end] {
                push(&mut names, Some(&end.clamp));
                if let Some(part) = end.on {
                    push_name(job, Target::Part(part), &mut names);
                }
            }
            self.record(Target::Connection(id))
                .text(&it.name, NAME)
                .text(kind_word(it.kind), PLACE)
                .text(&it.a.end.label, NOTE)
                .text(&it.b.end.label, NOTE)
                .text(&names, OTHER);
            for route in &it.route {
                self.text(&route.text, PLACE);
            }
            if let Some(tag) = &it.tag {
                self.tag(tag, Target::Connection(id));
            }
        }
    }

    fn take_containers(&mut self, job: &Job) {
        // What lies in a container is a way to find it.
        let mut inside: rustc_hash::FxHashMap<ContainerId, String> = Default::default();
        for line in job.lines.rows() {
            for &(account, _) in line.accounts() {
                if let Account::Container(id) = account {
                    push_name(job, line.of, inside.entry(id).or_default());
                }
            }
        }
        for (id, it) in job.containers.iter() {
            self.record(Target::Container(id))
                .text(&it.name, NAME)
                .text(container_word(it.kind), PLACE)
                .text(&it.lies, PLACE);
            if let Some(names) = inside.get(&id) {
                self.text(names, OTHER);
            }
            self.tag(&it.tag, Target::Container(id));
        }
    }

    fn take_care(&mut self, job: &Job) {
        let mut names = String::new();
        let mut of = |what: Target| {
            names.clear();
            push_name(job, what, &mut names);
            names.clone()
        };
        for (id, it) in job.items.iter() {
            self.record(Target::Item(id))
                .text(&it.name, NAME)
                .text(&it.size, SPEC)
                .text(item_word(it.kind), PLACE)
                .text(&of(it.on), OTHER);
        }
        for (id, it) in job.openings.iter() {
            self.record(Target::Opening(id)).text(&it.name, NAME);
        }
        for (id, it) in job.insides.iter() {
            self.record(Target::Inside(id))
                .text(&it.put.name, NAME)
                .text(&it.put.place, NOTE)
                .text(inside_word(it.put.kind), PLACE);
        }
        for (id, it) in job.fluids.iter() {
            self.record(Target::Fluid(id))
                .text(&it.name, NAME)
                .text(&it.drained, PLACE);
        }
        for (id, it) in job.treatments.iter() {
            self.record(Target::Treatment(id))
                .text(&it.treatment.product, NAME)
                .text(&of(it.treatment.on), OTHER);
        }
        for (id, it) in job.supplies.iter() {
            self.record(Target::Supply(id)).text(&it.name, NAME);
        }
        for (id, it) in job.steps.iter() {
            self.record(Target::Step(id)).text(&it.step.text, NOTE);
        }
        for (id, it) in job.findings.iter() {
            self.record(Target::Finding(id))
                .text(&it.text, NOTE)
                .text(&of(it.on), OTHER);
            if let Some((_, reason)) = &it.decision {
                self.text(reason, PLACE);
            }
        }
        for (id, it) in job.buys.iter() {
            self.record(Target::Buy(id))
                .text(&it.what, NAME)
                .text(&of(it.on), OTHER);
        }
        for (id, it) in job.after_runs.iter() {
            self.record(Target::AfterRun(id)).text(&it.text, NOTE);
        }
        for (id, it) in job.notes.iter() {
            self.record(it.on)
                .note(id)
                .text(&it.text, NOTE)
                .text(&of(it.on), OTHER);
        }
    }

    fn take_pictures(&mut self, job: &Job) {
        let mut marked: rustc_hash::FxHashMap<PhotoId, String> = Default::default();
        for mark in job.marks.rows() {
            push_name(job, mark.what, marked.entry(mark.photo).or_default());
        }
        let mut names = String::new();
        for (id, it) in job.photos.iter() {
            names.clear();
            for &on in &it.taken.on {
                push_name(job, on, &mut names);
            }
            let what = it.taken.on.first().copied().unwrap_or(Target::Job);
            self.record(what)
                .photo(id)
                .text(&it.taken.caption, NAME)
                .text(&names, OTHER);
            if let Some(names) = marked.get(&id) {
                self.text(names, OTHER);
            }
        }
    }
}

fn way_words(way: WayIn) -> &'static str {
    match way {
        WayIn::Above => "from above",
        WayIn::Below => "from below",
        WayIn::Front => "from the front",
        WayIn::Behind => "from behind",
        WayIn::Side => "from the side",
        WayIn::Inside => "from inside",
        WayIn::WheelOff => "wheel off",
    }
}

fn container_word(kind: ContainerKind) -> &'static str {
    match kind {
        ContainerKind::Bag => "bag",
        ContainerKind::Tray => "tray",
        ContainerKind::Box => "box",
        ContainerKind::Shelf => "shelf",
        ContainerKind::Card => "card",
    }
}

fn item_word(kind: ItemKind) -> &'static str {
    match kind {
        ItemKind::Gasket => "gasket",
        ItemKind::CrushWasher => "crush washer",
        ItemKind::ORing => "o ring",
        ItemKind::Seal => "seal",
        ItemKind::SplitPin => "split pin",
        ItemKind::StretchBolt => "stretch bolt",
        ItemKind::LockNut => "lock nut",
        ItemKind::Clip => "clip",
        ItemKind::Other => "",
    }
}

fn inside_word(kind: InsideKind) -> &'static str {
    match kind {
        InsideKind::Rag => "rag",
        InsideKind::Tool => "tool",
        InsideKind::LockingPin => "locking pin",
        InsideKind::Support => "support",
        InsideKind::Cover => "cover blank",
    }
}
