//! The boards of banners, of empty and failed pages, and of a long list.

use super::*;

#[component]
pub(super) fn States() -> Html {
    html! {
        <Page title="Job" under="Harrow 40 estate, water pump" side={html! { <Button label="Settings" icon={Icon::Settings} kind={ButtonKind::Quiet} face={ButtonFace::IconOnly} /> }}>
            <div class="job__verdict">
                <Figure what="Off" value="12" /><Figure what="Owed" value="48" /><Figure what="Waiting" value="2" />
            </div>
            <Banner title="Everything works without a network" text="This phone has the whole app and the whole job." />
            <Banner kind={BannerKind::Saved} title="Saved" text="A copy of the job is in your files." />
            <Banner kind={BannerKind::Caution} title="No copy since Tuesday" text="If this phone is lost the job is lost with it."><Button label="Save a copy" icon={Icon::SaveCopy} /></Banner>
            <Banner kind={BannerKind::Danger} title="Not saved: the storage is full" text="The last act was not written down. Free some space and tap it again."><Button label="Try again" /></Banner>
            <Empty icon={Icon::Bag} title="Nothing is off yet" text="Take the first part off, and it will be owed here."><Button label="Take off" icon={Icon::TakeOff} /></Empty>
            <ErrorState title="The job could not be opened" text="Nothing has been changed. Save the raw log before you go on." detail="record 812: checksum wrong" onretry={|()| ()} />
            <Loading what="Opening the job" />
            <Caution title="Fuel under pressure" gravity={Gravity::Danger} lines={vec![AttrValue::from("Release the pressure before you open a line."), "No flame, no lamp that gets hot.".into(), "Catch what runs out.".into()]} onread={|()| ()} />
        </Page>
    }
}

#[component]
pub(super) fn Long() -> Html {
    html! {
        <Page title="Find" under="500 parts">
            <div class="find__field"><TextField label="Words or tag code" kind={TextKind::Search} value="" oninput={|_| ()} /></div>
            <Rows label="Parts" length={ListLength::Long}>
                { for (1..=500_u32).map(|n| html! {
                    <ListRow key={n} what={format!("Part {n}")} lies="Shelf, left" tag={format!("{:04}", n * 7)} state={if n % 3 == 0 { Standing::Settled } else { Standing::Owed }} tally={Tally { n: n % 4, of: Some(4) }} href={format!("#/job/sample/put-back/{n}")} />
                }) }
            </Rows>
        </Page>
    }
}
