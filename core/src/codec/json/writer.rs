//! The writer: fields in the order in which they are given. Whatever is empty,
//! nought or false is left out, as the reader takes it for that.
use std::fmt::{Display, Write};

use crate::journal::Id;

/// An object being written.
pub struct Writer(String);

impl Writer {
    /// Writes an object from its fields.
    pub fn object(fields: impl FnOnce(&mut Self)) -> String {
        // A usual line takes 150 to 300 bytes.
        let mut writer = Self(String::with_capacity(256));
        writer.nest(fields);
        writer.0
    }

    fn nest(&mut self, fields: impl FnOnce(&mut Self)) {
        self.0.push('{');
        fields(self);
        self.0.push('}');
    }

    fn comma(&mut self) {
        if !self.0.ends_with(['{', '[']) {
            self.0.push(',');
        }
    }

    fn field(&mut self, field: &'static str) {
        self.comma();
        self.0.push('"');
        self.0.push_str(field);
        self.0.push_str("\":");
    }

    fn quoted(&mut self, text: &str) {
        self.0.push('"');
        let mut plain = 0;
        for (at, byte) in text.bytes().enumerate() {
            if byte >= b' ' && byte != b'"' && byte != b'\\' {
                continue;
            }
            self.0.push_str(text.get(plain..at).unwrap_or_default());
            plain = at + 1;
            match byte {
                b'\n' => self.0.push_str("\\n"),
                b'"' | b'\\' => {
                    self.0.push('\\');
                    self.0.push(char::from(byte));
                }
                _ => self.shown(&format_args!("\\u{byte:04x}")),
            }
        }
        self.0.push_str(text.get(plain..).unwrap_or_default());
        self.0.push('"');
    }

    fn shown(&mut self, it: &dyn Display) {
        // A string takes whatever is written to it.
        let _ = write!(self.0, "{it}");
    }

    /// Text, there even when empty.
    pub fn put(&mut self, field: &'static str, text: &str) {
        self.field(field);
        self.quoted(text);
    }

    pub fn text(&mut self, field: &'static str, text: &str) {
        if !text.is_empty() {
            self.put(field, text);
        }
    }

    pub fn maybe_text(&mut self, field: &'static str, text: Option<&String>) {
        if let Some(text) = text {
            self.put(field, text);
        }
    }

    /// A thing whose printed text needs no escapes.
    pub fn show(&mut self, field: &'static str, it: &dyn Display) {
        self.field(field);
        self.0.push('"');
        self.shown(it);
        self.0.push('"');
    }

    pub fn id<I: Id>(&mut self, field: &'static str, id: I) {
        self.show(field, &id.as_ref());
    }

    pub fn maybe_id<I: Id>(&mut self, field: &'static str, id: Option<I>) {
        if let Some(id) = id {
            self.id(field, id);
        }
    }

    /// A number, there even when nought.
    pub fn number(&mut self, field: &'static str, n: i64) {
        self.field(field);
        self.shown(&n);
    }

    pub fn count(&mut self, field: &'static str, n: u32) {
        if n != 0 {
            self.number(field, i64::from(n));
        }
    }

    pub fn flag(&mut self, field: &'static str, flag: bool) {
        if flag {
            self.field(field);
            self.0.push_str("true");
        }
    }

    /// A list of values that are stored as text.
    pub fn each<T>(&mut self, field: &'static str, list: &[T], text: fn(&T) -> String) {
        self.list(field, list, |w, it| w.quoted(&text(it)));
    }

    pub fn smalls(&mut self, field: &'static str, list: &[u16]) {
        self.list(field, list, |w, n| w.shown(n));
    }

    /// A record within this one.
    pub fn within(&mut self, field: &'static str, fields: impl FnOnce(&mut Self)) {
        self.field(field);
        self.nest(fields);
    }

    /// A list of records.
    pub fn records<T>(&mut self, field: &'static str, list: &[T], fields: fn(&mut Self, &T)) {
        self.list(field, list, |w, it| w.nest(|w| fields(w, it)));
    }

    fn list<T>(&mut self, field: &'static str, list: &[T], one: impl Fn(&mut Self, &T)) {
        if list.is_empty() {
            return;
        }
        self.field(field);
        self.0.push('[');
        for it in list {
            self.comma();
            one(self, it);
        }
        self.0.push(']');
    }
}
