//! Boards drawn like the screens of a job, with invented parts.

use super::*;

fn chips(labels: &[&'static str], on: &str) -> IArray<ChipItem<&'static str>> {
    labels
        .iter()
        .map(|it| ChipItem::new(*it, *it, *it == on))
        .collect()
}

#[component]
pub(super) fn TakeOff() -> Html {
    let n = use_state_eq(|| 3_u32);
    let onchange = {
        let n = n.clone();
        move |it| n.set(it)
    };
    html! {
        <>
        { part!(Page { title: "Take off", under: "Harrow 40 estate, water pump", side: html! { { part!(StateTag { state: Standing::Owed, word: "12 off" }) } }, act: html! { { part!(MainAct { side: html! { { part!(Button { label: "Photo", icon: Icon::Camera, face: ButtonFace::IconOnly }) } }, children: html! { <>
                { part!(Button { label: "It is off", kind: ButtonKind::Main, icon: Icon::TakeOff }) }</> } }) } }, children: html! { <>
            <div class="slip">
                <div class="slip__line">
                    { part!(ChipRow::<&'static str> { label: "Part", items: chips(&["Alternator", "Belt tensioner", "Pulley", "Thermostat housing"], "Alternator"), more: "Other", onpress: |_| () }) }
                </div>
                <div class="slip__line">
                    { part!(ChipRow::<&'static str> { label: "Held by", items: chips(&["Bolt", "Nut", "Stud", "Clip"], "Bolt"), onpress: |_| () }) }
                    { part!(Stepper { label: "How many", value: *n, min: 1, onchange }) }
                    { part!(ChipRow::<&'static str> { label: "Head, mm", items: chips(&["10", "13", "15"], "13"), more: "Other", onpress: |_| () }) }
                </div>
                <div class="slip__line">
                    <span class="strong">{ "Goes into" }</span>
                    <div class="line line--spread">{ part!(TagCode { code: "2075", size: TagSize::Large }) }{ part!(Button { label: "Other place", kind: ButtonKind::Quiet }) }</div>
                </div>
            </div>
            <div class="quick">
                { part!(Button { label: "Hose", icon: Icon::Hose }) }{ part!(Button { label: "Plug", icon: Icon::Plug }) }{ part!(Button { label: "Seal", icon: Icon::Seal }) }
            </div>
        </> } }) }
        { part!(Toast { serial: 1, message: "Saved: 2 nuts in bag 2075", onundo: |()| (), onend: |()| () }) }
        </>
    }
}

#[component]
pub(super) fn PutBack() -> Html {
    let detail = html! { <PartBody /> };
    html! {
        { part!(Page { title: "Put back", under: "Harrow 40 estate, water pump", width: PageWidth::Wide, children: html! { <>
            { part!(Split { list: html! { <PutBackList /> }, detail: (web_sys::window().and_then(|it| it.inner_width().ok()).and_then(|it| it.as_f64()).unwrap_or(0.0) > 900.0).then_some(detail) }) }
        </> } }) }
    }
}

#[component]
fn PutBackList() -> Html {
    let place = |about: &'static str| html! { { part!(Button { label: "Place", about: about }) } };
    html! {
        <div class="stack">
            { part!(Section { title: "Can go back now", count: "3", children: html! { <>
                { part!(Rows { label: "Can go back now", children: html! { <>
                    { part!(ListRow { what: "Water pump", lies: "Shelf, left", tag: "2075", state: Standing::Can, owed: "New gasket first", tally: Tally { n: 0, of: Some(6) }, href: "#/job/sample/put-back/1", children: html! { <>{ place("Water pump") }</> } }) }
                    { part!(ListRow { what: "Lower hose", lies: "Tray by the vice", state: Standing::Owed, owed: "2 ends to rejoin", tally: Tally { n: 0, of: Some(2) }, href: "#/job/sample/put-back/2", mark: RowMark::Chosen, children: html! { <>{ place("Lower hose") }</> } }) }
                    { part!(ListRow { what: "Crankshaft position sensor with its long name and cable bracket", lies: "Bag", tag: "3317", state: Standing::Settled, owed: "Tight, to be checked", tally: Tally { n: 1, of: Some(1) }, href: "#/job/sample/put-back/3" }) }
                </> } }) }
                { part!(Sum { what: "Fixings on", value: "31 of 48" }) }
            </> } }) }
            { part!(Fold { title: "Still off", count: "27", open: false, children: html! { <p>{ "What is folded until its head is tapped." }</p> } }) }
            { part!(Banner { kind: BannerKind::Caution, title: "High for this bolt.", why: "9.4 to 24 N·m is usual for it." }) }
            { part!(Section { title: "Blocked", count: "2", children: html! { <>
                { part!(Rows { label: "Blocked", children: html! { <>
                    { part!(ListRow { what: "Alternator", lies: "Bench", state: Standing::Blocked, owed: "Bracket goes back first", tally: Tally { n: 0, of: Some(4) }, href: "#/job/sample/put-back/4" }) }
                    { part!(ListRow { what: "Belt", lies: "Hook", state: Standing::Waiting, owed: "Ordered, not here", href: "#/job/sample/put-back/5" }) }
                </> } }) }
            </> } }) }
        </div>
    }
}

#[component]
fn PartBody() -> Html {
    html! {
        <div class="stack">
            { part!(Caution { title: "Spring under load", lines: vec![AttrValue::from("Keep the tensioner pinned until the belt is on."), "Keep fingers out of its path.".into()], onread: |()| () }) }
            { part!(PhotoView { src: Some(AttrValue::from("sample.svg")), alt: "Water pump from the front", marks: vec![mark(1, 220, 300, "upper bolt, M8"), mark(2, 700, 280, "long bolt, M8"), mark(3, 480, 760, "lower hose end")] }) }
            { part!(Card { title: "Bolts, M8 × 1.25", state: Standing::Owed, word: "1 owed", children: html! { <>
                <div class="line line--spread">{ part!(Count { n: 3, of: 4, state: Standing::Owed, size: CountSize::Figure }) }{ part!(TagCode { code: "2075", size: TagSize::Large }) }</div>
                { part!(Facts { items: vec![("Head".into(), "13 mm".into()), ("Length".into(), "45 mm, one of 60 mm".into()), ("Way in".into(), "From below".into())] }) }
                { part!(Figure { what: "Specified torque", value: "25", unit: "N·m" }) }
                <div class="pair">{ part!(Button { label: "One started", icon: Icon::Plus, face: ButtonFace::Wide }) }{ part!(Button { label: "All started", face: ButtonFace::Wide }) }</div>
            </> } }) }
            { part!(Card { title: "Gasket", state: Standing::Waiting, word: "Ordered, not here" }) }
        </div>
    }
}

fn mark(number: u16, x: u16, y: u16, name: &'static str) -> PhotoMark {
    PhotoMark {
        number,
        point: PhotoPoint { x, y },
        name: name.into(),
        tag: AttrValue::default(),
        group: 0,
    }
}

#[component]
pub(super) fn Part() -> Html {
    html! {
        { part!(Page { title: "Water pump", under: "Goes back after the bracket", back: Route::Jobs, side: html! { { part!(TagCode { code: "2075" }) } }, act: html! { { part!(MainAct { children: html! { <>{ part!(Button { label: "It is in place", kind: ButtonKind::Main, icon: Icon::PutBack }) }</> } }) } }, children: html! { <>
            <PartBody />
        </> } }) }
    }
}

#[component]
pub(super) fn AuditPage() -> Html {
    html! {
        { part!(Page { title: "Audit", under: "Harrow 40 estate, water pump", act: html! { { part!(MainAct { children: html! { <>{ part!(Button { label: "Sign off", kind: ButtonKind::Main, readiness: Readiness::Blocked("3 lines are owed".into()) }) }</> } }) } }, children: html! { <>
            { part!(Verdict { state: Standing::Danger, words: "Do not turn the engine", text: "A rag is in the intake port, put in on Tuesday 14:20." }) }
            { part!(Verdict { state: Standing::Owed, words: "3 lines are owed", text: "Nothing is missing." }) }
            { part!(Verdict { state: Standing::Settled, words: "Nothing is owed" }) }
            { part!(Section { title: "Take out", count: "1 owed", children: html! { <>
                { part!(Rows { label: "Take out", children: html! { <>
                    { part!(ListRow { what: "Rag", lead: Icon::Rag, lies: "Intake port", state: Standing::Danger, owed: "Still inside", href: "#/job/sample/put-back/9" }) }
                </> } }) }
            </> } }) }
            { part!(Section { title: "Count again", count: "1 owed", children: html! { <>
                { part!(Rows { label: "Count again", children: html! { <>
                    { part!(ListRow { what: "Bolts, M6 × 20", lead: Icon::Bolt, tag: "3317", state: Standing::Owed, owed: "1 missing", tally: Tally { n: 5, of: Some(6) }, href: "#/job/sample/put-back/9" }) }
                    { part!(ListRow { what: "Lower hose, pump end", lead: Icon::Hose, lies: "Behind the alternator", state: Standing::Owed, owed: "Rejoin", href: "#/job/sample/put-back/2" }) }
                    { part!(ListRow { what: "Upper hose, pump end", lead: Icon::Hose, lies: "Front", mark: RowMark::Struck, state: Standing::Off, owed: "Struck" }) }
                </> } }) }
            </> } }) }
        </> } }) }
    }
}
