//! A guess at the kind of thing from the words of its name, in both dialects.
//! It errs towards showing a caution too many; it never hides one that was
//! given by hand. Which words go with which kind is common practice, no source.

use std::sync::OnceLock;

use super::trade_words::WORDS;
use crate::find::tokens::tokens;
use crate::journal::Hazard;

/// A name as words, for looking up trade words in it.
pub(crate) struct Said(Vec<String>);

impl Said {
    pub fn of(name: &str) -> Self {
        Self(tokens(name))
    }
    /// Whether the words of `phrase` stand in it, next to each other.
    pub fn has(&self, phrase: &str) -> bool {
        self.at(&tokens(phrase)).is_some()
    }
    pub fn has_any(&self, phrases: &[&str]) -> bool {
        phrases.iter().any(|it| self.has(it))
    }
    fn without_words(mut self, phrases: &[Vec<String>]) -> Self {
        for words in phrases {
            while let Some(at) = self.at(words) {
                self.0.splice(at..at + words.len(), ["-".to_owned()]);
            }
        }
        self
    }
    fn at(&self, words: &[String]) -> Option<usize> {
        if words.is_empty() {
            return None;
        }
        self.0.windows(words.len()).position(|it| it == words)
    }
}

/// Phrases cut into words: those that tell of something, and those that only
/// look like them. Cut once for all names.
pub(crate) struct Phrases {
    yes: Vec<Vec<String>>,
    no: Vec<Vec<String>>,
}

impl Phrases {
    pub fn cut(yes: &[&str], no: &[&str]) -> Self {
        let cut = |list: &[&str]| list.iter().map(|it| tokens(it)).collect();
        Self {
            yes: cut(yes),
            no: cut(no),
        }
    }
    /// Whether a name of these words tells of it.
    pub fn in_words(&self, said: &[String]) -> bool {
        let left = Said(said.to_vec()).without_words(&self.no);
        self.yes.iter().any(|words| left.at(words).is_some())
    }
}

fn known() -> &'static [(Hazard, Phrases)] {
    static KNOWN: OnceLock<Vec<(Hazard, Phrases)>> = OnceLock::new();
    KNOWN.get_or_init(|| {
        let words = WORDS.iter();
        words
            .map(|it| (it.hazard, Phrases::cut(it.yes, it.no)))
            .collect()
    })
}

/// The hazards that a thing of this name may bring, by trade words of both
/// dialects.
///
/// ```
/// use countback_core::caution::for_part_name;
/// use countback_core::journal::Hazard;
/// assert_eq!(for_part_name("fuel rail"), vec![Hazard::Fuel]);
/// ```
pub fn for_part_name(name: &str) -> Vec<Hazard> {
    let said = tokens(name);
    let mut hazards: Vec<Hazard> = known()
        .iter()
        .filter(|(_, phrases)| phrases.in_words(&said))
        .map(|(hazard, _)| *hazard)
        .collect();
    // An engine by itself is lifted; an engine cover is not.
    if said == ["engine"] {
        hazards.push(Hazard::Lifting);
    }
    hazards
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_both_dialects_bring_their_caution() {
        for (name, hazard) in [
            ("fuel rail", Hazard::Fuel),
            ("Carburetor", Hazard::Fuel),
            ("carburettors", Hazard::Fuel),
            ("gas tank", Hazard::Fuel),
            ("thermostat housing", Hazard::HotCoolant),
            ("radiator", Hazard::HotCoolant),
            ("ground strap", Hazard::Battery),
            ("earth strap", Hazard::Battery),
            ("steering wheel", Hazard::Airbag),
            ("front strut, left", Hazard::Spring),
            ("brake caliper", Hazard::BrakesSteering),
            ("tie rod end", Hazard::BrakesSteering),
            ("track rod end", Hazard::BrakesSteering),
            ("A/C compressor", Hazard::Refrigerant),
            ("orange cable to inverter", Hazard::HighVoltage),
            ("hydraulic pump", Hazard::Hydraulic),
            ("muffler", Hazard::HotExhaust),
            ("silencer", Hazard::HotExhaust),
            ("fan belt", Hazard::Belts),
            ("raw-water pump", Hazard::Boat),
            ("clutch plate", Hazard::Dust),
            ("transmission", Hazard::Lifting),
            ("engine", Hazard::Lifting),
            ("oil pan", Hazard::Raised),
            ("sump", Hazard::Raised),
            ("brake cleaner", Hazard::Chemical),
        ] {
            assert!(for_part_name(name).contains(&hazard), "{name}");
        }
    }

    #[test]
    fn what_only_sounds_alike_brings_none() {
        for (name, hazard) in [
            ("flywheel cover", Hazard::BrakesSteering),
            ("spring clip", Hazard::Spring),
            ("seat belt", Hazard::Belts),
            ("expansion tank", Hazard::HotExhaust),
            ("header tank", Hazard::HotExhaust),
            ("engine cover", Hazard::Lifting),
            ("air cleaner", Hazard::Chemical),
            ("steering wheel", Hazard::Raised),
            ("steamer", Hazard::Hydraulic),
        ] {
            assert!(!for_part_name(name).contains(&hazard), "{name}");
        }
        for name in ["glove box", "bracket", "timing cover", ""] {
            assert_eq!(for_part_name(name), vec![], "{name}");
        }
    }
}
