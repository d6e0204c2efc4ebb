//! Words of what a figure is meant with: its tolerance, dry or oiled threads, and
//! what self-locking nuts run with.
use super::{Style, figure, figure_in, torque_in};
use crate::journal::{Figure, FixingDetail, MeantFor, Tolerance};
use crate::torque::{Torque, TorqueUnit};

/// "± 10 %", "± 3 N·m", "± 5°".
pub fn tolerance(it: Tolerance, style: Style) -> String {
    match it {
        Tolerance::Percent(n) => format!("± {n} %"),
        Tolerance::By(Figure::Angle { degrees }) => format!("± {degrees}°"),
        Tolerance::By(by) => format!("± {}", figure(by, style)),
    }
}

pub fn meant_for(it: MeantFor) -> &'static str {
    match it {
        MeantFor::Dry => "dry threads",
        MeantFor::Oiled => "oiled threads",
    }
}

/// What a figure is meant with, in one line; empty when nothing was noted. Its
/// tolerance is said of the last stage only.
pub fn meant(
    detail: &FixingDetail,
    stage: Option<Figure>,
    unit: TorqueUnit,
    style: Style,
) -> String {
    let span = detail
        .tolerance
        .filter(|_| stage.is_some() && stage == detail.stages.last().copied())
        .map(|it| {
            let span = stage.and_then(|f| span(f, it, unit, style));
            match span {
                Some(span) => format!("{}: {span}", tolerance(it, style)),
                None => tolerance(it, style),
            }
        });
    let threads = detail.meant_for.map(|it| format!("for {}", meant_for(it)));
    let said: Vec<String> = span.into_iter().chain(threads).collect();
    said.join("; ")
}

/// "22.5 to 27.5 N·m": from the least to the most.
fn span(stage: Figure, by: Tolerance, unit: TorqueUnit, style: Style) -> Option<String> {
    let part = |all: u32, n: u8| (u64::from(all) * u64::from(n) / 100) as u32;
    match (stage, by) {
        (Figure::Torque { milli, unit: own }, by) => {
            let by = match by {
                Tolerance::Percent(n) => part(milli, n),
                Tolerance::By(Figure::Torque { milli, unit }) => {
                    Torque::from_thousandths(milli, unit)
                        .in_unit(own)?
                        .thousandths()
                }
                Tolerance::By(Figure::Angle { .. }) => return None,
            };
            let say = |milli| torque_in(Torque::from_thousandths(milli, own), unit, style);
            let low = say(milli.saturating_sub(by));
            let low = low.split(' ').next()?.to_owned();
            Some(format!("{low} to {}", say(milli.saturating_add(by))))
        }
        (Figure::Angle { degrees }, by) => {
            let by = match by {
                Tolerance::Percent(n) => part(u32::from(degrees), n) as u16,
                Tolerance::By(Figure::Angle { degrees }) => degrees,
                Tolerance::By(Figure::Torque { .. }) => return None,
            };
            let (low, high) = (degrees.saturating_sub(by), degrees.saturating_add(by));
            Some(format!("{low} to {high}°"))
        }
    }
}

/// Oil was prescribed for threads whose figure is meant for dry ones.
pub const DRY_BUT_OILED: &str = "The figure is noted for dry threads, and oil or paste goes on them: that over-tightens. Ask the maker's book which it is.";

/// What was noted of the nuts.
pub fn runs_with(running: Figure, unit: TorqueUnit, style: Style) -> String {
    format!("Noted: it runs with {}.", figure_in(running, unit, style))
}
