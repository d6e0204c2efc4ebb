//! The trade words of both dialects that tell of a hazard, and those that only
//! sound like it. Common practice, no source.

use crate::journal::Hazard;

/// A kind of thing, the words that tell of it and those that only seem to.
pub(super) struct Words {
    pub hazard: Hazard,
    pub yes: &'static [&'static str],
    pub no: &'static [&'static str],
}

#[rustfmt::skip]
pub(super) const WORDS: &[Words] = &[
    Words {
        hazard: Hazard::Raised,
        yes: &[
            "wheel", "hub", "axle", "subframe", "undertray", "splash shield", "sump", "oil pan",
            "propshaft", "prop shaft", "driveshaft", "drive shaft", "gearbox", "transmission",
            "wishbone", "control arm", "suspension arm", "differential", "exhaust pipe",
        ],
        no: &["steering wheel", "hand wheel", "wheel arch liner clip"],
    },
    Words {
        hazard: Hazard::Fuel,
        yes: &[
            "fuel", "petrol", "gasoline", "diesel", "injector", "injection pump", "carburettor",
            "carburetor", "carb", "lift pump", "high pressure pump", "common rail", "gas tank",
            "gas line", "gas cap", "leak off",
        ],
        no: &["fuel cap flap"],
    },
    Words {
        hazard: Hazard::HotCoolant,
        yes: &[
            "coolant", "radiator", "thermostat", "water pump", "header tank", "expansion tank",
            "top hose", "bottom hose", "heater hose", "heater matrix", "heater core",
            "cylinder head", "water hose", "antifreeze",
        ],
        no: &[],
    },
    Words {
        hazard: Hazard::Battery,
        yes: &[
            "battery", "alternator", "generator", "dynamo", "starter", "starter motor", "fuse box",
            "earth strap", "ground strap", "earth lead", "ground cable",
        ],
        no: &["traction battery", "hybrid battery", "recoil starter"],
    },
    Words {
        hazard: Hazard::Airbag,
        yes: &[
            "airbag", "air bag", "pretensioner", "belt tensioner reel", "seat belt", "seatbelt",
            "steering wheel", "clock spring", "srs", "curtain bag", "crash sensor", "front seat",
            "driver seat", "passenger seat",
        ],
        no: &[],
    },
    Words {
        hazard: Hazard::Spring,
        yes: &[
            "spring", "strut", "shock absorber", "tensioner", "torsion bar", "recoil starter",
            "pressure plate", "roller shutter",
        ],
        no: &["clock spring", "spring clip", "spring washer", "strut brace", "strut bar"],
    },
    Words {
        hazard: Hazard::BrakesSteering,
        yes: &[
            "brake", "caliper", "calliper", "master cylinder", "wheel cylinder", "handbrake",
            "steering", "track rod", "tie rod", "ball joint", "drag link", "wishbone",
            "control arm", "suspension", "strut", "shock absorber", "anti roll bar", "sway bar",
            "wheel", "hub", "wheel bearing", "axle", "stub axle", "tow bar", "tow hitch",
            "towing eye", "front fork", "swinging arm", "swingarm",
        ],
        no: &["hand wheel", "axle stand", "strut brace", "strut bar", "wheel arch liner clip"],
    },
    Words {
        hazard: Hazard::Refrigerant,
        yes: &[
            "refrigerant", "air conditioning", "aircon", "air con", "ac compressor",
            "a c compressor", "ac condenser", "condenser", "evaporator", "receiver drier",
            "ac line", "ac pipe",
        ],
        no: &["ignition condenser", "points condenser"],
    },
    Words {
        hazard: Hazard::HighVoltage,
        yes: &[
            "high voltage", "hv", "traction battery", "hybrid battery", "traction motor",
            "inverter", "orange cable", "orange lead", "charge port",
        ],
        no: &[],
    },
    Words {
        hazard: Hazard::Hydraulic,
        yes: &[
            "hydraulic", "loader", "ram", "power steering", "accumulator", "lift arm",
            "spool valve", "log splitter", "press",
        ],
        no: &["ram air"],
    },
    Words {
        hazard: Hazard::HotExhaust,
        yes: &[
            "exhaust", "turbo", "turbocharger", "silencer", "muffler", "catalyst",
            "catalytic converter", "cat", "dpf", "particulate filter", "egr", "downpipe", "header",
            "lambda sensor", "oxygen sensor", "o2 sensor",
        ],
        no: &["header tank"],
    },
    Words {
        hazard: Hazard::Belts,
        yes: &[
            "belt", "fan", "pulley", "starter", "tensioner", "idler",
        ],
        no: &["seat belt", "recoil starter"],
    },
    Words {
        hazard: Hazard::Boat,
        yes: &[
            "seacock", "raw water", "raw-water pump", "bilge", "stern gland", "stern drive",
            "outdrive", "outboard", "skin fitting", "through hull", "sea strainer",
        ],
        no: &[],
    },
    Words {
        hazard: Hazard::Chemical,
        yes: &[
            "solvent", "brake cleaner", "cleaner", "degreaser", "paint", "acid", "paint stripper",
            "brake fluid", "thread locker", "sealant",
        ],
        no: &["air cleaner"],
    },
    Words {
        hazard: Hazard::Dust,
        yes: &[
            "brake pad", "brake shoe", "brake drum", "brake lining", "brake disc", "brake rotor",
            "clutch", "clutch plate", "gasket", "friction plate",
        ],
        no: &["clutch cable", "clutch pedal", "clutch lever"],
    },
    Words {
        hazard: Hazard::Lifting,
        yes: &[
            "complete engine", "engine block", "engine mount", "engine mounting", "cylinder block",
            "gearbox", "transmission", "axle", "differential", "cylinder head", "counterweight",
        ],
        no: &["axle stand", "gearbox oil", "transmission oil", "cylinder head cover"],
    },
];
