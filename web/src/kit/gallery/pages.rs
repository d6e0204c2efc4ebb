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
        <Page title="Take off" under="Harrow 40 estate, water pump" side={html! { <StateTag state={Standing::Owed} word="12 off" /> }}
            act={html! { <MainAct side={html! { <Button label="Photo" icon={Icon::Camera} face={ButtonFace::IconOnly} /> }}>
                <Button label="It is off" kind={ButtonKind::Main} icon={Icon::TakeOff} /></MainAct> }}>
            <div class="slip">
                <div class="slip__line">
                    <ChipRow<&'static str> label="Part" items={chips(&["Alternator", "Belt tensioner", "Pulley", "Thermostat housing"], "Alternator")} more="Other" onpress={|_| ()} />
                </div>
                <div class="slip__line">
                    <ChipRow<&'static str> label="Held by" items={chips(&["Bolt", "Nut", "Stud", "Clip"], "Bolt")} onpress={|_| ()} />
                    <Stepper label="How many" value={*n} min={1} {onchange} />
                    <ChipRow<&'static str> label="Head, mm" items={chips(&["10", "13", "15"], "13")} more="Other" onpress={|_| ()} />
                </div>
                <div class="slip__line">
                    <span class="strong">{ "Goes into" }</span>
                    <div class="line line--spread"><TagCode code="2075" size={TagSize::Large} /><Button label="Other place" kind={ButtonKind::Quiet} /></div>
                </div>
            </div>
            <div class="quick">
                <Button label="Hose" icon={Icon::Hose} /><Button label="Plug" icon={Icon::Plug} /><Button label="Seal" icon={Icon::Seal} />
            </div>
        </Page>
        <Toast serial={1} message="Saved: 2 nuts in bag 2075" onundo={|()| ()} onend={|()| ()} />
        </>
    }
}

#[component]
pub(super) fn PutBack() -> Html {
    let detail = html! { <PartBody /> };
    html! {
        <Page title="Put back" under="Harrow 40 estate, water pump" width={PageWidth::Wide}>
            <Split list={html! { <PutBackList /> }} detail={(web_sys::window().and_then(|it| it.inner_width().ok()).and_then(|it| it.as_f64()).unwrap_or(0.0) > 900.0).then_some(detail)} />
        </Page>
    }
}

#[component]
fn PutBackList() -> Html {
    let place = |about: &'static str| html! { <Button label="Place" {about} /> };
    html! {
        <div class="stack">
            <Section title="Can go back now" count="3">
                <Rows label="Can go back now">
                    <ListRow what="Water pump" lies="Shelf, left" tag="2075" state={Standing::Can} owed="New gasket first" tally={Tally { n: 0, of: Some(6) }} href="#/job/sample/put-back/1">{ place("Water pump") }</ListRow>
                    <ListRow what="Lower hose" lies="Tray by the vice" state={Standing::Owed} owed="2 ends to rejoin" tally={Tally { n: 0, of: Some(2) }} href="#/job/sample/put-back/2" mark={RowMark::Chosen}>{ place("Lower hose") }</ListRow>
                    <ListRow what="Crankshaft position sensor with its long name and cable bracket" lies="Bag" tag="3317" state={Standing::Settled} owed="Tight, to be checked" tally={Tally { n: 1, of: Some(1) }} href="#/job/sample/put-back/3" />
                </Rows>
                <Sum what="Fixings on" value="31 of 48" />
            </Section>
            <Section title="Blocked" count="2">
                <Rows label="Blocked">
                    <ListRow what="Alternator" lies="Bench" state={Standing::Blocked} owed="Bracket goes back first" tally={Tally { n: 0, of: Some(4) }} href="#/job/sample/put-back/4" />
                    <ListRow what="Belt" lies="Hook" state={Standing::Waiting} owed="Ordered, not here" href="#/job/sample/put-back/5" />
                </Rows>
            </Section>
        </div>
    }
}

#[component]
fn PartBody() -> Html {
    html! {
        <div class="stack">
            <Caution title="Spring under load" lines={vec![AttrValue::from("Keep the tensioner pinned until the belt is on."), "Keep fingers out of its path.".into()]} onread={|()| ()} />
            <PhotoView src={Some(AttrValue::from("sample.svg"))} alt="Water pump from the front" chosen={2_u16}
                marks={vec![mark(1, 220, 300, "upper bolt, M8"), mark(2, 700, 280, "long bolt, M8"), mark(3, 480, 760, "lower hose end")]} />
            <Card title="Bolts, M8 × 1.25" state={Standing::Owed} word="1 owed">
                <div class="line line--spread"><Count n={3} of={4} state={Standing::Owed} size={CountSize::Figure} /><TagCode code="2075" size={TagSize::Large} /></div>
                <Facts items={vec![("Head".into(), "13 mm".into()), ("Length".into(), "45 mm, one of 60 mm".into()), ("Way in".into(), "From below".into())]} />
                <Figure what="Specified torque" value="25" unit="N·m" />
                <div class="pair"><Button label="One started" icon={Icon::Plus} face={ButtonFace::Wide} /><Button label="All started" face={ButtonFace::Wide} /></div>
            </Card>
            <Card title="Gasket" state={Standing::Waiting} word="Ordered, not here" />
        </div>
    }
}

fn mark(number: u16, x: u16, y: u16, name: &'static str) -> PhotoMark {
    PhotoMark {
        number,
        point: PhotoPoint { x, y },
        name: name.into(),
    }
}

#[component]
pub(super) fn Part() -> Html {
    html! {
        <Page title="Water pump" under="Goes back after the bracket" back={Route::Jobs} side={html! { <TagCode code="2075" /> }}
            act={html! { <MainAct><Button label="It is in place" kind={ButtonKind::Main} icon={Icon::PutBack} /></MainAct> }}>
            <PartBody />
        </Page>
    }
}

#[component]
pub(super) fn AuditPage() -> Html {
    html! {
        <Page title="Audit" under="Harrow 40 estate, water pump"
            act={html! { <MainAct><Button label="Sign off" kind={ButtonKind::Main} readiness={Readiness::Blocked("3 lines are owed".into())} /></MainAct> }}>
            <Verdict state={Standing::Danger} words="Do not turn the engine" text="A rag is in the intake port, put in on Tuesday 14:20." />
            <Verdict state={Standing::Owed} words="3 lines are owed" text="Nothing is missing." />
            <Verdict state={Standing::Settled} words="Nothing is owed" />
            <Section title="Take out" count="1 owed">
                <Rows label="Take out">
                    <ListRow what="Rag" lead={Icon::Rag} lies="Intake port" state={Standing::Danger} owed="Still inside" href="#/job/sample/put-back/9" />
                </Rows>
            </Section>
            <Section title="Count again" count="1 owed">
                <Rows label="Count again">
                    <ListRow what="Bolts, M6 × 20" lead={Icon::Bolt} tag="3317" state={Standing::Owed} owed="1 missing" tally={Tally { n: 5, of: Some(6) }} href="#/job/sample/put-back/9" />
                    <ListRow what="Lower hose, pump end" lead={Icon::Hose} lies="Behind the alternator" state={Standing::Owed} owed="Rejoin" href="#/job/sample/put-back/2" />
                    <ListRow what="Upper hose, pump end" lead={Icon::Hose} lies="Front" mark={RowMark::Struck} state={Standing::Off} owed="Struck" />
                </Rows>
            </Section>
        </Page>
    }
}
