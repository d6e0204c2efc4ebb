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
        <Page title="Controls" under="Every part of the kit" back={Route::Jobs}
            side={html! { <Button label="Settings" icon={Icon::Settings} kind={ButtonKind::Quiet} face={ButtonFace::IconOnly} /> }}
            act={html! { <MainAct side={html! { <Button label="Photo" icon={Icon::Camera} face={ButtonFace::IconOnly} /> }}>
                <Button label="Open the sheet" kind={ButtonKind::Main} icon={Icon::Forward} onpress={let sheet = sheet.clone(); move |()| sheet.set(true)} /></MainAct> }}>
            <Section title="Buttons" count="6">
                <div class="stack stack--close">
                    <Button label="Take off this part" kind={ButtonKind::Main} icon={Icon::TakeOff} />
                    <div class="line">
                        <Button label="Photo" icon={Icon::Camera} />
                        <Button label="Not now" kind={ButtonKind::Quiet} />
                        <Button label="Scrap" kind={ButtonKind::Danger} icon={Icon::Warning} />
                    </div>
                    <Button label="Saving" kind={ButtonKind::Main} readiness={Readiness::Busy} />
                    <Button label="Place" face={ButtonFace::Wide} readiness={Readiness::Blocked("Bracket goes back first".into())} />
                </div>
            </Section>
            <Section title="Counts and chips">
                <Stepper label="Bolts" value={*bolts} min={1} max={12} under="4 came off here" onchange={let bolts = bolts.clone(); move |it| bolts.set(it)} />
                <ChipRow<u32> label="Head size, mm" items={sizes} more="Other" onpress={let size = size.clone(); move |it| size.set(it)} />
                <ChipRow<&'static str> label="Way in" items={way_items} onpress={press_way} />
            </Section>
            <Section title="Fields">
                <TextField label="Name of the part" value={(*name).clone()} hint="As you would call it aloud" oninput={let name = name.clone(); move |it| name.set(it)} />
                <NumberField label="Specified torque" unit="N·m" value={(*torque).clone()} hint="The maker's figure, not a guess" oninput={let torque = torque.clone(); move |(it, _)| torque.set(it)} />
                <TextField label="Tag" kind={TextKind::Digits} value="2071" wrong="This code has a slip in it. Read the tag again." oninput={|_| ()} />
                <TextField label="Note" kind={TextKind::Long} value="Spring under the cap" oninput={|_| ()} />
            </Section>
            <Section title="States">
                <div class="line">{ for Standing::ALL.iter().map(|&state| html! { <StateTag {state} /> }) }</div>
            </Section>
            <Section title="Tags and figures">
                <div class="line"><TagCode code="2075" /><TagCode code="2075" size={TagSize::Large} /></div>
                <TagCode code="2075" size={TagSize::Figure} />
                <div class="line line--spread">
                    <Figure what="Specified torque" value="25" unit="N·m" />
                    <Count n={3} of={4} state={Standing::Owed} size={CountSize::Figure} />
                    <Count n={4} of={4} state={Standing::Settled} />
                </div>
            </Section>
            <Section title="Icons">
                <div class="line">{ for Icon::ALL.iter().map(|&icon| html! { <span title={format!("{icon:?}")}><Glyph {icon} /></span> }) }</div>
            </Section>
            if *sheet {
                <Sheet title="Where does it lie?" onclose={let sheet = sheet.clone(); move |()| sheet.set(false)}
                    foot={html! { <Button label="New bag" kind={ButtonKind::Main} icon={Icon::Plus} /> }}>
                    <Rows label="Containers">
                        <ListRow what="Bag" lead={Icon::Bag} tag="2075" lies="4 bolts inside" onpress={|()| ()} />
                        <ListRow what="Tray by the vice" lead={Icon::Box} lies="Clips and screws" onpress={|()| ()} />
                        <ListRow what="Shelf, left" lead={Icon::Shelf} lies="Large parts" href="#/job/sample/find" />
                    </Rows>
                </Sheet>
            }
        </Page>
    }
}
