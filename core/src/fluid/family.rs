//! Which fluid a name speaks of, by trade words; common practice, no source.

/// A set of kinds of fluid.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Families(u8);

impl Families {
    /// Both say something, and not the same: a brake pipe and coolant.
    pub const fn is_other(self, than: Self) -> bool {
        self.0 != 0 && than.0 != 0 && self.0 & than.0 == 0
    }

    /// Air, vacuum or exhaust, and nothing else.
    pub const fn is_air(self) -> bool {
        self.0 == AIR
    }
}

const COOLANT: u8 = 1;
const OIL: u8 = 2;
const BRAKE: u8 = 4;
const FUEL: u8 = 8;
const HYDRAULIC: u8 = 16;
const REFRIGERANT: u8 = 32;
const WASHER: u8 = 64;
const AIR: u8 = 128;

const WORDS: [(&str, u8); 27] = [
    ("coolant", COOLANT),
    ("radiator", COOLANT),
    ("heater", COOLANT),
    ("thermostat", COOLANT),
    ("expansion", COOLANT),
    ("water", COOLANT),
    ("antifreeze", COOLANT),
    ("oil", OIL),
    ("gearbox", OIL),
    ("transmission", OIL | HYDRAULIC),
    ("brake", BRAKE | HYDRAULIC),
    ("caliper", BRAKE | HYDRAULIC),
    ("calliper", BRAKE | HYDRAULIC),
    ("clutch", BRAKE | HYDRAULIC),
    ("hydraulic", HYDRAULIC | OIL),
    ("steering", HYDRAULIC | OIL),
    ("fuel", FUEL),
    ("petrol", FUEL),
    ("gasoline", FUEL),
    ("diesel", FUEL),
    ("refrigerant", REFRIGERANT),
    ("washer", WASHER),
    ("screenwash", WASHER),
    ("vacuum", AIR),
    ("breather", AIR | OIL),
    ("exhaust", AIR),
    ("boost", AIR),
];

/// All that the words of a name speak of.
pub fn families(name: &str) -> Families {
    let name = name.to_ascii_lowercase();
    let words = name.split(|c: char| !c.is_alphanumeric());
    let of = |word: &str| WORDS.iter().find(|(w, _)| *w == word).map_or(0, |it| it.1);
    Families(words.fold(0, |all, word| all | of(word)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_tells_only_what_is_clear() {
        let other = |a: &str, b: &str| families(a).is_other(families(b));
        assert!(other("brake pipe, front left", "coolant"));
        assert!(other("fuel return", "engine oil"));
        assert!(other("vacuum hose", "coolant"));
        // Nothing is said, or it may well be: it is asked for.
        assert!(!other("bottom hose", "coolant"));
        assert!(!other("oil cooler to radiator", "coolant"));
        assert!(!other("steering pipe", "gear oil"));
        assert!(!other("clutch pipe", "brake fluid"));
        assert!(!other("fuel pipe", "what was in it"));
    }
}
