//! Stages as they stand typed in an entry: what they are, what keeps them from
//! being logged, and what is only doubtful.
use crate::fastener::FastenerSpec;
use crate::journal::*;
use crate::torque::TorqueUnit;
use crate::torque::plausibility::Surface;
use crate::torque::stages::{StageError, StagePlan};
use crate::words::{self, Style};

/// What is read of the stages of one fixing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TypedStages {
    pub stages: Vec<Figure>,
    /// Typed with the last stage.
    pub tolerance: Option<Tolerance>,
    /// The stage, from 0, that is not read or cannot be, and why.
    pub wrong: Option<(usize, String)>,
    /// Doubtful, and logged all the same.
    pub said: Option<String>,
}

/// Reads the stages, each with the unit chosen beside it, `None` for degrees.
pub fn typed_stages<'a>(
    typed: impl IntoIterator<Item = (&'a str, Option<TorqueUnit>)>,
) -> TypedStages {
    let (stages, tolerance) = match read_stages(typed) {
        Ok(read) => read,
        Err((at, why)) => {
            return TypedStages {
                wrong: Some((at, words::typed_error(&why))),
                ..TypedStages::default()
            };
        }
    };
    let given = super::running::as_stages(&stages);
    let (wrong, said) = match StagePlan::new(None, &given, false) {
        Ok(_) | Err(StageError::None) => (None, None),
        Err(error @ StageError::TorqueAfterAngle { stage }) => {
            (Some((stage, words::stage_error(error))), None)
        }
        Err(error) => (None, Some(words::stage_error(error))),
    };
    TypedStages {
        stages,
        tolerance,
        wrong,
        said,
    }
}

/// What reckoning doubts of the first of these stages as they stand typed, as
/// [`super::tighten_page`] says it of the last torque; `meant` tells what the
/// figures are for.
pub fn typed_doubt<'a>(
    spec: &FastenerSpec,
    typed: impl IntoIterator<Item = (&'a str, Option<TorqueUnit>)>,
    meant: &FixingDetail,
    shown: TorqueUnit,
    style: Style,
) -> Option<String> {
    let mut typed = typed.into_iter();
    let read = |(text, unit)| read_typed(text, unit).ok().map(|it| it.figure);
    // A figure that more follow is meant to be low.
    let mut stages = vec![read(typed.next()?)?];
    stages.extend(typed.filter_map(read));
    let surface = meant.surface(Surface::Unknown);
    let found = words::torque_check(spec, &stages, surface, shown, style)?;
    Some(found.said()).filter(|doubt| !doubt.is_empty())
}

/// Puts what was typed of one stage in its place; a range is how far off the
/// last may be.
///
/// # Errors
/// Why the text is not read, in words.
pub fn type_stage(
    detail: &mut FixingDetail,
    at: usize,
    text: &str,
    chosen: Option<TorqueUnit>,
) -> Result<(), String> {
    let read = read_typed(text, chosen).map_err(|why| words::typed_error(&why))?;
    if read.tolerance.is_some() && at + 1 != detail.stages.len() {
        return Err(words::typed_error(&TypedError::RangeNotLast));
    }
    detail.tolerance = read.tolerance.or(detail.tolerance);
    if let Some(stage) = detail.stages.get_mut(at) {
        *stage = read.figure;
    }
    Ok(())
}

/// One torque as typed, in thousandths of the unit of its field.
///
/// # Errors
/// Why the text is not read, in words.
pub fn type_torque(text: &str, unit: TorqueUnit) -> Result<u32, String> {
    read_amount(text, unit).map_err(|why| words::typed_error(&why))
}

/// The same in its own unit, where that may be another.
///
/// # Errors
/// Why the text is not read, in words.
pub fn type_figure(text: &str, unit: TorqueUnit) -> Result<(u32, TorqueUnit), String> {
    let read = read_typed(text, Some(unit)).map_err(|why| words::typed_error(&why))?;
    match (read.figure, read.tolerance) {
        (Figure::Torque { milli, unit }, None) => Ok((milli, unit)),
        (_, Some(_)) => Err(words::typed_error(&TypedError::NoRange)),
        (Figure::Angle { .. }, None) => Err(words::typed_error(&TypedError::NoAngle)),
    }
}

/// How one text was read, where that says more than the text: its unit was
/// typed, or a range. Empty else.
pub fn read_as(text: &str, chosen: Option<TorqueUnit>, style: Style) -> String {
    match read_typed(text, chosen) {
        Ok(it) if it.tolerance.is_some() || unit_of(it.figure) != chosen => {
            format!("Read as {}.", words::typed(it, style))
        }
        _ => String::new(),
    }
}

fn unit_of(figure: Figure) -> Option<TorqueUnit> {
    match figure {
        Figure::Torque { unit, .. } => Some(unit),
        Figure::Angle { .. } => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use TorqueUnit::NewtonMetre;

    const NM: Option<TorqueUnit> = Some(NewtonMetre);

    #[test]
    fn a_torque_after_an_angle_is_wrong_and_a_falling_one_only_said() {
        let read = typed_stages([("20", NM), ("90", None), ("30 Nm", NM)]);
        assert_eq!(read.wrong.map(|it| it.0), Some(2));
        assert_eq!(read.stages.len(), 3);
        let read = typed_stages([("40", NM), ("20", NM)]);
        assert_eq!(read.wrong, None);
        assert!(read.said.is_some_and(|it| it.contains("Stage 2")));
        let read = typed_stages([("20", NM), ("25 lb", NM)]);
        assert_eq!(read.wrong.map(|it| it.0), Some(1));
        assert_eq!(typed_stages([("", NM)]), TypedStages::default());
    }

    #[test]
    fn what_was_typed_beside_the_number_is_said_back() {
        let style = Style::default();
        assert_eq!(read_as("25", NM, style), "");
        assert_eq!(read_as("25 Nm", NM, style), "");
        assert_eq!(read_as("10-11", NM, style), "Read as 10.5 N·m, ± 0.5 N·m.");
        assert_eq!(read_as("18 ft-lb", NM, style), "Read as 18 lbf·ft.");
    }
}
