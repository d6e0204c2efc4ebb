//! The boards of banners, of empty and failed pages, and of a long list.

use super::*;

#[component]
pub(super) fn States() -> Html {
    html! {
        { part!(Page { title: "Job", under: "Harrow 40 estate, water pump", side: html! { { part!(Button { label: "Settings", icon: Icon::Settings, kind: ButtonKind::Quiet, face: ButtonFace::IconOnly }) } }, children: html! { <>
            <div class="job__verdict">
                { part!(Figure { what: "Off", value: "12" }) }{ part!(Figure { what: "Owed", value: "48" }) }{ part!(Figure { what: "Waiting", value: "2" }) }
            </div>
            { part!(Banner { title: "Everything works without a network", text: "This phone has the whole app and the whole job." }) }
            { part!(Banner { kind: BannerKind::Saved, title: "Saved", text: "A copy of the job is in your files." }) }
            { part!(Banner { kind: BannerKind::Caution, title: "No copy since Tuesday", text: "If this phone is lost the job is lost with it.", children: html! { <>{ part!(Button { label: "Save a copy", icon: Icon::SaveCopy }) }</> } }) }
            { part!(Banner { kind: BannerKind::Danger, title: "Not saved: the storage is full", text: "The last act was not written down. Free some space and tap it again.", children: html! { <>{ part!(Button { label: "Try again" }) }</> } }) }
            { part!(Empty { icon: Icon::Bag, title: "Nothing is off yet", text: "Take the first part off, and it will be owed here.", children: html! { <>{ part!(Button { label: "Take off", icon: Icon::TakeOff }) }</> } }) }
            { part!(ErrorState { title: "The job could not be opened", text: "Nothing has been changed. Save the raw log before you go on.", detail: "record 812: checksum wrong", onretry: |()| () }) }
            { part!(Loading { what: "Opening the job" }) }
            { part!(Caution { title: "Fuel under pressure", gravity: Gravity::Danger, lines: vec![AttrValue::from("Release the pressure before you open a line."), "No flame, no lamp that gets hot.".into(), "Catch what runs out.".into()], onread: |()| () }) }
        </> } }) }
    }
}

#[component]
pub(super) fn Long() -> Html {
    html! {
        { part!(Page { title: "Find", under: "500 parts", children: html! { <>
            <div class="find__field">{ part!(TextField { label: "Words or tag code", kind: TextKind::Search, value: "", oninput: |_| () }) }</div>
            { part!(Rows { label: "Parts", length: ListLength::Long, children: html! { <>
                { for (1..=500_u32).map(|n| html! {
                    { part!(ListRow { what: format!("Part {n}"), lies: "Shelf, left", tag: format!("{:04}", n * 7), state: if n % 3 == 0 { Standing::Settled } else { Standing::Owed }, tally: Tally { n: n % 4, of: Some(4) }, href: format!("#/job/sample/put-back/{n}") }) }
                }) }
            </> } }) }
        </> } }) }
    }
}
