//! A field for words. Its label stands above it always; what is wrong stands below.

use super::{Glyph, Icon, id::id_of};
use web_sys::{HtmlInputElement, HtmlTextAreaElement};
use yew::prelude::*;

/// What is typed into a [`TextField`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum TextKind {
    #[default]
    Line,
    /// Several lines: a note.
    Long,
    /// Words to look for.
    Search,
    /// Digits that are a name and not an amount: the code of a tag.
    Digits,
}

/// Properties of [`TextField`].
#[derive(Properties, PartialEq)]
pub struct TextField {
    pub label: AttrValue,
    pub value: AttrValue,
    #[prop_or_default]
    pub kind: TextKind,
    /// A line below that helps: "as on the bag".
    #[prop_or_default]
    pub hint: Option<AttrValue>,
    /// What is wrong, if something is; announced.
    #[prop_or_default]
    pub wrong: Option<AttrValue>,
    /// Every change, as typed.
    pub oninput: Callback<AttrValue>,
    /// When the field is left: the moment to keep it.
    #[prop_or_default]
    pub onleave: Callback<()>,
    /// Enter pressed in a field of one line.
    #[prop_or_default]
    pub onenter: Callback<()>,
}

/// A field for words.
impl TextField {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let id = id_of(&props.label);
        let under = format!("{id}-under");
        let onleave = props.onleave.reform(|_: FocusEvent| ());
        let described = (props.hint.is_some() || props.wrong.is_some()).then(|| under.clone());
        let invalid = props.wrong.is_some().then_some("true");
        let control = if props.kind == TextKind::Long {
            let oninput = props.oninput.reform(|event: InputEvent| {
                AttrValue::from(event.target_unchecked_into::<HtmlTextAreaElement>().value())
            });
            html! {
                <textarea id={id.clone()} class="field__input field__input--long" rows="3" value={props.value.clone()}
                    aria-describedby={described} aria-invalid={invalid} {oninput} onblur={onleave} />
            }
        } else {
            let (mode, enter, capitals) = match props.kind {
                TextKind::Line | TextKind::Long => ("text", "done", "sentences"),
                TextKind::Search => ("search", "search", "none"),
                TextKind::Digits => ("numeric", "done", "none"),
            };
            let oninput = props.oninput.reform(|event: InputEvent| {
                AttrValue::from(event.target_unchecked_into::<HtmlInputElement>().value())
            });
            let onenter = props.onenter.clone();
            let onkeydown = move |event: KeyboardEvent| {
                // A word being composed by the keyboard ends with Enter too; that one is not ours.
                if event.key() == "Enter" && !event.is_composing() {
                    onenter.emit(());
                }
            };
            html! {
                <input id={id.clone()} class="field__input" type="text" inputmode={mode} enterkeyhint={enter}
                    autocapitalize={capitals} autocomplete="off" value={props.value.clone()}
                    aria-describedby={described} aria-invalid={invalid} {oninput} {onkeydown} onblur={onleave} />
            }
        };
        frame(
            &FrameParts {
                label: &props.label,
                id: &id,
                under: &under,
                hint: &props.hint,
                wrong: &props.wrong,
            },
            control,
            None,
        )
    }
}

/// What stands around a control.
pub(super) struct FrameParts<'a> {
    pub label: &'a AttrValue,
    pub id: &'a AttrValue,
    /// The id of the lines below.
    pub under: &'a str,
    pub hint: &'a Option<AttrValue>,
    pub wrong: &'a Option<AttrValue>,
}

/// Label above, control and unit in a box, hint and fault below.
pub(super) fn frame(parts: &FrameParts<'_>, control: Html, unit: Option<AttrValue>) -> Html {
    html! {
        <div class={classes!("field", parts.wrong.is_some().then_some("field--wrong"))}>
            <label class="field__label" for={parts.id.clone()}>{ parts.label.clone() }</label>
            <div class="field__box">
                { control }
                if let Some(unit) = unit { <span class="field__unit">{ unit }</span> }
            </div>
            <div id={parts.under.to_owned()}>
                if let Some(hint) = parts.hint { <p class="field__under">{ hint.clone() }</p> }
                <div aria-live="polite">
                    if let Some(wrong) = parts.wrong {
                        <p class="field__wrong">{ part!(Glyph { icon: Icon::Alert }) }<span>{ wrong.clone() }</span></p>
                    }
                </div>
            </div>
        </div>
    }
}
