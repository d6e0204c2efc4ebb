//! Words of the torque pass: figures in the job's unit, turns of a fastener,
//! doubts, orders and wrenches.
use super::{Names, Style, figure, hold, plural, thousandths};
use crate::fastener::FastenerKind;
use crate::journal::{Figure, Hold};
use crate::torque::adapter::AdapterError;
use crate::torque::pattern::{Layout, Scheme};
use crate::torque::stages::StageError;
use crate::torque::wrench::{Reached, WrenchRange};
use crate::torque::{Torque, TorqueUnit};
use crate::view::PassCaution;

/// A torque in a unit; as it was entered when it is in that unit.
pub fn torque_in(torque: Torque, unit: TorqueUnit, style: Style) -> String {
    // The signs of the units have no point in them.
    torque
        .shown_in(unit)
        .replace('.', &style.decimal.to_string())
}

/// A figure with its torque in a unit.
pub fn figure_in(it: Figure, unit: TorqueUnit, style: Style) -> String {
    match it {
        Figure::Torque { milli, unit: own } => {
            torque_in(Torque::from_thousandths(milli, own), unit, style)
        }
        Figure::Angle { .. } => figure(it, style),
    }
}

/// As it was entered, where it is shown in another unit.
pub fn noted_as(it: Figure, unit: TorqueUnit, style: Style) -> String {
    match it {
        Figure::Torque { unit: own, .. } if own != unit => {
            format!("noted as {}", figure(it, style))
        }
        _ => String::new(),
    }
}

/// "Bolt 3".
fn one(kind: FastenerKind, number: u16) -> String {
    capital(&format!("{} {number}", kind.word()))
}

/// Why the rest of a fixing waits.
pub fn not_to_hand(kind: FastenerKind, n: u16) -> String {
    match n {
        1 => format!("the last {} is not to hand", kind.word()),
        n => format!("{n} {} are not to hand", kind.words()),
    }
}

/// Where washers lie that are not in their places, `filled` of which may be.
pub fn the_others_lie(filled: u16, lying: &str) -> String {
    let who = if filled > 0 { "The others" } else { "They" };
    format!("{who} lie {lying}.")
}

/// With a capital first.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|l| l.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

pub fn started_by_hand(kind: FastenerKind, number: u16) -> String {
    format!("{} started by hand", one(kind, number))
}

pub fn thread_repaired(number: u16) -> String {
    format!("Thread {number} repaired")
}

/// Why a place that broke has no turn.
pub fn thread_first(number: u16) -> String {
    format!("{number} broke. Its thread comes first.")
}

/// What was done to one: "Nut 3 at 45 N·m", "Nut 3 turned on 90°".
pub fn brought_to(
    kind: FastenerKind,
    number: u16,
    to: Option<(Figure, String)>,
    again: bool,
) -> String {
    let one = one(kind, number);
    match (to, again) {
        (Some((Figure::Angle { .. }, _)), true) => format!("{one} was turned, I see its mark"),
        (Some((Figure::Angle { degrees }, _)), false) => format!("{one} turned on {degrees}°"),
        (Some((_, text)), true) => format!("{one} touched again, {text}"),
        (Some((_, text)), false) => format!("{one} at {text}"),
        (None, true) => format!("{one} touched again, tight"),
        (None, false) => format!("{one} tight"),
    }
}

pub fn slacken_and_start_over(kind: FastenerKind, number: u16) -> String {
    format!("{} slackened, it starts over", one(kind, number))
}

/// Why one has no turn yet.
pub fn others_first(kind: FastenerKind, open: &[String]) -> String {
    format!(
        "Start every {} by hand first. Still open: {}.",
        kind.word(),
        open.join(", ")
    )
}

/// What one was brought to so far.
pub fn has_so_far(word: &str) -> String {
    format!("has {word}")
}

/// It has had its turn.
pub fn has_it(kind: FastenerKind, number: u16, word: &str) -> String {
    format!("{}: {word}. Nothing to do now.", one(kind, number))
}

pub fn doubt_at(kind: FastenerKind, numbers: &[String]) -> String {
    format!(
        "Not sure of {} {}. The stage is not complete, and it is not gone over unasked.",
        kind.word(),
        numbers.join(", ")
    )
}

pub fn final_waits_for(parts: Vec<String>) -> String {
    let verb = if parts.len() == 1 { "is" } else { "are" };
    format!(
        "Not final yet: it also holds {}, which {verb} off.",
        Names(parts)
    )
}

/// Lines of one part that are tightened as one ring.
pub fn one_pass(lines: Vec<String>, n: usize) -> String {
    format!("One pass over {}: {n} in all.", Names(lines))
}

/// Other lines of the part are tightened by another figure.
pub fn other_figure(lines: Vec<String>) -> String {
    format!("By itself: another figure is noted for {}.", Names(lines))
}

pub const MAKERS_ORDER: &str = "The maker's order";
pub const EACH_BY_ITSELF: &str = "By itself, without the others of this part.";
pub const MARK_ALL_ON_ONE: &str = "Others of this part have the same figure. With every place marked on one photo, or the maker's order over all of them, they are one pass.";
pub const MAKERS_ORDER_OF_EACH: &str =
    "Others of this part have the same figure. The maker's order was put in for each by itself.";
pub const NUMBER_THE_HOLES: &str =
    "Others of this part have the same figure. With all holes numbered they are one pass.";
pub const RING_UNCLEAR: &str = "Others of this part have the same figure. Their marks together fit no layout clearly, so each goes by itself.";

/// Said before the fasteners of a cover come out; `by_turn` where each is called
/// by its turn in tightening. Loosening in reverse, a little at a time, keeps a
/// cover from springing or warping (common practice, no source).
pub fn loosen(what: &str, order: &str, by_turn: bool) -> String {
    let numbered = if by_turn {
        ", numbered as they are tightened"
    } else {
        ""
    };
    format!(
        "{what}: loosen in reverse, {order}{numbered}. Each a little first, then all the way out."
    )
}

pub fn final_only(until: Hold) -> String {
    format!("Not final yet: only {}.", hold(until))
}

/// What is wrong with the stages as they are noted.
/// No figure is there to make stages of.
pub const NO_FIGURE: &str = "No figure is entered yet";

/// A figure that was entered would be lost.
pub fn in_no_stage(it: Figure, style: Style) -> String {
    let how = match it {
        Figure::Torque { .. } => "say how much at a time, or add it",
        Figure::Angle { .. } => "add it, or set it to 0",
    };
    format!("{} is in no stage yet: {how}", figure(it, style))
}

pub fn stage_error(error: StageError) -> String {
    let at = |stage: usize, what: &str| format!("Stage {}: {what}", stage + 1);
    match error {
        StageError::None => "No stage is noted.".to_owned(),
        StageError::FullTorqueNeeded { stage } => {
            at(stage, "a part of a full figure that is not noted.")
        }
        StageError::BadPercent { stage, percent } => {
            at(stage, &format!("{percent} % is no part of the figure."))
        }
        StageError::NotRising { stage } => at(stage, "no more than the stage before. Look again."),
        StageError::TorqueAfterAngle { stage } => at(
            stage,
            "a torque after an angle says nothing. Angles come last.",
        ),
        StageError::BadAngle { stage, degrees } => {
            at(stage, &format!("{degrees}° is no turn to make at once."))
        }
        StageError::RoundAfterAngle => "No round at a torque follows an angle.".to_owned(),
    }
}

pub fn layout(layout: Layout) -> &'static str {
    match layout {
        Layout::Few => "one or two",
        Layout::Circle => "circle",
        Layout::Line => "line",
        Layout::TwoRows => "two rows",
        Layout::RectangleRing => "ring of a rectangle",
        Layout::Irregular => "irregular",
    }
}

/// "Circle: cross pattern, opposite follows opposite".
pub fn layout_said(of: Layout, scheme: Scheme) -> String {
    let scheme = match scheme {
        Scheme::Cross => "crosswise, opposite follows opposite",
        Scheme::CentreOutwards => "from the middle outwards",
        Scheme::AsMarked => "as marked",
    };
    capital(&format!("{}: {scheme}", layout(of)))
}

/// An order that no scheme gives.
pub fn layout_of_own(of: Layout) -> String {
    capital(&format!("{}: an order of its own", layout(of)))
}

pub fn marks_missing(n: usize, of: usize) -> String {
    format!("{n} of {of} places are marked on the photo.")
}

pub fn marks_on_one_another(first: usize, second: usize) -> String {
    format!(
        "Marks {first} and {second} lie on one another, which gives no order. Strike one and set it anew."
    )
}

pub fn adapter_error(error: AdapterError) -> &'static str {
    match error {
        AdapterError::BadLength => "The wrench needs a length.",
        AdapterError::BeyondTheGrip => {
            "It reaches back past the grip: the wrench would turn the wrong way."
        }
        AdapterError::TooBig => "The setting is too big for any wrench.",
    }
}

/// What an adapter is not reckoned without.
pub const MEASURE_WRENCH: &str = "Measure from the grip to the drive first";
pub const MEASURE_ADAPTER: &str = "Measure from the drive to the fastener first";

/// Nothing is to be corrected.
pub const STRAIGHT_SOCKET: &str = "Nothing to correct: at this angle or length the setting is the figure. A socket or a straight bar under the drive is meant so.";
/// A straight bar that is entered as an adapter would lower the setting.
pub const STRAIGHT_BAR: &str = "A bar or socket straight under the drive needs no correction, however long: take the adapter off here. Enter only what reaches out from the drive, ahead or sideways.";
/// The figure hangs on where the hand is.
pub const LONG_ADAPTER: &str =
    "A long adapter: hold the wrench at its grip only, the figure hangs on it.";

fn range(it: WrenchRange, style: Style) -> String {
    let number = |t: Torque| thousandths(t.thousandths(), style);
    format!("{} to {} {}", number(it.min), number(it.max), it.max.unit())
}

/// `own` is the setting on the wrench's own scale, where that is another unit
/// than the job's.
pub fn wrench_said(name: &str, it: WrenchRange, own: Option<Torque>, style: Style) -> String {
    let said = format!("{name}, {}", range(it, style));
    match own {
        Some(own) => format!("{said}: set {}", torque_in(own, it.max.unit(), style)),
        None => said,
    }
}

/// Said before the pass.
pub fn wrench_out_of_range(
    set: Torque,
    reached: Reached,
    unit: TorqueUnit,
    style: Style,
) -> String {
    let set = torque_in(set, unit, style);
    match reached {
        Reached::Below => format!("{set} is below every wrench of yours that comes near it."),
        Reached::Above => format!("{set} is above what your wrenches reach."),
        Reached::LowEnd => {
            format!("{set} is in the lowest fifth of your wrench, where it is not to be trusted.")
        }
        Reached::Within => String::new(),
    }
}

/// Read once in a job, before anything is tightened (common practice, no
/// source).
pub fn over_tightening() -> PassCaution {
    PassCaution {
        title: "Over-tightening",
        lines: vec![
            "The maker's figure, order and angle win over anything this app says.",
            "Threads clean, and dry or oiled as the maker says: oil on a dry figure over-tightens.",
            "Pull slowly and stop at the click. Stop as well when it turns on and gets no tighter: it stretches, or the thread is going.",
            "New bolts where the maker turns by angle and wants them new.",
        ],
        grave: false,
    }
}

/// "8 started by hand".
pub fn rest_started(n: u32, kind: FastenerKind) -> String {
    format!("All {} started by hand", plural(n, kind.word()))
}

/// The same of one length of several.
pub fn rest_started_of(labels: &str, n: u32) -> String {
    format!("All {n} {labels} started by hand")
}

/// The stage after the last.
pub const LAST_ROUND: &str = "Once more all round";
pub const ONE_TURNED: &str = "One still turned";

/// Common practice; ASME PCC-1 lists it for flanges (from memory).
pub fn last_round(figure: &str, turned: bool) -> String {
    if turned {
        return format!(
            "One turned on the last round. Go round again at {figure}, until none does."
        );
    }
    format!(
        "Drawing one down eases its neighbours. Go from each to the next, all round, at {figure}, until none turns."
    )
}

pub fn gone_round(figure: &str) -> String {
    format!("Gone round at {figure}, none turned")
}

/// What the running torque of a self-locking nut is, how it counts, and when
/// the nut is done with. The rule of a third: TM 9-2330-326-14&P; the rest is
/// common practice, no source.
pub const RUNNING_TORQUE: [&str; 3] = [
    "It drags all the way down: that is its running torque. Read it on a beam or dial wrench one turn before it seats.",
    "Below a third of the figure it is passed over, from a third on it is added to it (TM 9-2330-326-14&P). Where the maker has counted it in already, or says otherwise, the maker wins.",
    "A nut that runs on by hand locks no more. Fit a new one.",
];

/// The same, before the pass.
pub const RUNNING_TORQUE_SHORT: &str = "Read its running torque one turn before it seats; from a third of the figure on it is added, unless the maker says otherwise. One that runs on by hand: fit a new one.";

/// What is then set for a nut that runs with so much.
pub fn with_running(figure: Torque, running: Torque, set: Torque, style: Style) -> String {
    let say = |t: Torque| torque_in(t, figure.unit(), style);
    if set == figure {
        return format!(
            "{} is below a third of {}: passed over, set {}.",
            say(running),
            say(figure),
            say(set)
        );
    }
    format!(
        "{} + {} running = set {}",
        say(figure),
        say(running),
        say(set)
    )
}
