//! The details of a fixing, and the choice of a size that is not on a chip.
use crate::kit::use_local;
use crate::part;
use countback_core::fastener::item_sizes::{ItemSizes, in_words};
use countback_core::fastener::{FastenerKind, FastenerSpec, common_items};
use countback_core::journal::{FixingDetail, read_typed};
use countback_core::torque::TorqueUnit;
use countback_core::view::{self, Chips};
use countback_core::words;
use yew::prelude::*;

use super::super::fixing::meant_chips;
use super::super::pick::{Pick, PickHow};
use super::super::sizes::{self, Sizes};
use super::draft::{DraftFixing, USED_ONCE, WAYS};
use super::draft_joints::{STAGE_UNITS, read_spec, torque_unit, unit_of};
use super::item::item_sizes;
use crate::kit::{
    Banner, BannerKind, Button, ButtonFace, ButtonKind, Chip, ChipItem, ChipRow, IArray, Icon,
    NumberField, Reading, Section, Sheet, Stepper, TextField,
};

/// What is special about a fixing, in one line under its count.
pub fn under(f: &DraftFixing) -> Option<AttrValue> {
    let mut said: Vec<String> = Vec::new();
    if !f.place.is_empty() {
        said.push(f.place.clone());
    }
    if f.slackened > 0 {
        said.push(format!("{} only slackened", f.slackened));
    }
    if f.found_empty > 0 {
        said.push(format!("{} found empty", f.found_empty));
    }
    if f.broke > 0 {
        said.push(format!("{} broken off", f.broke));
    }
    if f.washers > 0 {
        said.push(format!(
            "{} each",
            words::plural(u32::from(f.washers), "washer")
        ));
    }
    if f.spacers > 0 {
        said.push(format!(
            "{} each",
            words::plural(u32::from(f.spacers), "spacer")
        ));
    }
    if f.shims > 0 {
        let shim = read_spec(&f.shim, FastenerKind::Shim).label();
        said.push(format!("{} × {shim} each", f.shims));
    }
    if f.stud_came {
        said.push("stud came out".to_owned());
    }
    if f.used > 0 {
        let what = USED_ONCE.get(usize::from(f.used_kind)).map_or("", |u| u.1);
        said.push(format!("{} each", words::plural(u32::from(f.used), what)));
    }
    if f.union {
        said.push("two new washers each".to_owned());
    }
    if f.renew {
        said.push("new ones wanted".to_owned());
    } else if f.inspect {
        said.push("looked at first".to_owned());
    }
    if let Some((_, n)) = &f.apart {
        said.push(format!("{n} in another container"));
    }
    if f.safety {
        said.push("second look".to_owned());
    }
    if !f.stages.is_empty() {
        said.push(words::plural(f.stages.len() as u32, "stage"));
    }
    (!said.is_empty()).then(|| said.join(", ").into())
}

/// What came with each and is used once: which, how many, and of what size.
fn used_once(f: &DraftFixing, put: &Callback<Option<DraftFixing>>) -> Html {
    let change = |set: fn(&mut DraftFixing, u32)| {
        let (f, put) = (f.clone(), put.clone());
        Callback::from(move |n: u32| {
            let mut next = f.clone();
            set(&mut next, n);
            put.emit(Some(next));
        })
    };
    let on = |n: usize| f.used > 0 && usize::from(f.used_kind) == n;
    let kinds: IArray<ChipItem<u32>> = USED_ONCE
        .iter()
        .enumerate()
        .map(|(n, (_, name))| ChipItem::new(n as u32, *name, on(n)))
        .collect();
    let pick = change(|f, n| {
        let again = f.used > 0 && u32::from(f.used_kind) == n;
        f.used = u8::from(!again);
        f.used_kind = n as u8;
        f.used_size.clear();
    });
    let kind = USED_ONCE.get(usize::from(f.used_kind)).map(|u| u.0);
    let sizes_of = match f.used {
        0 => &[],
        _ => item_sizes(kind),
    };
    let sized = |of: &'static ItemSizes| {
        let (f, put) = (f.clone(), put.clone());
        Callback::from(move |n: u32| {
            let size = of.sizes.get(n as usize).map(|size| in_words(of, size));
            let mut next = f.clone();
            next.used_size = size.filter(|s| *s != f.used_size).unwrap_or_default();
            put.emit(Some(next));
        })
    };
    html! {
        <>
            { part!(ChipRow::<u32> { label: "Used once, a new one is owed", items: kinds, onpress: pick }) }
            if f.used > 0 {
                { part!(Stepper { label: "How many with each", value: u32::from(f.used), min: 1, max: 6, onchange: change(|f, n| f.used = n as u8) }) }
                { for sizes_of.iter().map(|of| part!(Sizes { label: format!("Size, {}, {}", of.of, of.standard), items: sizes::item_chips(of, &f.used_size), onpress: sized(of) })) }
            }
        </>
    }
}

#[derive(Properties, PartialEq)]
pub struct FixingSheet {
    pub fixing: DraftFixing,
    pub chips: Chips,
    /// The job's lengths are in inches.
    pub inch: bool,
    /// The changed fixing, or `None` to take it out of the entry.
    pub onchange: Callback<Option<DraftFixing>>,
    pub onclose: Callback<()>,
}

fn fixing_sheet(props: &FixingSheet) -> Html {
    let style = crate::app::the_desk().style();
    let f = props.fixing.clone();
    let edit = {
        let (f, onchange) = (f.clone(), props.onchange.clone());
        move |change: fn(&mut DraftFixing, u32)| {
            let (f, onchange) = (f.clone(), onchange.clone());
            Callback::from(move |n: u32| {
                let mut next = f.clone();
                change(&mut next, n);
                onchange.emit(Some(next));
            })
        }
    };
    let text = {
        let (f, onchange) = (f.clone(), props.onchange.clone());
        move |change: fn(&mut DraftFixing, String)| {
            let (f, onchange) = (f.clone(), onchange.clone());
            Callback::from(move |t: AttrValue| {
                let mut next = f.clone();
                change(&mut next, t.to_string());
                onchange.emit(Some(next));
            })
        }
    };
    let flip = {
        let edit = edit.clone();
        move |label: &'static str, on: bool, change: fn(&mut DraftFixing, u32)| {
            let press = edit(change).reform(move |()| u32::from(!on));
            html! { { part!(Chip { label: label, pressed: on, onpress: press }) } }
        }
    };
    let words_row =
        |label: &'static str, list: &[String], now: &str, change: fn(&mut DraftFixing, String)| {
            if list.is_empty() {
                return html! {};
            }
            let items: IArray<ChipItem<String>> = list
                .iter()
                .take(6)
                .map(|w| ChipItem::new(w.clone(), w.clone(), w == now))
                .collect();
            let press = text(change).reform(|w: String| AttrValue::from(w));
            html! { { part!(ChipRow::<String> { label: label, items: items, onpress: press }) } }
        };
    let most = u32::from(f.count);
    let ways: IArray<ChipItem<u8>> = WAYS
        .iter()
        .enumerate()
        .map(|(n, &w)| ChipItem::new(n as u8, words::way_in(w), f.way == Some(n as u8)))
        .collect();
    let now = match (f.renew, f.inspect) {
        (true, _) => 2,
        (_, true) => 1,
        _ => 0,
    };
    let old: IArray<ChipItem<u32>> = ["go back", "are looked at first", "are renewed"]
        .into_iter()
        .zip(0..)
        .map(|(label, n)| ChipItem::new(n, label, n == now))
        .collect();
    let washer = read_spec(&f.washer, FastenerKind::Washer);
    let spacer = read_spec(&f.spacer, FastenerKind::Spacer);
    let shim = read_spec(&f.shim, FastenerKind::Shim);
    let sized = |kind: FastenerKind| {
        let (f, onchange, inch) = (f.clone(), props.onchange.clone(), props.inch);
        let (washer, spacer) = (washer.clone(), spacer.clone());
        Callback::from(move |n: u32| {
            let mut next = f.clone();
            if kind == FastenerKind::Washer {
                let new = sizes::thread(inch, n);
                let thread = new.filter(|_| washer.thread != new);
                let washer = washer.clone();
                next.washer = FastenerSpec { thread, ..washer }.to_string();
            } else {
                let mut spacer = spacer.clone();
                sizes::flip_length(&mut spacer, n);
                next.spacer = spacer.to_string();
            }
            onchange.emit(Some(next));
        })
    };
    let (onclose, remove) = (props.onclose.clone(), {
        let (onchange, onclose) = (props.onchange.clone(), props.onclose.clone());
        Callback::from(move |()| {
            onclose.emit(());
            onchange.emit(None);
        })
    });
    let foot = html! { { part!(Button { label: "Done", kind: ButtonKind::Main, icon: Icon::Check, onpress: Callback::from(|()| crate::router::close_sheet()) }) } };
    let room = |others: u16| most.saturating_sub(u32::from(others));
    // The job's own unit, in the order of the chips.
    let mut all = TorqueUnit::ALL.iter();
    let own_unit = all.position(|u| *u == props.chips.torque).unwrap_or(0) as u8;
    let read = f.typed();
    // A tolerance that was typed with the figure is the one that counts.
    let meant = FixingDetail {
        stages: read.stages.clone(),
        tolerance: read.tolerance.or(f.tolerance),
        meant_for: f.meant_for,
        ..FixingDetail::default()
    };
    let keep_meant = {
        let (f, onchange) = (f.clone(), props.onchange.clone());
        Callback::from(move |set: FixingDetail| {
            let mut next = f.clone();
            (next.tolerance, next.meant_for) = (set.tolerance, set.meant_for);
            onchange.emit(Some(next));
        })
    };
    html! {
        { part!(Sheet { title: f.read_spec().label(), onclose, foot, children: html! { <>
            { part!(Stepper { label: "How many", value: most, min: 1, onchange: edit(|f, n| f.count = n as u16) }) }
            { words_row("Where", &props.chips.places, &f.place, |f, t| f.place = t) }
            { part!(TextField { label: "Place in words", value: f.place.clone(), hint: "upper, lower, round the rim", oninput: text(|f, t| f.place = t) }) }
            { part!(TextField { label: "Numbers of its holes", value: f.numbers.clone(), hint: "1, 4, 6: where bolts of several lengths share a cover", wrong: f.wrong_numbers().map(AttrValue::from), oninput: text(|f, t| f.numbers = t) }) }
            { part!(Section { title: "Not all came out", children: html! { <>
                { part!(Stepper { label: "Only slackened", value: u32::from(f.slackened), max: room(f.found_empty + f.broke), onchange: edit(|f, n| f.slackened = n as u16) }) }
                { part!(Stepper { label: "Found empty before the work", value: u32::from(f.found_empty), max: room(f.slackened + f.broke), onchange: edit(|f, n| f.found_empty = n as u16) }) }
                { part!(Stepper { label: "Broken, the stump is in the hole", value: u32::from(f.broke), max: room(f.slackened + f.found_empty), onchange: edit(|f, n| f.broke = n as u16) }) }
            </> } }) }
            { part!(Section { title: "With each came", children: html! { <>
                { part!(Stepper { label: "Washers", value: u32::from(f.washers), max: 6, onchange: edit(|f, n| f.set_washers(n as u8)) }) }
                if f.washers > 0 {
                    { part!(Sizes { label: "Washers for", items: sizes::thread_chips(props.inch, washer.thread), onpress: sized(FastenerKind::Washer) }) }
                }
                { part!(Stepper { label: "Spacers", value: u32::from(f.spacers), max: 6, onchange: edit(|f, n| f.spacers = n as u8) }) }
                if f.spacers > 0 {
                    { part!(Sizes { label: "How long a spacer is", items: sizes::length_chips(props.inch, spacer.length_um), onpress: sized(FastenerKind::Spacer) }) }
                }
                { part!(Stepper { label: "Shims", value: u32::from(f.shims), max: 6, onchange: edit(|f, n| f.shims = n as u8) }) }
                if f.shims > 0 {
                    { sizes::thickness(props.inch, shim.length_um, edit(DraftFixing::set_shim)) }
                    <p class="soft">{ "One thickness for all of these. Where it differs from place to place, log each as a line of its own: a swap is only seen then." }</p>
                }
                <div class="chips__row">
                    { flip("Its stud came out too", f.stud_came, |f, n| f.stud_came = n > 0) }
                    { flip("Union bolt, two washers", f.union, |f, n| f.union = n > 0) }
                </div>
                { used_once(&f, &props.onchange) }
                if f.stud_came {
                    { words_row("Does its hole open into a fluid?", &OPENS_INTO.map(str::to_owned), &f.watch, |f, t| f.watch = t) }
                }
            </> } }) }
            if !props.chips.containers.is_empty() {
                { part!(Section { title: "Some lie apart", children: html! { <>
                    { part!(Pick { label: "Some went into", all: props.chips.containers.clone(), chosen: f.apart.iter().map(|(id, _)| id.clone()).collect::<Vec<_>>(), most: 3, how: PickHow::One, onpress: {text(|f, id| {
                        f.apart = match f.apart.take() {
                            Some((now, _)) if now == id => None,
                            Some((_, n)) => Some((id, n)),
                            None => Some((id, 1)),
                        };
                    }).reform(|id: String| AttrValue::from(id))} }) }
                    if let Some((_, n)) = &f.apart {
                        { part!(Stepper { label: "How many of them", value: u32::from(*n), min: 1, max: most, onchange: edit(|f, n| if let Some(apart) = &mut f.apart { apart.1 = n as u16 }) }) }
                    }
                </> } }) }
            }
            { part!(Section { title: "At put back", children: html! { <>
                { part!(ChipRow::<u32> { label: "The old ones", items: old, onpress: edit(|f, n| { f.inspect = n == 1; f.renew = n == 2; }) }) }
                <div class="chips__row">
                    { flip("Safety: second look", f.safety, |f, n| f.safety = n > 0) }
                    { flip("Spanner only", f.spanner_only, |f, n| f.spanner_only = n > 0) }
                </div>
                { part!(ChipRow::<u8> { label: "Way in", items: ways, onpress: edit(|f, n| f.way = (f.way != Some(n as u8)).then_some(n as u8)).reform(|n: u8| u32::from(n)) }) }
                { words_row("Tool", &props.chips.tools, &f.tool, |f, t| f.tool = t) }
                { part!(TextField { label: "Tool in words", value: f.tool.clone(), hint: "long ring spanner", oninput: text(|f, t| f.tool = t) }) }
                { part!(TextField { label: "Watch out", value: f.watch.clone(), hint: "spring under the cap", oninput: text(|f, t| f.watch = t) }) }
            </> } }) }
            { part!(Section { title: "Tightening, by the maker's figure", children: html! { <>
                <p class="soft">{ "Only what the maker says. Leave it empty when you do not know." }</p>
                { for f.stages.iter().enumerate().map(|(n, (value, unit))| stage((&f, &read, &meant), &props.onchange, n, value, *unit, (props.chips.torque, style))) }
                if let Some(said) = read.said.clone() { { part!(Banner { kind: BannerKind::Caution, title: said }) } }
                { part!(Button { label: if f.stages.is_empty() { "Add a figure" } else { "Add a stage" }, icon: Icon::Plus, onpress: {edit(|f, own| {
                    let unit = f.stages.last().map_or(own as u8, |s| s.1);
                    f.stages.push((String::new(), unit));
                }).reform(move |()| u32::from(own_unit))} }) }
                if !f.stages.is_empty() {
                    { meant_chips(&meant, style, keep_meant) }
                    { part!(TextField { label: "Where the figure is from", value: f.source.clone(), hint: "workshop manual, page 112", oninput: text(|f, t| f.source = t) }) }
                }
            </> } }) }
            if !props.chips.parts_off.is_empty() {
                { part!(Pick { label: "It also holds", all: props.chips.parts_off.clone(), chosen: f.also.clone(), onpress: {text(|f, id| {
                    match f.also.iter().position(|a| *a == id) {
                        Some(at) => { f.also.remove(at); }
                        None => f.also.push(id),
                    }
                }).reform(|id: String| AttrValue::from(id))} }) }
            }
            { part!(Button { label: "Take it out of this entry", icon: Icon::Close, face: ButtonFace::Wide, kind: ButtonKind::Danger, onpress: remove }) }
        </> } }) }
    }
}

crate::plain!(FixingSheet, fixing_sheet);

fn stage(
    (f, read, meant): (&DraftFixing, &view::TypedStages, &FixingDetail),
    onchange: &Callback<Option<DraftFixing>>,
    n: usize,
    value: &str,
    unit: u8,
    (shown, style): (TorqueUnit, words::Style),
) -> Html {
    let units: IArray<ChipItem<u8>> = STAGE_UNITS
        .iter()
        .enumerate()
        .map(|(u, label)| ChipItem::new(u as u8, *label, unit == u as u8))
        .collect();
    let change = |set: fn(&mut (String, u8), String)| {
        let (f, onchange) = (f.clone(), onchange.clone());
        Callback::from(move |text: String| {
            let mut next = f.clone();
            if let Some(at) = next.stages.get_mut(n) {
                set(at, text);
            }
            onchange.emit(Some(next));
        })
    };
    // A unit that was typed is the one that is on; a tap on another takes the
    // number over into that.
    let typed = change(|at, text| {
        if let Ok(read) = read_typed(&text, torque_unit(at.1)) {
            at.1 = unit_of(read.figure);
        }
        at.0 = text;
    });
    let pick = change(|at, text| {
        at.1 = text.parse().unwrap_or(0);
        let number =
            at.0.trim_end_matches(|c: char| !c.is_ascii_digit() && c != '%');
        if read_typed(number, torque_unit(at.1)).is_ok() {
            at.0 = number.to_owned();
        }
    });
    let remove = {
        let (f, onchange) = (f.clone(), onchange.clone());
        Callback::from(move |()| {
            let mut next = f.clone();
            if n < next.stages.len() {
                next.stages.remove(n);
            }
            onchange.emit(Some(next));
        })
    };
    let these = f.stages.get(n..).unwrap_or_default();
    let these = these
        .iter()
        .map(|(text, unit)| (text.as_str(), torque_unit(*unit)));
    let doubt = view::typed_doubt(&f.read_spec(), these, meant, shown, style);
    let wrong = read.wrong.clone().filter(|(at, _)| *at == n);
    let back = view::read_as(value, torque_unit(unit), style);
    html! {
        <div class="stage" key={n}>
            { part!(NumberField { label: format!("Stage {}", n + 1), value: value.to_owned(), unit: STAGE_UNITS.get(usize::from(unit)).copied().unwrap_or(""), hint: (!back.is_empty()).then(|| AttrValue::from(back)), taken: true, wrong: wrong.map(|(_, why)| AttrValue::from(why)), oninput: typed.reform(|(text, _): (AttrValue, Reading)| text.to_string()) }) }
            { part!(ChipRow::<u8> { label: format!("Unit of stage {}", n + 1), items: units, onpress: pick.reform(|u: u8| u.to_string()) }) }
            if let Some(doubt) = doubt { { super::super::doubted(&doubt) } }
            { part!(Button { label: format!("Without stage {}", n + 1), kind: ButtonKind::Quiet, icon: Icon::Close, onpress: remove }) }
        </div>
    }
}

#[derive(Properties, PartialEq)]
pub struct SizeSheet {
    /// The job's lengths are in inches.
    pub inch: bool,
    pub onpick: Callback<FastenerSpec>,
    pub onclose: Callback<()>,
}

/// A size chosen by kind, head, thread and length; whatever is not known is
/// left open.
/// A stud that comes out may open what is behind it (common practice, no
/// source); said again when it goes back.
const OPENS_INTO: [&str; 3] = [
    "its hole opens into coolant: seal the thread",
    "its hole opens into oil: seal the thread",
    "its hole is blind",
];

#[hook]
fn use_size_sheet(props: &SizeSheet) -> Html {
    let spec = use_local(FastenerSpec::default);
    let (inch, system) = {
        let inch = use_local(|| props.inch);
        let set = inch.clone();
        (*inch, Callback::from(move |n: u32| set.set(n == 1)))
    };
    let pick = |change: fn(&mut FastenerSpec, bool, u32)| {
        let spec = spec.clone();
        Callback::from(move |n: u32| {
            let mut next = (*spec).clone();
            change(&mut next, inch, n);
            spec.set(next);
        })
    };
    let add = {
        let (spec, onpick) = (spec.clone(), props.onpick.clone());
        Callback::from(move |()| {
            crate::router::close_sheet();
            onpick.emit((*spec).clone());
        })
    };
    let typed = {
        let spec = spec.clone();
        Callback::from(move |text: AttrValue| {
            spec.set(FastenerSpec {
                text: text.to_string(),
                ..(*spec).clone()
            })
        })
    };
    let locks = {
        let spec = spec.clone();
        Callback::from(move |()| {
            let now = (*spec).clone();
            spec.set(match common_items::self_locks(&now) {
                true => common_items::that_runs_free(now),
                false => common_items::that_locks(now),
            });
        })
    };
    let stretches = {
        let spec = spec.clone();
        Callback::from(move |()| {
            let now = (*spec).clone();
            spec.set(match common_items::stretches(&now) {
                true => common_items::that_does_not_stretch(now),
                false => common_items::that_stretches(now),
            });
        })
    };
    let foot = html! { { part!(Button { label: format!("Add {}", spec.label()), kind: ButtonKind::Main, icon: Icon::Plus, onpress: add }) } };
    html! {
        { part!(Sheet { title: "Another size", onclose: props.onclose.clone(), foot, children: html! { <>
            { part!(ChipRow::<u32> { label: "Kind", items: sizes::kind_chips(spec.kind), onpress: pick(|s, _, n| sizes::set_kind(s, n)) }) }
            { part!(ChipRow::<u32> { label: "Sizes in", items: sizes::system_chips(inch), onpress: system }) }
            { sizes::small_sizes(&spec, &{
                let set = spec.clone();
                Callback::from(move |text: String| set.set(FastenerSpec { text, ..(*set).clone() }))
            }) }
            if spec.kind == FastenerKind::Shim {
                { sizes::thickness(inch, spec.length_um, pick(|s, _, um| sizes::set_thickness(s, um))) }
                <p class="soft">{ "Each thickness is a line of its own. Shims that nobody measured are counted one by one." }</p>
            } else { <>
            { part!(Sizes { label: sizes::head_label(spec.head), items: sizes::head_chips(inch, spec.head), onpress: pick(|s, inch, n| s.head = sizes::head(inch, s.head, n)) }) }
            { part!(Sizes { label: "Drive", items: sizes::drive_chips(spec.head), onpress: pick(|s, _, n| s.head = Some(sizes::with_drive(s.head, n))) }) }
            { part!(Sizes { label: "Thread", items: sizes::thread_chips(inch, spec.thread), onpress: pick(|s, inch, n| {
                let new = sizes::thread(inch, n);
                s.thread = if s.thread == new { None } else { new };
            }) }) }
            { part!(Sizes { label: sizes::length_label(inch), items: sizes::length_chips(inch, spec.length_um), onpress: pick(|s, _, um| sizes::flip_length(s, um)) }) }
            </> }
            if matches!(spec.kind, FastenerKind::Bolt | FastenerKind::Screw) {
                <div class="chips__row">
                    { part!(Chip { label: "stretch bolt", pressed: common_items::stretches(&spec), onpress: stretches }) }
                </div>
            }
            if spec.kind == FastenerKind::Nut {
                <div class="chips__row">
                    { part!(Chip { label: "self-locking", pressed: common_items::self_locks(&spec), onpress: locks }) }
                </div>
            }
            { part!(TextField { label: "In words", value: spec.text.clone(), hint: "long one, blue cap", oninput: typed }) }
        </> } }) }
    }
}

crate::live!(SizeSheet, use_size_sheet);
