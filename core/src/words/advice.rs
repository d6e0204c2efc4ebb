//! Words of the permit, of costs and of doubts about a torque.
use super::{Style, plural, thousandths, unit};
use crate::access::Cost;
use crate::fastener::FastenerSpec;
use crate::journal::Figure;
use crate::permit::Ask;
use crate::torque::Torque;
use crate::torque::plausibility::{Surface, Verdict, plausibility};

/// What is asked of the machine.
pub fn ask(ask: Ask) -> &'static str {
    match ask {
        Ask::Turn => "Turn it by hand",
        Ask::Crank => "Crank it",
        Ask::Fill => "Fill it",
        Ask::Start => "Start it",
    }
}

/// "3 parts, 12 fasteners, about 25 minutes".
pub fn cost(cost: Cost) -> String {
    format!(
        "{}, {}, about {}",
        plural(cost.parts, "part"),
        plural(cost.fasteners, "fastener"),
        plural(cost.minutes, "minute")
    )
}

/// A doubt about a figure that was entered for a bolt; empty when there is none
/// or nothing can be said. A range worked out here is no specification.
pub fn torque_doubt(spec: &FastenerSpec, figure: Figure, style: Style) -> String {
    torque_doubt_on(spec, figure, Surface::Unknown, false, style)
}

/// The same where it is known what is on the threads, and whether an angle
/// follows: the torque before an angle is meant to be low.
pub fn torque_doubt_on(
    spec: &FastenerSpec,
    figure: Figure,
    surface: Surface,
    angle_follows: bool,
    style: Style,
) -> String {
    let (Figure::Torque { milli, unit: u }, Some(thread)) = (figure, spec.thread) else {
        return String::new();
    };
    let torque = Torque::from_thousandths(milli, u);
    let found = plausibility(torque, thread, spec.class, surface);
    let Some(found) = found else {
        return String::new();
    };
    let nm = |value: f64| thousandths((value * 1000.0).round().max(0.0) as u32 / 100 * 100, style);
    let range = format!(
        "{} to {} N·m is usual for it",
        nm(found.usual_nm.low),
        nm(found.usual_nm.high)
    );
    let verdict = match found.verdict {
        Verdict::Fits => return String::new(),
        Verdict::Low if angle_follows => return String::new(),
        Verdict::Low => "Low for this bolt",
        Verdict::High => "High for this bolt",
        Verdict::AboveYield => "This bolt would give way",
    };
    let like = found
        .looks_like
        .map_or(String::new(), |u| format!(" Was it meant in {}?", unit(u)));
    format!("{verdict}: {range}, by its thread and class.{like} The maker's figure goes first.")
}
