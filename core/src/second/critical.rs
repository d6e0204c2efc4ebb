//! Which joints lives hang on, guessed from the words of their names in both
//! dialects. They are marked so when they are undone, and a look is then let
//! go only by name and reason; which words tell is common practice, no source.

use std::sync::OnceLock;

use crate::caution::Phrases;
use crate::fastener::{FastenerKind, FastenerSpec};
use crate::find::tokens::tokens;
use crate::job::Job;
use crate::journal::*;

/// What a safety-critical joint belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Critical {
    Brakes,
    Steering,
    Suspension,
    Wheels,
    Fuel,
    SeatBelts,
    LiftingPoints,
}

struct Words {
    critical: Critical,
    yes: &'static [&'static str],
    no: &'static [&'static str],
}

const WORDS: &[Words] = &[
    Words {
        critical: Critical::Brakes,
        yes: &[
            "brake",
            "caliper",
            "calliper",
            "master cylinder",
            "wheel cylinder",
            "handbrake",
            "parking brake",
        ],
        no: &["brake light switch"],
    },
    Words {
        critical: Critical::Steering,
        yes: &[
            "steering",
            "track rod",
            "tie rod",
            "drag link",
            "rack",
            "handlebar",
            "column joint",
            "steering arm",
            "rudder",
            "tiller",
        ],
        no: &["steering column shroud", "roof rack", "luggage rack"],
    },
    Words {
        critical: Critical::Suspension,
        yes: &[
            "suspension",
            "ball joint",
            "wishbone",
            "control arm",
            "strut",
            "shock absorber",
            "trailing arm",
            "radius arm",
            "anti roll bar",
            "sway bar",
            "swinging arm",
            "swingarm",
            "front fork",
            "leaf spring",
            "coil spring",
            "subframe",
            "stub axle",
            "u bolt",
        ],
        no: &["strut brace", "bonnet strut", "hood strut", "gas strut"],
    },
    Words {
        critical: Critical::Wheels,
        yes: &[
            "wheel",
            "hub",
            "wheel nut",
            "lug nut",
            "wheel bolt",
            "axle nut",
            "wheel bearing",
        ],
        no: &[
            "steering wheel",
            "hand wheel",
            "wheel arch",
            "wheel cylinder",
        ],
    },
    Words {
        critical: Critical::Fuel,
        yes: &[
            "fuel",
            "petrol",
            "gasoline",
            "diesel",
            "injector",
            "carburettor",
            "carburetor",
            "injection pump",
            "gas tank",
            "gas line",
            "leak off",
        ],
        no: &["fuel gauge", "fuel flap"],
    },
    Words {
        critical: Critical::SeatBelts,
        yes: &[
            "seat belt",
            "seatbelt",
            "belt anchor",
            "belt anchorage",
            "pretensioner",
            "harness mount",
        ],
        no: &[],
    },
    Words {
        critical: Critical::LiftingPoints,
        yes: &[
            "lifting eye",
            "lifting point",
            "lifting lug",
            "lift eye",
            "shackle",
            "towing eye",
            "tow bar",
            "tow hitch",
            "tow hook",
            "hoist",
            "sling",
            "drawbar",
        ],
        no: &[],
    },
];

fn known() -> &'static [(Critical, Phrases)] {
    static KNOWN: OnceLock<Vec<(Critical, Phrases)>> = OnceLock::new();
    KNOWN.get_or_init(|| {
        let words = WORDS.iter();
        words
            .map(|it| (it.critical, Phrases::cut(it.yes, it.no)))
            .collect()
    })
}

/// What a name tells of.
pub fn critical_in(name: &str) -> Option<Critical> {
    let said = tokens(name);
    known()
        .iter()
        .find(|(_, phrases)| phrases.in_words(&said))
        .map(|(critical, _)| *critical)
}

/// Whether lives hang on a fixing, and why: by the names of the parts it holds
/// and of its own place. Clips and the like hold no wheel.
pub fn critical_fixing<'a>(
    spec: &FastenerSpec,
    place: &str,
    mut parts: impl Iterator<Item = &'a str>,
) -> Option<Critical> {
    if matches!(spec.kind, FastenerKind::Clip | FastenerKind::Rivet) {
        return None;
    }
    parts.find_map(critical_in).or_else(|| {
        [place, spec.text.as_str()]
            .into_iter()
            .find_map(critical_in)
    })
}

/// The same of an end of a connection: pipes, hoses and linkages of brakes,
/// steering and fuel. A plug only carries a signal.
pub fn critical_end(kind: ConnectionKind, name: &str, label: &str) -> Option<Critical> {
    if matches!(kind, ConnectionKind::Plug) {
        return None;
    }
    critical_in(name).or_else(|| critical_in(label))
}

/// As [`critical_fixing`], of a fixing of the job.
pub fn suggest_fixing(job: &Job, fixing: FixingId) -> Option<Critical> {
    let it = job.fixings.get(fixing)?;
    let parts = it.parts.iter().filter_map(|&id| job.parts.get(id));
    critical_fixing(&it.spec, &it.place, parts.map(|part| part.name.as_str()))
}

/// As [`critical_end`], of an end in the job.
pub fn suggest_end(job: &Job, end: EndId) -> Option<Critical> {
    let it = job.connections.get(end.connection)?;
    critical_end(it.kind, &it.name, &it.end(end.side).end.label)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_tell_what_lives_hang_on() {
        for (name, critical) in [
            ("brake caliper carrier", Some(Critical::Brakes)),
            ("parking brake cable", Some(Critical::Brakes)),
            ("track rod end", Some(Critical::Steering)),
            ("Tie-rod end", Some(Critical::Steering)),
            ("lower control arm", Some(Critical::Suspension)),
            ("wishbone", Some(Critical::Suspension)),
            ("road wheel, front left", Some(Critical::Wheels)),
            ("steering wheel", Some(Critical::Steering)),
            ("fuel rail", Some(Critical::Fuel)),
            ("carburetor", Some(Critical::Fuel)),
            ("seat belt reel", Some(Critical::SeatBelts)),
            ("lifting eye", Some(Critical::LiftingPoints)),
            ("flywheel", None),
            ("roof rack", None),
            ("bonnet strut", None),
            ("timing cover", None),
            ("", None),
        ] {
            assert_eq!(critical_in(name), critical, "{name}");
        }
    }
}
