//! What is logged by itself, being made: one of each kind, kept letter by letter
//! beside the entry, so that it is there again when the page was killed.
use countback_core::codec::CodecError;
use countback_core::codec::json::{Map, Writer};

use super::draft::HERE;

/// Kinds of it, in the order of their chips.
pub const PUT_IN: usize = 0;
pub const FLUID: usize = 1;
pub const SUPPLY: usize = 2;
pub const FINDING: usize = 3;
pub const NOTE: usize = 4;
const KINDS: usize = 5;

/// One of them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Alone {
    pub name: String,
    /// Where it is; of a fluid, how much came out.
    pub place: String,
    pub kind: u8,
    pub n: u32,
    /// Has to be bled afterwards.
    pub bleed: bool,
    /// What a finding or a note is about: a part, [`HERE`], or the whole job
    /// when empty. `None` until it was chosen.
    pub on: Option<String>,
    /// The part that hides it once that is back.
    pub hides: String,
}

/// All of them, and the one that is shown.
#[derive(Clone, Debug, PartialEq)]
pub struct Alones {
    pub what: Option<usize>,
    each: [Alone; KINDS],
}

/// As it is before anything is said.
fn first(at: usize) -> Alone {
    let name = match at {
        PUT_IN => "rag",
        FLUID => "coolant",
        SUPPLY => "battery",
        _ => "",
    };
    Alone {
        name: name.to_owned(),
        n: 1,
        ..Alone::default()
    }
}

impl Default for Alones {
    fn default() -> Self {
        Self {
            what: None,
            each: std::array::from_fn(first),
        }
    }
}

impl Alones {
    /// The one that is shown.
    pub fn now(&self) -> Alone {
        let now = self.what.and_then(|at| self.each.get(at));
        now.cloned().unwrap_or_default()
    }

    /// Changes the one that is shown.
    pub fn change(&mut self, change: impl FnOnce(&mut Alone)) {
        if let Some(it) = self.what.and_then(|at| self.each.get_mut(at)) {
            change(it);
        }
    }

    /// The one that is shown was logged.
    pub fn logged(&mut self) {
        if let Some(at) = self.what.take()
            && let Some(it) = self.each.get_mut(at)
        {
            *it = first(at);
        }
    }

    /// What it is about, while the part of this name is being logged.
    pub fn about(it: &Alone, part: &str) -> String {
        let usual = if part.trim().is_empty() { "" } else { HERE };
        it.on.clone().unwrap_or_else(|| usual.to_owned())
    }

    /// Empty where nothing was said. `part` is the name of the part being logged.
    pub fn to_text(&self, part: &str) -> String {
        let said = self.each.iter().enumerate();
        let said: Vec<Kept> = said
            .filter(|(at, it)| **it != first(*at))
            .map(|(at, it)| Kept {
                at,
                shown: self.what == Some(at),
                of: part.trim().to_owned(),
                it: it.clone(),
            })
            .collect();
        match said.is_empty() {
            true => String::new(),
            false => Writer::object(|w| w.records("said", &said, write)),
        }
    }

    /// What is about another part than this is left out.
    pub fn from_text(text: &str, part: &str) -> Self {
        let read = Map::parse(text).and_then(|mut map| map.records("said", read));
        let mut all = Self::default();
        for kept in read.unwrap_or_default() {
            let here = kept.it.on.as_deref() == Some(HERE);
            if let Some(it) = all.each.get_mut(kept.at)
                && (!here || kept.of == part.trim())
            {
                *it = kept.it;
                all.what = all.what.or(kept.shown.then_some(kept.at));
            }
        }
        all
    }
}

/// One of them as it is kept.
struct Kept {
    at: usize,
    shown: bool,
    /// The part that was being logged.
    of: String,
    it: Alone,
}

fn write(w: &mut Writer, kept: &Kept) {
    let it = &kept.it;
    w.count("at", kept.at as u32);
    w.flag("shown", kept.shown);
    w.text("of", &kept.of);
    w.text("name", &it.name);
    w.text("place", &it.place);
    w.count("kind", it.kind.into());
    w.count("n", it.n);
    w.flag("bleed", it.bleed);
    if matches!(kept.at, FINDING | NOTE) {
        w.put("on", &Alones::about(it, &kept.of));
    }
    w.text("hides", &it.hides);
}

fn read(map: &mut Map) -> Result<Kept, CodecError> {
    Ok(Kept {
        at: map.count("at")? as usize,
        shown: map.flag("shown")?,
        of: map.text("of")?,
        it: Alone {
            name: map.text("name")?,
            place: map.text("place")?,
            kind: map.tiny("kind")?,
            n: map.count("n")?,
            bleed: map.flag("bleed")?,
            on: map.maybe_text("on")?,
            hides: map.text("hides")?,
        },
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn with(what: usize, name: &str) -> Alones {
        let mut all = Alones {
            what: Some(what),
            ..Alones::default()
        };
        all.change(|it| it.name = name.to_owned());
        all
    }

    #[test]
    fn all_that_was_said_is_there_again() {
        let mut all = with(PUT_IN, "10 mm socket");
        all.change(|it| {
            it.place = "intake port 2".to_owned();
            it.kind = 3;
            it.n = 2;
            it.hides = "cover".to_owned();
        });
        all.what = Some(FLUID);
        all.change(|it| {
            it.place = "5 l".to_owned();
            it.bleed = true;
        });
        assert_eq!(Alones::from_text(&all.to_text("pump"), "pump"), all);
        // It is of no part, so it is there beside another too.
        assert_eq!(Alones::from_text(&all.to_text("pump"), "fan"), all);
        all.logged();
        assert_eq!(all.what, None);
        let left = Alones::from_text(&all.to_text("pump"), "pump");
        assert_eq!(left, all);
        assert_eq!(Alones::default().to_text("pump"), "");
    }

    #[test]
    fn what_is_about_a_part_is_about_no_other() {
        let text = with(NOTE, "spring under the cap").to_text("pump");
        let again = Alones::from_text(&text, "pump").now();
        assert_eq!(again.name, "spring under the cap");
        assert_eq!(again.on.as_deref(), Some(HERE));
        assert_eq!(Alones::from_text(&text, "fan"), Alones::default());
        assert_eq!(Alones::from_text(&text, ""), Alones::default());
        // What is about the whole job stays so once a part is begun.
        let text = with(NOTE, "bring longer bolts").to_text("");
        let again = Alones::from_text(&text, "pump").now();
        assert_eq!(again.on.as_deref(), Some(""));
    }
}
