//! The board of controls: buttons, counts, chips, fields, tags, states, icons.

use super::*;

#[component]
pub(super) fn Controls() -> Html {
    let bolts = use_state_eq(|| 4_u32);
    let size = use_state_eq(|| 13_u32);
    let ways = use_state(|| vec!["From above"]);
    let name = use_state(|| AttrValue::from("Alternator"));
    let torque = use_state(|| AttrValue::from("12,5"));
    let sheet = use_state_eq(|| false);
    let sizes: IArray<ChipItem<u32>> = [8, 10, 12, 13, 17]
        .into_iter()
        .map(|it| ChipItem::new(it, it.to_string(), it == *size))
        .collect();
    let way_items: IArray<ChipItem<&'static str>> = ["From above", "From below", "Spanner only"]
        .into_iter()
        .map(|it| ChipItem::new(it, it, ways.contains(&it)).with_icon(Icon::Repair))
        .collect();
    let press_way = {
        let ways = ways.clone();
        move |it| {
            let mut now = (*ways).clone();
            if let Some(index) = now.iter().position(|other| *other == it) {
                now.remove(index);
            } else {
                now.push(it);
            }
            ways.set(now);
        }
    };
    html! {
        { part!(Page { title: "Controls", under: "Every part of the kit", back: Route::Jobs, side: html! { { part!(Button { label: "Settings", icon: Icon::Settings, kind: ButtonKind::Quiet, face: ButtonFace::IconOnly }) } }, act: {html! { { part!(MainAct { side: html! { { part!(Button { label: "Photo", icon: Icon::Camera, face: ButtonFace::IconOnly }) } }, children: html! { <>
                { part!(Button { label: "Open the sheet", kind: ButtonKind::Main, icon: Icon::Forward, onpress: {let sheet = sheet.clone(); move |()| sheet.set(true)} }) }</> } }) } }}, children: html! { <>
            { part!(Section { title: "Buttons", count: "6", children: html! { <>
                <div class="stack stack--close">
                    { part!(Button { label: "Take off this part", kind: ButtonKind::Main, icon: Icon::TakeOff }) }
                    <div class="line">
                        { part!(Button { label: "Photo", icon: Icon::Camera }) }
                        { part!(Button { label: "Not now", kind: ButtonKind::Quiet }) }
                        { part!(Button { label: "Scrap", kind: ButtonKind::Danger, icon: Icon::Warning }) }
                    </div>
                    { part!(Button { label: "Saving", kind: ButtonKind::Main, readiness: Readiness::Busy }) }
                    { part!(Button { label: "Place", face: ButtonFace::Wide, readiness: Readiness::Blocked("Bracket goes back first".into()) }) }
                </div>
            </> } }) }
            { part!(Section { title: "Counts and chips", children: html! { <>
                { part!(Stepper { label: "Bolts", value: *bolts, min: 1, max: 12, under: "4 came off here", onchange: { let bolts = bolts.clone(); move |it| bolts.set(it) } }) }
                { part!(ChipRow::<u32> { label: "Head size, mm", items: sizes, more: "Other", onpress: {let size = size.clone(); move |it| size.set(it)} }) }
                { part!(ChipRow::<&'static str> { label: "Way in", items: way_items, onpress: press_way }) }
            </> } }) }
            { part!(Section { title: "Fields", children: html! { <>
                { part!(TextField { label: "Name of the part", value: (*name).clone(), hint: "As you would call it aloud", oninput: {let name = name.clone(); move |it| name.set(it)} }) }
                { part!(NumberField { label: "Specified torque", unit: "N·m", value: (*torque).clone(), hint: "The maker's figure, not a guess", oninput: {let torque = torque.clone(); move |(it, _)| torque.set(it)} }) }
                { part!(TextField { label: "Tag", kind: TextKind::Digits, value: "2071", wrong: "This code has a slip in it. Read the tag again.", oninput: |_| () }) }
                { part!(TextField { label: "Note", kind: TextKind::Long, value: "Spring under the cap", oninput: |_| () }) }
            </> } }) }
            { part!(Section { title: "States", children: html! { <>
                <div class="line">{ for Standing::ALL.iter().map(|&state| html! { { part!(StateTag { state: state }) } }) }</div>
            </> } }) }
            { part!(Section { title: "Tags and figures", children: html! { <>
                <div class="line">{ part!(TagCode { code: "2075" }) }{ part!(TagCode { code: "2075", size: TagSize::Large }) }</div>
                { part!(TagCode { code: "2075", size: TagSize::Figure }) }
                <div class="line line--spread">
                    { part!(Figure { what: "Specified torque", value: "25", unit: "N·m" }) }
                    { part!(Count { n: 3, of: 4, state: Standing::Owed, size: CountSize::Figure }) }
                    { part!(Count { n: 4, of: 4, state: Standing::Settled }) }
                </div>
            </> } }) }
            { part!(Section { title: "Icons", children: html! { <>
                <div class="line">{ for Icon::ALL.iter().map(|&icon| html! { <span title={format!("{icon:?}")}>{ part!(Glyph { icon: icon }) }</span> }) }</div>
            </> } }) }
            if *sheet {
                { part!(Sheet { title: "Where does it lie?", onclose: { let sheet = sheet.clone(); move |()| sheet.set(false) }, foot: html! { { part!(Button { label: "New bag", kind: ButtonKind::Main, icon: Icon::Plus }) } }, children: html! { <>
                    { part!(Rows { label: "Containers", children: html! { <>
                        { part!(ListRow { what: "Bag", lead: Icon::Bag, tag: "2075", lies: "4 bolts inside", onpress: |()| () }) }
                        { part!(ListRow { what: "Tray by the vice", lead: Icon::Box, lies: "Clips and screws", onpress: |()| () }) }
                        { part!(ListRow { what: "Shelf, left", lead: Icon::Shelf, lies: "Large parts", href: "#/job/sample/find" }) }
                    </> } }) }
                </> } }) }
            }
        </> } }) }
    }
}
