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
    /// Nanolitres in one. Source: NIST SP 811, appendix B.8 (liquid quart
    /// 0.946 352 9 L, pint 0.473 176 5 L, gallon 3.785 412 L), from memory.
    const fn nanolitres(self) -> u64 {
        match self {
            Self::Litre => 1_000_000_000,
            Self::Millilitre => 1_000_000,
            Self::Quart => 946_352_900,
            Self::Pint => 473_176_500,
            Self::Gallon => 3_785_412_000,
        }
    }

    /// Millilitres in so many thousandths of it.
    fn millilitres(self, thousandths: u64) -> Option<u32> {
        let nl = u128::from(thousandths) * u128::from(self.nanolitres()) / 1000;
        u32::try_from((nl + 500_000) / 1_000_000).ok()
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
        let one = self.unit.nanolitres();
        let tenths = (u64::from(self.ml) * 10_000_000 + one / 2) / one;
        match tenths % 10 {
            0 => format!("{} {}", tenths / 10, self.unit.symbol()),
            rest => format!("{}{decimal}{rest} {}", tenths / 10, self.unit.symbol()),
        }
    }
}

/// The one volume in a text such as "about 4,5 l" or "900ml". None where there
/// is none, or more than one number, so that nothing is guessed.
pub fn read(text: &str) -> Option<Volume> {
    let text = text.trim().to_ascii_lowercase();
    let numeric = |c: char| c.is_ascii_digit() || c == '.' || c == ',';
    let start = text.find(|c: char| c.is_ascii_digit())?;
    let (_, rest) = text.split_at_checked(start)?;
    let end = rest.find(|c: char| !numeric(c)).unwrap_or(rest.len());
    let (number, after) = rest.split_at_checked(end)?;
    if after.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let unit = VolumeUnit::of(after.split_whitespace().next()?)?;
    let ml = unit.millilitres(thousandths(number)?)?;
    (ml <= 10_000_000).then_some(Volume { ml, unit })
}

/// A number with a point or a comma, in thousandths; digits past the third are
/// left out.
fn thousandths(number: &str) -> Option<u64> {
    let (whole, part) = number.split_once(['.', ',']).unwrap_or((number, ""));
    let digits = |text: &str| text.len() <= 9 && text.bytes().all(|b| b.is_ascii_digit());
    if !digits(whole) || !digits(part) || whole.is_empty() {
        return None;
    }
    let whole = whole.parse::<u64>().ok()?;
    let part = part.bytes().chain(*b"000").take(3);
    Some(part.fold(whole, |all, digit| all * 10 + u64::from(digit - b'0')))
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
    let by = now.unit.millilitres(u64::from(tenths.unsigned_abs()) * 100);
    let by = by.unwrap_or(0);
    let ml = match tenths < 0 {
        true => now.ml.saturating_sub(by),
        false => now.ml.saturating_add(by),
    };
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
        assert_eq!(ml("0,75 L"), Some(750));
        for unclear in [
            "",
            "some",
            "5",
            "4 l and 0.5 l",
            "4 1/2 qt",
            "3 buckets",
            "4.5.1 l",
        ] {
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
