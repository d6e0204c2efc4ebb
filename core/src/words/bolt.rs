//! Words for one bolt: how it stands in its hole, how sure its thread is, and
//! what to measure next.
use super::{Style, bare_length, hole_metal, length};
use crate::fastener::identify::{Confidence, Measurement};
use crate::fastener::{FastenerSpec, Thread};
use crate::journal::{Hole, LengthUnit};
use crate::torque::hole::HoleVerdict;

/// The sum of a bolt in its hole: "30 − (9 + 1.6) = 19.4 mm into 20 mm".
pub fn hole_sum(length_um: u32, hole: Hole, unit: LengthUnit, style: Style) -> String {
    let n = |um: u32| bare_length(um, unit, style);
    let under = hole.stack().thickness_um;
    let stack = match hole.washers_um {
        0 => n(hole.parts_um),
        washers => format!("({} + {})", n(hole.parts_um), n(washers)),
    };
    let into = match hole.depth_um {
        0 => "into a hole right through".to_owned(),
        depth => format!("into a hole of {}", length(depth, unit, style)),
    };
    let reach = length_um.saturating_sub(under);
    format!(
        "{} − {stack} = {} {into}",
        n(length_um),
        length(reach, unit, style)
    )
}

/// What the sum says of it.
pub fn hole_verdict(verdict: HoleVerdict, hole: Hole, unit: LengthUnit, style: Style) -> String {
    let n = |um: u32| length(um, unit, style);
    match verdict {
        HoleVerdict::Fits {
            engaged_um,
            spare_um,
        } => {
            let spare = match hole.depth_um {
                0 => String::new(),
                _ => format!(", {} to spare", n(spare_um)),
            };
            let metal = match hole.metal {
                None => " Whether that is enough depends on the metal.".to_owned(),
                Some(metal) => format!(" Enough in {}.", hole_metal(metal)),
            };
            format!("It holds {} of thread{spare}.{metal}", n(engaged_um))
        }
        HoleVerdict::Bottoms { reach_um, hole_um } => format!(
            "It would bottom, {} too long. The head would never clamp: do not fit it.",
            n(reach_um - hole_um)
        ),
        HoleVerdict::HoldsTooLittle {
            engaged_um,
            wanted_um,
        } => format!(
            "It holds {} of thread; {} wants {} (common practice; the maker's word goes first).",
            n(engaged_um),
            hole.metal.map_or("the metal", hole_metal),
            n(wanted_um)
        ),
        HoleVerdict::TooShort {
            length_um,
            thickness_um,
        } => format!(
            "It is {} long under a stack of {}: it does not come through.",
            n(length_um),
            n(thickness_um)
        ),
    }
}

/// The length of bolts that are to be got, in fractions where they come out.
pub fn bolt_length(spec: &FastenerSpec, unit: LengthUnit, style: Style) -> String {
    match (unit, spec.inches()) {
        (LengthUnit::Inch, Some(inches)) => format!("{inches} in"),
        _ => length(spec.length_um.unwrap_or(0), unit, style),
    }
}

/// Why others are wanted than those that came out.
pub const TOO_SHORT_BEFORE: &str = "held too little thread";

/// A bolt right through with a nut on it: two full threads stand out of one of
/// usual height (TM 9-2330-326-14&P), or they do not.
pub fn out_of_nut(stands: bool, nut_um: u32, unit: LengthUnit, style: Style) -> String {
    let nut = length(nut_um, unit, style);
    match stands {
        true => {
            format!(" With a nut of {nut} (usual height, from memory) two threads stand out of it.")
        }
        false => format!(
            " With a nut of {nut} (usual height, from memory) fewer than two threads stand out of it: take a longer one."
        ),
    }
}

/// Something in the stack came new after its hole was measured.
pub fn hole_old(what: &str) -> String {
    format!("The hole was measured before the new {what} came. Measure again.")
}

/// A part of all, as it is said: "9 in 10", "1 in 20".
pub fn share(part: f64) -> String {
    match (part * 10.0).round() as u32 {
        _ if part >= 0.99 => "almost sure".to_owned(),
        10 => "9 in 10".to_owned(),
        0 => format!("1 in {}", (1.0 / part.max(0.001)).round() as u32),
        n => format!("{n} in 10"),
    }
}

/// How far the thread is settled.
pub fn confidence(confidence: Confidence) -> &'static str {
    match confidence {
        Confidence::Open => "Still open",
        Confidence::Likely => "Likely",
        Confidence::Sure => "As good as sure",
    }
}

/// Two threads that a calliper and a count do not tell apart.
/// What tells a taper pipe thread from a parallel one: ISO 7-1 tapers 1 in 16 on
/// the diameter, as does ASME B1.20.1, ISO 228-1 not at all; form and pitch of the
/// two ISO ones are the same.
pub fn pipe_alike(one: Thread, other: Thread) -> String {
    use crate::fastener::PipeForm;
    let form = |it| match it {
        Thread::Pipe { form, .. } => Some(form),
        _ => None,
    };
    let forms = (form(one), form(other));
    if forms == (Some(PipeForm::R), Some(PipeForm::Npt))
        || forms == (Some(PipeForm::Npt), Some(PipeForm::R))
    {
        return format!(
            "{one} and {other} both taper and read all but alike. R has flanks of 55 degrees (ISO 7-1), NPT of 60 (ASME B1.20.1): hold a thread gauge against them, never force one into the other."
        );
    }
    format!(
        "{one} and {other} read all but alike. Measure across the crests at both ends of the thread: R and NPT grow by 1 mm in 16 along it (ISO 7-1, ASME B1.20.1) and seal on the thread, G stays the same (ISO 228-1) and seals on a washer or ring."
    )
}

/// What kind of pipe thread it is, after its name; empty for any other.
pub fn pipe_form(it: Thread) -> &'static str {
    use crate::fastener::PipeForm;
    match it {
        Thread::Pipe {
            form: PipeForm::G, ..
        } => ", parallel",
        Thread::Pipe { .. } => ", taper",
        _ => "",
    }
}

pub fn read_alike(one: Thread, other: Thread) -> String {
    format!("{one} and {other} measure all but alike. Try a nut of each by hand; never force it.")
}

/// What to measure next.
/// What to measure next; `again` where it was read coarsely before.
pub fn measurement(what: Measurement, again: bool) -> &'static str {
    match what {
        Measurement::Diameter if again => "the outside diameter again, with a calliper",
        Measurement::Pitch if again => "the pitch again: ten threads or more, with a calliper",
        Measurement::Length => "the length under the head",
        Measurement::Diameter => "the outside diameter",
        Measurement::Pitch => "the pitch: count threads over a length",
        Measurement::Head => "the head, across its flats",
        Measurement::ClassMark => "the mark on the head",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sum_is_shown_with_its_terms() {
        let hole = Hole {
            parts_um: 9_000,
            washers_um: 1_600,
            depth_um: 20_000,
            metal: None,
        };
        assert_eq!(
            hole_sum(30_000, hole, LengthUnit::Millimetre, Style::default()),
            "30 − (9 + 1.6) = 19.4 mm into a hole of 20 mm"
        );
        let through = Hole {
            washers_um: 0,
            depth_um: 0,
            ..hole
        };
        assert_eq!(
            hole_sum(30_000, through, LengthUnit::Millimetre, Style::default()),
            "30 − 9 = 21 mm into a hole right through"
        );
    }

    #[test]
    fn shares_are_said_as_at_the_bench() {
        for (part, said) in [
            (0.995, "almost sure"),
            (0.97, "9 in 10"),
            (0.52, "5 in 10"),
            (0.02, "1 in 50"),
        ] {
            assert_eq!(share(part), said);
        }
    }
}
