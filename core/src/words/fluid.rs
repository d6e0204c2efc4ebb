//! Words of fluids: what came out and went in, and what holds them.
use super::Style;
use crate::fluid::{Volume, read};
use crate::job::Fluid;

/// "4.5 l came out, 3.9 l went in: 0.6 l less." Empty where there is nothing
/// to say of the two.
pub fn volumes(it: &Fluid, style: Style) -> String {
    let Some((out, less)) = read(&it.drained).zip(it.less_in()) else {
        return String::new();
    };
    let by = Volume {
        ml: u32::try_from(less.unsigned_abs()).unwrap_or(u32::MAX),
        unit: out.unit,
    };
    let filled = it.filled.as_deref().unwrap_or_default();
    format!(
        "{} came out, {filled} went in: {} {}.",
        it.drained,
        by.text(style.decimal),
        if less > 0 { "less" } else { "more" }
    )
}

/// How a fluid stands, behind its name.
pub fn fluid_state(it: &Fluid, style: Style) -> String {
    let said = match &it.filled {
        None if it.drained.is_empty() => "out".to_owned(),
        None => format!("out, {}", it.drained),
        Some(_) if it.bleed && !it.bled => "filled, not bled".to_owned(),
        Some(amount) if amount.is_empty() => "filled".to_owned(),
        Some(amount) => format!("filled, {amount}"),
    };
    let said = match it.level_seen {
        true => format!("{said}, level right"),
        false => said,
    };
    match volumes(it, style) {
        same if same.is_empty() || it.level_seen => said,
        more if it.short().is_none() => format!("filled. {more} Spilt, or overfull?"),
        less => format!("filled. {less}"),
    }
}

/// Asked before a fluid goes in.
pub fn fill(fluid: &str) -> String {
    format!("Fill with {fluid}")
}

/// What is tapped when a joint has nothing to do with a fluid.
pub fn holds_none(fluid: &str) -> String {
    format!("Holds no {fluid}")
}

/// What is tapped when it has.
pub fn holds_it(fluid: &str) -> String {
    format!("Holds {fluid}")
}
