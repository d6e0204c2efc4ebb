//! Settings: who is at work, theme, hand, and how the data is kept.
use crate::part;
use countback_core::caution;
use yew::prelude::*;

use crate::app::{Hand, Theme, the_desk};
use crate::kit::{
    Banner, BannerKind, Button, ButtonKind, Chip, ChipItem, ChipRow, Facts, IArray, Icon, Page,
    Section, TextField,
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
