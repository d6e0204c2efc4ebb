//! A one-use item: what it is, its size, how many new ones are owed.
use crate::kit::use_local;
use crate::part;
use countback_core::fastener::FastenerKind;
use countback_core::fastener::item_sizes::{ItemSizes, crush_washers, in_words, o_rings, sizes_of};
use countback_core::journal::ItemKind;
use countback_core::words;
use yew::prelude::*;

use super::super::sizes::{self, Sizes};
use super::draft::{Draft, DraftItem, ITEMS};
use super::half::{self, Half};
use crate::kit::{
    Button, ButtonFace, ButtonKind, ChipItem, ChipRow, IArray, Icon, Readiness, Sheet, Stepper,
    TextField,
};

#[derive(Properties, PartialEq)]
pub struct ItemSheet {
    pub job: AttrValue,
    /// The part that it was on.
    pub part: AttrValue,
    pub item: Option<DraftItem>,
    pub learned: Vec<(ItemKind, String, String)>,
    /// What is changed of one that is in the entry is changed there at once.
    pub onchange: Callback<DraftItem>,
    /// The item, or `None` to take it out of the entry.
    pub ondone: Callback<Option<DraftItem>>,
    pub onclose: Callback<()>,
}

#[hook]
fn use_item_sheet(props: &ItemSheet) -> Html {
    let is_new = props.item.is_none();
    let half = Half::new(half::Of::Item, &props.job, props.part.clone());
    let now = use_local(|| {
        let typed = || {
            let kept = Draft::from_text(&half.kept()?)?;
            kept.items.into_iter().next()
        };
        props
            .item
            .clone()
            .or_else(typed)
            .unwrap_or_else(|| DraftItem {
                name: "gasket".to_owned(),
                count: 1,
                ..DraftItem::default()
            })
    });
    let put = {
        let (now, half, onchange) = (now.clone(), half.clone(), props.onchange.clone());
        Callback::from(move |next: DraftItem| {
            if is_new {
                let kept = Draft {
                    items: vec![next.clone()],
                    ..Draft::default()
                };
                half.keep(&kept.to_text());
            } else {
                onchange.emit(next.clone());
            }
            now.set(next);
        })
    };
    let change = |set: fn(&mut DraftItem, String)| {
        let (now, put) = (now.clone(), put.clone());
        Callback::from(move |text: String| {
            let mut next = (*now).clone();
            set(&mut next, text);
            put.emit(next);
        })
    };
    let kinds: IArray<ChipItem<u8>> = ITEMS
        .iter()
        .enumerate()
        .map(|(n, &k)| ChipItem::new(n as u8, words::item_kind(k), usize::from(now.kind) == n))
        .collect();
    let learned: IArray<ChipItem<usize>> = props
        .learned
        .iter()
        .enumerate()
        .take(6)
        .map(|(n, (_, name, size))| {
            ChipItem::new(
                n,
                format!("{name} {size}").trim().to_owned(),
                now.name == *name && now.size == *size,
            )
        })
        .collect();
    let take = {
        let (now, learned) = (now.clone(), props.learned.clone());
        let put = put.clone();
        Callback::from(move |n: usize| {
            if let Some((kind, name, size)) = learned.get(n) {
                let kind = ITEMS.iter().position(|k| k == kind).unwrap_or(0) as u8;
                put.emit(DraftItem {
                    kind,
                    name: name.clone(),
                    size: size.clone(),
                    count: now.count,
                });
            }
        })
    };
    let done = {
        let (now, ondone, half) = (now.clone(), props.ondone.clone(), half.clone());
        Callback::from(move |()| {
            half.forget();
            crate::router::close_sheet();
            ondone.emit(Some((*now).clone()));
        })
    };
    let remove = {
        let ondone = props.ondone.clone();
        Callback::from(move |()| {
            crate::router::close_sheet();
            ondone.emit(None);
        })
    };
    let readiness = if now.name.trim().is_empty() {
        Readiness::Blocked("Give it a name".into())
    } else {
        Readiness::Ready
    };
    let foot = html! { { part!(Button { label: if is_new { "Add it" } else { "Done" }, kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: done }) } };
    html! {
        { part!(Sheet { title: "Used once", onclose: props.onclose.clone(), foot, children: html! { <>
            <p class="soft">{ "A new one is owed at put back and stands on the to-buy list." }</p>
            { part!(ChipRow::<u8> { label: "Kind", items: kinds, onpress: {change(|i, n| {
                let known = ITEMS.iter().any(|&k| i.name == words::item_kind(k));
                i.kind = n.parse().unwrap_or(0);
                let kind = ITEMS.get(usize::from(i.kind)).copied();
                if let (true, Some(kind)) = (known || i.name.is_empty(), kind) {
                    i.name = words::item_kind(kind).to_owned();
                }
            }).reform(|n: u8| n.to_string())} }) }
            if !props.learned.is_empty() {
                { part!(ChipRow::<usize> { label: "As before", items: learned, onpress: take }) }
            }
            { part!(Stepper { label: "How many", value: u32::from(now.count), min: 1, onchange: change(|i, n| i.count = n.parse().unwrap_or(1)).reform(|n: u32| n.to_string()) }) }
            { part!(TextField { label: "Name", value: now.name.clone(), oninput: change(|i, t| i.name = t).reform(|t: AttrValue| t.to_string()) }) }
            { for item_sizes(ITEMS.get(usize::from(now.kind)).copied()).iter().map(|of| {
                let pick = change(|i, t| i.size = if i.size == t { String::new() } else { t });
                part!(Sizes { label: format!("Size, {}, {}", of.of, of.standard), items: sizes::item_chips(of, &now.size), onpress: pick.reform(|n: u32| of.sizes.get(n as usize).map(|size| in_words(of, size)).unwrap_or_default()) })
            }) }
            { part!(TextField { label: "Size", value: now.size.clone(), hint: "14 x 18, 2 mm ring", oninput: change(|i, t| i.size = t).reform(|t: AttrValue| t.to_string()) }) }
            if !is_new {
                { part!(Button { label: "Take it out of this entry", icon: Icon::Close, face: ButtonFace::Wide, kind: ButtonKind::Danger, onpress: remove }) }
            }
        </> } }) }
    }
}

crate::live!(ItemSheet, use_item_sheet);

/// Sizes that a standard gives of such a thing.
pub(super) fn item_sizes(kind: Option<ItemKind>) -> &'static [ItemSizes] {
    match kind {
        Some(ItemKind::CrushWasher) => crush_washers(),
        Some(ItemKind::ORing) => o_rings(),
        Some(ItemKind::SplitPin) => sizes_of(FastenerKind::SplitPin),
        _ => &[],
    }
}
