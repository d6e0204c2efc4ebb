//! The reader: a JSON object whose text is borrowed from the line wherever it
//! has no escapes. Each field is taken out as it is read.
use std::borrow::Cow;

use super::parse::parse;
use crate::codec::CodecError;
use crate::journal::{Id, Ref};

/// What a field can hold.
#[derive(Debug)]
pub enum Value<'a> {
    Text(Cow<'a, str>),
    Whole(i64),
    Flag(bool),
    List(Vec<Value<'a>>),
    Map(Map<'a>),
    /// Null, fractions and what is too large: version 1 has none of them.
    Other,
}

/// The fields of an object that were not read yet.
#[derive(Debug, Default)]
pub struct Map<'a>(Vec<(Cow<'a, str>, Value<'a>)>);

type Reading<T> = Result<T, CodecError>;

impl<'a> Map<'a> {
    pub(super) fn of(fields: Vec<(Cow<'a, str>, Value<'a>)>) -> Self {
        Self(fields)
    }

    #[cfg(test)]
    pub(super) fn fields(&self) -> &[(Cow<'a, str>, Value<'a>)] {
        &self.0
    }

    /// Reads one object.
    ///
    /// # Errors
    /// [`CodecError::Damaged`] "json" when the text is anything else.
    pub fn parse(text: &'a str) -> Reading<Self> {
        match parse(text) {
            Some(Value::Map(map)) => Ok(map),
            _ => Err(CodecError::damaged("json")),
        }
    }

    /// Refuses fields that nothing has asked for, a field given twice among
    /// them: they would be lost when the record is written again.
    pub fn end(&self) -> Reading<()> {
        if self.0.is_empty() {
            Ok(())
        } else {
            Err(CodecError::damaged("field"))
        }
    }

    fn take(&mut self, field: &'static str) -> Option<Value<'a>> {
        let at = self.0.iter().position(|(name, _)| name == field)?;
        Some(self.0.remove(at).1)
    }

    /// Text; none is empty.
    pub fn words(&mut self, field: &'static str) -> Reading<Cow<'a, str>> {
        match self.take(field) {
            None => Ok(Cow::Borrowed("")),
            Some(Value::Text(text)) => Ok(text),
            Some(_) => Err(CodecError::damaged(field)),
        }
    }

    pub fn text(&mut self, field: &'static str) -> Reading<String> {
        self.words(field).map(Cow::into_owned)
    }

    /// Text that may be there and empty, or not be there.
    pub fn maybe_text(&mut self, field: &'static str) -> Reading<Option<String>> {
        match self.take(field) {
            None => Ok(None),
            Some(Value::Text(text)) => Ok(Some(text.into_owned())),
            Some(_) => Err(CodecError::damaged(field)),
        }
    }

    /// A value that is stored as a word or a short text of its own.
    pub fn read<T>(&mut self, field: &'static str, read: fn(&str) -> Option<T>) -> Reading<T> {
        read(&self.words(field)?).ok_or(CodecError::damaged(field))
    }

    /// Such a value, or none.
    pub fn maybe<T>(
        &mut self,
        field: &'static str,
        read: fn(&str) -> Option<T>,
    ) -> Reading<Option<T>> {
        let words = self.words(field)?;
        if words.is_empty() {
            return Ok(None);
        }
        read(&words).map(Some).ok_or(CodecError::damaged(field))
    }

    pub fn id<I: Id>(&mut self, field: &'static str) -> Reading<I> {
        self.reference(field).map(I::from_ref)
    }

    fn reference(&mut self, field: &'static str) -> Reading<Ref> {
        self.read(field, super::super::v1::reference)
    }

    pub fn maybe_id<I: Id>(&mut self, field: &'static str) -> Reading<Option<I>> {
        let found = self.maybe(field, super::super::v1::reference)?;
        Ok(found.map(I::from_ref))
    }

    /// A whole number; none is nought.
    pub fn whole(&mut self, field: &'static str) -> Reading<i64> {
        match self.take(field) {
            None => Ok(0),
            Some(Value::Whole(n)) => Ok(n),
            Some(_) => Err(CodecError::damaged(field)),
        }
    }

    pub fn count(&mut self, field: &'static str) -> Reading<u32> {
        u32::try_from(self.whole(field)?).map_err(|_| CodecError::damaged(field))
    }

    pub fn small(&mut self, field: &'static str) -> Reading<u16> {
        u16::try_from(self.whole(field)?).map_err(|_| CodecError::damaged(field))
    }

    pub fn tiny(&mut self, field: &'static str) -> Reading<u8> {
        u8::try_from(self.whole(field)?).map_err(|_| CodecError::damaged(field))
    }

    /// A count that may be there and nought, or not be there.
    pub fn maybe_count(&mut self, field: &'static str) -> Reading<Option<u32>> {
        if self.0.iter().any(|(name, _)| name == field) {
            return self.count(field).map(Some);
        }
        Ok(None)
    }

    /// Yes or no; none is no.
    pub fn flag(&mut self, field: &'static str) -> Reading<bool> {
        match self.take(field) {
            None => Ok(false),
            Some(Value::Flag(flag)) => Ok(flag),
            Some(_) => Err(CodecError::damaged(field)),
        }
    }

    fn list(&mut self, field: &'static str) -> Reading<Vec<Value<'a>>> {
        match self.take(field) {
            None => Ok(Vec::new()),
            Some(Value::List(list)) => Ok(list),
            Some(_) => Err(CodecError::damaged(field)),
        }
    }

    /// A list of values that are stored as text.
    pub fn each<T>(&mut self, field: &'static str, read: fn(&str) -> Option<T>) -> Reading<Vec<T>> {
        let one = |value: &Value| match value {
            Value::Text(text) => read(text),
            _ => None,
        };
        let read: Option<Vec<T>> = self.list(field)?.iter().map(one).collect();
        read.ok_or(CodecError::damaged(field))
    }

    pub fn smalls(&mut self, field: &'static str) -> Reading<Vec<u16>> {
        let one = |value: &Value| match value {
            Value::Whole(n) => u16::try_from(*n).ok(),
            _ => None,
        };
        let read: Option<Vec<u16>> = self.list(field)?.iter().map(one).collect();
        read.ok_or(CodecError::damaged(field))
    }

    /// A record within this one, or none. All of its fields must be read.
    pub fn within<T>(
        &mut self,
        field: &'static str,
        read: fn(&mut Map) -> Reading<T>,
    ) -> Reading<Option<T>> {
        match self.take(field) {
            None => Ok(None),
            Some(Value::Map(mut map)) => {
                let value = read(&mut map)?;
                map.end()?;
                Ok(Some(value))
            }
            Some(_) => Err(CodecError::damaged(field)),
        }
    }

    /// A list of records.
    pub fn records<T>(
        &mut self,
        field: &'static str,
        read: fn(&mut Map) -> Reading<T>,
    ) -> Reading<Vec<T>> {
        let mut records = Vec::new();
        for value in self.list(field)? {
            let Value::Map(mut map) = value else {
                return Err(CodecError::damaged(field));
            };
            records.push(read(&mut map)?);
            map.end()?;
        }
        Ok(records)
    }
}
