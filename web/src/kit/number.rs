//! A field for an amount: takes a decimal comma as well as a point, and says at once if it cannot read it.

use super::field::{FrameParts, frame};
use super::id::id_of;
use web_sys::HtmlInputElement;
use yew::prelude::*;

/// What a typed amount reads as.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reading {
    Empty,
    Number(f64),
    /// Letters, two separators, or grouped thousands, which mean different things in different places.
    Unreadable,
}

impl Reading {
    /// Reads an amount of zero or more. One comma or one point is the decimal sign; spaces around are passed over.
    pub fn of(typed: &str) -> Reading {
        let typed = typed.trim();
        if typed.is_empty() {
            return Reading::Empty;
        }
        let plain = typed.replace(',', ".");
        let digits = plain.bytes().filter(u8::is_ascii_digit).count();
        let points = plain.bytes().filter(|it| *it == b'.').count();
        if digits == 0 || points > 1 || digits + points != plain.len() {
            return Reading::Unreadable;
        }
        match plain.parse::<f64>() {
            Ok(number) if number.is_finite() => Reading::Number(number),
            Ok(_) | Err(_) => Reading::Unreadable,
        }
    }
}

/// Properties of [`NumberField`].
#[derive(Properties, PartialEq)]
pub struct NumberField {
    pub label: AttrValue,
    /// The text as typed; the screen keeps it so that a half-typed number is not lost.
    pub value: AttrValue,
    #[prop_or_default]
    pub unit: Option<AttrValue>,
    #[prop_or_default]
    pub hint: Option<AttrValue>,
    #[prop_or_default]
    pub wrong: Option<AttrValue>,
    /// The screen reads the text itself, so that a unit or a range in it is not
    /// called unreadable here.
    #[prop_or_default]
    pub taken: bool,
    /// Every change: the text, and what it reads as.
    pub oninput: Callback<(AttrValue, Reading)>,
    #[prop_or_default]
    pub onleave: Callback<()>,
}

/// A field for an amount.
impl NumberField {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let id = id_of(&props.label);
        let under = format!("{id}-under");
        let unreadable = !props.taken && Reading::of(&props.value) == Reading::Unreadable;
        let wrong = props.wrong.clone().or_else(|| {
            unreadable.then_some(AttrValue::Static(
                "This is not a number. Write it as 12.5 or 12,5.",
            ))
        });
        let oninput = props.oninput.reform(|event: InputEvent| {
            let typed = event.target_unchecked_into::<HtmlInputElement>().value();
            let reading = Reading::of(&typed);
            (AttrValue::from(typed), reading)
        });
        let described = (props.hint.is_some() || wrong.is_some()).then(|| under.clone());
        let name = props
            .unit
            .as_ref()
            .map(|unit| format!("{}, {unit}", props.label));
        let control = html! {
            <input id={id.clone()} class="field__input field__input--number" type="text" inputmode="decimal"
                enterkeyhint="done" autocomplete="off" value={props.value.clone()} aria-label={name}
                aria-describedby={described} aria-invalid={wrong.is_some().then_some("true")}
                {oninput} onblur={props.onleave.reform(|_: FocusEvent| ())} />
        };
        let parts = FrameParts {
            label: &props.label,
            id: &id,
            under: &under,
            hint: &props.hint,
            wrong: &wrong,
        };
        frame(&parts, control, props.unit.clone())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comma_and_point_read_the_same() {
        for (typed, number) in [
            ("12,5", 12.5),
            ("12.5", 12.5),
            (" 8 ", 8.0),
            (",5", 0.5),
            ("7.", 7.0),
            ("0", 0.0),
        ] {
            assert_eq!(Reading::of(typed), Reading::Number(number), "{typed}");
        }
    }

    #[test]
    fn what_could_mean_two_things_is_not_guessed() {
        for typed in [
            "1.234,5",
            "1,234,567",
            "12 5",
            "1e3",
            "-4",
            "inf",
            "NaN",
            "ten",
            ",",
            "٣",
        ] {
            assert_eq!(Reading::of(typed), Reading::Unreadable, "{typed}");
        }
    }

    #[test]
    fn nothing_typed_is_not_a_fault() {
        assert_eq!(Reading::of("  "), Reading::Empty);
    }
}
