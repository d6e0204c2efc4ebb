//! Figures of tightening as a person types them: "25", "25 Nm", "10-11",
//! "25 ± 3", "90°". What is not plain is refused by name and never guessed.
use super::facts::Figure;
use super::meant::Tolerance;
use crate::fastener::size::parse_mm;
use crate::torque::TorqueUnit;

/// What was typed of one stage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Typed {
    /// The middle, where a range was typed.
    pub figure: Figure,
    /// How far off it may be, where that was typed with it.
    pub tolerance: Option<Tolerance>,
}

/// Why a text is not read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TypedError {
    /// No plain figure, or more than one.
    Unread,
    /// A number with more than three decimals, or with marks between thousands.
    Number,
    /// What follows the number is no unit of torque, nor degrees.
    Unit(String),
    /// A figure of nothing.
    Zero,
    /// Beyond what is ever tightened to.
    TooMuch,
    /// A range that does not rise, or a figure that may be off by all of itself.
    Range,
    /// A torque and a turn, which are two stages.
    TwoStages,
    /// Turns are noted in whole degrees.
    WholeDegrees,
    /// How far off it may be is noted of the last stage only.
    RangeNotLast,
    /// One figure is asked for here, without a range.
    NoRange,
    /// A torque is asked for here.
    NoAngle,
}

/// The most that is read, in thousandths of any unit, and the most degrees: two
/// turns, as stages allow.
const MOST_MILLI: u32 = 9_999_000;
const MOST_DEGREES: u32 = 720;

/// A unit as typed, or degrees.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Of {
    Torque(TorqueUnit),
    Degrees,
}

/// Reads one stage. `chosen` is the unit beside the field, `None` for degrees; a
/// unit that is typed goes before it.
///
/// # Errors
/// [`TypedError`] where the text is not plainly one figure.
///
/// ```
/// use countback_core::journal::{Figure, Tolerance, read_typed};
/// use countback_core::torque::TorqueUnit::NewtonMetre;
/// let torque = |milli| Figure::Torque { milli, unit: NewtonMetre };
/// let read = read_typed("10-11", Some(NewtonMetre)).unwrap();
/// assert_eq!(read.figure, torque(10_500));
/// assert_eq!(read.tolerance, Some(Tolerance::By(torque(500))));
/// ```
pub fn read_typed(text: &str, chosen: Option<TorqueUnit>) -> Result<Typed, TypedError> {
    let plain = tidy(text);
    let mut rest = plain.as_str();
    let first = number(&mut rest)?;
    let mut of = unit(&mut rest)?;
    if let Some(after) = rest.strip_prefix('-') {
        rest = after;
        let second = number(&mut rest)?;
        let named = unit(&mut rest)?;
        ended(rest)?;
        if named.is_some() && of.is_some() && named != of {
            return Err(TypedError::Range);
        }
        let of = named.or(of).unwrap_or(of_chosen(chosen));
        if second <= first {
            return Err(TypedError::Range);
        }
        // The middle; where that is none, never wider than what was typed.
        let middle = first.midpoint(second);
        let by = (middle - first).min(second - middle);
        return Ok(Typed {
            figure: figure(middle, of)?,
            tolerance: Some(Tolerance::By(figure(by, of)?)),
        });
    }
    let Some(after) = rest.strip_prefix('±') else {
        ended(rest)?;
        let figure = figure(first, of.unwrap_or(of_chosen(chosen)))?;
        let tolerance = None;
        return Ok(Typed { figure, tolerance });
    };
    rest = after;
    let by = number(&mut rest)?;
    let percent = match rest.strip_prefix('%') {
        Some(after) => {
            rest = after.trim_start();
            of = of.or(unit(&mut rest)?);
            true
        }
        None => false,
    };
    let own = if percent { None } else { unit(&mut rest)? };
    ended(rest)?;
    let of = of.or(own).unwrap_or(of_chosen(chosen));
    let figure_read = figure(first, of)?;
    let tolerance = if percent {
        match u8::try_from(by / 1_000) {
            _ if by == 0 => return Err(TypedError::Zero),
            Ok(n) if by.is_multiple_of(1_000) && n < 100 => Tolerance::Percent(n),
            Ok(n) if n < 100 => {
                let part = u64::from(first) * u64::from(by) / 100_000;
                Tolerance::By(figure(part as u32, of)?)
            }
            _ => return Err(TypedError::Range),
        }
    } else {
        let by_of = own.unwrap_or(of);
        if (by_of == Of::Degrees) != (of == Of::Degrees) {
            return Err(TypedError::TwoStages);
        }
        if by_of == of && by >= first {
            return Err(TypedError::Range);
        }
        Tolerance::By(figure(by, by_of)?)
    };
    Ok(Typed {
        figure: figure_read,
        tolerance: Some(tolerance),
    })
}

/// The stages of a fixing, one text each with the unit beside it; an empty text
/// is none. A range is how far the last may be off.
///
/// # Errors
/// The first text that is not read, counted from 0, and why.
pub fn read_stages<'a>(
    typed: impl IntoIterator<Item = (&'a str, Option<TorqueUnit>)>,
) -> Result<(Vec<Figure>, Option<Tolerance>), (usize, TypedError)> {
    let mut stages = Vec::new();
    let mut ranged = None;
    for (at, (text, chosen)) in typed.into_iter().enumerate() {
        if text.trim().is_empty() {
            continue;
        }
        if let Some((at, _)) = ranged {
            return Err((at, TypedError::RangeNotLast));
        }
        let read = read_typed(text, chosen).map_err(|why| (at, why))?;
        stages.push(read.figure);
        ranged = read.tolerance.map(|it| (at, it));
    }
    Ok((stages, ranged.map(|(_, it)| it)))
}

/// One torque where no range is asked for, in thousandths of `unit`; in another
/// unit as typed it is turned into this one.
///
/// # Errors
/// [`TypedError`] as for [`read_typed`], and where it is no torque or a range.
pub fn read_amount(text: &str, unit: TorqueUnit) -> Result<u32, TypedError> {
    let read = read_typed(text, Some(unit))?;
    if read.tolerance.is_some() {
        return Err(TypedError::NoRange);
    }
    match read.figure {
        Figure::Torque { milli, unit: own } => crate::torque::Torque::from_thousandths(milli, own)
            .in_unit(unit)
            .map(|it| it.thousandths())
            .ok_or(TypedError::TooMuch),
        Figure::Angle { .. } => Err(TypedError::NoAngle),
    }
}

/// One way of writing dashes, "to" and "plus or minus"; small letters.
fn tidy(text: &str) -> String {
    let text = text.trim().to_lowercase();
    let text = text.replace(['\u{2212}', '\u{2013}', '\u{2014}'], "-");
    let text = text.replace("+/-", "±").replace("+-", "±");
    let text = text.replace("...", "-").replace("..", "-");
    text.replace('…', "-").replace(" to ", "-")
}

fn of_chosen(chosen: Option<TorqueUnit>) -> Of {
    chosen.map_or(Of::Degrees, Of::Torque)
}

/// Takes a number of at most three decimals, in thousandths, and the spaces
/// after it.
fn number(rest: &mut &str) -> Result<u32, TypedError> {
    let text = rest.trim_start();
    let end = text
        .find(|it: char| !it.is_ascii_digit() && !matches!(it, '.' | ','))
        .unwrap_or(text.len());
    let (number, after) = text.split_at(end);
    if number.is_empty() {
        return Err(TypedError::Unread);
    }
    *rest = after.trim_start();
    parse_mm(number).ok_or(TypedError::Number)
}

/// Takes a unit and the spaces after it, if one is there.
fn unit(rest: &mut &str) -> Result<Option<Of>, TypedError> {
    let text = *rest;
    let mut end = 0;
    let mut before = ' ';
    for (at, it) in text.char_indices() {
        let joins = matches!(it, ' ' | '·' | '⋅' | '.' | '*' | '\'');
        // A dash between letters is the unit's own: "ft-lb".
        let next = text.get(at + 1..).and_then(|after| after.chars().next());
        let own_dash = it == '-' && before.is_alphabetic() && next.is_some_and(char::is_alphabetic);
        if !(it.is_alphabetic() || it == '°' || joins || own_dash) {
            break;
        }
        end = at + it.len_utf8();
        before = it;
    }
    let (word, after) = text.split_at(end);
    let word = word.trim();
    if word.is_empty() {
        return Ok(None);
    }
    *rest = after.trim_start();
    if matches!(word, "°" | "deg" | "deg." | "degree" | "degrees") {
        return Ok(Some(Of::Degrees));
    }
    match word.parse() {
        Ok(unit) if !word.contains('°') => Ok(Some(Of::Torque(unit))),
        _ => Err(TypedError::Unit(word.to_owned())),
    }
}

/// Nothing may be left; a second figure is a second stage.
fn ended(rest: &str) -> Result<(), TypedError> {
    match rest.trim() {
        "" => Ok(()),
        more if more.contains(|it: char| it.is_ascii_digit()) => Err(TypedError::TwoStages),
        _ => Err(TypedError::Unread),
    }
}

fn figure(milli: u32, of: Of) -> Result<Figure, TypedError> {
    match of {
        _ if milli == 0 => Err(TypedError::Zero),
        Of::Torque(_) if milli > MOST_MILLI => Err(TypedError::TooMuch),
        Of::Torque(unit) => Ok(Figure::Torque { milli, unit }),
        Of::Degrees if !milli.is_multiple_of(1_000) => Err(TypedError::WholeDegrees),
        Of::Degrees if milli / 1_000 > MOST_DEGREES => Err(TypedError::TooMuch),
        Of::Degrees => Ok(Figure::Angle {
            degrees: (milli / 1_000) as u16,
        }),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use TorqueUnit::*;
    use proptest::prelude::*;

    fn torque(milli: u32, unit: TorqueUnit) -> Figure {
        Figure::Torque { milli, unit }
    }

    fn plain(figure: Figure) -> Result<Typed, TypedError> {
        let tolerance = None;
        Ok(Typed { figure, tolerance })
    }

    fn ranged(figure: Figure, tolerance: Tolerance) -> Result<Typed, TypedError> {
        let tolerance = Some(tolerance);
        Ok(Typed { figure, tolerance })
    }

    #[test]
    fn a_figure_is_read_with_and_without_its_unit() {
        let nm = |text: &str| read_typed(text, Some(NewtonMetre));
        for text in ["25", " 25 ", "25 Nm", "25Nm", "25 N·m", "25,0 nm", "25 N.m"] {
            assert_eq!(nm(text), plain(torque(25_000, NewtonMetre)), "{text}");
        }
        for text in ["18 ft-lb", "18 lbf·ft", "18 ft lbs", "18 FT-LBF"] {
            assert_eq!(nm(text), plain(torque(18_000, PoundForceFoot)), "{text}");
        }
        assert_eq!(nm("2.5 kgm"), plain(torque(2_500, KilogramForceMetre)));
        for text in ["90°", "90 deg", "90 degrees"] {
            assert_eq!(nm(text), plain(Figure::Angle { degrees: 90 }), "{text}");
        }
        assert_eq!(read_typed("90", None), plain(Figure::Angle { degrees: 90 }));
        assert_eq!(
            read_typed("25 Nm", None),
            plain(torque(25_000, NewtonMetre)),
            "what is typed goes before the chip"
        );
    }

    #[test]
    fn a_range_is_its_middle_and_how_far_off() {
        let nm = |text: &str| read_typed(text, Some(NewtonMetre));
        let by = |milli, unit| Tolerance::By(torque(milli, unit));
        let ten = ranged(torque(10_500, NewtonMetre), by(500, NewtonMetre));
        for text in [
            "10-11",
            "10 - 11",
            "10–11 Nm",
            "10 to 11",
            "10...11",
            "10 Nm - 11 Nm",
            "10.5 ± 0.5",
            "10,5 +/- 0,5 Nm",
            "10.5 Nm +-0.5",
        ] {
            assert_eq!(nm(text), ten, "{text}");
        }
        assert_eq!(
            nm("10 ft-lb - 12 ft-lb"),
            ranged(torque(11_000, PoundForceFoot), by(1_000, PoundForceFoot))
        );
        for text in ["25 ± 10 %", "25 ± 10% Nm", "25 Nm ±10 %"] {
            assert_eq!(
                nm(text),
                ranged(torque(25_000, NewtonMetre), Tolerance::Percent(10)),
                "{text}"
            );
        }
        assert_eq!(
            nm("20 ± 7.5 %"),
            ranged(torque(20_000, NewtonMetre), by(1_500, NewtonMetre))
        );
        assert_eq!(
            nm("85-95°"),
            ranged(
                Figure::Angle { degrees: 90 },
                Tolerance::By(Figure::Angle { degrees: 5 })
            )
        );
    }

    #[test]
    fn what_is_not_plain_is_refused_by_name() {
        use TypedError::*;
        for (text, why) in [
            ("max 25", Unread),
            ("", Unread),
            ("25 Nm or so", Unit("nm or so".to_owned())),
            ("25 lb", Unit("lb".to_owned())),
            ("25 mm", Unit("mm".to_owned())),
            ("25 N/m", Unit("n".to_owned())),
            ("1.234,5", Number),
            ("25.0001", Number),
            ("0", Zero),
            ("0 ± 0", Zero),
            ("11-10", Range),
            ("10-10", Range),
            ("10 Nm - 11 ft-lb", Range),
            ("5 ± 5", Range),
            ("5 ± 100 %", Range),
            ("25 Nm + 90°", TwoStages),
            ("25 Nm 90°", TwoStages),
            ("25 90", TwoStages),
            ("25 Nm ± 5°", TwoStages),
            ("12.5°", WholeDegrees),
            ("85-90°", WholeDegrees),
            ("721°", TooMuch),
            ("10000", TooMuch),
            ("99999999", Number),
            ("25?", Unread),
            ("-25", Unread),
        ] {
            assert_eq!(read_typed(text, Some(NewtonMetre)), Err(why), "{text}");
        }
    }

    #[test]
    fn a_range_is_of_the_last_stage_and_empty_ones_are_none() {
        let nm = Some(NewtonMetre);
        assert_eq!(
            read_stages([("20", nm), (" ", nm), ("85-95", None)]),
            Ok((
                vec![torque(20_000, NewtonMetre), Figure::Angle { degrees: 90 }],
                Some(Tolerance::By(Figure::Angle { degrees: 5 }))
            ))
        );
        assert_eq!(
            read_stages([("10-11", nm), ("", nm), ("90", None)]),
            Err((0, TypedError::RangeNotLast))
        );
        assert_eq!(
            read_stages([("10", nm), ("x", nm)]),
            Err((1, TypedError::Unread))
        );
    }

    #[test]
    fn one_torque_is_read_in_the_unit_of_its_field() {
        assert_eq!(read_amount("1.5", NewtonMetre), Ok(1_500));
        assert_eq!(read_amount("18 lbf·ft", NewtonMetre), Ok(24_405));
        assert_eq!(read_amount("10-11", NewtonMetre), Err(TypedError::NoRange));
        assert_eq!(read_amount("90°", NewtonMetre), Err(TypedError::NoAngle));
    }

    proptest! {
        #[test]
        fn no_text_breaks_it(text in "[0-9.,± %°a-zµ·+–-]{0,14}") {
            let _ = read_typed(&text, None);
        }

        /// The range that is noted is the one typed, to a thousandth.
        #[test]
        fn a_range_loses_nothing(low in 1_u32..50_000, wide in 1_u32..5_000) {
            let high = low + 2 * wide;
            let say = |milli: u32| format!("{}.{:03}", milli / 1_000, milli % 1_000);
            let text = format!("{}-{}", say(low), say(high));
            let read = read_typed(&text, Some(NewtonMetre)).unwrap();
            prop_assert_eq!(read.figure, torque(low + wide, NewtonMetre));
            prop_assert_eq!(read.tolerance, Some(Tolerance::By(torque(wide, NewtonMetre))));
        }
    }
}
