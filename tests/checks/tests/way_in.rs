//! Way in before the first bolt and after it, for parts, connections and
//! openings, and the minutes it tells. Invented scenarios.
use countback_checks::bench::*;
use countback_core::access::ways::Measure;
use countback_core::access::{Asking, Goal};
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::procedure::{procedure_from_job, procedure_from_json, procedure_to_json};
use countback_core::view::{self, At};
use countback_core::words::Style;

fn at() -> At {
    At {
        now: START,
        open_since: 0,
        style: Style::default(),
    }
}

fn behind(first: PartId) -> Need {
    Need {
        first: Target::Part(first),
        why: Why::BlocksReach,
    }
}

/// Drained through a hatch instead, the pump is the lesser work; the hose on it
/// as well, and a job like it says so before the first bolt.
#[test]
fn a_procedure_with_two_ways_tells_the_lesser_before_the_first_bolt() {
    let mut b = Bench::default();
    let guard = b.part("guard", &[("bolt | thread=M6 x 1", 4)]);
    let belt = b.part_after("belt", &[], &[Target::Part(guard)]);
    let hatch = b.part("hatch", &[("bolt | thread=M6 x 1", 2)]);
    let pump = b.part_after(
        "pump",
        &[("bolt | thread=M8 x 1.25", 3)],
        &[Target::Part(belt)],
    );
    let hose = b.connection(
        "bottom hose",
        end(Some(pump), "pump", true),
        end(None, "cooler", false),
        &[Target::Part(belt)],
    );
    for what in [Target::Part(pump), Target::Connection(hose)] {
        b.record(Act::WayNoted {
            what,
            needs: vec![behind(hatch)],
        });
    }
    let file = procedure_to_json(&procedure_from_job(b.job()));
    let procedure = procedure_from_json(&file).unwrap();
    let planned = procedure.parts.iter().find(|p| p.key == "pump").unwrap();
    assert_eq!(planned.after, ["belt"]);
    assert_eq!(planned.ways, [["hatch"]]);

    let mut new = Bench::default();
    new.record(Act::ProcedureAttached(procedure));
    let rows = |b: &Bench| -> Vec<(String, Goal)> {
        let groups = view::way_in_page(&b.book, at()).into_iter();
        let rows = groups.flat_map(|g| g.rows);
        rows.map(|r| (r.name, r.goal)).collect()
    };
    let ask = |b: &Bench, name: &str| {
        let all = rows(b);
        let (_, goal) = all.iter().find(|(of, _)| of == name).unwrap();
        let told = view::way_answer(&b.book, *goal, false).unwrap();
        let steps = told.steps.iter().map(|s| s.name.clone());
        let others = told.others.iter().map(|o| o.by.clone());
        (
            steps.collect::<Vec<_>>().join(", "),
            others.collect::<Vec<_>>().join(", "),
        )
    };
    let lesser = ("hatch".to_owned(), "or guard and belt".to_owned());
    assert_eq!(ask(&new, "pump"), lesser);
    assert_eq!(ask(&new, "bottom hose"), lesser);
    // With the guard and the belt off, nothing more has to come off.
    let off = |b: &mut Bench, key: &str| {
        let mut it = take_off(key);
        it.part.planned = Some(key.to_owned());
        b.take_off(it);
    };
    off(&mut new, "guard");
    off(&mut new, "belt");
    assert_eq!(ask(&new, "pump").0, "");
    // What came off for it keeps the other way in mind.
    off(&mut new, "pump");
    let pump = new.job().parts.iter().find(|(_, p)| p.name == "pump");
    let pump = Goal::Thing(Target::Part(pump.unwrap().0));
    let asking = Asking::of(&new.book);
    assert_eq!(asking.each(pump, Measure::Acts).len(), 2);
}
