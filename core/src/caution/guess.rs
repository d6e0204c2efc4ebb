//! A guess at the kind of thing from the words of its name, in both dialects.
//! It errs towards showing a caution too many; it never hides one that was
//! given by hand. Which words go with which kind is common practice, no source.

use crate::find::tokens::tokens;
use crate::journal::Hazard;

/// A name as words, for looking up trade words in it.
pub(crate) struct Said(Vec<String>);

impl Said {
    pub fn of(name: &str) -> Self {
        Self(tokens(name))
    }
    /// Whether the words of `phrase` stand in it, next to each other.
    pub fn has(&self, phrase: &str) -> bool {
        self.at(&tokens(phrase)).is_some()
    }
    pub fn has_any(&self, phrases: &[&str]) -> bool {
        phrases.iter().any(|it| self.has(it))
    }
    /// Without the phrases that only look like something else.
    pub fn without(mut self, phrases: &[&str]) -> Self {
        for phrase in phrases {
            let words = tokens(phrase);
            while let Some(at) = self.at(&words) {
                self.0.splice(at..at + words.len(), ["-".to_owned()]);
            }
        }
        self
    }
    fn at(&self, words: &[String]) -> Option<usize> {
        if words.is_empty() {
            return None;
        }
        self.0.windows(words.len()).position(|it| it == words)
    }
}

/// A kind of thing, the words that tell of it and those that only seem to.
struct Words {
    hazard: Hazard,
    yes: &'static [&'static str],
    no: &'static [&'static str],
}

const WORDS: &[Words] = &[
    Words {
        hazard: Hazard::Raised,
        yes: &[
            "wheel",
            "hub",
            "axle",
            "subframe",
            "undertray",
            "splash shield",
            "sump",
            "oil pan",
            "propshaft",
            "prop shaft",
            "driveshaft",
            "drive shaft",
            "gearbox",
            "transmission",
            "wishbone",
            "control arm",
            "suspension arm",
            "differential",
            "exhaust pipe",
        ],
        no: &["steering wheel", "hand wheel", "wheel arch liner clip"],
    },
    Words {
        hazard: Hazard::Fuel,
        yes: &[
            "fuel",
            "petrol",
            "gasoline",
            "diesel",
            "injector",
            "injection pump",
            "carburettor",
            "carburetor",
            "carb",
            "lift pump",
            "high pressure pump",
            "common rail",
            "gas tank",
            "gas line",
            "gas cap",
            "leak off",
        ],
        no: &["fuel cap flap"],
    },
    Words {
        hazard: Hazard::HotCoolant,
        yes: &[
            "coolant",
            "radiator",
            "thermostat",
            "water pump",
            "header tank",
            "expansion tank",
            "top hose",
            "bottom hose",
            "heater hose",
            "heater matrix",
            "heater core",
            "cylinder head",
            "water hose",
            "antifreeze",
        ],
        no: &[],
    },
    Words {
        hazard: Hazard::Battery,
        yes: &[
            "battery",
            "alternator",
            "generator",
            "dynamo",
            "starter",
            "starter motor",
            "fuse box",
            "earth strap",
            "ground strap",
            "earth lead",
            "ground cable",
        ],
        no: &["traction battery", "hybrid battery", "recoil starter"],
    },
    Words {
        hazard: Hazard::Airbag,
        yes: &[
            "airbag",
            "air bag",
            "pretensioner",
            "belt tensioner reel",
            "seat belt",
            "seatbelt",
            "steering wheel",
            "clock spring",
            "srs",
            "curtain bag",
            "crash sensor",
            "front seat",
            "driver seat",
            "passenger seat",
        ],
        no: &[],
    },
    Words {
        hazard: Hazard::Spring,
        yes: &[
            "spring",
            "strut",
            "shock absorber",
            "tensioner",
            "torsion bar",
            "recoil starter",
            "pressure plate",
            "roller shutter",
        ],
        no: &[
            "clock spring",
            "spring clip",
            "spring washer",
            "strut brace",
            "strut bar",
        ],
    },
    Words {
        hazard: Hazard::BrakesSteering,
        yes: &[
            "brake",
            "caliper",
            "calliper",
            "master cylinder",
            "wheel cylinder",
            "handbrake",
            "steering",
            "track rod",
            "tie rod",
            "ball joint",
            "drag link",
            "wishbone",
            "control arm",
            "suspension",
            "strut",
            "shock absorber",
            "anti roll bar",
            "sway bar",
            "wheel",
            "hub",
            "wheel bearing",
            "axle",
            "stub axle",
            "tow bar",
            "tow hitch",
            "towing eye",
            "front fork",
            "swinging arm",
            "swingarm",
        ],
        no: &[
            "hand wheel",
            "axle stand",
            "strut brace",
            "strut bar",
            "wheel arch liner clip",
        ],
    },
    Words {
        hazard: Hazard::Refrigerant,
        yes: &[
            "refrigerant",
            "air conditioning",
            "aircon",
            "air con",
            "ac compressor",
            "a c compressor",
            "ac condenser",
            "condenser",
            "evaporator",
            "receiver drier",
            "ac line",
            "ac pipe",
        ],
        no: &["ignition condenser", "points condenser"],
    },
    Words {
        hazard: Hazard::HighVoltage,
        yes: &[
            "high voltage",
            "hv",
            "traction battery",
            "hybrid battery",
            "traction motor",
            "inverter",
            "orange cable",
            "orange lead",
            "charge port",
        ],
        no: &[],
    },
    Words {
        hazard: Hazard::Hydraulic,
        yes: &[
            "hydraulic",
            "loader",
            "ram",
            "power steering",
            "accumulator",
            "lift arm",
            "spool valve",
            "log splitter",
            "press",
        ],
        no: &["ram air"],
    },
    Words {
        hazard: Hazard::HotExhaust,
        yes: &[
            "exhaust",
            "turbo",
            "turbocharger",
            "silencer",
            "muffler",
            "catalyst",
            "catalytic converter",
            "cat",
            "dpf",
            "particulate filter",
            "egr",
            "downpipe",
            "header",
            "lambda sensor",
            "oxygen sensor",
            "o2 sensor",
        ],
        no: &["header tank"],
    },
    Words {
        hazard: Hazard::Belts,
        yes: &["belt", "fan", "pulley", "starter", "tensioner", "idler"],
        no: &["seat belt", "recoil starter"],
    },
    Words {
        hazard: Hazard::Boat,
        yes: &[
            "seacock",
            "raw water",
            "raw-water pump",
            "bilge",
            "stern gland",
            "stern drive",
            "outdrive",
            "outboard",
            "skin fitting",
            "through hull",
            "sea strainer",
        ],
        no: &[],
    },
    Words {
        hazard: Hazard::Chemical,
        yes: &[
            "solvent",
            "brake cleaner",
            "cleaner",
            "degreaser",
            "paint",
            "acid",
            "paint stripper",
            "brake fluid",
            "thread locker",
            "sealant",
        ],
        no: &["air cleaner"],
    },
    Words {
        hazard: Hazard::Dust,
        yes: &[
            "brake pad",
            "brake shoe",
            "brake drum",
            "brake lining",
            "brake disc",
            "brake rotor",
            "clutch",
            "clutch plate",
            "gasket",
            "friction plate",
        ],
        no: &["clutch cable", "clutch pedal", "clutch lever"],
    },
    Words {
        hazard: Hazard::Lifting,
        yes: &[
            "complete engine",
            "engine block",
            "engine mount",
            "engine mounting",
            "cylinder block",
            "gearbox",
            "transmission",
            "axle",
            "differential",
            "cylinder head",
            "counterweight",
        ],
        no: &[
            "axle stand",
            "gearbox oil",
            "transmission oil",
            "cylinder head cover",
        ],
    },
];

/// The hazards that a thing of this name may bring, by trade words of both
/// dialects.
///
/// ```
/// use countback_core::caution::for_part_name;
/// use countback_core::journal::Hazard;
/// assert_eq!(for_part_name("fuel rail"), vec![Hazard::Fuel]);
/// ```
pub fn for_part_name(name: &str) -> Vec<Hazard> {
    let mut hazards: Vec<Hazard> = WORDS
        .iter()
        .filter(|it| Said::of(name).without(it.no).has_any(it.yes))
        .map(|it| it.hazard)
        .collect();
    // An engine by itself is lifted; an engine cover is not.
    if Said::of(name).0 == ["engine"] {
        hazards.push(Hazard::Lifting);
    }
    hazards
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_both_dialects_bring_their_caution() {
        for (name, hazard) in [
            ("fuel rail", Hazard::Fuel),
            ("Carburetor", Hazard::Fuel),
            ("carburettors", Hazard::Fuel),
            ("gas tank", Hazard::Fuel),
            ("thermostat housing", Hazard::HotCoolant),
            ("radiator", Hazard::HotCoolant),
            ("ground strap", Hazard::Battery),
            ("earth strap", Hazard::Battery),
            ("steering wheel", Hazard::Airbag),
            ("front strut, left", Hazard::Spring),
            ("brake caliper", Hazard::BrakesSteering),
            ("tie rod end", Hazard::BrakesSteering),
            ("track rod end", Hazard::BrakesSteering),
            ("A/C compressor", Hazard::Refrigerant),
            ("orange cable to inverter", Hazard::HighVoltage),
            ("hydraulic pump", Hazard::Hydraulic),
            ("muffler", Hazard::HotExhaust),
            ("silencer", Hazard::HotExhaust),
            ("fan belt", Hazard::Belts),
            ("raw-water pump", Hazard::Boat),
            ("clutch plate", Hazard::Dust),
            ("transmission", Hazard::Lifting),
            ("engine", Hazard::Lifting),
            ("oil pan", Hazard::Raised),
            ("sump", Hazard::Raised),
            ("brake cleaner", Hazard::Chemical),
        ] {
            assert!(for_part_name(name).contains(&hazard), "{name}");
        }
    }

    #[test]
    fn what_only_sounds_alike_brings_none() {
        for (name, hazard) in [
            ("flywheel cover", Hazard::BrakesSteering),
            ("spring clip", Hazard::Spring),
            ("seat belt", Hazard::Belts),
            ("expansion tank", Hazard::HotExhaust),
            ("header tank", Hazard::HotExhaust),
            ("engine cover", Hazard::Lifting),
            ("air cleaner", Hazard::Chemical),
            ("steering wheel", Hazard::Raised),
            ("steamer", Hazard::Hydraulic),
        ] {
            assert!(!for_part_name(name).contains(&hazard), "{name}");
        }
        for name in ["glove box", "bracket", "timing cover", ""] {
            assert_eq!(for_part_name(name), vec![], "{name}");
        }
    }
}
