//! The controls every screen is made of, and nothing of the job itself.
//!
//! | part | for | required props | optional props |
//! |---|---|---|---|
//! | [`Shell`] | whole window | children | nav, undo |
//! | [`Page`] | one screen | title, children | under, back, side, act, width |
//! | [`PageHead`] | its head, if used alone | title | under, back, side |
//! | [`Section`] | a ruled-off part of a page | title, children | count |
//! | [`Fold`] | the same, folded until asked for | title, count, open, children | |
//! | [`Split`] | list and detail side by side | list | detail, hint |
//! | [`MainAct`] | the one main act | children | side, place |
//! | [`NavBar`] | the five screens | job | current |
//! | [`Button`] | an act or a link | label | kind, icon, face, readiness, about, href, onpress |
//! | [`Stepper`] | a count | label, value, onchange | min, max, step, unit, under |
//! | [`Chip`] | on or off | label | pressed, icon, onpress |
//! | [`ChipRow`] | choose one or several | label, items, onpress | more, onmore |
//! | [`TextField`] | words | label, value, oninput | kind, hint, wrong, onleave, onenter |
//! | [`NumberField`] | an amount | label, value, oninput | unit, hint, wrong, onleave |
//! | [`Sheet`] | choosing, over the page | title, onclose | children, foot |
//! | [`Rows`] | a list | label, children | length |
//! | [`ListRow`] | a line of it | what | lead, lies, tag, state, owed, tally, mark, href, onpress, children (the act) |
//! | [`Sum`] | the sum under it | what, value | |
//! | [`Card`] | one thing with details | title | state, word, children |
//! | [`Facts`] | word and fact | items | |
//! | [`StateTag`] | how a thing stands | state | word, icon |
//! | [`TagCode`] | the code on a bag | code | size, what |
//! | [`Count`] | n of m | n | of, state, size |
//! | [`Figure`] | 44 px, read from the floor | value, what | unit |
//! | [`Banner`] | how things stand | title | kind, text, why, icon, children |
//! | [`Caution`] | before an act | title, lines, onread | gravity, defers, go |
//! | [`Empty`], [`ErrorState`], [`Loading`] | nothing, failed, on its way | icon, title, text / title, text / what | children / detail, onretry, children |
//! | [`Verdict`] | the audit's word | state, words | text |
//! | [`Toast`] | saved, undo | message, serial, onend | onundo |
//! | [`LiveRegion`] | read out | message | serial |
//! | [`PhotoView`] | a photo with marks | src, alt | marks, chosen, onmark, onplace |
//! | [`Thumbs`], [`Thumb`] | small photos | children / src, alt, href | |
//! | [`Glyph`] | an [`Icon`] | icon | size |
//!
//! Every part draws with the classes of the file of the same name in assets/styles.

/// Draws a part: its properties are built as in `html!`, and it costs no
/// component of its own. With `key: k;` before it, `k` tells it from the parts
/// beside it.
#[macro_export]
macro_rules! part {
    (key: $key:expr; $part:path { $($body:tt)* }) => {
        $crate::kit::keyed($key, ::yew::props!($part { $($body)* }).draw())
    };
    ($part:path { $($body:tt)* }) => {
        ::yew::props!($part { $($body)* }).draw()
    };
}

mod banner;
mod blank;
mod button;
mod card;
mod caution;
mod chip;
mod count;
mod field;
mod fold;
#[cfg(feature = "gallery")]
pub mod gallery;
mod icon;
mod id;
mod live;
mod local;
mod nav;
mod number;
mod photo;
mod row;
mod sheet;
mod shell;
mod state;
mod stepper;
mod tag;
mod toast;
mod verdict;

pub use banner::{Banner, BannerKind};
pub use blank::{Empty, ErrorState, Loading};
pub use button::{Button, ButtonFace, ButtonKind, Readiness};
pub use card::{Card, Facts};
pub use caution::{Caution, Gravity};
pub use chip::{Chip, ChipItem, ChipRow};
pub use count::{Count, CountSize, Figure};
pub use field::{TextField, TextKind};
pub use fold::Fold;
pub use icon::{Glyph, GlyphSize, Icon};
pub use id::use_id;
pub use implicit_clone::unsync::IArray;
pub use live::LiveRegion;
pub use local::{State, keyed, local, use_local};
pub use nav::{NavBar, tab_word};
pub use number::{NumberField, Reading};
pub use photo::{PhotoMark, PhotoPoint, PhotoView, Shot, Thumb, Thumbs};
pub use row::{ListLength, ListRow, RowMark, Rows, Sum, Tally};
pub use sheet::Sheet;
pub use shell::{ActPlace, MainAct, Page, PageHead, PageWidth, Section, Shell, Split};
pub use state::{Standing, StateTag};
pub use stepper::Stepper;
pub use tag::{TagCode, TagSize};
pub use toast::Toast;
pub use verdict::Verdict;
