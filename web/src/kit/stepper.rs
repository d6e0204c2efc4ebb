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
    /// Takes what was typed, where more than a number is understood; why not,
    /// where it is not.
    #[prop_or_default]
    pub reads: Option<Callback<String, Result<(), String>>>,
    /// Told `true` where what was typed is not taken, and `false` once it is gone:
    /// what is kept meanwhile would lack it.
    #[prop_or_default]
    pub onunread: Callback<bool>,
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
        let (mode, onunread) = (mode.clone(), props.onunread.clone());
        Callback::from(move |wanted: u32| {
            onunread.emit(false);
            mode.set(Mode::Shown);
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
            let (mode, set, shown) = (mode.clone(), set.clone(), text(props, props.value));
            let (reads, decimal) = (props.reads.clone(), props.decimal.is_some());
            let onunread = props.onunread.clone();
            let onend = move |typed: String| {
                let left = typed.trim().is_empty() || shown == typed;
                let taken = match (left, &reads, number(&typed, decimal)) {
                    (true, ..) => Ok(()),
                    (_, Some(reads), _) => reads.emit(typed),
                    (_, None, Some(number)) => {
                        set.emit(number);
                        Ok(())
                    }
                    (_, None, None) => Err(NOT_A_NUMBER.to_owned()),
                };
                onunread.emit(taken.is_err());
                if taken.is_ok() {
                    mode.set(Mode::Shown);
                }
                taken
            };
            html! { { part!(Typing { label: props.label.clone(), value: text(props, props.value), decimal: decimal, onend: onend }) } }
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

/// Said of what is typed and is no number; it stays as it was typed.
const NOT_A_NUMBER: &str = "This is not a number, and is not taken.";

/// A number as typed.
fn number(typed: &str, decimal: bool) -> Option<u32> {
    match decimal {
        true => parse_mm(typed),
        false => typed.trim().parse().ok(),
    }
}

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
    // What is seen is part of what is read out.
    let unit = props.unit.as_deref().map(|unit| format!(" {unit}"));
    let name = format!(
        "{}: {}{}. Type a number",
        props.label,
        props.value,
        unit.unwrap_or_default()
    );
    html! {
        <button type="button" class="stepper__value" aria-label={name}
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
    /// What was typed; why it is not taken, if it is not.
    onend: Callback<String, Result<(), String>>,
}

#[hook]
fn use_typing(props: &Typing) -> Html {
    let node = use_node_ref();
    let id = use_id();
    // What was typed last and not taken, and why.
    let refused = use_local(|| None::<(String, String)>);
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
        let (node, onend, refused) = (node.clone(), props.onend.clone(), refused.clone());
        move |_: FocusEvent| {
            let input = node.cast::<HtmlInputElement>();
            let typed = input.map(|it| it.value()).unwrap_or_default();
            if let Err(why) = onend.emit(typed.clone()) {
                refused.set(Some((typed, why)));
            }
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
    let value = (*refused).as_ref().map(|(typed, _)| typed.clone().into());
    let why = (*refused).as_ref().map(|(_, why)| why.clone());
    html! {
        <>
        <input ref={node} class="stepper__input" type="text" inputmode={if props.decimal { "decimal" } else { "numeric" }} enterkeyhint="done" autocomplete="off"
            aria-label={props.label.clone()} aria-invalid={why.is_some().then_some("true")} aria-describedby={why.is_some().then(|| id.clone())}
            value={value.unwrap_or_else(|| props.value.clone())} {onblur} {onkeydown} />
        if let Some(why) = why {
            <p class="stepper__wrong" role="alert" {id}>{ why }</p>
        }
        </>
    }
}

crate::live!(Typing, use_typing);
