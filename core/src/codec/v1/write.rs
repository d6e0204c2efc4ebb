//! From acts to records of version 1. One match over all acts: over the usual
//! length because a new act must not be forgotten, and the compiler sees to it.
use super::VERSION;
use super::ids::{account_text, end_text, target_text, tight_text, want_text};
use super::plan::plan_record;
use super::record::{Record, Words};
use super::torque::figure_text;
use super::values::*;
use super::words::Worded;
use crate::journal::*;

/// One act as one line, without the line's end.
pub fn encode(event: &Event) -> String {
    // Text, numbers and lists only: nothing that JSON cannot say.
    serde_json::to_string(&record(event)).unwrap_or_default()
}

fn record(event: &Event) -> Record<'_> {
    let mut r = Record {
        v: VERSION,
        id: event.id.to_string().into(),
        at: event.at,
        by: (&event.by).into(),
        ..Record::default()
    };
    if event.with != event.id {
        r.with = event.with.to_string().into();
    }
    r.act = act(&mut r, &event.act).into();
    r
}

/// Fills in what the act says and gives its name.
fn act<'a>(r: &mut Record<'a>, act: &'a Act) -> &'static str {
    match act {
        Act::JobOpened(it) => {
            head(r, it);
            "job-opened"
        }
        Act::JobDescribed(it) => {
            head(r, it);
            "job-described"
        }
        Act::ProcedureAttached(it) => {
            r.procedure = Some(Box::new(plan_record(it)));
            "procedure-attached"
        }
        Act::SafeStepListed(it) => {
            r.kind = word_of(it.kind);
            r.text = (&it.text).into();
            "safe-step-listed"
        }
        Act::SafeStepConfirmed { step } => {
            r.step = id_words(*step);
            "safe-step-confirmed"
        }
        Act::PartOff(it) => {
            r.name = (&it.name).into();
            r.lies = (&it.lies).into();
            r.aside = it.aside;
            r.after = needs(&it.after);
            r.carried_by = maybe_id_words(it.carried_by);
            r.hazards = it.hazards.iter().map(|&h| word_of(h)).collect();
            r.note = (&it.note).into();
            r.planned = it.planned.as_ref().map(Words::from);
            "part-off"
        }
        Act::PartOffAgain { part, aside } => {
            r.part = id_words(*part);
            r.aside = *aside;
            "part-off-again"
        }
        Act::PartDescribed {
            part,
            name,
            lies,
            note,
        } => {
            r.part = id_words(*part);
            r.name = name.into();
            r.lies = lies.into();
            r.note = note.into();
            "part-described"
        }
        Act::CameAfter { what, needs: list } => {
            r.what = target(*what);
            r.after = needs(list);
            "came-after"
        }
        Act::WayNoted { what, needs: list } => {
            r.what = target(*what);
            r.after = needs(list);
            "way-noted"
        }
        Act::FixingUndone(it) => {
            fixing_undone(r, it);
            "fixing-undone"
        }
        Act::FixingDescribed { fixing, detail } => {
            r.fixing = id_words(*fixing);
            r.detail = detail_record(detail);
            "fixing-described"
        }
        Act::FastenersUndone {
            fixing,
            places,
            out,
            to,
        } => {
            r.fixing = id_words(*fixing);
            r.places.clone_from(places);
            r.out = *out;
            r.to = account(*to);
            "fasteners-undone"
        }
        Act::FastenerBroke {
            fixing,
            place,
            stump_in,
        } => {
            r.fixing = id_words(*fixing);
            r.places = vec![*place];
            r.stump_in = *stump_in;
            "fastener-broke"
        }
        Act::PlaceRepaired { fixing, place } => {
            r.fixing = id_words(*fixing);
            r.places = vec![*place];
            "place-repaired"
        }
        Act::ConnectionLogged(it) => {
            r.kind = word_of(it.kind);
            r.name = (&it.name).into();
            r.a = Some(end_record(&it.a));
            r.b = Some(end_record(&it.b));
            r.route = it.route.iter().map(route_record).collect();
            r.after = needs(&it.after);
            r.tag = it.tag.as_ref().map(Words::from);
            "connection-logged"
        }
        Act::EndParted { end } => {
            r.end = end_text(*end).into();
            "end-parted"
        }
        Act::ItemRemoved(it) => {
            r.kind = word_of(it.kind);
            r.name = (&it.name).into();
            r.size = (&it.size).into();
            r.n = u32::from(it.count);
            r.on = target(it.on);
            "item-removed"
        }
        Act::ContainerNamed {
            tag,
            kind,
            name,
            lies,
        } => {
            r.tag = Some(tag.into());
            r.kind = word_of(*kind);
            r.name = name.into();
            r.lies = lies.into();
            "container-named"
        }
        Act::ContainerMoved { container, lies } => {
            r.container = id_words(*container);
            r.lies = lies.into();
            "container-moved"
        }
        Act::OpeningMade { name, on, shut_by } => {
            r.name = name.into();
            r.part = maybe_id_words(*on);
            r.shut_by = maybe_id_words(*shut_by);
            "opening-made"
        }
        Act::PutIn(it) => {
            r.kind = word_of(it.kind);
            r.name = (&it.name).into();
            r.n = u32::from(it.n);
            r.opening = maybe_id_words(it.opening);
            r.place = (&it.place).into();
            r.hidden_by = maybe_id_words(it.hidden_by);
            "put-in"
        }
        Act::TakenOut { inside, n } => {
            r.inside = id_words(*inside);
            r.n = *n;
            "taken-out"
        }
        Act::FluidDrained {
            name,
            amount,
            bleed,
        } => {
            r.name = name.into();
            r.amount = amount.into();
            r.bleed = *bleed;
            "fluid-drained"
        }
        Act::FluidFilled { fluid, amount } => {
            r.fluid = id_words(*fluid);
            r.amount = amount.into();
            "fluid-filled"
        }
        Act::FluidBled { fluid } => {
            r.fluid = id_words(*fluid);
            "fluid-bled"
        }
        Act::TreatmentPrescribed(it) => {
            r.kind = word_of(it.kind);
            r.product = (&it.product).into();
            r.on = target(it.on);
            r.cure_min = it.cure_min;
            r.open_min = it.open_min;
            r.holds_fill = it.holds_fill;
            r.holds_start = it.holds_start;
            "treatment-prescribed"
        }
        Act::TreatmentApplied { treatment } => {
            r.treatment = id_words(*treatment);
            "treatment-applied"
        }
        Act::SupplyIsolated { name, kind } => {
            r.name = name.into();
            r.kind = word_of(*kind);
            "supply-isolated"
        }
        Act::SupplyRestored { supply } => {
            r.supply = id_words(*supply);
            "supply-restored"
        }
        Act::FindingNoted { on, text } => {
            r.on = target(*on);
            r.text = text.into();
            "finding-noted"
        }
        Act::Decided {
            finding,
            decision,
            reason,
        } => {
            r.finding = id_words(*finding);
            r.decision = word_of(*decision);
            r.reason = reason.into();
            "decided"
        }
        Act::WorkDone { finding } => {
            r.finding = id_words(*finding);
            "work-done"
        }
        Act::BuyListed { what, n, on } => {
            r.text = what.into();
            r.n = *n;
            r.on = target(*on);
            "buy-listed"
        }
        Act::Ordered { want, n } => {
            r.want = want_text(*want).into();
            r.n = *n;
            "ordered"
        }
        Act::Arrived { want, n } => {
            r.want = want_text(*want).into();
            r.n = *n;
            "arrived"
        }
        Act::PartReplaced {
            part,
            note,
            as_ordered,
        } => {
            r.part = id_words(*part);
            r.note = note.into();
            r.as_ordered = *as_ordered;
            "part-replaced"
        }
        Act::FixingRenewed {
            fixing,
            spec,
            reason,
        } => {
            r.fixing = id_words(*fixing);
            r.spec = spec.to_string().into();
            r.reason = reason.into();
            "fixing-renewed"
        }
        Act::Moved {
            line,
            from,
            to,
            n,
            reason,
        } => {
            r.line = id_words(*line);
            r.from = account(*from);
            r.to = account(*to);
            r.n = *n;
            r.reason = reason.into();
            "moved"
        }
        Act::StockAdded { line, to, n } => {
            r.line = id_words(*line);
            r.to = account(*to);
            r.n = *n;
            "stock-added"
        }
        Act::StrayFound { spec, place } => {
            r.spec = spec.to_string().into();
            r.place = place.into();
            "stray-found"
        }
        Act::StrayIdentified { stray, line } => {
            r.stray = id_words(*stray);
            r.line = id_words(*line);
            "stray-identified"
        }
        Act::StraySettled { stray, reason } => {
            r.stray = id_words(*stray);
            r.reason = reason.into();
            "stray-settled"
        }
        Act::LeftOff {
            what,
            places,
            reason,
        } => {
            r.what = target(*what);
            r.places.clone_from(places);
            r.reason = reason.into();
            "left-off"
        }
        Act::PartPlaced { part, buried } => {
            r.part = id_words(*part);
            r.buried = targets(buried);
            "part-placed"
        }
        Act::Started {
            fixing,
            places,
            line,
            from,
        } => {
            r.fixing = id_words(*fixing);
            r.places.clone_from(places);
            r.line = id_words(*line);
            r.from = account(*from);
            "started"
        }
        Act::Tightened {
            fixing,
            places,
            to,
            value,
        } => {
            r.fixing = id_words(*fixing);
            r.places.clone_from(places);
            r.to = tight_text(*to).into();
            r.value = value.map(|it| figure_text(it).into()).unwrap_or_default();
            "tightened"
        }
        Act::Doubted { what, places } => {
            r.what = target(*what);
            r.places.clone_from(places);
            "doubted"
        }
        Act::ExtraFitted {
            fixing,
            line,
            from,
            n,
        } => {
            r.fixing = id_words(*fixing);
            r.line = id_words(*line);
            r.from = account(*from);
            r.n = *n;
            "extra-fitted"
        }
        Act::ItemFitted { item, n, old } => {
            r.item = id_words(*item);
            r.n = *n;
            r.old = *old;
            "item-fitted"
        }
        Act::EndPushed { end, seat } => {
            r.end = end_text(*end).into();
            if seat != end {
                r.seat = end_text(*seat).into();
            }
            "end-pushed"
        }
        Act::EndSecured { end } => {
            r.end = end_text(*end).into();
            "end-secured"
        }
        Act::Checked { what, places } => {
            r.what = target(*what);
            r.places.clone_from(places);
            "checked"
        }
        Act::AfterRunOwed {
            what,
            on,
            text,
            due,
        } => {
            r.kind = word_of(*what);
            r.on = target(*on);
            r.text = text.into();
            r.due = due_record(*due);
            "after-run-owed"
        }
        Act::AfterRunDone { after_run, reading } => {
            r.after_run = id_words(*after_run);
            r.reading = reading.into();
            "after-run-done"
        }
        Act::Touched { what, places, sure } => {
            r.what = target(*what);
            r.places.clone_from(places);
            r.sure = *sure;
            "touched"
        }
        Act::MeterRead(it) => {
            r.meter = meter_words(*it);
            "meter-read"
        }
        Act::Ran { heat_cycles } => {
            r.heat_cycles = u32::from(*heat_cycles);
            "ran"
        }
        Act::PhotoTaken(it) => {
            r.hash = (&it.hash).into();
            r.thumb = (&it.thumb).into();
            r.width = it.width;
            r.height = it.height;
            r.shows = targets(&it.on);
            r.caption = (&it.caption).into();
            "photo-taken"
        }
        Act::MarkSet {
            photo,
            number,
            x,
            y,
            what,
        } => {
            r.photo = id_words(*photo);
            r.number = u32::from(*number);
            r.x = u32::from(*x);
            r.y = u32::from(*y);
            r.what = target(*what);
            "mark-set"
        }
        Act::NoteAdded { on, text } => {
            r.on = target(*on);
            r.text = text.into();
            "note-added"
        }
        Act::Struck { event } => {
            r.event = event.to_string().into();
            "struck"
        }
        Act::Excepted { owed, reason } => {
            r.rule = word_of(owed.rule);
            r.on = target(owed.on);
            r.opened = owed.opened.to_string().into();
            r.reason = reason.into();
            "excepted"
        }
        Act::SignedOff { verdict } => {
            r.verdict = verdict.into();
            "signed-off"
        }
        Act::Reopened { reason } => {
            r.reason = reason.into();
            "reopened"
        }
    }
}

fn target(it: Target) -> Words<'static> {
    target_text(it).into()
}

fn account(it: Account) -> Words<'static> {
    account_text(it).into()
}

fn head<'a>(r: &mut Record<'a>, it: &'a JobHead) {
    r.title = (&it.title).into();
    r.machine = (&it.machine).into();
    r.aim = (&it.aim).into();
    r.meter = it.meter.map(meter_words).unwrap_or_default();
    r.torque_unit = it.units.torque.word().into();
    r.length_unit = word_of(it.units.length);
}

fn fixing_undone<'a>(r: &mut Record<'a>, it: &'a FixingUndone) {
    r.parts = it.parts.iter().map(|&part| id_words(part)).collect();
    r.spec = it.spec.to_string().into();
    r.place = (&it.place).into();
    r.numbers.clone_from(&it.numbers);
    r.n = u32::from(it.count);
    r.slackened = u32::from(it.slackened);
    r.found_empty = u32::from(it.found_empty);
    r.extras = it.extras.iter().map(extra_words).collect();
    r.reuse = word_of(it.reuse);
    r.detail = detail_record(&it.detail);
    r.went = it.to.iter().map(went_words).collect();
}
