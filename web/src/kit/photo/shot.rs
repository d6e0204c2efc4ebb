//! How a photo stands that is to be shown: being read, not on this phone,
//! not readable, or there.

use yew::html::IntoPropValue;
use yew::prelude::*;

/// A photo that is to be shown.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Shot {
    /// It is being read.
    #[default]
    Loading,
    /// The record names it, and it is not on this phone.
    Missing,
    /// It is here and cannot be shown; why.
    Unreadable(AttrValue),
    /// Its address.
    There(AttrValue),
}

impl Shot {
    /// The address, where it is there.
    pub fn src(self) -> Option<AttrValue> {
        match self {
            Shot::There(src) => Some(src),
            _ => None,
        }
    }

    /// What is said in the place of the picture.
    pub fn said(&self) -> AttrValue {
        match self {
            Shot::There(_) => AttrValue::default(),
            Shot::Loading => "The photo is being read.".into(),
            Shot::Missing => "This photo is not on this phone. It may be on the one that took it, or in a saved copy of the job.".into(),
            Shot::Unreadable(why) => why.clone(),
        }
    }

    /// The same in a word, for a small picture.
    pub fn word(&self) -> Option<&'static str> {
        match self {
            Shot::There(_) | Shot::Loading => None,
            Shot::Missing => Some("not here"),
            Shot::Unreadable(_) => Some("damaged"),
        }
    }
}

/// An address, or one that is waited for.
impl IntoPropValue<Shot> for Option<AttrValue> {
    fn into_prop_value(self) -> Shot {
        self.map_or(Shot::Loading, Shot::There)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn being_read_not_here_and_damaged_are_told_apart() {
        let damaged = Shot::Unreadable("A photo is damaged.".into());
        let shots = [Shot::Loading, Shot::Missing, damaged.clone()];
        let said: Vec<AttrValue> = shots.iter().map(Shot::said).collect();
        for (n, text) in said.iter().enumerate() {
            assert!(!text.is_empty());
            assert_eq!(said.iter().position(|it| it == text), Some(n));
        }
        let words = shots.map(|it| it.word());
        assert_eq!(words, [None, Some("not here"), Some("damaged")]);
        assert_eq!(damaged.src(), None);
    }
}
