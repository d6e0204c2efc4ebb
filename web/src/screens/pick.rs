//! One or several of many: the likely ones as chips, and behind the last chip
//! a sheet with all of them and a field to search.
use countback_core::view::{self, Choice};
use yew::prelude::*;

use crate::kit::{
    Button, ButtonKind, ChipItem, ChipRow, IArray, Icon, Sheet, TextField, TextKind, use_local,
};
use crate::part;
use crate::router;

/// How many stand as chips before the rest is behind "All".
const FIRST: usize = 6;

/// What a tap on a choice means.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PickHow {
    /// Several may be on.
    #[default]
    Several,
    /// One is on, and the sheet closes with it.
    One,
}

#[derive(Properties, PartialEq)]
pub struct Pick {
    /// What is chosen: "It also holds".
    pub label: AttrValue,
    /// Everything there is, the likeliest first.
    pub all: Vec<Choice>,
    /// The ids of those that are on.
    pub chosen: Vec<String>,
    /// Choices that stand before all others, always.
    #[prop_or_default]
    pub first: Vec<Choice>,
    /// An icon on those that stand before.
    #[prop_or_default]
    pub icon: Option<Icon>,
    #[prop_or_default]
    pub how: PickHow,
    #[prop_or(FIRST)]
    pub most: usize,
    /// The id of the one tapped, on or off.
    pub onpress: Callback<String>,
}

fn chips<'a>(
    rows: impl IntoIterator<Item = &'a Choice>,
    chosen: &[String],
) -> Vec<ChipItem<String>> {
    let chip = |it: &Choice| ChipItem::new(it.id.clone(), it.name.clone(), chosen.contains(&it.id));
    rows.into_iter().map(chip).collect()
}

#[hook]
fn use_pick(props: &Pick) -> Html {
    let open = use_local(|| false);
    let asked = use_local(String::new);
    let (likely, rest) = props.all.split_at(props.all.len().min(props.most));
    let mut items = chips(&props.first, &props.chosen);
    if let Some(icon) = props.icon {
        items = items.into_iter().map(|it| it.with_icon(icon)).collect();
    }
    items.extend(chips(likely, &props.chosen));
    // What was chosen is seen, wherever it stands.
    let on = rest.iter().filter(|it| props.chosen.contains(&it.id));
    items.extend(chips(on, &props.chosen));
    let more = (!rest.is_empty()).then(|| AttrValue::from(format!("All {}", props.all.len())));
    let onmore = {
        let (open, asked) = (open.clone(), asked.clone());
        Callback::from(move |()| {
            asked.set(String::new());
            open.set(true);
        })
    };
    let sheet = match *open {
        false => html! {},
        true => {
            let shut = {
                let open = open.clone();
                Callback::from(move |()| open.set(false))
            };
            let press = {
                let (onpress, how) = (props.onpress.clone(), props.how);
                Callback::from(move |id: String| {
                    if how == PickHow::One {
                        router::close_sheet();
                    }
                    onpress.emit(id);
                })
            };
            let typed = {
                let asked = asked.clone();
                Callback::from(move |text: AttrValue| asked.set(text.to_string()))
            };
            let left = view::narrowed(&props.all, &asked);
            let items: IArray<ChipItem<String>> = chips(&left, &props.chosen).into_iter().collect();
            let foot = html! { { part!(Button { label: "Done", kind: ButtonKind::Main, icon: Icon::Check, onpress: Callback::from(|()| router::close_sheet()) }) } };
            html! {
                { part!(Sheet { title: props.label.clone(), onclose: shut, foot: foot, children: html! { <>
                    { part!(TextField { label: "Words of its name", kind: TextKind::Search, value: (*asked).clone(), oninput: typed }) }
                    if left.is_empty() {
                        <p class="soft">{ "Nothing here is called that. Try another word, or fewer letters." }</p>
                    } else {
                        { part!(ChipRow::<String> { label: format!("{} of {}", left.len(), props.all.len()), items: items, onpress: press }) }
                    }
                </> } }) }
            }
        }
    };
    html! {
        <>
            { part!(ChipRow::<String> { label: props.label.clone(), items: items.into_iter().collect::<IArray<_>>(), onpress: props.onpress.clone(), more: more, onmore: onmore }) }
            { sheet }
        </>
    }
}

crate::live!(Pick, use_pick);
