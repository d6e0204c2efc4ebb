//! Words of the doubt about a figure: what is usual for the bolt, what that was
//! reckoned by, what the figure clamps with and where the bolt gives way.
//! Nothing said here is a specification; the maker's figure goes first.
use super::{Style, thousandths, unit};
use crate::fastener::{FastenerSpec, PropertyClass, Thread};
use crate::journal::Figure;
use crate::torque::plausibility::{Plausibility, Range, Surface, Verdict, plausibility};
use crate::torque::{Torque, TorqueUnit};

/// What reckoning says of the torque of one stage.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TorqueCheck {
    /// Nothing follows it: it alone draws the fastener to its figure.
    pub last: bool,
    /// Nothing but angles follow it.
    pub last_torque: bool,
    /// "9.4 to 24 N·m", usual for the fastener at the end of a pass.
    pub range: String,
    /// "M8 x 1.25, class not noted, taken as 8.8 to 10.9; friction 0.08 to 0.16".
    pub basis: String,
    /// What it clamps with, and where it gives way.
    pub loads: String,
    /// Empty when there is none.
    pub doubt: String,
}

impl TorqueCheck {
    /// The doubt with all that it rests on; empty when there is none. The first
    /// line is the doubt, see [`doubt_and_why`].
    pub fn said(&self) -> String {
        if self.doubt.is_empty() {
            return String::new();
        }
        format!("{}\n{}", self.doubt, self.reckoned())
    }

    /// What it rests on, and that it is no specification. Of a torque that a
    /// higher one follows it is said only where there is a doubt.
    pub fn reckoned(&self) -> String {
        if !self.last_torque && self.doubt.is_empty() {
            return String::new();
        }
        let usual = match self.last || !self.doubt.is_empty() {
            true => format!("{} is usual for it. ", self.range),
            false => String::new(),
        };
        format!(
            "{usual}{} Reckoned for {}: no specification, the maker's figure wins.",
            self.loads, self.basis
        )
    }
}

/// What is said of a figure: the doubt, and what it rests on where that is told.
pub fn doubt_and_why(said: &str) -> (&str, Option<&str>) {
    match said.split_once('\n') {
        Some((doubt, why)) => (doubt, Some(why)),
        None => (said, None),
    }
}

/// What reckoning says of the first of these stages; the others are those that
/// follow it. `None` when nothing can be said.
pub fn torque_check(
    spec: &FastenerSpec,
    stages: &[Figure],
    surface: Surface,
    shown: TorqueUnit,
    style: Style,
) -> Option<TorqueCheck> {
    let mut stages = stages.iter().filter(|f| !not_set(f));
    let (Some(&Figure::Torque { milli, unit: own }), Some(thread)) = (stages.next(), spec.thread)
    else {
        return None;
    };
    let found = plausibility(
        Torque::from_thousandths(milli, own),
        thread,
        spec.class,
        surface,
        spec.head,
    )?;
    let mut after = stages.peekable();
    let last = after.peek().is_none();
    let last_torque = after.all(|f| matches!(f, Figure::Angle { .. }));
    let found = if last { found } else { found.before_more() };
    let said = match found.verdict {
        Verdict::Fits => "",
        Verdict::Low => "Low for this bolt.",
        Verdict::High => "High for this bolt.",
        Verdict::AboveYield => "This bolt would give way.",
    };
    let like = found.looks_like.map_or(String::new(), |u| {
        format!(" It looks like {} entered as {}.", unit(u), unit(own))
    });
    Some(TorqueCheck {
        last,
        last_torque,
        range: range(found.usual_nm, shown, style),
        basis: basis(thread, spec.class, &found, surface, style),
        loads: format!(
            "It clamps with {} kN at this figure, and gives way from {}.",
            two(found.preload_kn, |kn| coarse(kn, style)),
            range(found.yield_nm, shown, style)
        ),
        doubt: format!("{said}{like}"),
    })
}

/// A stage that is being entered and has no number yet.
fn not_set(figure: &Figure) -> bool {
    matches!(
        figure,
        Figure::Torque { milli: 0, .. } | Figure::Angle { degrees: 0 }
    )
}

/// "9.4 to 24", or one number where both come out alike.
fn two(range: Range, say: impl Fn(f64) -> String) -> String {
    let (low, high) = (say(range.low), say(range.high));
    match low == high {
        true => low,
        false => format!("{low} to {high}"),
    }
}

/// A range of newton metres in another unit.
fn range(range: Range, shown: TorqueUnit, style: Style) -> String {
    let (up, down) = TorqueUnit::NewtonMetre.ratio_to(shown);
    let say = |nm: f64| coarse(nm * (up as f64 / down as f64), style);
    format!("{} {}", two(range, say), unit(shown))
}

/// More figures are more than such a range is worth.
fn coarse(value: f64, style: Style) -> String {
    let thousandths_of = (value * 1000.0).round().max(0.0) as u32;
    let coarse = match thousandths_of {
        n @ ..1_000 => n / 10 * 10,
        n @ ..10_000 => n / 100 * 100,
        n => n / 1_000 * 1_000,
    };
    thousandths(coarse, style)
}

/// What was taken for known.
fn basis(
    thread: Thread,
    class: Option<PropertyClass>,
    found: &Plausibility,
    surface: Surface,
    style: Style,
) -> String {
    let class = match (class, found.classes) {
        (Some(nut @ PropertyClass::Nut(_)), (bolt, _)) => {
            format!("{nut}, taken as the bolt {bolt} it goes with (ISO 898-2, from memory)")
        }
        (Some(class), _) => format!("class {class}"),
        (None, (weak, strong)) => format!("class not noted, taken as {weak} to {strong}"),
    };
    let mu = |n: f64| thousandths((n * 1000.0).round() as u32, style);
    let surface = match surface {
        Surface::Unknown => "as most are supplied",
        Surface::Lubricated => "oiled",
        Surface::Dry => "dry",
        Surface::ThreadLocker => "with thread-locker",
    };
    let (slick, rough) = found.friction;
    format!(
        "{thread}, {class}; friction {} to {} ({surface})",
        mu(slick.0),
        mu(rough.0)
    )
}
