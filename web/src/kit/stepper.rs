//! A count set with two large buttons; a tap on the number opens it for typing.

use super::{Glyph, Icon, use_id};
use crate::kit::use_local;
use countback_core::fastener::size::{mm_text, parse_mm};
use web_sys::HtmlInputElement;
use yew::prelude::*;

/// Properties of [`Stepper`].
#[derive(Properties, PartialEq)]
pub struct Stepper {
    /// What is counted: "Bolts".
    pub label: AttrValue,
    pub value: u32,
    #[prop_or(0)]
    pub min: u32,
    #[prop_or(999)]
    pub max: u32,
    #[prop_or(1)]
    pub step: u32,
    #[prop_or_default]
    pub unit: Option<AttrValue>,
    /// The value counts thousandths; shown and typed as a decimal with this
    /// sign.
    #[prop_or_default]
    pub decimal: Option<char>,
    /// A line below: "4 came off".
    #[prop_or_default]
    pub under: Option<AttrValue>,
    /// Called with a value that lies between `min` and `max`.
    pub onchange: Callback<u32>,
}

/// Whether the number is shown or being typed.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Mode {
    Shown,
    Typing,
}

/// A stepper.
#[hook]
fn use_stepper(props: &Stepper) -> Html {
    let id = use_id();
    let mode = use_local(|| Mode::Shown);
    let set = {
        let onchange = props.onchange.clone();
        let (value, min, max) = (props.value, props.min, props.max);
        Callback::from(move |wanted: u32| {
            let held = wanted.clamp(min, max.max(min));
            if held != value {
                onchange.emit(held);
            }
        })
    };
    let less = props.value.saturating_sub(props.step).max(props.min);
    let more = props.value.saturating_add(props.step).min(props.max);
    let middle = match *mode {
        Mode::Shown => {
            html! { { part!(Shown { label: props.label.clone(), value: text(props, props.value), unit: props.unit.clone(), onpress: { let mode = mode.clone(); move |()| mode.set(Mode::Typing) } }) } }
        }
        Mode::Typing => {
            html! { { part!(Typing { label: props.label.clone(), value: text(props, props.value), decimal: props.decimal.is_some(), onend: { let mode = mode.clone(); let set = set.clone();
            move |typed: Option<u32>| { if let Some(typed) = typed { set.emit(typed); } mode.set(Mode::Shown); } } }) } }
        }
    };
    html! {
        <div class="stepper" role="group" aria-labelledby={id.clone()}>
            <span class="stepper__label" {id}>{ props.label.clone() }</span>
            <div class="stepper__row">
                { step_button("One less", Icon::Minus, less, props, &set) }
                { middle }
                { step_button("One more", Icon::Plus, more, props, &set) }
            </div>
            if let Some(under) = &props.under {
                <span class="stepper__under">{ under.clone() }</span>
            }
        </div>
    }
}

crate::live!(Stepper, use_stepper);

/// A value as it is shown.
fn text(props: &Stepper, value: u32) -> AttrValue {
    match props.decimal {
        None => value.to_string(),
        Some(sign) => mm_text(value).replace('.', sign.encode_utf8(&mut [0; 4])),
    }
    .into()
}

fn step_button(
    verb: &'static str,
    icon: Icon,
    to: u32,
    props: &Stepper,
    set: &Callback<u32>,
) -> Html {
    let at_end = to == props.value;
    let name = if props.step == 1 {
        format!("{verb}: {}", props.label)
    } else {
        format!("{} to {}", props.label, text(props, to))
    };
    html! {
        <button type="button" class="stepper__button" aria-label={name}
            aria-disabled={at_end.then_some("true")} onclick={set.reform(move |_: MouseEvent| to)}>
            { part!(Glyph { icon: icon }) }
        </button>
    }
}

#[derive(Properties, PartialEq)]
struct Shown {
    label: AttrValue,
    value: AttrValue,
    unit: Option<AttrValue>,
    onpress: Callback<()>,
}

fn shown(props: &Shown) -> Html {
    let unit = props
        .unit
        .as_ref()
        .map_or(String::new(), |it| format!(" {it}"));
    html! {
        <button type="button" class="stepper__value" aria-label={format!("{}: {}{unit}. Type a number", props.label, props.value)}
            onclick={props.onpress.reform(|_: MouseEvent| ())}>
            <span aria-live="polite">{ props.value.clone() }</span>
            if let Some(unit) = &props.unit {
                { " " }<span class="stepper__unit">{ unit.clone() }</span>
            }
        </button>
    }
}

crate::plain!(Shown, shown);

#[derive(Properties, PartialEq)]
struct Typing {
    label: AttrValue,
    value: AttrValue,
    /// Thousandths, typed as a decimal.
    decimal: bool,
    /// The number typed, or `None` if it was left as it was or cannot be read.
    onend: Callback<Option<u32>>,
}

#[hook]
fn use_typing(props: &Typing) -> Html {
    let node = use_node_ref();
    {
        let node = node.clone();
        use_effect_with((), move |()| {
            if let Some(input) = node.cast::<HtmlInputElement>() {
                // A field that cannot take focus can still be tapped.
                let _ = input.focus();
                input.select();
            }
        });
    }
    let onblur = {
        let (node, onend, decimal) = (node.clone(), props.onend.clone(), props.decimal);
        move |_: FocusEvent| {
            onend.emit(node.cast::<HtmlInputElement>().and_then(|input| {
                let typed = input.value();
                match decimal {
                    true => parse_mm(&typed),
                    false => typed.trim().parse().ok(),
                }
            }));
        }
    };
    let onkeydown = {
        let node = node.clone();
        let value = props.value.clone();
        move |event: KeyboardEvent| {
            let Some(input) = node.cast::<HtmlInputElement>() else {
                return;
            };
            match event.key().as_str() {
                "Escape" => input.set_value(&value),
                "Enter" => {}
                _ => return,
            }
            event.prevent_default();
            let _ = input.blur();
        }
    };
    html! {
        <input ref={node} class="stepper__input" type="text" inputmode={if props.decimal { "decimal" } else { "numeric" }} enterkeyhint="done" autocomplete="off"
            aria-label={props.label.clone()} value={props.value.clone()} {onblur} {onkeydown} />
    }
}

crate::live!(Typing, use_typing);
