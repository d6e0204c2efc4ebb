//! Words of figures as typed: how one was read, or why it was not.
use super::{Style, figure, tolerance};
use crate::journal::{Typed, TypedError};

/// Shown under a field that takes a figure.
pub const TYPED_HINT: &str = "25, 25 Nm, 10-11 or 25 ± 3";

/// Why a text is not read. The text stays in its field.
pub fn typed_error(error: &TypedError) -> String {
    match error {
        TypedError::Unread => format!("Not read. Write one figure: {TYPED_HINT}."),
        TypedError::Number => {
            "Not a plain number. Write it as 12.5 or 12,5, without marks between thousands."
                .to_owned()
        }
        TypedError::Unit(word) => format!(
            "“{word}” is no unit of torque. Write Nm, lbf ft, lbf in, kgf m, kgf cm or degrees."
        ),
        TypedError::Zero => "A figure of nothing. Leave it empty when you do not know.".to_owned(),
        TypedError::TooMuch => "More than anything here is tightened to. Look again.".to_owned(),
        TypedError::Range => {
            "No range: the second figure has to be the greater, in the same unit.".to_owned()
        }
        TypedError::TwoStages => {
            "More than one figure. A torque and a turn are two stages: write each by itself."
                .to_owned()
        }
        TypedError::WholeDegrees => "Turns are noted in whole degrees.".to_owned(),
        TypedError::RangeNotLast => {
            "How far off it may be is noted of the last stage only. Write one figure here."
                .to_owned()
        }
        TypedError::NoRange => "One figure is wanted here, not a range.".to_owned(),
        TypedError::NoAngle => "A torque is wanted here, not a turn.".to_owned(),
    }
}

/// "10.5 N·m, ± 0.5 N·m".
pub fn typed(it: Typed, style: Style) -> String {
    let said = figure(it.figure, style);
    match it.tolerance {
        Some(by) => format!("{said}, {}", tolerance(by, style)),
        None => said,
    }
}
