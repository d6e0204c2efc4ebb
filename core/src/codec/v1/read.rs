//! From lines of version 1 to acts. One match over the names of all acts, over
//! the usual length for the same reason as its counterpart.
use super::ids::{event_id, read_account, read_end_id, read_target, read_tight, read_want, typed};
use super::plan::read_plan;
use super::torque::read_figure;
use super::values::*;
use super::words::Worded;
use crate::audit::Rule;
use crate::codec::CodecError;
use crate::codec::json::Map;
use crate::journal::*;
use crate::torque::TorqueUnit;
use crate::torque::hole::HoleMetal;

/// Reads one line. A field that its act has no use for makes the line damaged:
/// it would be lost when the act is written again.
pub fn decode(line: &str) -> Reading<Event> {
    let mut r = Map::parse(line)?;
    let version = super::version(&mut r)?;
    let id = r.read("id", event_id)?;
    let with = r.maybe("with", event_id)?.unwrap_or(id);
    let at = r.whole("at")?;
    let by = r.text("by")?;
    let name = r.words("act")?;
    let act = act(&name, &mut r)?.ok_or(CodecError::Newer { version })?;
    r.end()?;
    Ok(Event {
        id,
        with,
        at,
        by,
        act,
    })
}

/// None for an act that version 1 does not have.
fn act(name: &str, r: &mut Map) -> Reading<Option<Act>> {
    Ok(Some(match name {
        "job-opened" => Act::JobOpened(head(r)?),
        "job-described" => Act::JobDescribed(head(r)?),
        "procedure-attached" => Act::ProcedureAttached(
            r.within("procedure", read_plan)?
                .ok_or(CodecError::damaged("procedure"))?,
        ),
        "safe-step-listed" => Act::SafeStepListed(read_safe_step(r)?),
        "safe-step-confirmed" => Act::SafeStepConfirmed {
            step: r.id("step")?,
        },
        "part-off" => Act::PartOff(Box::new(PartOff {
            name: r.text("name")?,
            lies: r.text("lies")?,
            aside: r.flag("aside")?,
            after: read_needs(r)?,
            carried_by: r.maybe_id("carried-by")?,
            hazards: r.each("hazards", Hazard::read)?,
            note: r.text("note")?,
            planned: r.maybe_text("planned")?,
        })),
        "part-off-again" => Act::PartOffAgain {
            part: part(r)?,
            aside: r.flag("aside")?,
        },
        "part-described" => Act::PartDescribed {
            part: part(r)?,
            name: r.text("name")?,
            lies: r.text("lies")?,
            note: r.text("note")?,
        },
        "named" => Act::Named {
            what: what(r)?,
            name: r.text("name")?,
        },
        "numbered" => Act::Numbered {
            fixing: fixing(r)?,
            numbers: r.smalls("numbers")?,
        },
        "came-after" => Act::CameAfter {
            what: what(r)?,
            needs: read_needs(r)?,
        },
        "way-noted" => Act::WayNoted {
            what: what(r)?,
            needs: read_needs(r)?,
        },
        "fixing-undone" => Act::FixingUndone(Box::new(FixingUndone {
            parts: r.each("parts", typed)?,
            spec: r.read("spec", |text| text.parse().ok())?,
            place: r.text("place")?,
            numbers: r.smalls("numbers")?,
            count: r.small("n")?,
            slackened: r.small("slackened")?,
            found_empty: r.small("found-empty")?,
            extras: r.each("extras", read_extra)?,
            reuse: r.read("reuse", Reuse::read)?,
            detail: read_detail(r)?,
            to: r.each("went", read_went)?,
        })),
        "fixing-described" => Act::FixingDescribed {
            fixing: fixing(r)?,
            detail: read_detail(r)?,
        },
        "also-holds" => Act::AlsoHolds {
            fixing: fixing(r)?,
            part: part(r)?,
        },
        "extra-added" => Act::ExtraAdded {
            fixing: fixing(r)?,
            extra: r.read("extra", read_extra)?,
            under: r.small("under")?,
            to: r.read("to", read_account)?,
        },
        "fasteners-undone" => Act::FastenersUndone {
            fixing: fixing(r)?,
            places: r.smalls("places")?,
            out: r.flag("out")?,
            to: r.read("to", read_account)?,
        },
        "fastener-broke" => Act::FastenerBroke {
            fixing: fixing(r)?,
            place: one_place(r)?,
            stump_in: r.flag("stump-in")?,
        },
        "place-repaired" => Act::PlaceRepaired {
            fixing: fixing(r)?,
            place: one_place(r)?,
        },
        "connection-logged" => Act::ConnectionLogged(Box::new(ConnectionLogged {
            kind: r.read("kind", ConnectionKind::read)?,
            name: r.text("name")?,
            a: read_end(r, "a")?,
            b: read_end(r, "b")?,
            route: r.records("route", read_route)?,
            after: read_needs(r)?,
            tag: r.maybe_text("tag")?,
        })),
        "routed" => Act::Routed {
            connection: r.id("connection")?,
            route: r
                .within("route", read_route)?
                .ok_or(CodecError::damaged("route"))?,
        },
        "end-parted" => Act::EndParted { end: end(r)? },
        "item-removed" => Act::ItemRemoved(ItemRemoved {
            kind: r.read("kind", ItemKind::read)?,
            name: r.text("name")?,
            size: r.text("size")?,
            count: r.small("n")?,
            on: on(r)?,
        }),
        "container-named" => Act::ContainerNamed {
            tag: r.maybe_text("tag")?.ok_or(CodecError::damaged("tag"))?,
            kind: r.read("kind", ContainerKind::read)?,
            name: r.text("name")?,
            lies: r.text("lies")?,
        },
        "container-moved" => Act::ContainerMoved {
            container: r.id("container")?,
            lies: r.text("lies")?,
        },
        "opening-made" => Act::OpeningMade {
            name: r.text("name")?,
            on: r.maybe_id("part")?,
            shut_by: r.maybe_id("shut-by")?,
        },
        "put-in" => Act::PutIn(PutIn {
            kind: r.read("kind", InsideKind::read)?,
            name: r.text("name")?,
            n: r.small("n")?,
            opening: r.maybe_id("opening")?,
            place: r.text("place")?,
            hidden_by: r.maybe_id("hidden-by")?,
        }),
        "taken-out" => Act::TakenOut {
            inside: r.id("inside")?,
            n: r.count("n")?,
        },
        "fluid-drained" => Act::FluidDrained {
            name: r.text("name")?,
            amount: r.text("amount")?,
            bleed: r.flag("bleed")?,
        },
        "fluid-filled" => Act::FluidFilled {
            fluid: r.id("fluid")?,
            amount: r.text("amount")?,
        },
        "fluid-bled" => Act::FluidBled {
            fluid: r.id("fluid")?,
        },
        "level-seen" => Act::LevelSeen {
            fluid: r.id("fluid")?,
            amount: r.text("amount")?,
        },
        "joint-holds" => Act::JointHolds {
            fluid: r.id("fluid")?,
            on: on(r)?,
            holds: r.flag("holds")?,
        },
        "treatment-prescribed" => {
            let on = on(r)?;
            Act::TreatmentPrescribed(read_treatment(r, on)?)
        }
        "treatment-applied" => Act::TreatmentApplied {
            treatment: r.id("treatment")?,
        },
        "supply-isolated" => Act::SupplyIsolated {
            name: r.text("name")?,
            kind: r.read("kind", SupplyKind::read)?,
        },
        "supply-restored" => Act::SupplyRestored {
            supply: r.id("supply")?,
        },
        "finding-noted" => Act::FindingNoted {
            on: on(r)?,
            text: r.text("text")?,
        },
        "decided" => Act::Decided {
            finding: r.id("finding")?,
            decision: r.read("decision", Decision::read)?,
            reason: r.text("reason")?,
        },
        "work-done" => Act::WorkDone {
            finding: r.id("finding")?,
        },
        "buy-listed" => Act::BuyListed {
            what: r.text("text")?,
            n: r.count("n")?,
            on: on(r)?,
        },
        "ordered" => Act::Ordered {
            want: want(r)?,
            n: r.count("n")?,
        },
        "arrived" => Act::Arrived {
            want: want(r)?,
            n: r.count("n")?,
        },
        "part-replaced" => Act::PartReplaced {
            part: part(r)?,
            note: r.text("note")?,
            as_ordered: r.flag("as-ordered")?,
        },
        "fixing-renewed" => Act::FixingRenewed {
            fixing: fixing(r)?,
            spec: r.read("spec", |text| text.parse().ok())?,
            reason: r.text("reason")?,
        },
        "old-kept" => Act::OldKept {
            fixing: fixing(r)?,
            reason: r.text("reason")?,
        },
        "looked-at" => Act::LookedAt { fixing: fixing(r)? },
        "fixing-measured" => Act::FixingMeasured {
            fixing: fixing(r)?,
            spec: r.read("spec", |text| text.parse().ok())?,
        },
        "hole-measured" => Act::HoleMeasured {
            fixing: fixing(r)?,
            hole: Hole {
                parts_um: r.count("parts-um")?,
                washers_um: r.count("washers-um")?,
                depth_um: r.count("depth-um")?,
                metal: r.maybe("metal", HoleMetal::read)?,
            },
        },
        "moved" => Act::Moved {
            line: line(r)?,
            from: r.read("from", read_account)?,
            to: r.read("to", read_account)?,
            n: r.count("n")?,
            reason: r.text("reason")?,
        },
        "stock-added" => Act::StockAdded {
            line: line(r)?,
            to: r.read("to", read_account)?,
            n: r.count("n")?,
        },
        "stray-found" => Act::StrayFound {
            spec: r.read("spec", |text| text.parse().ok())?,
            place: r.text("place")?,
        },
        "stray-measured" => Act::StrayMeasured {
            stray: r.id("stray")?,
            spec: r.read("spec", |text| text.parse().ok())?,
        },
        "stray-identified" => Act::StrayIdentified {
            stray: r.id("stray")?,
            line: line(r)?,
        },
        "stray-settled" => Act::StraySettled {
            stray: r.id("stray")?,
            reason: r.text("reason")?,
        },
        "left-off" => Act::LeftOff {
            what: what(r)?,
            places: r.smalls("places")?,
            reason: r.text("reason")?,
        },
        "part-placed" => Act::PartPlaced {
            part: part(r)?,
            buried: r.each("buried", read_target)?,
        },
        "started" => Act::Started {
            fixing: fixing(r)?,
            places: r.smalls("places")?,
            line: line(r)?,
            from: r.read("from", read_account)?,
        },
        "tightened" => Act::Tightened {
            fixing: fixing(r)?,
            places: r.smalls("places")?,
            to: r.read("to", read_tight)?,
            value: r.maybe("value", read_figure)?,
            set: r.maybe("set", read_figure)?,
        },
        "adapter-set" => Act::AdapterSet {
            fixing: fixing(r)?,
            adapter: r.within("adapter", |r| {
                Ok(Adapter {
                    wrench_mm: r.count("wrench-mm")?,
                    adapter_mm: r.count("adapter-mm")?,
                    angle: r.count("angle")?,
                })
            })?,
        },
        "second-look-set" => Act::SecondLookSet {
            what: what(r)?,
            owed: r.flag("owed")?,
        },
        "last-round-asked" => Act::LastRoundAsked {
            fixing: fixing(r)?,
            asked: r.flag("asked")?,
        },
        "went-round" => Act::WentRound {
            fixing: fixing(r)?,
            turned: r.flag("turned")?,
            value: r.maybe("value", read_figure)?,
            set: r.maybe("set", read_figure)?,
        },
        "round-set" => Act::RoundSet(Round {
            fixing: fixing(r)?,
            photo: r.maybe_id("photo")?,
            points: read_pairs(r, "points")?,
            order: r.smalls("order")?,
            maker: r.flag("maker")?,
        }),
        "ring-set" => Act::RingSet(Ring {
            lines: r.each("lines", typed)?,
            apart: r.flag("apart")?,
            order: read_pairs(r, "order")?,
        }),
        "final-held" => Act::FinalHeld {
            fixing: fixing(r)?,
            until: r.read("until", Hold::read)?,
            met: r.flag("met")?,
        },
        "doubted" => Act::Doubted {
            what: what(r)?,
            places: r.smalls("places")?,
        },
        "extra-fitted" => Act::ExtraFitted {
            fixing: fixing(r)?,
            line: line(r)?,
            from: r.read("from", read_account)?,
            n: r.count("n")?,
        },
        "item-fitted" => Act::ItemFitted {
            item: r.id("item")?,
            n: r.count("n")?,
            old: r.flag("old")?,
            reason: r.text("reason")?,
        },
        "end-pushed" => {
            let end = end(r)?;
            let seat = r.maybe("seat", read_end_id)?.unwrap_or(end);
            Act::EndPushed { end, seat }
        }
        "end-secured" => Act::EndSecured { end: end(r)? },
        "checked" => Act::Checked {
            what: what(r)?,
            places: r.smalls("places")?,
        },
        "after-run-owed" => Act::AfterRunOwed {
            what: r.read("kind", AfterRunKind::read)?,
            on: on(r)?,
            text: r.text("text")?,
            due: read_due(r)?,
        },
        "after-run-done" => Act::AfterRunDone {
            after_run: r.id("after-run")?,
            reading: r.text("reading")?,
        },
        "touched" => Act::Touched {
            what: what(r)?,
            places: r.smalls("places")?,
            sure: r.flag("sure")?,
        },
        "went-on" => Act::WentOn { what: what(r)? },
        "meter-read" => Act::MeterRead(r.read("meter", read_meter)?),
        "ran" => Act::Ran {
            heat_cycles: r.small("heat-cycles")?,
        },
        "photo-taken" => Act::PhotoTaken(PhotoTaken {
            hash: r.text("hash")?,
            thumb: r.text("thumb")?,
            width: r.count("width")?,
            height: r.count("height")?,
            on: r.each("shows", read_target)?,
            caption: r.text("caption")?,
        }),
        "mark-set" => Act::MarkSet {
            photo: r.id("photo")?,
            number: r.small("number")?,
            x: r.small("x")?,
            y: r.small("y")?,
            what: what(r)?,
        },
        "note-added" => Act::NoteAdded {
            on: on(r)?,
            text: r.text("text")?,
        },
        "struck" => Act::Struck {
            event: r.read("event", event_id)?,
        },
        "excepted" => Act::Excepted {
            owed: OwedKey {
                rule: r.read("rule", Rule::read)?,
                on: on(r)?,
                opened: r.read("opened", event_id)?,
            },
            reason: r.text("reason")?,
        },
        "signed-off" => Act::SignedOff {
            verdict: r.text("verdict")?,
        },
        "reopened" => Act::Reopened {
            reason: r.text("reason")?,
        },
        _ => return Ok(None),
    }))
}

fn part(r: &mut Map) -> Reading<PartId> {
    r.id("part")
}

fn fixing(r: &mut Map) -> Reading<FixingId> {
    r.id("fixing")
}

fn line(r: &mut Map) -> Reading<LineId> {
    r.id("line")
}

fn end(r: &mut Map) -> Reading<EndId> {
    r.read("end", read_end_id)
}

fn what(r: &mut Map) -> Reading<Target> {
    r.read("what", read_target)
}

fn on(r: &mut Map) -> Reading<Target> {
    r.read("on", read_target)
}

fn want(r: &mut Map) -> Reading<Want> {
    r.read("want", read_want)
}

fn one_place(r: &mut Map) -> Reading<u16> {
    match r.smalls("places")?.as_slice() {
        [place] => Ok(*place),
        _ => Err(CodecError::damaged("places")),
    }
}

fn head(r: &mut Map) -> Reading<JobHead> {
    Ok(JobHead {
        title: r.text("title")?,
        machine: r.text("machine")?,
        aim: r.text("aim")?,
        meter: r.maybe("meter", read_meter)?,
        units: Units {
            torque: r.read("torque-unit", TorqueUnit::read)?,
            length: r.read("length-unit", LengthUnit::read)?,
        },
    })
}
