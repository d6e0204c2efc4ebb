//! Single words for states, kinds and figures.
use super::Style;
use crate::job::{EndState, Part, PartState, PlaceState};
use crate::journal::*;
use crate::torque::TorqueUnit;
use crate::torque::hole::HoleMetal;

pub fn part_state(state: PartState) -> &'static str {
    match state {
        PartState::Off => "off",
        PartState::Aside => "swung aside",
        PartState::Placed => "back",
        PartState::LeftOff => "left off",
    }
}

pub fn place_state(state: PlaceState) -> String {
    match state {
        PlaceState::FoundEmpty => "found empty".to_owned(),
        PlaceState::LeftEmpty => "left empty".to_owned(),
        PlaceState::Broken => "repair first".to_owned(),
        PlaceState::Open => "open".to_owned(),
        PlaceState::Slackened => "slackened".to_owned(),
        PlaceState::Doubtful => "doubtful".to_owned(),
        PlaceState::Started => "started".to_owned(),
        PlaceState::Snug => "snug".to_owned(),
        PlaceState::Stage(n) => format!("stage {n}"),
        PlaceState::Final => "final".to_owned(),
        PlaceState::Checked => "checked".to_owned(),
    }
}

pub fn end_state(state: EndState, joint: Joint) -> &'static str {
    match state {
        EndState::Undisturbed => "undisturbed",
        EndState::Parted => "open",
        EndState::Doubtful => "doubtful",
        EndState::Pushed if joint == Joint::Threaded || joint == Joint::UnionBolt => "started",
        EndState::Pushed => "pushed on",
        EndState::Secured if joint == Joint::Clicked => "clicked",
        EndState::Secured => "tight",
        EndState::Checked => "checked",
        EndState::LeftOff => "left off",
    }
}

/// What it is called to part an end: one more of a connection that is open, or
/// one that was joined again.
pub fn part_end(state: EndState) -> Option<&'static str> {
    match state {
        EndState::Undisturbed => Some("Parted too"),
        EndState::Parted | EndState::LeftOff => None,
        _ => Some("Parted again"),
    }
}

/// Jobs that are here and cannot be read.
pub fn unread(n: u32) -> String {
    match n {
        1 => "A job here cannot be read".to_owned(),
        n => format!("{n} jobs here cannot be read"),
    }
}

/// What is done to an end once it is on its seat.
pub fn secure(joint: Joint) -> &'static str {
    match joint {
        Joint::Clicked => "Clicked",
        Joint::Clamped => "Clip tight",
        Joint::PushOn => "Fully on",
        Joint::Threaded | Joint::UnionBolt => "Tight",
    }
}

/// What is done to bring an end onto its seat.
pub fn push_on(joint: Joint) -> &'static str {
    match joint {
        Joint::Threaded | Joint::UnionBolt => "Started by hand",
        _ => "Pushed on",
    }
}

pub fn joint(joint: Joint) -> &'static str {
    match joint {
        Joint::PushOn => "push-on",
        Joint::Clamped => "clip",
        Joint::Clicked => "click plug",
        Joint::Threaded => "threaded",
        Joint::UnionBolt => "union bolt",
    }
}

/// What is said of a bag or box with nothing in it.
pub const EMPTY: &str = "Empty: nothing is booked in it.";

/// Clips that are met on hoses (common practice, no source).
pub const CLAMPS: [&str; 5] = [
    "worm-drive clip",
    "spring clip",
    "ear clip",
    "T-bolt clip",
    "wire clip",
];

pub fn connection_kind(kind: ConnectionKind) -> &'static str {
    match kind {
        ConnectionKind::Hose => "hose",
        ConnectionKind::Pipe => "pipe",
        ConnectionKind::Plug => "plug",
        ConnectionKind::Cable => "cable",
        ConnectionKind::Linkage => "linkage",
    }
}

pub fn item_kind(kind: ItemKind) -> &'static str {
    match kind {
        ItemKind::Gasket => "gasket",
        ItemKind::CrushWasher => "crush washer",
        ItemKind::ORing => "O-ring",
        ItemKind::Seal => "seal",
        ItemKind::SplitPin => "split pin",
        ItemKind::StretchBolt => "stretch bolt",
        ItemKind::LockNut => "lock nut",
        ItemKind::Clip => "clip",
        ItemKind::Other => "one-use item",
    }
}

pub fn container_kind(kind: ContainerKind) -> &'static str {
    match kind {
        ContainerKind::Bag => "bag",
        ContainerKind::Tray => "tray",
        ContainerKind::Box => "box",
        ContainerKind::Shelf => "shelf",
        ContainerKind::Card => "card",
    }
}

pub fn inside_kind(kind: InsideKind) -> &'static str {
    match kind {
        InsideKind::Rag => "rag",
        InsideKind::Tool => "tool",
        InsideKind::LockingPin => "locking pin",
        InsideKind::Support => "support",
        InsideKind::Cover => "cover",
    }
}

pub fn treatment_kind(kind: TreatmentKind) -> &'static str {
    match kind {
        TreatmentKind::Lubricant => "lubricant",
        TreatmentKind::Sealant => "sealant",
        TreatmentKind::ThreadLocker => "thread-locker",
    }
}

pub fn decision(decision: Decision) -> &'static str {
    match decision {
        Decision::Refit => "refit as it is",
        Decision::Clean => "clean",
        Decision::Repair => "repair",
        Decision::Renew => "renew",
        Decision::LeaveOff => "leave off",
    }
}

pub fn why(why: Why) -> &'static str {
    match why {
        Why::BlocksReach => "in the way",
        Why::Hides => "hides it",
        Why::Attached => "attached to it",
        Why::SharesFixing => "shares a fixing",
        Why::Supports => "holds it up",
        Why::RoutedThrough => "runs through it",
    }
}

pub fn way_in(way: WayIn) -> &'static str {
    match way {
        WayIn::Above => "from above",
        WayIn::Below => "from below",
        WayIn::Front => "from the front",
        WayIn::Behind => "from behind",
        WayIn::Side => "from the side",
        WayIn::Inside => "from inside",
        WayIn::WheelOff => "with the wheel off",
    }
}

pub fn route(kind: RouteKind) -> &'static str {
    match kind {
        RouteKind::Through => "through",
        RouteKind::Behind => "behind",
        RouteKind::ClippedTo => "clipped to",
    }
}

pub fn supply(kind: SupplyKind) -> &'static str {
    match kind {
        SupplyKind::Battery => "battery",
        SupplyKind::Fuel => "fuel",
        SupplyKind::Air => "air",
        SupplyKind::Water => "water",
        SupplyKind::Hydraulic => "hydraulic",
        SupplyKind::Other => "supply",
    }
}

/// Why an end goes with the part that it sits on, which is left off.
pub fn left_with(part: &Part) -> String {
    format!("{} is left off: {}", part.name, part.left_off_why)
}

/// When final tightening may be done.
pub fn hold(hold: Hold) -> &'static str {
    match hold {
        Hold::Neighbours => "when all its neighbours are in",
        Hold::Loaded => "while it bears its weight",
        Hold::Hot => "at working heat",
    }
}

pub fn after_run(kind: AfterRunKind) -> &'static str {
    match kind {
        AfterRunKind::LeakCheck => "leak check",
        AfterRunKind::LevelCheck => "level check",
        AfterRunKind::Retighten => "re-tighten",
        AfterRunKind::Other => "check",
    }
}

/// When a check falls due, the first that is reached.
pub fn due(due: Due) -> String {
    let mut said = Vec::new();
    let mut add = |n: u32, one: &str, many: &str| match n {
        0 => {}
        1 => said.push(format!("1 {one}")),
        n => said.push(format!("{n} {many}")),
    };
    add(u32::from(due.heat_cycles), "warm-up", "warm-ups");
    add(due.km, "km", "km");
    add(due.hours, "hour", "hours");
    add(due.days, "day", "days");
    if said.is_empty() {
        "after the first run".to_owned()
    } else {
        format!("after {}", said.join(" or "))
    }
}

pub fn unit(unit: TorqueUnit) -> &'static str {
    match unit {
        TorqueUnit::NewtonMetre => "N·m",
        TorqueUnit::PoundForceFoot => "lbf·ft",
        TorqueUnit::PoundForceInch => "lbf·in",
        TorqueUnit::KilogramForceMetre => "kgf·m",
        TorqueUnit::KilogramForceCentimetre => "kgf·cm",
    }
}

/// Thousandths as a decimal number without idle noughts.
pub fn thousandths(milli: u32, style: Style) -> String {
    let (whole, part) = (milli / 1000, milli % 1000);
    if part == 0 {
        return whole.to_string();
    }
    let digits = format!("{part:03}");
    format!("{whole}{}{}", style.decimal, digits.trim_end_matches('0'))
}

/// A length in the job's unit: millimetres, or thousandths of an inch.
pub fn length(um: u32, unit: LengthUnit, style: Style) -> String {
    let sign = match unit {
        LengthUnit::Millimetre => "mm",
        LengthUnit::Inch => "in",
    };
    format!("{} {sign}", bare_length(um, unit, style))
}

/// The same without its unit, for sums.
pub fn bare_length(um: u32, unit: LengthUnit, style: Style) -> String {
    match unit {
        LengthUnit::Millimetre => thousandths(um, style),
        LengthUnit::Inch => thousandths(mils(um), style),
    }
}

/// Thousandths of an inch, to the nearest.
pub fn mils(um: u32) -> u32 {
    ((u64::from(um) * 10 + 127) / 254) as u32
}

/// Micrometres of so many thousandths of an inch; [`mils`] gives them back.
pub fn um_of_mils(mils: u32) -> u32 {
    ((u64::from(mils) * 254 + 5) / 10).min(u64::from(u32::MAX)) as u32
}

pub fn hole_depth(hole: Hole, unit: LengthUnit, style: Style) -> String {
    match hole.depth_um {
        0 => "right through".to_owned(),
        um => format!("{} deep", length(um, unit, style)),
    }
}

pub fn hole_metal(metal: HoleMetal) -> &'static str {
    match metal {
        HoleMetal::Steel => "steel",
        HoleMetal::CastIron => "cast iron",
        HoleMetal::Brass => "brass",
        HoleMetal::Aluminium => "aluminium",
        HoleMetal::Magnesium => "magnesium",
        HoleMetal::Insert => "thread insert",
        HoleMetal::Plastic => "plastic",
    }
}

pub fn figure(figure: Figure, style: Style) -> String {
    match figure {
        Figure::Torque { milli, unit: u } => format!("{} {}", thousandths(milli, style), unit(u)),
        Figure::Angle { degrees } => format!("+{degrees}°"),
    }
}

pub fn meter(meter: Meter, style: Style) -> String {
    format!(
        "{} {}",
        thousandths(meter.tenths.saturating_mul(100), style),
        meter_unit(meter.kind)
    )
}

pub fn meter_unit(kind: MeterKind) -> &'static str {
    match kind {
        MeterKind::Kilometres => "km",
        MeterKind::Miles => "miles",
        MeterKind::Hours => "h",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_follow_the_readers_language() {
        let comma = Style {
            decimal: ',',
            ..Style::default()
        };
        assert_eq!(thousandths(22_500, comma), "22,5");
        assert_eq!(thousandths(9_000, comma), "9");
        let torque = Figure::Torque {
            milli: 8_050,
            unit: TorqueUnit::NewtonMetre,
        };
        assert_eq!(figure(torque, Style::default()), "8.05 N·m");
        assert_eq!(
            due(Due {
                heat_cycles: 1,
                km: 50,
                ..Due::default()
            }),
            "after 1 warm-up or 50 km"
        );
    }
}
