//! Torque units, figures and their tolerance as stored words: "25.5 N.m",
//! "90 deg", "10 %".
use super::words::{Worded, words};
use crate::journal::{Figure, MeantFor, Tolerance};
use crate::torque::TorqueUnit;
use crate::torque::hole::HoleMetal;

words! { TorqueUnit {
    NewtonMetre = "N.m",
    PoundForceFoot = "lbf.ft",
    PoundForceInch = "lbf.in",
    KilogramForceMetre = "kgf.m",
    KilogramForceCentimetre = "kgf.cm",
} }

words! { HoleMetal {
    Steel = "steel",
    CastIron = "cast-iron",
    Brass = "brass",
    Aluminium = "aluminium",
    Magnesium = "magnesium",
    Insert = "insert",
    Plastic = "plastic",
} }

words! { MeantFor { Dry = "dry", Oiled = "oiled" } }

const DEGREES: &str = "deg";
const PERCENT: &str = " %";

pub fn tolerance_text(it: Tolerance) -> String {
    match it {
        Tolerance::Percent(n) => format!("{n}{PERCENT}"),
        Tolerance::By(figure) => figure_text(&figure),
    }
}

pub fn read_tolerance(text: &str) -> Option<Tolerance> {
    match text.strip_suffix(PERCENT) {
        Some(n) => n.parse().ok().map(Tolerance::Percent),
        None => read_figure(text).map(Tolerance::By),
    }
}

pub fn figure_text(figure: &Figure) -> String {
    match *figure {
        Figure::Angle { degrees } => format!("{degrees} {DEGREES}"),
        Figure::Torque { milli, unit } => {
            let figure = format!("{}.{:03}", milli / 1_000, milli % 1_000);
            let figure = figure.trim_end_matches('0').trim_end_matches('.');
            format!("{figure} {}", unit.word())
        }
    }
}

pub fn read_figure(text: &str) -> Option<Figure> {
    let (figure, unit) = text.split_once(' ')?;
    if unit == DEGREES {
        return figure.parse().ok().map(|degrees| Figure::Angle { degrees });
    }
    let (whole, part) = figure.split_once('.').unwrap_or((figure, "0"));
    if part.len() > 3 || !part.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let whole: u32 = whole.parse().ok()?;
    let thousandths: u32 = format!("{part:0<3}").parse().ok()?;
    Some(Figure::Torque {
        milli: whole.checked_mul(1_000)?.checked_add(thousandths)?,
        unit: TorqueUnit::read(unit)?,
    })
}
