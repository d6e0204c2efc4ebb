//! From acts to lines of version 1. One match over all acts: over the usual
//! length because a new act must not be forgotten, and the compiler sees to it.
use super::VERSION;
use super::ids::{end_text, target_text, tight_text, want_text};
use super::plan::plan;
use super::torque::figure_text;
use super::values::*;
use crate::codec::json::Writer;
use crate::journal::*;

/// One act as one line, without the line's end.
pub fn encode(event: &Event) -> String {
    Writer::object(|w| {
        w.count("v", VERSION);
        w.show("id", &event.id);
        // The first act of a tap is with itself.
        if event.with != event.id {
            w.show("with", &event.with);
        }
        w.number("at", event.at);
        w.text("by", &event.by);
        act(w, &event.act);
    })
}

/// The name of an act and what it says.
fn act(w: &mut Writer, act: &Act) {
    match act {
        Act::JobOpened(it) => {
            w.put("act", "job-opened");
            head(w, it);
        }
        Act::JobDescribed(it) => {
            w.put("act", "job-described");
            head(w, it);
        }
        Act::ProcedureAttached(it) => {
            w.put("act", "procedure-attached");
            w.within("procedure", |w| plan(w, it));
        }
        Act::SafeStepListed(it) => {
            w.put("act", "safe-step-listed");
            word(w, "kind", it.kind);
            w.text("text", &it.text);
        }
        Act::SafeStepConfirmed { step } => {
            w.put("act", "safe-step-confirmed");
            w.id("step", *step);
        }
        Act::PartOff(it) => {
            w.put("act", "part-off");
            w.text("name", &it.name);
            w.text("lies", &it.lies);
            w.flag("aside", it.aside);
            needs(w, &it.after);
            w.maybe_id("carried-by", it.carried_by);
            hazards(w, &it.hazards);
            w.text("note", &it.note);
            w.maybe_text("planned", it.planned.as_ref());
        }
        Act::PartOffAgain { part, aside } => {
            w.put("act", "part-off-again");
            w.id("part", *part);
            w.flag("aside", *aside);
        }
        Act::PartDescribed {
            part,
            name,
            lies,
            note,
        } => {
            w.put("act", "part-described");
            w.id("part", *part);
            w.text("name", name);
            w.text("lies", lies);
            w.text("note", note);
        }
        Act::Named { what, name } => {
            w.put("act", "named");
            target(w, "what", *what);
            w.text("name", name);
        }
        Act::Numbered { fixing, numbers } => {
            w.put("act", "numbered");
            w.id("fixing", *fixing);
            w.smalls("numbers", numbers);
        }
        Act::CameAfter { what, needs: list } => {
            w.put("act", "came-after");
            target(w, "what", *what);
            needs(w, list);
        }
        Act::WayNoted { what, needs: list } => {
            w.put("act", "way-noted");
            target(w, "what", *what);
            needs(w, list);
        }
        Act::FixingUndone(it) => {
            w.put("act", "fixing-undone");
            fixing_undone(w, it);
        }
        Act::FixingDescribed { fixing, detail: it } => {
            w.put("act", "fixing-described");
            w.id("fixing", *fixing);
            detail(w, it);
        }
        Act::AlsoHolds { fixing, part } => {
            w.put("act", "also-holds");
            w.id("fixing", *fixing);
            w.id("part", *part);
        }
        Act::ExtraAdded {
            fixing,
            extra,
            under,
            to,
        } => {
            w.put("act", "extra-added");
            w.id("fixing", *fixing);
            w.put("extra", &extra_text(extra));
            w.count("under", (*under).into());
            account(w, "to", *to);
        }
        Act::FastenersUndone {
            fixing,
            places,
            out,
            to,
        } => {
            w.put("act", "fasteners-undone");
            w.id("fixing", *fixing);
            w.smalls("places", places);
            w.flag("out", *out);
            account(w, "to", *to);
        }
        Act::FastenerBroke {
            fixing,
            place,
            stump_in,
        } => {
            w.put("act", "fastener-broke");
            w.id("fixing", *fixing);
            w.smalls("places", &[*place]);
            w.flag("stump-in", *stump_in);
        }
        Act::PlaceRepaired { fixing, place } => {
            w.put("act", "place-repaired");
            w.id("fixing", *fixing);
            w.smalls("places", &[*place]);
        }
        Act::ConnectionLogged(it) => {
            w.put("act", "connection-logged");
            word(w, "kind", it.kind);
            w.text("name", &it.name);
            end(w, "a", &it.a);
            end(w, "b", &it.b);
            w.records("route", &it.route, route);
            needs(w, &it.after);
            w.maybe_text("tag", it.tag.as_ref());
        }
        Act::Routed {
            connection,
            route: it,
        } => {
            w.put("act", "routed");
            w.id("connection", *connection);
            w.within("route", |w| route(w, it));
        }
        Act::EndParted { end } => {
            w.put("act", "end-parted");
            w.put("end", &end_text(*end));
        }
        Act::ItemRemoved(it) => {
            w.put("act", "item-removed");
            word(w, "kind", it.kind);
            w.text("name", &it.name);
            w.text("size", &it.size);
            w.count("n", u32::from(it.count));
            target(w, "on", it.on);
        }
        Act::ContainerNamed {
            tag,
            kind,
            name,
            lies,
        } => {
            w.put("act", "container-named");
            w.put("tag", tag);
            word(w, "kind", *kind);
            w.text("name", name);
            w.text("lies", lies);
        }
        Act::ContainerMoved { container, lies } => {
            w.put("act", "container-moved");
            w.id("container", *container);
            w.text("lies", lies);
        }
        Act::OpeningMade { name, on, shut_by } => {
            w.put("act", "opening-made");
            w.text("name", name);
            w.maybe_id("part", *on);
            w.maybe_id("shut-by", *shut_by);
        }
        Act::PutIn(it) => {
            w.put("act", "put-in");
            word(w, "kind", it.kind);
            w.text("name", &it.name);
            w.count("n", u32::from(it.n));
            w.maybe_id("opening", it.opening);
            w.text("place", &it.place);
            w.maybe_id("hidden-by", it.hidden_by);
        }
        Act::TakenOut { inside, n } => {
            w.put("act", "taken-out");
            w.id("inside", *inside);
            w.count("n", *n);
        }
        Act::FluidDrained {
            name,
            amount,
            bleed,
        } => {
            w.put("act", "fluid-drained");
            w.text("name", name);
            w.text("amount", amount);
            w.flag("bleed", *bleed);
        }
        Act::FluidFilled { fluid, amount } => {
            w.put("act", "fluid-filled");
            w.id("fluid", *fluid);
            w.text("amount", amount);
        }
        Act::FluidBled { fluid } => {
            w.put("act", "fluid-bled");
            w.id("fluid", *fluid);
        }
        Act::LevelSeen { fluid, amount } => {
            w.put("act", "level-seen");
            w.id("fluid", *fluid);
            w.text("amount", amount);
        }
        Act::JointHolds { fluid, on, holds } => {
            w.put("act", "joint-holds");
            w.id("fluid", *fluid);
            target(w, "on", *on);
            w.flag("holds", *holds);
        }
        Act::TreatmentPrescribed(it) => {
            w.put("act", "treatment-prescribed");
            treatment(w, it, Some(it.on));
        }
        Act::TreatmentApplied { treatment } => {
            w.put("act", "treatment-applied");
            w.id("treatment", *treatment);
        }
        Act::SupplyIsolated { name, kind } => {
            w.put("act", "supply-isolated");
            w.text("name", name);
            word(w, "kind", *kind);
        }
        Act::SupplyRestored { supply } => {
            w.put("act", "supply-restored");
            w.id("supply", *supply);
        }
        Act::FindingNoted { on, text } => {
            w.put("act", "finding-noted");
            target(w, "on", *on);
            w.text("text", text);
        }
        Act::Decided {
            finding,
            decision,
            reason,
        } => {
            w.put("act", "decided");
            w.id("finding", *finding);
            word(w, "decision", *decision);
            w.text("reason", reason);
        }
        Act::WorkDone { finding } => {
            w.put("act", "work-done");
            w.id("finding", *finding);
        }
        Act::BuyListed { what, n, on } => {
            w.put("act", "buy-listed");
            w.text("text", what);
            w.count("n", *n);
            target(w, "on", *on);
        }
        Act::Ordered { want, n } => {
            w.put("act", "ordered");
            w.put("want", &want_text(*want));
            w.count("n", *n);
        }
        Act::Arrived { want, n } => {
            w.put("act", "arrived");
            w.put("want", &want_text(*want));
            w.count("n", *n);
        }
        Act::PartReplaced {
            part,
            note,
            as_ordered,
        } => {
            w.put("act", "part-replaced");
            w.id("part", *part);
            w.text("note", note);
            w.flag("as-ordered", *as_ordered);
        }
        Act::FixingRenewed {
            fixing,
            spec,
            reason,
        } => {
            w.put("act", "fixing-renewed");
            w.id("fixing", *fixing);
            w.put("spec", &spec.to_string());
            w.text("reason", reason);
        }
        Act::OldKept { fixing, reason } => {
            w.put("act", "old-kept");
            w.id("fixing", *fixing);
            w.text("reason", reason);
        }
        Act::LookedAt { fixing } => {
            w.put("act", "looked-at");
            w.id("fixing", *fixing);
        }
        Act::FixingMeasured { fixing, spec } => {
            w.put("act", "fixing-measured");
            w.id("fixing", *fixing);
            w.put("spec", &spec.to_string());
        }
        Act::HoleMeasured { fixing, hole } => {
            w.put("act", "hole-measured");
            w.id("fixing", *fixing);
            w.count("parts-um", hole.parts_um);
            w.count("washers-um", hole.washers_um);
            w.count("depth-um", hole.depth_um);
            if let Some(metal) = hole.metal {
                word(w, "metal", metal);
            }
        }
        Act::Moved {
            line,
            from,
            to,
            n,
            reason,
        } => {
            w.put("act", "moved");
            w.id("line", *line);
            account(w, "from", *from);
            account(w, "to", *to);
            w.count("n", *n);
            w.text("reason", reason);
        }
        Act::StockAdded { line, to, n } => {
            w.put("act", "stock-added");
            w.id("line", *line);
            account(w, "to", *to);
            w.count("n", *n);
        }
        Act::StrayFound { spec, place } => {
            w.put("act", "stray-found");
            w.put("spec", &spec.to_string());
            w.text("place", place);
        }
        Act::StrayMeasured { stray, spec } => {
            w.put("act", "stray-measured");
            w.id("stray", *stray);
            w.put("spec", &spec.to_string());
        }
        Act::StrayIdentified { stray, line } => {
            w.put("act", "stray-identified");
            w.id("stray", *stray);
            w.id("line", *line);
        }
        Act::StraySettled { stray, reason } => {
            w.put("act", "stray-settled");
            w.id("stray", *stray);
            w.text("reason", reason);
        }
        Act::LeftOff {
            what,
            places,
            reason,
        } => {
            w.put("act", "left-off");
            target(w, "what", *what);
            w.smalls("places", places);
            w.text("reason", reason);
        }
        Act::PartPlaced { part, buried } => {
            w.put("act", "part-placed");
            w.id("part", *part);
            w.each("buried", buried, target_text);
        }
        Act::Started {
            fixing,
            places,
            line,
            from,
        } => {
            w.put("act", "started");
            w.id("fixing", *fixing);
            w.smalls("places", places);
            w.id("line", *line);
            account(w, "from", *from);
        }
        Act::Tightened {
            fixing,
            places,
            to,
            value,
            set,
        } => {
            w.put("act", "tightened");
            w.id("fixing", *fixing);
            w.smalls("places", places);
            w.put("to", &tight_text(*to));
            if let Some(value) = value {
                w.put("value", &figure_text(value));
            }
            scale(w, *set);
        }
        Act::AdapterSet { fixing, adapter } => {
            w.put("act", "adapter-set");
            w.id("fixing", *fixing);
            if let Some(it) = adapter {
                w.within("adapter", |w| {
                    w.count("wrench-mm", it.wrench_mm);
                    w.count("adapter-mm", it.adapter_mm);
                    w.count("angle", it.angle);
                });
            }
        }
        Act::SecondLookSet { what, owed } => {
            w.put("act", "second-look-set");
            target(w, "what", *what);
            w.flag("owed", *owed);
        }
        Act::LastRoundAsked { fixing, asked } => {
            w.put("act", "last-round-asked");
            w.id("fixing", *fixing);
            w.flag("asked", *asked);
        }
        Act::WentRound {
            fixing,
            turned,
            value,
            set,
        } => {
            w.put("act", "went-round");
            w.id("fixing", *fixing);
            w.flag("turned", *turned);
            if let Some(value) = value {
                w.put("value", &figure_text(value));
            }
            scale(w, *set);
        }
        Act::RoundSet(it) => {
            w.put("act", "round-set");
            w.id("fixing", it.fixing);
            w.maybe_id("photo", it.photo);
            pairs(w, "points", &it.points);
            w.smalls("order", &it.order);
            w.flag("maker", it.maker);
        }
        Act::RingSet(it) => {
            w.put("act", "ring-set");
            w.each("lines", &it.lines, ToString::to_string);
            w.flag("apart", it.apart);
            pairs(w, "order", &it.order);
        }
        Act::FinalHeld { fixing, until, met } => {
            w.put("act", "final-held");
            w.id("fixing", *fixing);
            word(w, "until", *until);
            w.flag("met", *met);
        }
        Act::Doubted { what, places } => {
            w.put("act", "doubted");
            target(w, "what", *what);
            w.smalls("places", places);
        }
        Act::ExtraFitted {
            fixing,
            line,
            from,
            n,
        } => {
            w.put("act", "extra-fitted");
            w.id("fixing", *fixing);
            w.id("line", *line);
            account(w, "from", *from);
            w.count("n", *n);
        }
        Act::ItemFitted {
            item,
            n,
            old,
            reason,
        } => {
            w.put("act", "item-fitted");
            w.id("item", *item);
            w.count("n", *n);
            w.flag("old", *old);
            w.text("reason", reason);
        }
        Act::EndPushed { end, seat } => {
            w.put("act", "end-pushed");
            w.put("end", &end_text(*end));
            if seat != end {
                w.put("seat", &end_text(*seat));
            }
        }
        Act::EndSecured { end } => {
            w.put("act", "end-secured");
            w.put("end", &end_text(*end));
        }
        Act::Checked { what, places } => {
            w.put("act", "checked");
            target(w, "what", *what);
            w.smalls("places", places);
        }
        Act::AfterRunOwed {
            what,
            on,
            text,
            due: when,
        } => {
            w.put("act", "after-run-owed");
            word(w, "kind", *what);
            target(w, "on", *on);
            w.text("text", text);
            due(w, *when);
        }
        Act::AfterRunDone { after_run, reading } => {
            w.put("act", "after-run-done");
            w.id("after-run", *after_run);
            w.text("reading", reading);
        }
        Act::Touched { what, places, sure } => {
            w.put("act", "touched");
            target(w, "what", *what);
            w.smalls("places", places);
            w.flag("sure", *sure);
        }
        Act::WentOn { what } => {
            w.put("act", "went-on");
            target(w, "what", *what);
        }
        Act::MeterRead(it) => {
            w.put("act", "meter-read");
            meter(w, *it);
        }
        Act::Ran { heat_cycles } => {
            w.put("act", "ran");
            w.count("heat-cycles", u32::from(*heat_cycles));
        }
        Act::PhotoTaken(it) => {
            w.put("act", "photo-taken");
            w.text("hash", &it.hash);
            w.text("thumb", &it.thumb);
            w.count("width", it.width);
            w.count("height", it.height);
            w.each("shows", &it.on, target_text);
            w.text("caption", &it.caption);
        }
        Act::MarkSet {
            photo,
            number,
            x,
            y,
            what,
        } => {
            w.put("act", "mark-set");
            w.id("photo", *photo);
            w.count("number", u32::from(*number));
            w.count("x", u32::from(*x));
            w.count("y", u32::from(*y));
            target(w, "what", *what);
        }
        Act::NoteAdded { on, text } => {
            w.put("act", "note-added");
            target(w, "on", *on);
            w.text("text", text);
        }
        Act::Struck { event } => {
            w.put("act", "struck");
            w.show("event", event);
        }
        Act::Excepted { owed, reason } => {
            w.put("act", "excepted");
            word(w, "rule", owed.rule);
            target(w, "on", owed.on);
            w.show("opened", &owed.opened);
            w.text("reason", reason);
        }
        Act::SignedOff { verdict } => {
            w.put("act", "signed-off");
            w.text("verdict", verdict);
        }
        Act::Reopened { reason } => {
            w.put("act", "reopened");
            w.text("reason", reason);
        }
    }
}

fn head(w: &mut Writer, it: &JobHead) {
    w.text("title", &it.title);
    w.text("machine", &it.machine);
    w.text("aim", &it.aim);
    if let Some(it) = it.meter {
        meter(w, it);
    }
    word(w, "torque-unit", it.units.torque);
    word(w, "length-unit", it.units.length);
}

fn fixing_undone(w: &mut Writer, it: &FixingUndone) {
    w.each("parts", &it.parts, ToString::to_string);
    w.put("spec", &it.spec.to_string());
    w.text("place", &it.place);
    w.smalls("numbers", &it.numbers);
    w.count("n", u32::from(it.count));
    w.count("slackened", u32::from(it.slackened));
    w.count("found-empty", u32::from(it.found_empty));
    w.each("extras", &it.extras, extra_text);
    word(w, "reuse", it.reuse);
    detail(w, &it.detail);
    w.each("went", &it.to, went_text);
}

/// What stood on the scale.
fn scale(w: &mut Writer, set: Option<Figure>) {
    if let Some(set) = set {
        w.put("set", &figure_text(&set));
    }
}
