//! Cautions come before the act they belong to, once in a job.
use countback_checks::bench::*;
use countback_core::caution::*;
use countback_core::job::*;
use countback_core::journal::*;

fn off(name: &str, hazards: Vec<Hazard>) -> Command {
    let mut off = take_off(name);
    off.part.hazards = hazards;
    Command::TakeOff(Box::new(off))
}

#[test]
fn a_fuel_rail_brings_its_caution_before_the_act_and_once() {
    let mut b = Bench::default();
    let rail = off("fuel rail", Vec::new());
    let shown = before(&rail, b.job());
    assert_eq!(shown, vec![Hazard::Fuel]);
    b.ok(off("fuel rail", shown));
    let again = off("fuel filter", Vec::new());
    assert_eq!(before(&again, b.job()), vec![]);
    assert_eq!(touched(&again, b.job()), vec![Hazard::Fuel], "asked for");
    // Another kind is still shown.
    assert_eq!(
        before(&off("thermostat housing", Vec::new()), b.job()),
        vec![Hazard::HotCoolant]
    );
}

#[test]
fn what_is_parted_drained_or_isolated_counts_too() {
    let mut b = Bench::default();
    let drain = Command::Record(Act::FluidDrained {
        name: "coolant".to_owned(),
        amount: String::new(),
        bleed: true,
    });
    assert_eq!(before(&drain, b.job()), vec![Hazard::HotCoolant]);
    let battery = Command::Record(Act::SupplyIsolated {
        name: "battery".to_owned(),
        kind: SupplyKind::Battery,
    });
    assert_eq!(before(&battery, b.job()), vec![Hazard::Battery]);
    b.ok(battery.clone());
    assert_eq!(before(&battery, b.job()), vec![]);
    // A hose is logged whole; parting its other end later is an act of its own.
    let hose = b.connection(
        "fuel return hose",
        end(None, "pump", false),
        end(None, "rail", false),
        &[],
    );
    let part = Command::PartEnd {
        end: side(hose, Side::A),
    };
    assert_eq!(before(&part, b.job()), vec![Hazard::Fuel]);
    b.ok(part);
    let other = Command::PartEnd {
        end: side(hose, Side::B),
    };
    assert_eq!(before(&other, b.job()), vec![]);
    // The plug of a coolant sensor does not undo what is known of the fuel.
    b.record(Act::ConnectionLogged(Box::new(ConnectionLogged {
        kind: ConnectionKind::Plug,
        name: "coolant sensor plug".to_owned(),
        a: end(None, "sensor", true),
        b: end(None, "loom", false),
        route: Vec::new(),
        after: Vec::new(),
        tag: None,
    })));
    assert!(acknowledged(b.job()).contains(&Hazard::Fuel));
    assert!(!acknowledged(b.job()).contains(&Hazard::HotCoolant));
}

#[test]
fn a_fuel_pipe_on_a_bracket_brings_its_caution_before_it_is_logged_and_before_it_is_joined() {
    let mut b = Bench::default();
    let mut bracket = take_off("bracket");
    bracket.connections = vec![ConnectionDraft {
        logged: ConnectionLogged {
            kind: ConnectionKind::Pipe,
            name: "fuel pipe".to_owned(),
            a: end(None, "bracket", true),
            b: end(None, "radiator", false),
            route: Vec::new(),
            after: Vec::new(),
            tag: None,
        },
        a_here: true,
        b_here: false,
    }];
    let log = Command::TakeOff(Box::new(bracket.clone()));
    // The end that stays on is not touched.
    assert_eq!(before(&log, b.job()), vec![Hazard::Fuel]);
    let titles = |read: &str, job: &Job| -> Vec<&str> {
        let left = countback_core::view::cautions(job, [&log], read);
        left.iter().map(|it| it.title).collect()
    };
    assert_eq!(titles("Battery\n", b.job()), ["Fuel and vapour"]);
    assert_eq!(titles("Battery\nFuel and vapour\n", b.job()), [""; 0]);

    // Logged with nothing shown, as by a merge, it does not count as shown.
    let mut unread = b.clone();
    let part = unread.take_off(bracket.clone());
    assert_eq!(
        before(&off("fuel filter", vec![]), unread.job()),
        [Hazard::Fuel]
    );
    let (connection, _) = unread.job().connections.iter().next().unwrap();
    let end = side(connection, Side::A);
    unread.place(part);
    let join = Command::Rejoin {
        end,
        seat: end,
        anyway: false,
    };
    assert_eq!(before(&join, unread.job()), [Hazard::Fuel]);
    unread.ok(join);
    let secure = Command::Record(Act::EndSecured { end });
    assert_eq!(before(&secure, unread.job()), []);

    // Logged with what was shown, it is known from then on.
    bracket.part.hazards = touched(&log, b.job());
    b.take_off(bracket);
    assert_eq!(before(&off("fuel filter", vec![]), b.job()), []);
}

#[test]
fn brakes_are_spoken_of_again_only_when_not_yet_shown() {
    let mut b = Bench::default();
    let caliper = b.part("brake caliper", &[("bolt | thread=M10 x 1.25", 2)]);
    let place = Command::PlacePart {
        part: caliper,
        anyway: false,
    };
    // Logged without its cautions, as by a merge: they come before it goes back.
    assert!(before(&place, b.job()).contains(&Hazard::BrakesSteering));
    b.ok(place);
    assert_eq!(before(&off("brake hose", Vec::new()), b.job()), []);
}
