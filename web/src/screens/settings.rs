//! Settings: who is at work, theme, hand, and how the data is kept.
use crate::part;
use countback_core::caution;
use countback_core::torque::TorqueUnit;
use countback_core::words;
use yew::prelude::*;

use crate::app::{Desk, Hand, MyWrench, Theme, the_desk};
use crate::kit::{
    Banner, BannerKind, Button, ButtonFace, ButtonKind, Chip, ChipItem, ChipRow, Facts, IArray,
    Icon, Page, Section, Stepper, TextField,
};
use crate::ports::persist::Kept;
use crate::router::Route;

pub fn settings() -> Html {
    let desk = the_desk();
    let prefs = desk.prefs();
    let standing = desk.standing();
    let by = {
        let desk = desk.clone();
        Callback::from(move |t: AttrValue| desk.set_prefs(|p| p.by = t.to_string()))
    };
    let themes: IArray<ChipItem<u8>> = [
        (Theme::Light, "Light, for sun", Icon::Sun),
        (Theme::Dark, "Dark", Icon::Moon),
        (Theme::Phone, "As the phone", Icon::Phone),
    ]
    .into_iter()
    .enumerate()
    .map(|(n, (t, label, icon))| ChipItem::new(n as u8, label, prefs.theme == t).with_icon(icon))
    .collect();
    let theme = {
        let desk = desk.clone();
        Callback::from(move |n: u8| {
            desk.set_prefs(|p| {
                p.theme = match n {
                    0 => Theme::Light,
                    1 => Theme::Dark,
                    _ => Theme::Phone,
                }
            })
        })
    };
    let hands: IArray<ChipItem<u8>> = [(Hand::Left, "Left"), (Hand::Right, "Right")]
        .into_iter()
        .enumerate()
        .map(|(n, (h, label))| ChipItem::new(n as u8, label, prefs.hand == h).with_icon(Icon::Hand))
        .collect();
    let hand = {
        let desk = desk.clone();
        Callback::from(move |n: u8| {
            desk.set_prefs(|p| p.hand = if n == 0 { Hand::Left } else { Hand::Right })
        })
    };
    let kept = match standing.kept {
        Some(Kept::Promised) => "The browser has promised to keep it.",
        Some(Kept::MayBeDropped) => {
            "The browser may drop it when the phone runs out of room. Put the app on the home screen, and keep copies."
        }
        Some(Kept::Unknown) => "The browser does not say. Keep copies.",
        None => "Asking the browser.",
    };
    let offline = if standing.offline {
        "Every file is here and checked: the app works with no network."
    } else {
        "Not yet. Leave the app open for a moment while there is a network."
    };
    let breaks: IArray<ChipItem<u8>> = [1_u8, 2, 5, 15, 60]
        .into_iter()
        .map(|n| {
            let label = countback_core::words::plural(u32::from(n), "minute");
            ChipItem::new(n, label, prefs.patience_min == u32::from(n))
        })
        .collect();
    let patience = {
        let desk = desk.clone();
        Callback::from(move |n: u8| desk.set_prefs(|p| p.patience_min = u32::from(n)))
    };
    let facts: IArray<(AttrValue, AttrValue)> = [
        (
            AttrValue::from("Where it is"),
            AttrValue::from("On this phone only. Nothing is sent anywhere."),
        ),
        ("Will it stay".into(), kept.into()),
        ("Without a network".into(), offline.into()),
    ]
    .into_iter()
    .collect();
    html! {
        { part!(Page { title: "Settings", back: Route::Jobs, children: html! { <>
            { part!(Section { title: "Who is at work", children: html! { <>
                { part!(TextField { label: "Name", value: prefs.by.clone(), hint: "Stands in the record beside each act. Change it when a second person checks.", oninput: by }) }
            </> } }) }
            { part!(Section { title: "Screen", children: html! { <>
                { part!(ChipRow::<u8> { label: "Theme", items: themes, onpress: theme }) }
                { part!(ChipRow::<u8> { label: "Holding hand", items: hands, onpress: hand }) }
                { part!(Chip { label: "Keep the screen on", icon: Icon::Awake, pressed: desk.is_awake(), onpress: { let desk = desk.clone(); Callback::from(move |()| desk.keep_awake(!desk.is_awake())) } }) }
            </> } }) }
            { wrenches(&desk) }
            { part!(Section { title: "After an interruption", children: html! { <>
                <p class="soft">{ "The last things done are to be touched again when the app was closed, when another job was opened, or when it was out of sight for:" }</p>
                { part!(ChipRow::<u8> { label: "Ask after", items: breaks, onpress: patience }) }
            </> } }) }
            { part!(Section { title: "Your data", children: html! { <>
                { part!(Facts { items: facts }) }
                if standing.kept == Some(Kept::MayBeDropped) {
                    { part!(Banner { kind: BannerKind::Caution, title: "A copy in a file is the only sure copy", text: "Save one of each job now and then, on its Job screen." }) }
                }
            </> } }) }
            { part!(Button { label: "About and cautions", icon: Icon::Info, kind: ButtonKind::Quiet, href: Route::About.href() }) }
        </> } }) }
    }
}

/// The person's torque wrenches, by steppers and chips.
fn wrenches(desk: &Desk) -> Html {
    let prefs = desk.prefs();
    let edit = |at: usize, change: fn(&mut MyWrench, u32)| {
        let desk = desk.clone();
        Callback::from(move |value: u32| {
            desk.set_prefs(|p| {
                if let Some(it) = p.wrenches.get_mut(at) {
                    change(it, value);
                }
            });
        })
    };
    let typed = |at: usize, unit: TorqueUnit, change: fn(&mut MyWrench, u32)| {
        let change = edit(at, change);
        Callback::from(move |text: String| {
            countback_core::view::type_torque(&text, unit).map(|milli| change.emit(milli))
        })
    };
    let rows = prefs.wrenches.iter().enumerate().map(|(at, it)| {
        let units: IArray<ChipItem<u32>> = TorqueUnit::ALL
            .iter()
            .enumerate()
            .map(|(n, &u)| ChipItem::new(n as u32, words::unit(u), it.unit == u))
            .collect();
        let named = {
            let desk = desk.clone();
            Callback::from(move |t: AttrValue| {
                desk.set_prefs(|p| {
                    if let Some(it) = p.wrenches.get_mut(at) {
                        it.name = t.to_string();
                    }
                });
            })
        };
        let gone = {
            let desk = desk.clone();
            Callback::from(move |()| {
                desk.set_prefs(|p| {
                    if at < p.wrenches.len() {
                        p.wrenches.remove(at);
                    }
                });
            })
        };
        let n = at + 1;
        html! {
            <div class="stage" key={at}>
                { part!(TextField { label: format!("Wrench {n}"), value: it.name.clone(), oninput: named }) }
                { part!(Stepper { label: format!("Wrench {n} from"), value: it.from / 1000, max: it.to / 1000, unit: words::unit(it.unit), onchange: edit(at, |w, v| w.from = v.saturating_mul(1000)), reads: typed(at, it.unit, |w, milli| w.from = milli.min(w.to)) }) }
                { part!(Stepper { label: format!("Wrench {n} to"), value: it.to / 1000, min: it.from / 1000, max: 3000, step: 5, unit: words::unit(it.unit), onchange: edit(at, |w, v| w.to = v.saturating_mul(1000)), reads: typed(at, it.unit, |w, milli| w.to = milli.clamp(w.from, 3_000_000)) }) }
                { part!(ChipRow::<u32> { label: format!("Unit of wrench {n}"), items: units, onpress: edit(at, |w, n| w.unit = TorqueUnit::ALL.get(n as usize).copied().unwrap_or_default()) }) }
                { part!(Button { label: "Take it off the list", about: it.name.clone(), kind: ButtonKind::Quiet, icon: Icon::Close, onpress: gone }) }
            </div>
        }
    });
    let add = {
        let desk = desk.clone();
        Callback::from(move |()| {
            desk.set_prefs(|p| {
                p.wrenches.push(MyWrench {
                    name: format!("Wrench {}", p.wrenches.len() + 1),
                    from: 20_000,
                    to: 100_000,
                    unit: TorqueUnit::NewtonMetre,
                });
            });
        })
    };
    html! {
        { part!(Section { title: "Your torque wrenches", children: html! { <>
            <p class="soft">{ "A figure that none of them reaches is said before the pass begins." }</p>
            { for rows }
            { part!(Button { label: "Add a torque wrench", icon: Icon::Plus, face: ButtonFace::Wide, onpress: add }) }
        </> } }) }
    }
}

pub fn about() -> Html {
    html! {
        { part!(Page { title: "About", back: Route::Settings, children: html! { <>
            <p>{ "Countback keeps the ledger of a strip-down: what comes off is owed back. It reckons what is missing, what can go back, what would be hidden, and says so. It does not know your machine." }</p>
            { part!(Section { title: "Before you start", children: html! { <>
                <p>{ "Most who die at vehicle repair are crushed under one that was badly supported. Level ground, rated stands, a push before you trust it." }</p>
                <p>{ caution::DEFERS }</p>
                <p>{ "A torque worked out here is a check on a figure, never a specification. The maker's figure wins." }</p>
            </> } }) }
            { part!(Section { title: "Of others", children: html! { <>
                <p>{ "The drawings of the icons are Lucide's, under the ISC licence; it is in the app's files." }</p>
            </> } }) }
        </> } }) }
    }
}
