//! A line of the ledger and the list it stands in: what it is, where it lies, what is owed, one act.

use super::{Count, Glyph, Icon, Standing, StateTag, TagCode};
use yew::prelude::*;

/// Whether a list is drawn whole.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ListLength {
    #[default]
    Short,
    /// Hundreds of lines: the browser leaves out the work for those out of sight, and still finds words in them.
    Long,
}

/// Properties of [`Rows`].
#[derive(Properties, PartialEq)]
pub struct Rows {
    /// What the list holds, read out.
    pub label: AttrValue,
    #[prop_or_default]
    pub length: ListLength,
    /// [`ListRow`]s, keyed.
    pub children: Html,
}

/// A list of ledger lines.
impl Rows {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let long = match props.length {
            ListLength::Short => None,
            ListLength::Long => Some("rows--long"),
        };
        html! { <ul class={classes!("rows", long)} aria-label={props.label.clone()}>{ props.children.clone() }</ul> }
    }
}

/// How a line is marked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum RowMark {
    #[default]
    None,
    /// Its details stand beside the list.
    Chosen,
    /// Struck from the ledger.
    Struck,
}

/// n of m, as a row shows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tally {
    pub n: u32,
    pub of: Option<u32>,
}

/// Properties of [`ListRow`].
#[derive(Properties, PartialEq)]
pub struct ListRow {
    pub what: AttrValue,
    #[prop_or_default]
    pub lead: Option<Icon>,
    /// Where it lies, in words.
    #[prop_or_default]
    pub lies: Option<AttrValue>,
    /// The code of the tag it lies under.
    #[prop_or_default]
    pub tag: Option<AttrValue>,
    #[prop_or_default]
    pub state: Option<Standing>,
    /// What is owed, in words, in place of the state's own word.
    #[prop_or_default]
    pub owed: Option<AttrValue>,
    #[prop_or_default]
    pub tally: Option<Tally>,
    #[prop_or_default]
    pub mark: RowMark,
    /// Where a tap on the line leads.
    #[prop_or_default]
    pub href: Option<AttrValue>,
    /// What a tap on the line does, if it leads nowhere.
    #[prop_or_default]
    pub onpress: Option<Callback<()>>,
    /// The one act: a [`super::Button`].
    #[prop_or_default]
    pub children: Html,
}

/// A line of the ledger.
impl ListRow {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let state = props.state.map(|state| format!("row--{}", state.suffix()));
        let mark = match props.mark {
            RowMark::None => None,
            RowMark::Chosen => Some("row--chosen"),
            RowMark::Struck => Some("row--struck"),
        };
        let words = words(props);
        let words = if let Some(href) = &props.href {
            let current = (props.mark == RowMark::Chosen).then_some("true");
            html! { <a class="row__words" href={href.clone()} aria-current={current}>{ words }</a> }
        } else if let Some(onpress) = &props.onpress {
            html! { <button type="button" class="row__words" onclick={onpress.reform(|_: MouseEvent| ())}>{ words }</button> }
        } else {
            html! { <div class="row__words">{ words }</div> }
        };
        let has_act = !matches!(&props.children, Html::VList(list) if list.is_empty());
        let leads = (props.href.is_some() || props.onpress.is_some()) && !has_act;
        html! {
            <li class={classes!("row", state, mark)}>
                if let Some(icon) = props.lead { <span class="row__lead">{ part!(Glyph { icon: icon }) }</span> }
                { words }
                if let Some(Tally { n, of }) = props.tally {
                    <span class="row__figure">{ part!(Count { n: n, of: of, state: props.state }) }</span>
                }
                if leads { <span class="row__go">{ part!(Glyph { icon: Icon::Forward }) }</span> }
                if props.state.is_some() || has_act {
                    <div class="row__foot">
                        if let Some(state) = props.state { { part!(StateTag { state: state, word: props.owed.clone(), icon: stamp(props.mark) }) } }
                        if has_act { <span class="row__act">{ props.children.clone() }</span> }
                    </div>
                }
            </li>
        }
    }
}

/// A struck line is stamped as struck, whatever its state was.
fn stamp(mark: RowMark) -> Option<Icon> {
    match mark {
        RowMark::Struck => Some(Icon::Undo),
        RowMark::None | RowMark::Chosen => None,
    }
}

fn words(props: &ListRow) -> Html {
    let what = match props.mark {
        RowMark::Struck => html! { <s class="row__what">{ props.what.clone() }</s> },
        RowMark::None | RowMark::Chosen => {
            html! { <span class="row__what">{ props.what.clone() }</span> }
        }
    };
    html! {
        <>
            { what }
            if props.lies.is_some() || props.tag.is_some() {
                <span class="row__where">
                    if let Some(code) = &props.tag { { part!(TagCode { code: code.clone() }) } }
                    if let Some(lies) = &props.lies { <span>{ lies.clone() }</span> }
                </span>
            }
        </>
    }
}

/// Properties of [`Sum`].
#[derive(Properties, PartialEq)]
pub struct Sum {
    pub what: AttrValue,
    pub value: AttrValue,
}

/// The sum under a list, ruled off twice as in a ledger.
impl Sum {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        html! { <div class="sum"><span>{ props.what.clone() }</span><span>{ props.value.clone() }</span></div> }
    }
}
