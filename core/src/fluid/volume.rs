//! A volume read from what was written down, and how two of them compare.

/// What a volume was written down in. Quarts, pints and gallons are those of
/// the United States.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum VolumeUnit {
    Litre,
    Millilitre,
    Quart,
    Pint,
    Gallon,
}

impl VolumeUnit {
    /// Millilitres in one. Source: NIST SP 811, appendix B.8 (liquid quart
    /// 0.946 352 9 L, pint 0.473 176 5 L, gallon 3.785 412 L), from memory.
    fn millilitres(self) -> f64 {
        match self {
            Self::Litre => 1_000.0,
            Self::Millilitre => 1.0,
            Self::Quart => 946.352_9,
            Self::Pint => 473.176_5,
            Self::Gallon => 3_785.412,
        }
    }

    fn of(word: &str) -> Option<Self> {
        Some(match word.trim_end_matches('.') {
            "l" | "litre" | "litres" | "liter" | "liters" => Self::Litre,
            "ml" | "cc" => Self::Millilitre,
            "qt" | "qts" | "quart" | "quarts" => Self::Quart,
            "pt" | "pts" | "pint" | "pints" => Self::Pint,
            "gal" | "gals" | "gallon" | "gallons" => Self::Gallon,
            _ => return None,
        })
    }

    /// As it is written behind a number.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Litre => "l",
            Self::Millilitre => "ml",
            Self::Quart => "qt",
            Self::Pint => "pt",
            Self::Gallon => "gal",
        }
    }
}

/// A volume and the unit it was given in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Volume {
    pub ml: u32,
    pub unit: VolumeUnit,
}

impl Volume {
    /// The number in its own unit, to a tenth of it; whole millilitres.
    pub fn text(self, decimal: char) -> String {
        if self.unit == VolumeUnit::Millilitre {
            return format!("{} ml", self.ml);
        }
        let tenths = (f64::from(self.ml) * 10.0 / self.unit.millilitres()).round() as u32;
        match tenths % 10 {
            0 => format!("{} {}", tenths / 10, self.unit.symbol()),
            rest => format!("{}{decimal}{rest} {}", tenths / 10, self.unit.symbol()),
        }
    }
}

/// The one volume in a text such as "about 4,5 l" or "900ml". None where there
/// is none, or more than one number, so that nothing is guessed.
pub fn read(text: &str) -> Option<Volume> {
    let text = text.trim().to_lowercase();
    let numeric = |c: char| c.is_ascii_digit() || c == '.' || c == ',';
    let start = text.find(|c: char| c.is_ascii_digit())?;
    let (_, rest) = text.split_at_checked(start)?;
    let end = rest.find(|c: char| !numeric(c)).unwrap_or(rest.len());
    let (number, after) = rest.split_at_checked(end)?;
    if after.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let unit = VolumeUnit::of(after.split_whitespace().next()?)?;
    let number: f64 = number.replace(',', ".").parse().ok()?;
    let ml = (number * unit.millilitres()).round();
    (0.0..=10_000_000.0).contains(&ml).then_some(Volume {
        ml: ml as u32,
        unit,
    })
}

/// How much less went in than came out, in millilitres (below nought: more);
/// none where they are the same for a workshop: within 0.1 l or one part in
/// twenty, whichever is more (common practice, no source).
pub fn differs(out: Volume, put_in: u32) -> Option<i64> {
    let less = i64::from(out.ml) - i64::from(put_in);
    let same = i64::from(out.ml / 20).max(100);
    (less.abs() > same).then_some(less)
}

/// The text of a volume changed by some tenths of its unit: of `unit` where it
/// says none yet. Empty at nought.
pub fn stepped(text: &str, tenths: i32, unit: VolumeUnit, decimal: char) -> String {
    let now = read(text).unwrap_or(Volume { ml: 0, unit });
    let by = f64::from(tenths) / 10.0 * now.unit.millilitres();
    let ml = (f64::from(now.ml) + by).round().max(0.0) as u32;
    match ml {
        0 => String::new(),
        ml => Volume { ml, ..now }.text(decimal),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ml(text: &str) -> Option<u32> {
        read(text).map(|v| v.ml)
    }

    #[test]
    fn volumes_are_read_as_they_are_written() {
        assert_eq!(ml("4,5 l"), Some(4_500));
        assert_eq!(ml("about 4.5 litres"), Some(4_500));
        assert_eq!(ml("900ml"), Some(900));
        assert_eq!(ml("5 qt"), Some(4_732));
        assert_eq!(ml("1 gal."), Some(3_785));
        for unclear in ["", "some", "5", "4 l and 0.5 l", "4 1/2 qt", "3 buckets"] {
            assert_eq!(ml(unclear), None, "{unclear}");
        }
    }

    #[test]
    fn steps_go_up_and_down_and_end_at_nothing() {
        let mut text = String::new();
        for _ in 0..4 {
            text = stepped(&text, 10, VolumeUnit::Quart, ',');
        }
        assert_eq!(text, "4 qt");
        text = stepped(&text, 5, VolumeUnit::Quart, ',');
        assert_eq!(text, "4,5 qt");
        // What was typed keeps its unit.
        assert_eq!(stepped("4 l", 1, VolumeUnit::Quart, '.'), "4.1 l");
        assert_eq!(stepped("0.1 l", -5, VolumeUnit::Litre, '.'), "");
    }

    #[test]
    fn small_differences_are_none() {
        let less = |out: &str, put_in: u32| differs(read(out)?, put_in);
        assert_eq!(less("4.5 l", 4_300), None);
        assert_eq!(less("4.5 l", 4_200), Some(300));
        assert_eq!(less("0.8 l", 700), None);
        assert_eq!(less("0.8 l", 1_000), Some(-200));
    }
}
