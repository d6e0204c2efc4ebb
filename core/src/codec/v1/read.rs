//! From records of version 1 to acts. One match over the names of all acts,
//! over the usual length for the same reason as its counterpart.
use std::mem::take;

use super::VERSION;
use super::ids;
use super::plan::read_plan;
use super::record::{Record, Words};
use super::torque::read_figure;
use super::values::*;
use super::words::Worded;
use crate::codec::CodecError;
use crate::journal::*;

/// Reads one line. A field that its act has no use for makes the line damaged:
/// it would be lost when the act is written again.
pub fn decode(line: &str) -> Reading<Event> {
    let mut r: Record = serde_json::from_str(line).map_err(|_| CodecError::damaged("json"))?;
    if take(&mut r.v) != VERSION {
        return Err(CodecError::damaged("v"));
    }
    let id = whole(ids::event_id(&take(&mut r.id).0), "id")?;
    let with = match take(&mut r.with) {
        with if with.is_empty() => id,
        with => whole(ids::event_id(&with.0), "with")?,
    };
    let at = take(&mut r.at);
    let by = text(&mut r.by);
    let name = take(&mut r.act);
    let act = whole(act(&name.0, &mut r)?, "act")?;
    let event = Event {
        id,
        with,
        at,
        by,
        act,
    };
    whole((r == Record::default()).then_some(event), "field")
}

/// Whether version 1 has an act of this name.
pub fn knows(name: &str) -> bool {
    // An act that is known is read, or found damaged for want of its fields.
    !matches!(act(name, &mut Record::default()), Ok(None))
}

fn act(name: &str, r: &mut Record) -> Reading<Option<Act>> {
    Ok(Some(match name {
        "job-opened" => Act::JobOpened(head(r)?),
        "job-described" => Act::JobDescribed(head(r)?),
        "procedure-attached" => {
            let plan = whole(r.procedure.take(), "procedure")?;
            Act::ProcedureAttached(read_plan(*plan)?)
        }
        "safe-step-listed" => Act::SafeStepListed(SafeStep {
            kind: read_word(&mut r.kind, "kind")?,
            text: text(&mut r.text),
        }),
        "safe-step-confirmed" => Act::SafeStepConfirmed {
            step: read_id(&mut r.step, "step")?,
        },
        "part-off" => Act::PartOff(PartOff {
            name: text(&mut r.name),
            lies: text(&mut r.lies),
            aside: take(&mut r.aside),
            after: each(&mut r.after, "after", read_need)?,
            carried_by: read_maybe_id(&mut r.carried_by, "carried-by")?,
            hazards: each(&mut r.hazards, "hazards", Hazard::read)?,
            note: text(&mut r.note),
            planned: r.planned.take().map(|it| it.0.into_owned()),
        }),
        "part-off-again" => Act::PartOffAgain {
            part: part(r)?,
            aside: take(&mut r.aside),
        },
        "part-described" => Act::PartDescribed {
            part: part(r)?,
            name: text(&mut r.name),
            lies: text(&mut r.lies),
            note: text(&mut r.note),
        },
        "came-after" => Act::CameAfter {
            what: what(r)?,
            needs: each(&mut r.after, "after", read_need)?,
        },
        "way-noted" => Act::WayNoted {
            what: what(r)?,
            needs: each(&mut r.after, "after", read_need)?,
        },
        "fixing-undone" => Act::FixingUndone(FixingUndone {
            parts: each(&mut r.parts, "parts", ids::id)?,
            spec: read_spec(&mut r.spec, "spec")?,
            place: text(&mut r.place),
            numbers: take(&mut r.numbers),
            count: narrow(&mut r.n, "n")?,
            slackened: narrow(&mut r.slackened, "slackened")?,
            found_empty: narrow(&mut r.found_empty, "found-empty")?,
            extras: each(&mut r.extras, "extras", read_extra)?,
            reuse: read_word(&mut r.reuse, "reuse")?,
            detail: read_detail(r.detail.take())?,
            to: each(&mut r.went, "went", read_went)?,
        }),
        "fixing-described" => Act::FixingDescribed {
            fixing: fixing(r)?,
            detail: read_detail(r.detail.take())?,
        },
        "fasteners-undone" => Act::FastenersUndone {
            fixing: fixing(r)?,
            places: take(&mut r.places),
            out: take(&mut r.out),
            to: account(&mut r.to, "to")?,
        },
        "fastener-broke" => Act::FastenerBroke {
            fixing: fixing(r)?,
            place: one_place(r)?,
            stump_in: take(&mut r.stump_in),
        },
        "place-repaired" => Act::PlaceRepaired {
            fixing: fixing(r)?,
            place: one_place(r)?,
        },
        "connection-logged" => Act::ConnectionLogged(ConnectionLogged {
            kind: read_word(&mut r.kind, "kind")?,
            name: text(&mut r.name),
            a: read_end(r.a.take(), "a")?,
            b: read_end(r.b.take(), "b")?,
            route: take(&mut r.route)
                .into_iter()
                .map(read_route)
                .collect::<Reading<_>>()?,
            after: each(&mut r.after, "after", read_need)?,
            tag: r.tag.take().map(|it| it.0.into_owned()),
        }),
        "end-parted" => Act::EndParted { end: end(r)? },
        "item-removed" => Act::ItemRemoved(ItemRemoved {
            kind: read_word(&mut r.kind, "kind")?,
            name: text(&mut r.name),
            size: text(&mut r.size),
            count: narrow(&mut r.n, "n")?,
            on: on(r)?,
        }),
        "container-named" => Act::ContainerNamed {
            tag: whole(r.tag.take(), "tag")?.0.into_owned(),
            kind: read_word(&mut r.kind, "kind")?,
            name: text(&mut r.name),
            lies: text(&mut r.lies),
        },
        "container-moved" => Act::ContainerMoved {
            container: read_id(&mut r.container, "container")?,
            lies: text(&mut r.lies),
        },
        "opening-made" => Act::OpeningMade {
            name: text(&mut r.name),
            on: read_maybe_id(&mut r.part, "part")?,
            shut_by: read_maybe_id(&mut r.shut_by, "shut-by")?,
        },
        "put-in" => Act::PutIn(PutIn {
            kind: read_word(&mut r.kind, "kind")?,
            name: text(&mut r.name),
            n: narrow(&mut r.n, "n")?,
            opening: read_maybe_id(&mut r.opening, "opening")?,
            place: text(&mut r.place),
            hidden_by: read_maybe_id(&mut r.hidden_by, "hidden-by")?,
        }),
        "taken-out" => Act::TakenOut {
            inside: read_id(&mut r.inside, "inside")?,
            n: take(&mut r.n),
        },
        "fluid-drained" => Act::FluidDrained {
            name: text(&mut r.name),
            amount: text(&mut r.amount),
            bleed: take(&mut r.bleed),
        },
        "fluid-filled" => Act::FluidFilled {
            fluid: read_id(&mut r.fluid, "fluid")?,
            amount: text(&mut r.amount),
        },
        "fluid-bled" => Act::FluidBled {
            fluid: read_id(&mut r.fluid, "fluid")?,
        },
        "treatment-prescribed" => Act::TreatmentPrescribed(Treatment {
            kind: read_word(&mut r.kind, "kind")?,
            product: text(&mut r.product),
            on: on(r)?,
            cure_min: take(&mut r.cure_min),
            open_min: r.open_min.take(),
            holds_fill: take(&mut r.holds_fill),
            holds_start: take(&mut r.holds_start),
        }),
        "treatment-applied" => Act::TreatmentApplied {
            treatment: read_id(&mut r.treatment, "treatment")?,
        },
        "supply-isolated" => Act::SupplyIsolated {
            name: text(&mut r.name),
            kind: read_word(&mut r.kind, "kind")?,
        },
        "supply-restored" => Act::SupplyRestored {
            supply: read_id(&mut r.supply, "supply")?,
        },
        "finding-noted" => Act::FindingNoted {
            on: on(r)?,
            text: text(&mut r.text),
        },
        "decided" => Act::Decided {
            finding: read_id(&mut r.finding, "finding")?,
            decision: read_word(&mut r.decision, "decision")?,
            reason: text(&mut r.reason),
        },
        "work-done" => Act::WorkDone {
            finding: read_id(&mut r.finding, "finding")?,
        },
        "buy-listed" => Act::BuyListed {
            what: text(&mut r.text),
            n: take(&mut r.n),
            on: on(r)?,
        },
        "ordered" => Act::Ordered {
            want: want(r)?,
            n: take(&mut r.n),
        },
        "arrived" => Act::Arrived {
            want: want(r)?,
            n: take(&mut r.n),
        },
        "part-replaced" => Act::PartReplaced {
            part: part(r)?,
            note: text(&mut r.note),
            as_ordered: take(&mut r.as_ordered),
        },
        "fixing-renewed" => Act::FixingRenewed {
            fixing: fixing(r)?,
            spec: read_spec(&mut r.spec, "spec")?,
            reason: text(&mut r.reason),
        },
        "moved" => Act::Moved {
            line: line(r)?,
            from: account(&mut r.from, "from")?,
            to: account(&mut r.to, "to")?,
            n: take(&mut r.n),
            reason: text(&mut r.reason),
        },
        "stock-added" => Act::StockAdded {
            line: line(r)?,
            to: account(&mut r.to, "to")?,
            n: take(&mut r.n),
        },
        "stray-found" => Act::StrayFound {
            spec: read_spec(&mut r.spec, "spec")?,
            place: text(&mut r.place),
        },
        "stray-identified" => Act::StrayIdentified {
            stray: read_id(&mut r.stray, "stray")?,
            line: line(r)?,
        },
        "stray-settled" => Act::StraySettled {
            stray: read_id(&mut r.stray, "stray")?,
            reason: text(&mut r.reason),
        },
        "left-off" => Act::LeftOff {
            what: what(r)?,
            places: take(&mut r.places),
            reason: text(&mut r.reason),
        },
        "part-placed" => Act::PartPlaced {
            part: part(r)?,
            buried: each(&mut r.buried, "buried", ids::read_target)?,
        },
        "started" => Act::Started {
            fixing: fixing(r)?,
            places: take(&mut r.places),
            line: line(r)?,
            from: account(&mut r.from, "from")?,
        },
        "tightened" => Act::Tightened {
            fixing: fixing(r)?,
            places: take(&mut r.places),
            to: whole(ids::read_tight(&take(&mut r.to).0), "to")?,
            value: match take(&mut r.value) {
                value if value.is_empty() => None,
                value => Some(whole(read_figure(&value.0), "value")?),
            },
        },
        "doubted" => Act::Doubted {
            what: what(r)?,
            places: take(&mut r.places),
        },
        "extra-fitted" => Act::ExtraFitted {
            fixing: fixing(r)?,
            line: line(r)?,
            from: account(&mut r.from, "from")?,
            n: take(&mut r.n),
        },
        "item-fitted" => Act::ItemFitted {
            item: read_id(&mut r.item, "item")?,
            n: take(&mut r.n),
            old: take(&mut r.old),
        },
        "end-pushed" => {
            let end = end(r)?;
            let seat = match take(&mut r.seat) {
                seat if seat.is_empty() => end,
                seat => whole(ids::read_end(&seat.0), "seat")?,
            };
            Act::EndPushed { end, seat }
        }
        "end-secured" => Act::EndSecured { end: end(r)? },
        "checked" => Act::Checked {
            what: what(r)?,
            places: take(&mut r.places),
        },
        "after-run-owed" => Act::AfterRunOwed {
            what: read_word(&mut r.kind, "kind")?,
            on: on(r)?,
            text: text(&mut r.text),
            due: read_due(r.due.take())?,
        },
        "after-run-done" => Act::AfterRunDone {
            after_run: read_id(&mut r.after_run, "after-run")?,
            reading: text(&mut r.reading),
        },
        "touched" => Act::Touched {
            what: what(r)?,
            places: take(&mut r.places),
            sure: take(&mut r.sure),
        },
        "meter-read" => Act::MeterRead(whole(read_meter(&take(&mut r.meter).0), "meter")?),
        "ran" => Act::Ran {
            heat_cycles: narrow(&mut r.heat_cycles, "heat-cycles")?,
        },
        "photo-taken" => Act::PhotoTaken(PhotoTaken {
            hash: text(&mut r.hash),
            thumb: text(&mut r.thumb),
            width: take(&mut r.width),
            height: take(&mut r.height),
            on: each(&mut r.shows, "shows", ids::read_target)?,
            caption: text(&mut r.caption),
        }),
        "mark-set" => Act::MarkSet {
            photo: read_id(&mut r.photo, "photo")?,
            number: narrow(&mut r.number, "number")?,
            x: narrow(&mut r.x, "x")?,
            y: narrow(&mut r.y, "y")?,
            what: what(r)?,
        },
        "note-added" => Act::NoteAdded {
            on: on(r)?,
            text: text(&mut r.text),
        },
        "struck" => Act::Struck {
            event: whole(ids::event_id(&take(&mut r.event).0), "event")?,
        },
        "excepted" => Act::Excepted {
            owed: OwedKey {
                rule: read_word(&mut r.rule, "rule")?,
                on: on(r)?,
                opened: whole(ids::event_id(&take(&mut r.opened).0), "opened")?,
            },
            reason: text(&mut r.reason),
        },
        "signed-off" => Act::SignedOff {
            verdict: text(&mut r.verdict),
        },
        "reopened" => Act::Reopened {
            reason: text(&mut r.reason),
        },
        _ => return Ok(None),
    }))
}

fn part(r: &mut Record) -> Reading<PartId> {
    read_id(&mut r.part, "part")
}

fn fixing(r: &mut Record) -> Reading<FixingId> {
    read_id(&mut r.fixing, "fixing")
}

fn line(r: &mut Record) -> Reading<LineId> {
    read_id(&mut r.line, "line")
}

fn end(r: &mut Record) -> Reading<EndId> {
    whole(ids::read_end(&take(&mut r.end).0), "end")
}

fn what(r: &mut Record) -> Reading<Target> {
    read_target(&mut r.what, "what")
}

fn on(r: &mut Record) -> Reading<Target> {
    read_target(&mut r.on, "on")
}

fn want(r: &mut Record) -> Reading<Want> {
    whole(ids::read_want(&take(&mut r.want).0), "want")
}

fn account(words: &mut Words, field: &'static str) -> Reading<Account> {
    whole(ids::read_account(&take(words).0), field)
}

fn one_place(r: &mut Record) -> Reading<u16> {
    match take(&mut r.places).as_slice() {
        [place] => Ok(*place),
        _ => Err(CodecError::damaged("places")),
    }
}

fn head(r: &mut Record) -> Reading<JobHead> {
    Ok(JobHead {
        title: text(&mut r.title),
        machine: text(&mut r.machine),
        aim: text(&mut r.aim),
        meter: match take(&mut r.meter) {
            meter if meter.is_empty() => None,
            meter => Some(whole(read_meter(&meter.0), "meter")?),
        },
        units: Units {
            torque: read_word(&mut r.torque_unit, "torque-unit")?,
            length: read_word(&mut r.length_unit, "length-unit")?,
        },
    })
}
