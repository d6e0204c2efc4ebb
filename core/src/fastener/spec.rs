//! What one fastener is, as far as it is known: the type that every other part
//! of the core speaks of. Any field but the kind may be left open.

use super::class::PropertyClass;
use super::head::HeadSize;
use super::kind::FastenerKind;
use super::size::{InchSize, mm_text, parse_mm};
use super::thread::Thread;
use std::fmt;
use std::str::FromStr;

/// How far two lengths may differ and still be one length measured twice, in
/// micrometres. Stock lengths are 2 mm and more apart from 8 mm upwards.
pub const LENGTH_TOLERANCE_UM: u32 = 1_000;

/// A fastener as it is known. A field left open is not known, not absent.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FastenerSpec {
    pub kind: FastenerKind,
    pub head: Option<HeadSize>,
    pub thread: Option<Thread>,
    /// Length under the head in micrometres; over all for studs and pins, the
    /// thickness of a shim.
    pub length_um: Option<u32>,
    pub class: Option<PropertyClass>,
    /// Free words that tell it from its neighbours: "long one", "blue cap".
    pub text: String,
}

impl FastenerSpec {
    /// A fastener of which nothing but the kind is known.
    pub fn of(kind: FastenerKind) -> Self {
        Self {
            kind,
            ..Self::default()
        }
    }

    /// The way it is said at the bench. A coarse pitch is left out, as in trade.
    ///
    /// ```
    /// use countback_core::fastener::FastenerSpec;
    /// let spec: FastenerSpec = "bolt | thread=M6 x 1 | length=20 | head=hex 10 mm".parse().unwrap();
    /// assert_eq!(spec.label(), "M6 x 20 bolt, 10 mm head");
    /// ```
    pub fn label(&self) -> String {
        let length = self.length_um.map(mm_text);
        let size = match (self.thread, length) {
            (Some(Thread::Metric { .. }), Some(length)) => self
                .thread
                .map(|it| format!("{} x {length} ", it.short_name())),
            (Some(thread @ Thread::Unified { .. }), Some(_)) if self.inches().is_some() => self
                .inches()
                .map(|length| format!("{thread} x {length} in ")),
            (Some(thread), Some(length)) => Some(format!("{thread} x {length} mm ")),
            (Some(thread), None) => Some(format!("{} ", thread.short_name())),
            (None, Some(length)) => Some(format!("{length} mm ")),
            (None, None) => None,
        };
        let mut label = format!("{}{}", size.unwrap_or_default(), self.kind);
        if let Some(head) = self.head {
            label.push_str(", ");
            label.push_str(&head.label());
        }
        if let Some(class) = self.class {
            label.push_str(", ");
            label.push_str(&class.to_string());
        }
        if !self.text.trim().is_empty() {
            label.push_str(" (");
            label.push_str(self.text.trim());
            label.push(')');
        }
        label
    }
    /// The label of several: "M6 x 20 bolts, 10 mm head".
    pub fn labels(&self, n: u32) -> String {
        match n {
            1 => self.label(),
            _ => self
                .label()
                .replacen(self.kind.word(), self.kind.words(), 1),
        }
    }

    /// Its length in inches, where it is one of 64ths as inch bolts are sold.
    pub fn inches(&self) -> Option<InchSize> {
        let length_um = self.length_um?;
        let n = (u64::from(length_um) * 1_000 + 198_437) / 396_875;
        let size = InchSize::Sixtyfourths(u16::try_from(n).ok()?);
        (size.to_um() == length_um).then_some(size)
    }

    /// Whether both belong in one line of the ledger: nothing known tells them
    /// apart. Where no length is known, the free words may be all that does.
    pub fn same_kind(&self, other: &Self) -> bool {
        let same_words = || {
            let (ours, theirs) = (self.text.trim(), other.text.trim());
            ours.eq_ignore_ascii_case(theirs)
                || !(ours.is_ascii() && theirs.is_ascii()) && same_letters(ours, theirs)
        };
        self.kind == other.kind
            && self.head == other.head
            && self.thread == other.thread
            && self.length_um == other.length_um
            && self.class == other.class
            && (self.length_um.is_some() || same_words())
    }

    /// Whether one of these may go where the other came out without a word. A
    /// shim was chosen for its place: two of which neither the thickness nor a
    /// word is known are one kind, and yet nobody knows that they are alike.
    pub fn stands_for(&self, other: &Self) -> bool {
        self.same_kind(other) && !self.is_unmeasured_shim()
    }

    /// A shim of which neither the thickness nor a word is known.
    pub fn is_unmeasured_shim(&self) -> bool {
        self.kind == FastenerKind::Shim && self.length_um.is_none() && self.text.trim().is_empty()
    }

    /// Whether both may be the same thing: whatever is known of both agrees.
    /// Lengths agree within [`LENGTH_TOLERANCE_UM`]; free words are not weighed.
    pub fn could_be(&self, other: &Self) -> bool {
        fn agree<T: Copy>(a: Option<T>, b: Option<T>, same: impl Fn(T, T) -> bool) -> bool {
            match (a, b) {
                (Some(a), Some(b)) => same(a, b),
                _ => true,
            }
        }
        self.kind.could_be(other.kind)
            && agree(self.thread, other.thread, |a, b| a == b)
            && agree(self.head, other.head, HeadSize::could_be)
            && agree(self.class, other.class, |a, b| a == b)
            && agree(self.length_um, other.length_um, |a, b| {
                a.abs_diff(b) <= LENGTH_TOLERANCE_UM
            })
    }
}

/// Whether two words differ in nothing but the size of their letters, of any
/// script. Apart, as it brings a table of all letters along.
#[inline(never)]
fn same_letters(one: &str, other: &str) -> bool {
    one.to_lowercase() == other.to_lowercase()
}

impl fmt::Display for FastenerSpec {
    /// The stored form: the kind, then the known fields as `name=value` between
    /// " | ", the free words last and unchanged to the end of the text.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.kind)?;
        if let Some(thread) = self.thread {
            write!(f, " | thread={thread}")?;
        }
        if let Some(length_um) = self.length_um {
            write!(f, " | length={}", mm_text(length_um))?;
        }
        if let Some(head) = self.head {
            write!(f, " | head={head}")?;
        }
        if let Some(class) = self.class {
            write!(f, " | class={class}")?;
        }
        if !self.text.is_empty() {
            write!(f, "{TEXT_MARK}{}", self.text)?;
        }
        Ok(())
    }
}

const TEXT_MARK: &str = " | text=";

/// Why a text is not a stored fastener.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SpecError {
    /// The first field names no kind.
    Kind(String),
    /// A field of an unknown name, or one given twice.
    Field(String),
    /// A known field whose value cannot be read.
    Value { field: &'static str, value: String },
}

impl FromStr for FastenerSpec {
    type Err = SpecError;

    fn from_str(stored: &str) -> Result<Self, SpecError> {
        let (fields, text) = stored.split_once(TEXT_MARK).unwrap_or((stored, ""));
        let mut fields = fields.split(" | ");
        let kind = fields.next().unwrap_or_default();
        let kind = kind
            .parse()
            .map_err(|_| SpecError::Kind(kind.to_string()))?;
        let mut spec = Self {
            kind,
            text: text.to_string(),
            ..Self::default()
        };
        for field in fields {
            let unknown = || SpecError::Field(field.to_string());
            let (name, value) = field.split_once('=').ok_or_else(unknown)?;
            match name {
                "thread" if spec.thread.is_none() => spec.thread = Some(read("thread", value)?),
                "head" if spec.head.is_none() => spec.head = Some(read("head", value)?),
                "class" if spec.class.is_none() => spec.class = Some(read("class", value)?),
                "length" if spec.length_um.is_none() => {
                    let bad = || SpecError::Value {
                        field: "length",
                        value: value.to_string(),
                    };
                    spec.length_um = Some(parse_mm(value).ok_or_else(bad)?);
                }
                _ => return Err(unknown()),
            }
        }
        Ok(spec)
    }
}

fn read<T: FromStr>(field: &'static str, value: &str) -> Result<T, SpecError> {
    value.parse().map_err(|_| SpecError::Value {
        field,
        value: value.to_string(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::{Drive, DriveSize, InchSize, PipeForm};
    use super::*;
    use proptest::prelude::*;

    fn inch() -> impl Strategy<Value = InchSize> {
        prop_oneof![
            any::<u8>().prop_map(InchSize::Number),
            (1..u16::MAX).prop_map(InchSize::Sixtyfourths)
        ]
    }

    fn thread() -> impl Strategy<Value = Thread> {
        prop_oneof![
            (1..u32::MAX, 1..u32::MAX).prop_map(|(d, p)| Thread::metric(d, p)),
            (inch(), 1..u8::MAX).prop_map(|(size, tpi)| Thread::Unified { size, tpi }),
            (prop::sample::select(&PipeForm::ALL[..]), inch())
                .prop_map(|(form, size)| Thread::Pipe { form, size }),
        ]
    }

    fn head() -> impl Strategy<Value = HeadSize> {
        let size = prop_oneof![
            any::<u32>().prop_map(DriveSize::Um),
            inch().prop_map(DriveSize::Inch),
            any::<u8>().prop_map(DriveSize::Number),
        ];
        (
            prop::sample::select(&Drive::ALL[..]),
            prop::option::of(size),
        )
            .prop_map(|(drive, size)| HeadSize { drive, size })
    }

    fn spec() -> impl Strategy<Value = FastenerSpec> {
        (
            prop::sample::select(&FastenerKind::ALL[..]),
            prop::option::of(head()),
            prop::option::of(thread()),
            prop::option::of(any::<u32>()),
            prop::option::of(prop::sample::select(&PropertyClass::ALL[..])),
            prop_oneof![any::<String>(), Just(" | text= | head=hex".to_string())],
        )
            .prop_map(
                |(kind, head, thread, length_um, class, text)| FastenerSpec {
                    kind,
                    head,
                    thread,
                    length_um,
                    class,
                    text,
                },
            )
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2_000))]

        #[test]
        fn stored_form_reads_back_exactly(spec in spec()) {
            prop_assert_eq!(spec.to_string().parse(), Ok(spec));
        }

        #[test]
        fn could_be_is_mutual_and_holds_for_itself(a in spec(), b in spec()) {
            prop_assert!(a.could_be(&a));
            prop_assert!(a.same_kind(&a));
            prop_assert_eq!(a.could_be(&b), b.could_be(&a));
            prop_assert!(!a.same_kind(&b) || a.could_be(&b));
        }
    }

    fn read_spec(text: &str) -> FastenerSpec {
        text.parse().unwrap()
    }

    #[test]
    fn label_is_said_as_at_the_bench() {
        for (stored, label) in [
            ("bolt", "bolt"),
            ("bolt | length=20", "20 mm bolt"),
            ("bolt | thread=M8 x 1 | length=25", "M8 x 1 x 25 bolt"),
            (
                "bolt | thread=M8 x 1.25 | length=25 | head=hex flange 10 mm | class=8.8",
                "M8 x 25 bolt, 10 mm flange head, 8.8",
            ),
            (
                "screw | thread=#10-24 | length=12.7 | head=cross H2",
                "#10-24 x 1/2 in screw, H2 cross head",
            ),
            (
                "bolt | thread=3/8-16 | length=31.75",
                "3/8-16 x 1 1/4 in bolt",
            ),
            // Cut to a length that no inch bolt is sold in.
            ("bolt | thread=3/8-16 | length=30", "3/8-16 x 30 mm bolt"),
            ("nut | thread=M6 x 1 | head=hex 10 mm", "M6 nut, 10 mm head"),
            ("clip | text=blue one", "clip (blue one)"),
            (
                "plug | thread=G 1/4 | head=socket hex 6 mm",
                "G 1/4 plug, 6 mm hex key",
            ),
        ] {
            assert_eq!(read_spec(stored).label(), label);
        }
    }

    #[test]
    fn what_is_unknown_does_not_tell_apart() {
        let known = read_spec("bolt | thread=M8 x 1.25 | length=25 | head=hex flange 10 mm");
        assert!(known.could_be(&read_spec("bolt")));
        assert!(known.could_be(&read_spec("screw | thread=M8 x 1.25 | length=25.6")));
        assert!(known.could_be(&read_spec("bolt | head=hex 10 mm")));
        assert!(!known.could_be(&read_spec("bolt | length=30")));
        assert!(!known.could_be(&read_spec("bolt | head=hex 13 mm")));
        assert!(!known.could_be(&read_spec("nut | thread=M8 x 1.25")));
        assert!(!read_spec("bolt | text=long").same_kind(&read_spec("bolt | text=short")));
    }

    #[test]
    fn a_shim_stands_for_another_only_where_both_are_known_to_be_alike() {
        let stands = |a: &str, b: &str| read_spec(a).stands_for(&read_spec(b));
        assert!(stands("shim | length=2.35", "shim | length=2.35"));
        assert!(stands("shim | text=blue", "shim | text=Blue"));
        assert!(!stands("shim | length=2.35", "shim | length=2.4"));
        assert!(!stands("shim", "shim"));
        // Any washer of a size is as good as the next.
        assert!(stands("washer", "washer"));
        assert_eq!(read_spec("shim | length=2.35").label(), "2.35 mm shim");
    }

    #[test]
    fn damaged_text_says_which_field() {
        assert_eq!(
            "blob".parse::<FastenerSpec>(),
            Err(SpecError::Kind("blob".into()))
        );
        assert_eq!(
            "bolt | colour=red".parse::<FastenerSpec>(),
            Err(SpecError::Field("colour=red".into()))
        );
        assert_eq!(
            "bolt | length=20 | length=20".parse::<FastenerSpec>(),
            Err(SpecError::Field("length=20".into()))
        );
        assert_eq!(
            "bolt | thread=W8".parse::<FastenerSpec>(),
            Err(SpecError::Value {
                field: "thread",
                value: "W8".into()
            })
        );
    }
}
