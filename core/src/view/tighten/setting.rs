//! What to set on the wrench: the adapter with its check the other way, the
//! wrench that reaches the figure, and figures that none reaches.
use crate::job::Book;
use crate::journal::{Adapter, Figure, FixingId, LengthUnit};
use crate::torque::PassNext;
use crate::torque::adapter::AdapterHint;
use crate::torque::wrench::{Reached, WrenchRange, unreached};
use crate::torque::{Torque, TorqueUnit};
use crate::words::{self, Style};

/// A torque wrench of the person's.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wrench {
    pub name: String,
    pub range: WrenchRange,
}

/// What the person has in the hand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tools {
    pub wrenches: Vec<Wrench>,
    /// Tried out; else what the job has for the fixing counts.
    pub adapter: Option<Adapter>,
}

/// What stands on the scale.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Setting {
    /// "71.1 N·m"; empty without an adapter or a torque.
    pub set: String,
    /// The check: what the fastener then gets.
    pub gets: String,
    /// What may have been meant otherwise, or why there is no setting.
    pub hint: String,
    /// The wrench that reaches it.
    pub wrench: String,
}

/// What the wrench is set up with for a fixing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WrenchPage {
    /// The figure asked for, of the first stage where none is at hand yet.
    pub figure: String,
    /// Empty as long as something is not measured.
    pub setting: Setting,
    /// The two lengths of the adapter in inches, in a job in inches.
    pub lengths: (String, String),
    /// What is not measured yet; empty where all is.
    pub waits: &'static str,
}

/// What to set for a fixing with the adapter that is tried, before its pass and
/// in it.
pub fn wrench_page(
    book: &Book,
    fixing: FixingId,
    tools: &Tools,
    style: Style,
) -> Option<WrenchPage> {
    let job = book.job();
    let it = job.fixings.get(fixing)?;
    let unit = super::unit_of(job);
    let run = super::running::running(book, fixing, it);
    let stage = match run.pass.next() {
        PassNext::Do(op) => op.stage,
        PassNext::Settle(these) => these.first().map_or(0, |op| op.stage),
        PassNext::Complete => run.n_stages.saturating_sub(1),
    };
    let target = it.detail.stages.get(stage).copied();
    let waits = match tools.adapter {
        Some(Adapter { wrench_mm: 0, .. }) => words::MEASURE_WRENCH,
        Some(Adapter { adapter_mm: 0, .. }) => words::MEASURE_ADAPTER,
        _ => "",
    };
    let inches = |mm: u32| match job.length_unit() {
        LengthUnit::Inch if mm > 0 => {
            words::length(mm.saturating_mul(1000), LengthUnit::Inch, style)
        }
        _ => String::new(),
    };
    let tried = tools.adapter.unwrap_or_default();
    Some(WrenchPage {
        figure: target.map_or_else(String::new, |f| words::figure_in(f, unit, style)),
        setting: match tools.adapter {
            Some(_) if waits.is_empty() => setting(
                target.map(|f| super::self_locking::with_its_running(it, f)),
                tools,
                unit,
                style,
            ),
            _ => Setting::default(),
        },
        lengths: (inches(tried.wrench_mm), inches(tried.adapter_mm)),
        waits,
    })
}

/// The torque to set for a figure, through the adapter if there is one.
fn to_set(torque: Torque, tools: &Tools) -> Option<Torque> {
    let Some(adapter) = tools.adapter else {
        return Some(torque);
    };
    adapter.reach().on_scale(torque)
}

pub(super) fn setting(
    target: Option<Figure>,
    tools: &Tools,
    unit: TorqueUnit,
    style: Style,
) -> Setting {
    let Some(Figure::Torque { milli, unit: own }) = target else {
        return Setting::default();
    };
    set_up(Torque::from_thousandths(milli, own), tools, unit, style)
}

/// What to set for a torque, shown in `unit`.
pub fn set_up(torque: Torque, tools: &Tools, unit: TorqueUnit, style: Style) -> Setting {
    let mut it = Setting::default();
    // In the unit it was entered in: nothing is lost on a wrench with that scale.
    let entered = to_set(torque, tools);
    let torque = torque.in_unit(unit).unwrap_or(torque);
    let set = to_set(torque, tools);
    if let Some(adapter) = tools.adapter {
        let reach = adapter.reach();
        it.hint = match (reach.factor(), reach.hint()) {
            (Err(why), _) => words::adapter_error(why).to_owned(),
            (_, Some(AdapterHint::NothingToCorrect)) => words::STRAIGHT_SOCKET.to_owned(),
            (_, Some(AdapterHint::LongAdapter)) => words::LONG_ADAPTER.to_owned(),
            _ => String::new(),
        };
        if let Some((set, back)) = set.and_then(|s| Some((s, reach.applied(s).ok()?))) {
            it.set = words::torque_in(set, unit, style);
            // The check of a small figure is not coarser than a hundredth of it.
            let fine = if back.value() < 10.0 { 1000.0 } else { 10.0 };
            let back = Torque::from_value((back.value() * fine).round() / fine, back.unit());
            it.gets = back.map_or_else(String::new, |t| words::torque_in(t, unit, style));
        }
    }
    if let Some(set) = set {
        let best = tools.wrenches.iter().min_by_key(|w| w.range.reach(set));
        if let Some(best) = best.filter(|w| w.range.reach(set) == Reached::Within) {
            let scale = best.range.max.unit();
            let own = entered.filter(|_| scale != unit);
            it.wrench = words::wrench_said(&best.name, best.range, own, style);
        }
    }
    it
}

/// Figures that no wrench reaches well, to be said before the pass in the
/// job's unit; whether one is reached goes by the unit it was entered in.
pub(super) fn out_of_range(
    stages: &[Figure],
    tools: &Tools,
    unit: TorqueUnit,
    style: Style,
) -> Vec<String> {
    let ranges: Vec<WrenchRange> = tools.wrenches.iter().map(|w| w.range).collect();
    let said = |f: &Figure| {
        let Figure::Torque { milli, unit: own } = *f else {
            return None;
        };
        let torque = Torque::from_thousandths(milli, own);
        let (set, reached) = unreached(&ranges, &[to_set(torque, tools)?]).pop()?;
        // Through an adapter it is the scale's own figure in that unit.
        let through = tools.adapter.and_then(|_| torque.in_unit(unit));
        let shown = through.and_then(|t| to_set(t, tools));
        Some(words::wrench_out_of_range(
            shown.unwrap_or(set),
            reached,
            unit,
            style,
        ))
    };
    stages.iter().filter_map(said).collect()
}
