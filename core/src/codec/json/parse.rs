//! Takes a JSON text apart. Text is borrowed wherever it holds no escapes.
use std::borrow::Cow;

use super::map::{Map, Value};

/// The deepest nesting that is read; stored records need three.
const MAX_DEPTH: usize = 32;

/// Reads the whole text as one value; `None` when it is not JSON.
pub fn parse(text: &str) -> Option<Value<'_>> {
    let mut reader = Reader { text, at: 0 };
    let value = reader.value(MAX_DEPTH)?;
    reader.space();
    (reader.at == text.len()).then_some(value)
}

struct Reader<'a> {
    text: &'a str,
    /// Always at the start of a character.
    at: usize,
}

impl<'a> Reader<'a> {
    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn space(&mut self) {
        while let Some(b' ' | b'\n' | b'\r' | b'\t') = self.peek() {
            self.at += 1;
        }
    }

    /// Steps over `byte`, which must be ASCII, if it is next.
    fn eat(&mut self, byte: u8) -> bool {
        let there = self.peek() == Some(byte);
        self.at += usize::from(there);
        there
    }

    fn word(&mut self, word: &str, value: Value<'a>) -> Option<Value<'a>> {
        self.text.get(self.at..)?.strip_prefix(word)?;
        self.at += word.len();
        Some(value)
    }

    fn value(&mut self, depth: usize) -> Option<Value<'a>> {
        let depth = depth.checked_sub(1)?;
        self.space();
        match self.peek()? {
            b'"' => self.string().map(Value::Text),
            b'{' => self.map(depth),
            b'[' => self.list(depth),
            b't' => self.word("true", Value::Flag(true)),
            b'f' => self.word("false", Value::Flag(false)),
            b'n' => self.word("null", Value::Other),
            _ => self.number(),
        }
    }

    fn map(&mut self, depth: usize) -> Option<Value<'a>> {
        self.at += 1;
        let mut fields = Vec::with_capacity(12);
        self.space();
        if !self.eat(b'}') {
            loop {
                self.space();
                let name = self.string()?;
                self.space();
                if !self.eat(b':') {
                    return None;
                }
                fields.push((name, self.value(depth)?));
                self.space();
                if self.eat(b'}') {
                    break;
                }
                if !self.eat(b',') {
                    return None;
                }
            }
        }
        Some(Value::Map(Map::of(fields)))
    }

    fn list(&mut self, depth: usize) -> Option<Value<'a>> {
        self.at += 1;
        let mut list = Vec::new();
        self.space();
        if !self.eat(b']') {
            loop {
                list.push(self.value(depth)?);
                self.space();
                if self.eat(b']') {
                    break;
                }
                if !self.eat(b',') {
                    return None;
                }
            }
        }
        Some(Value::List(list))
    }

    fn digits(&mut self) -> Option<&'a str> {
        let from = self.at;
        while self.peek().is_some_and(|byte| byte.is_ascii_digit()) {
            self.at += 1;
        }
        self.text.get(from..self.at).filter(|it| !it.is_empty())
    }

    /// A number; one that is no whole number, or too large, is `Other`.
    fn number(&mut self) -> Option<Value<'a>> {
        let from = self.at;
        self.eat(b'-');
        let whole = self.digits()?;
        if whole.len() > 1 && whole.starts_with('0') {
            return None;
        }
        let read = self.text.get(from..self.at)?;
        // Minus nought is a fraction's way to write nought.
        let mut value = match read.parse() {
            Ok(n) if read != "-0" => Value::Whole(n),
            _ => Value::Other,
        };
        if self.eat(b'.') {
            self.digits()?;
            value = Value::Other;
        }
        if self.eat(b'e') || self.eat(b'E') {
            let _ = self.eat(b'+') || self.eat(b'-');
            self.digits()?;
            value = Value::Other;
        }
        Some(value)
    }

    fn string(&mut self) -> Option<Cow<'a, str>> {
        if !self.eat(b'"') {
            return None;
        }
        let mut out = Cow::Borrowed("");
        loop {
            let from = self.at;
            while self.peek()? >= b' ' && !matches!(self.peek(), Some(b'"' | b'\\')) {
                self.at += 1;
            }
            let plain = self.text.get(from..self.at)?;
            if out.is_empty() {
                out = Cow::Borrowed(plain);
            } else {
                out.to_mut().push_str(plain);
            }
            if self.eat(b'"') {
                return Some(out);
            }
            // What is left is an escape, or a control character, which is refused.
            if !self.eat(b'\\') {
                return None;
            }
            let escaped = self.escape()?;
            out.to_mut().push(escaped);
        }
    }

    fn escape(&mut self) -> Option<char> {
        let kind = self.peek()?;
        self.at += 1;
        Some(match kind {
            b'"' | b'\\' | b'/' => char::from(kind),
            b'b' => '\u{8}',
            b'f' => '\u{c}',
            b'n' => '\n',
            b'r' => '\r',
            b't' => '\t',
            b'u' => {
                let first = self.hex()?;
                if (0xD800..0xDC00).contains(&first) {
                    if !(self.eat(b'\\') && self.eat(b'u')) {
                        return None;
                    }
                    let low = self.hex()?.checked_sub(0xDC00).filter(|low| *low < 0x400)?;
                    char::from_u32(0x1_0000 + ((first - 0xD800) << 10) + low)?
                } else {
                    char::from_u32(first)?
                }
            }
            _ => return None,
        })
    }

    fn hex(&mut self) -> Option<u32> {
        let mut value = 0;
        for _ in 0..4 {
            value = value * 16 + char::from(self.peek()?).to_digit(16)?;
            self.at += 1;
        }
        Some(value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Whether a value is what serde_json, another's reader, made of the text.
    fn same(ours: &Value, theirs: &serde_json::Value) -> bool {
        use serde_json::Value as Theirs;
        match (ours, theirs) {
            (Value::Text(a), Theirs::String(b)) => a == b,
            (Value::Flag(a), Theirs::Bool(b)) => a == b,
            (Value::Whole(a), Theirs::Number(b)) => b.as_i64() == Some(*a),
            (Value::Other, Theirs::Null) => true,
            (Value::Other, Theirs::Number(b)) => b.as_i64().is_none(),
            (Value::List(a), Theirs::Array(b)) => {
                a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same(a, b))
            }
            (Value::Map(a), Theirs::Object(b)) => {
                // A field given twice is kept twice by us and once by them.
                a.fields().iter().all(|(name, value)| {
                    let last = a.fields().iter().rev().find(|(other, _)| other == name);
                    b.get(&**name)
                        .is_some_and(|b| same(last.map_or(value, |it| &it.1), b))
                })
            }
            _ => false,
        }
    }

    fn agrees(text: &str) -> Result<(), TestCaseError> {
        match (parse(text), serde_json::from_str::<serde_json::Value>(text)) {
            (Some(ours), Ok(theirs)) => prop_assert!(same(&ours, &theirs), "{text}"),
            (None, Err(_)) => {}
            // A number beyond f64 is a refusal there and `Other` here.
            (Some(_), Err(fault)) => prop_assert!(
                fault.to_string().contains("number out of range"),
                "read, but is no JSON: {text}"
            ),
            (None, Ok(_)) => prop_assert!(false, "not read: {text}"),
        }
        Ok(())
    }

    proptest! {
        /// Source: serde_json on the same text.
        #[test]
        fn reads_what_serde_json_reads(text in r#"[\[\]{}",:0-9eE.+\- a-cntrulfs\\/\x01é𝄞dD8]{0,24}"#) {
            agrees(&text)?;
            agrees(&format!("\"{text}\""))?;
            agrees(&format!("{{\"a\":[{text}]}}"))?;
        }

        #[test]
        fn reads_any_text_that_is_quoted(text in any::<String>()) {
            let quoted = serde_json::to_string(&text).unwrap_or_default();
            let read = match parse(&quoted) {
                Some(Value::Text(read)) => read.into_owned(),
                other => return Err(TestCaseError::fail(format!("{other:?}"))),
            };
            prop_assert_eq!(read, text);
        }
    }

    #[test]
    fn the_corners() -> Result<(), TestCaseError> {
        for text in [
            "",
            " ",
            "nul",
            "01",
            "-",
            "-0",
            "-1",
            "1.",
            "1.5",
            "1e",
            "1e5",
            "1E+2",
            "9223372036854775807",
            "9223372036854775808",
            r#""\u00e9""#,
            r#""\ud834\udd1e""#,
            r#""\ud834""#,
            r#""\udd1e""#,
            r#""\ud834\u0041""#,
            r#""\u12g4""#,
            r#""a\"#,
            "[1,]",
            "{\"a\":1,}",
            "[1 2]",
            "{\"a\" : [ ] , \"b\":{}}",
            "\u{feff}1",
            "1 1",
        ] {
            agrees(text)?;
        }
        prop_assert!(parse(&"[".repeat(100_000)).is_none());
        Ok(())
    }
}
