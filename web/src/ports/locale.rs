//! How this person's language writes numbers. Measures are always read in either way of writing;
//! this only decides how they are shown.

use js_sys::{Array, Intl::NumberFormat, Object};

use super::{js, marker::Shelf};

/// The marks that a language puts into a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NumberStyle {
    pub decimal: char,
    /// Between thousands; `None` where the language uses none.
    pub group: Option<char>,
}

impl Default for NumberStyle {
    fn default() -> Self {
        NumberStyle {
            decimal: '.',
            group: None,
        }
    }
}

impl NumberStyle {
    /// The style of the browser's language.
    pub fn of_browser() -> Self {
        Self::of_languages(&Array::new())
    }

    /// The style of a language by its tag, such as `de-DE`.
    pub fn of_language(tag: &str) -> Self {
        Self::of_languages(&Array::of1(&tag.into()))
    }

    fn of_languages(tags: &Array) -> Self {
        let parts = NumberFormat::new(tags, &Object::new()).format_to_parts(1_234_567.5);
        let part = |kind: &str| {
            let mut all = parts.iter();
            let found = all.find(|part| js::text(part, "type").as_deref() == Some(kind))?;
            js::text(&found, "value")?.chars().next()
        };
        NumberStyle {
            decimal: part("decimal").unwrap_or('.'),
            group: part("group"),
        }
    }

    /// `value` with exactly `places` decimals.
    pub fn write(self, value: f64, places: usize) -> String {
        let plain = format!("{value:.places$}");
        let (whole, rest) = plain.split_once('.').unwrap_or((&plain, ""));
        let digits = whole.trim_start_matches('-');
        let mut text = String::from(if whole.starts_with('-') { "-" } else { "" });
        for (at, digit) in digits.chars().enumerate() {
            // Four digits are read at a glance without a mark.
            let due = at > 0 && digits.len() > 4 && (digits.len() - at).is_multiple_of(3);
            if let Some(group) = self.group.filter(|_| due) {
                text.push(group);
            }
            text.push(digit);
        }
        if !rest.is_empty() {
            text.push(self.decimal);
            text.push_str(rest);
        }
        text
    }

    /// Reads a measure typed by hand, with point or comma before the decimals. Marks between
    /// thousands are refused, because "1.234" would then be two numbers.
    pub fn read(text: &str) -> Option<f64> {
        let text = text.trim().replace(',', ".").replace('\u{2212}', "-");
        let plain = |c: char| c.is_ascii_digit() || c == '.' || c == '-';
        if text.is_empty() || !text.chars().all(plain) {
            return None;
        }
        text.parse().ok()
    }
}

/// The decimal mark of the browser's language. It is kept on the shelf beside the language's name,
/// because a page's first question about numbers takes the browser longer than all else at a start.
pub fn decimal(shelf: &dyn Shelf) -> char {
    const KEPT: &str = "countback.decimal";
    let language = languages().into_iter().next().unwrap_or_default();
    let kept = shelf.get(KEPT);
    let known = kept.as_deref().and_then(|kept| {
        let (mark, of) = kept.split_once(' ')?;
        mark.chars().next().filter(|_| of == language)
    });
    known.unwrap_or_else(|| {
        let mark = NumberStyle::of_browser().decimal;
        shelf.set(KEPT, &format!("{mark} {language}"));
        mark
    })
}

/// The languages that the person reads, first choice first.
pub fn languages() -> Vec<String> {
    let list = js::window()
        .map(|window| window.navigator().languages())
        .unwrap_or_default();
    list.iter().filter_map(|tag| tag.as_string()).collect()
}

#[cfg(test)]
mod tests {
    use super::NumberStyle;

    #[test]
    fn writes_the_marks_of_the_style() {
        let german = NumberStyle {
            decimal: ',',
            group: Some('.'),
        };
        assert_eq!(german.write(23.5, 1), "23,5");
        assert_eq!(german.write(123_456.0, 0), "123.456");
        assert_eq!(german.write(1234.0, 0), "1234");
        assert_eq!(german.write(-1_234_567.25, 2), "-1.234.567,25");
        assert_eq!(NumberStyle::default().write(12345.0, 0), "12345");
    }

    #[test]
    fn reads_point_and_comma_and_refuses_what_is_two_numbers() {
        assert_eq!(NumberStyle::read("23,5"), Some(23.5));
        assert_eq!(NumberStyle::read(" 23.5 "), Some(23.5));
        for text in ["", "1.234,5", "1 234", "12e3", "inf", "NaN", "ten"] {
            assert_eq!(NumberStyle::read(text), None, "{text}");
        }
    }
}
