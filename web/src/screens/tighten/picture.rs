//! The places drawn with their numbers, over the photo or plain. Drawn as
//! attributes, as the page's policy allows no style of its own.
use countback_core::view::{Disc, Drawing};
use yew::prelude::*;

use crate::screens::shots::use_picture;

/// Props of [`OrderPicture`].
#[derive(Properties, PartialEq)]
pub struct OrderPicture {
    pub drawing: Drawing,
}

/// The drawing with its order in words; nothing while there is none.
#[hook]
fn use_order_picture(props: &OrderPicture) -> Html {
    let it = &props.drawing;
    let photo = it.photo.clone();
    let hash = photo.as_ref().map(|p| p.0.clone()).unwrap_or_default();
    let src = use_picture(hash.into(), false);
    if it.order.is_empty() {
        return html! {};
    }
    // Drawn 1000 wide; a photo keeps its shape, a plain drawing is cut to its discs.
    let high = photo.as_ref().map_or(1000, |p| {
        (u64::from(p.2) * 1000 / u64::from(p.1.max(1))).clamp(300, 2000) as u32
    });
    let lowest = it.discs.iter().map(|d| d.y).max().unwrap_or(1000);
    let highest = it.discs.iter().map(|d| d.y).min().unwrap_or(0);
    let (top, shown) = if photo.is_some() {
        (0, high)
    } else {
        let top = u32::from(highest).saturating_sub(120);
        (top, u32::from(lowest) + 120 - top)
    };
    // Many discs are drawn smaller, so that they do not cover one another.
    let size = match it.discs.len() {
        0..=12 => 68,
        13..=20 => 52,
        _ => 40,
    };
    let discs = it.discs.iter().map(|d| disc(d, high, size));
    html! {
        <figure class="order">
            if !it.discs.is_empty() {
                <svg class="order__picture" viewBox={format!("0 {top} 1000 {shown}")} role="img" aria-label={format!("Order of tightening: {}", it.order)}>
                    if let Some(src) = src { <image href={src} x="0" y="0" width="1000" height={high.to_string()} preserveAspectRatio="none" /> }
                    { for discs }
                </svg>
            }
            <figcaption class="order__said">
                <span>{ it.said.clone() }</span>
                <span>{ format!("Tighten: {}", it.order) }</span>
                <span>{ format!("Loosen: {}", it.loosen) }</span>
            </figcaption>
        </figure>
    }
}

crate::live!(OrderPicture, use_order_picture);

fn disc(d: &Disc, high: u32, size: u32) -> Html {
    let (x, y) = (u32::from(d.x), u32::from(d.y) * high / 1000);
    let kind = if d.next {
        "next"
    } else if d.done {
        "done"
    } else {
        "open"
    };
    let size = if d.next { size * 5 / 4 } else { size };
    // 52 of 1000 are 17 px on the narrowest phone.
    let (letters, small) = (size.max(54), (size * 3 / 4).max(52));
    html! {
        <g class={classes!("disc", format!("disc--{kind}"))}>
            <circle class="disc__edge" cx={x.to_string()} cy={y.to_string()} r={size.to_string()} />
            <text class="disc__number" x={x.to_string()} y={y.to_string()} font-size={letters.to_string()} text-anchor="middle" dominant-baseline="central">{ d.number }</text>
            if let Some(turn) = d.turn {
                <text class="disc__turn" x={(x + size).to_string()} y={y.saturating_sub(size).to_string()} font-size={small.to_string()} text-anchor="middle">{ turn }</text>
            }
            if d.done {
                <path class="disc__check" d={format!("M{} {}l{} {}l{} -{}", x + size / 2, y + size, size / 4, size / 4, size / 2, size / 2)} />
            }
        </g>
    }
}
