//! The cautions in short plain words.

use crate::journal::Hazard;

/// What is said before something of this kind is touched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Caution {
    pub hazard: Hazard,
    /// A few words, for a list.
    pub title: &'static str,
    /// What is usually done; two or three sentences.
    pub text: &'static str,
    /// What law or licence may ask, where it is known to; may be empty.
    pub law: &'static str,
    /// Where a figure or a claim is from; empty for common practice.
    pub source: &'static str,
}

/// Said with every caution.
pub const DEFERS: &str =
    "The maker's instructions, local rules and licensed practice come before this.";

/// The usual caution for a kind of thing.
pub fn caution(hazard: Hazard) -> Caution {
    let it = |title, text, law, source| Caution {
        hazard,
        title,
        text,
        law,
        source,
    };
    match hazard {
        Hazard::Raised => it(
            "Vehicle off the ground",
            "Level hard ground, wheels chocked, rated stands under solid points before anyone \
             goes below. A jack lifts; it never holds. Push it before you trust it.",
            "At work, lifting rules apply.",
            "Health and Safety Executive (UK), introduction to vehicle repair: most deaths in \
             repair are crushing under badly supported vehicles.",
        ),
        Hazard::Fuel => it(
            "Fuel and vapour",
            "Engine cold, outdoors or well aired, no flame, hot lamp or heater, never over a pit. \
             Let the pressure off first, catch what runs, close the container, mop up at once. \
             Keep hands from a diesel rail under pressure: the jet goes through skin.",
            "Storing and disposing of fuel is regulated in most places.",
            "Health and Safety Executive (UK) with an insurer's guide: draining petrol causes most \
             of these fires. The rest is common practice.",
        ),
        Hazard::HotCoolant => it(
            "Hot coolant",
            "Never open a hot cap. Wait until it is cool to the hand, then let the pressure off \
             slowly. Coolant is sweet and poisonous: catch it, keep animals away.",
            "Old coolant is waste to be handed in.",
            "",
        ),
        Hazard::Battery => it(
            "Battery",
            "Negative off first and on last; tie the lead away from the post. No spark or flame \
             near a battery on charge. Write down radio codes and stored settings first.",
            "",
            "",
        ),
        Hazard::Airbag => it(
            "Airbag or belt tensioner",
            "Key off, battery off, then wait as long as the maker says: look it up, it differs \
             from one maker to another. No meter on its wires. Carry and lay it down with the pad \
             upwards, and stay out of its way.",
            "In some countries for trained people only, and under the rules for explosives.",
            "Four makers' instructions compared: the waits differ widely, so none is given here.",
        ),
        Hazard::Spring => it(
            "Spring under load",
            "It stores enough to maim. Use the compressor made for it, never stand in line with \
             it, let it off slowly, and secure whatever drops when a pin or bolt goes.",
            "",
            "",
        ),
        Hazard::BrakesSteering => it(
            "Brakes, steering, suspension or wheels",
            "Lives hang on it. New one-use parts, the maker's torque, a second person to look \
             before it is hidden, pedal firm before the vehicle moves, and a look again after the \
             first run.",
            "Some places ask for proof of competence or an inspection.",
            "",
        ),
        Hazard::Refrigerant => it(
            "Refrigerant",
            "Do not open it. Have it recovered first by somebody certified; cap both ends as soon \
             as they are apart.",
            "Letting it out on purpose is against the law in many countries; paid work needs \
             certification and approved equipment.",
            "US Environmental Protection Agency, vehicle air conditioning (2021).",
        ),
        Hazard::HighVoltage => it(
            "High-voltage traction (orange cables)",
            "Stop. For trained people only. Parts stay live when switched off, and the voltage \
             can kill.",
            "Qualified people only.",
            "Health and Safety Executive (UK), electric and hybrid vehicles: up to 650 V DC seen, \
             contact above 110 V DC can kill.",
        ),
        Hazard::Hydraulic => it(
            "Hydraulic pressure",
            "Lower to the ground, engine off, work the levers until they are slack, let \
             accumulators down. Look for leaks with a piece of card, never a hand: oil goes \
             through skin. If it does, go to hospital at once, however small the mark.",
            "",
            "Health and Safety Executive (UK), fluid injection in agriculture.",
        ),
        Hazard::HotExhaust => it(
            "Hot exhaust",
            "It stays hot long after the engine has stopped. Never run an engine indoors without \
             extraction: the fumes kill.",
            "Taking emission parts off for good is commonly unlawful on the road.",
            "",
        ),
        Hazard::Belts => it(
            "Belts, fans and starters",
            "Key out and in your pocket. An electric fan can start by itself. Mark which way a \
             belt ran before it comes off.",
            "",
            "",
        ),
        Hazard::Boat => it(
            "Boat: water and vapour",
            "Seacock shut before opening anything, and OPEN again before starting. Fuel vapour \
             sinks into the bilge: blow it out first. Never leave her afloat with a joint off.",
            "",
            "",
        ),
        Hazard::Chemical => it(
            "Chemicals",
            "Gloves, glasses, air. Oily rags can heat up and burn by themselves: lay them out \
             flat or keep them in a closed metal bin. Cleaner on hot metal or near welding makes \
             poison gas.",
            "Read the label; leftovers are waste to be handed in.",
            "",
        ),
        Hazard::Dust => it(
            "Brake, clutch and gasket dust",
            "On an old machine, take it for asbestos: never blow, brush or grind it dry. Wipe it \
             wet and bag it. Blast only with media made for it, with a mask.",
            "Asbestos waste has rules of its own.",
            "Health and Safety Executive (UK), asbestos.",
        ),
        Hazard::Lifting => it(
            "Lifting something heavy",
            "Plan the lift, use gear rated for the weight, nobody beneath, hands out of the gap. \
             Support what the thing itself was holding up.",
            "At work, lifting gear is examined by a competent person at intervals.",
            "",
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: [Hazard; 16] = [
        Hazard::Raised,
        Hazard::Fuel,
        Hazard::HotCoolant,
        Hazard::Battery,
        Hazard::Airbag,
        Hazard::Spring,
        Hazard::BrakesSteering,
        Hazard::Refrigerant,
        Hazard::HighVoltage,
        Hazard::Hydraulic,
        Hazard::HotExhaust,
        Hazard::Belts,
        Hazard::Boat,
        Hazard::Chemical,
        Hazard::Dust,
        Hazard::Lifting,
    ];

    /// A figure in a caution would be taken for a rule.
    #[test]
    fn no_caution_gives_a_figure_without_a_source() {
        for hazard in ALL {
            let it = caution(hazard);
            assert_eq!(it.hazard, hazard);
            assert!(!it.title.is_empty() && it.text.len() < 330, "{hazard:?}");
            let digit = |text: &str| text.bytes().any(|b| b.is_ascii_digit());
            assert!(!digit(it.text) && !digit(it.law), "{hazard:?}");
            assert!(!it.text.contains("  "), "{hazard:?}");
        }
    }
}
