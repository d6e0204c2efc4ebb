//! The small things that are undone and done up again, by their trade names,
//! with whether the trade fits them twice.
//!
//! The default is a default: the person may decide otherwise, and then it is an
//! exception with a name and a reason, which the ledger keeps.

use super::kind::FastenerKind;
use super::spec::FastenerSpec;

/// Whether a thing goes back as it came off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Reuse {
    /// A new one is owed.
    Renew,
    /// It goes back if it is found good.
    Inspect,
    /// It goes back.
    Reuse,
}

/// Where a default comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// A page that was read.
    Seen(&'static str),
    /// Common practice, no source.
    CommonPractice,
}

/// A thing known by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CommonItem {
    pub name: &'static str,
    /// What it is counted as; `None` for seals and the like, which are not
    /// fasteners.
    pub kind: Option<FastenerKind>,
    pub reuse: Reuse,
    pub basis: Basis,
}

const fn item(
    name: &'static str,
    kind: Option<FastenerKind>,
    reuse: Reuse,
    basis: Basis,
) -> CommonItem {
    CommonItem {
        name,
        kind,
        reuse,
        basis,
    }
}

use Basis::{CommonPractice, Seen};
use FastenerKind as K;
use Reuse::{Inspect, Renew, Reuse as Again};

const TM_280: Basis = Seen("TM 5-5420-280-23&P");
const TM_363: Basis = Seen("TM 9-2320-363-20-1");
const TM_374: Basis = Seen("TM 5-3895-374-24-1");

/// Everything known by name.
pub const COMMON_ITEMS: &[CommonItem] = &[
    item("gasket", None, Renew, TM_280),
    item("O-ring", None, Renew, TM_280),
    item("lip seal", None, Renew, TM_363),
    item("packing", None, Renew, TM_363),
    item("crush washer", Some(K::Washer), Renew, CommonPractice),
    item("copper washer", Some(K::Washer), Renew, CommonPractice),
    item("aluminium washer", Some(K::Washer), Renew, CommonPractice),
    item("bonded seal washer", Some(K::Washer), Renew, CommonPractice),
    item("split pin", Some(K::SplitPin), Renew, TM_280),
    item("lock wire", Some(K::Other), Renew, TM_280),
    item("lock washer", Some(K::Washer), Renew, TM_280),
    item("tab washer", Some(K::Washer), Renew, TM_374),
    item("self-locking nut", Some(K::Nut), Renew, TM_280),
    item("nylon insert nut", Some(K::Nut), Renew, TM_374),
    item("staked nut", Some(K::Nut), Renew, CommonPractice),
    item(
        "stretch bolt",
        Some(K::Bolt),
        Renew,
        Seen("one page on bolts taken into the proof range"),
    ),
    item(
        "angle-tightened bolt",
        Some(K::Bolt),
        Renew,
        Seen("one page on bolts taken into the proof range"),
    ),
    item("pre-coated bolt", Some(K::Bolt), Renew, CommonPractice),
    item("circlip", Some(K::Circlip), Renew, CommonPractice),
    item("E-clip", Some(K::Circlip), Renew, CommonPractice),
    item("roll pin", Some(K::Pin), Renew, CommonPractice),
    item("blind rivet", Some(K::Rivet), Renew, CommonPractice),
    item("crimp clamp", Some(K::Clamp), Renew, CommonPractice),
    item("cable tie", Some(K::Clip), Renew, CommonPractice),
    item(
        "hose clamp, worm drive",
        Some(K::Clamp),
        Inspect,
        CommonPractice,
    ),
    item(
        "hose clamp, spring",
        Some(K::Clamp),
        Inspect,
        CommonPractice,
    ),
    item("V-band clamp", Some(K::Clamp), Inspect, CommonPractice),
    item("P-clip", Some(K::Clip), Inspect, CommonPractice),
    item("R-clip", Some(K::Clip), Inspect, CommonPractice),
    item("trim clip", Some(K::Clip), Inspect, CommonPractice),
    item("push-in rivet", Some(K::Clip), Inspect, CommonPractice),
    item("pipe clip", Some(K::Clip), Inspect, CommonPractice),
    item("connector lock", Some(K::Clip), Inspect, CommonPractice),
    item(
        "hose quick-connector lock",
        Some(K::Clip),
        Inspect,
        CommonPractice,
    ),
    item("woodruff key", Some(K::Pin), Inspect, CommonPractice),
    item("clevis pin", Some(K::Pin), Inspect, CommonPractice),
    item("dowel", Some(K::Pin), Again, CommonPractice),
    item("plain washer", Some(K::Washer), Again, CommonPractice),
    item("spacer", Some(K::Spacer), Again, CommonPractice),
    item("shim", Some(K::Shim), Again, CommonPractice),
    item("drain plug", Some(K::Plug), Again, CommonPractice),
];

/// The thing of that name, in any case; the plural with an "s" is understood.
pub fn common_item(name: &str) -> Option<&'static CommonItem> {
    let name = name.trim();
    COMMON_ITEMS.iter().find(|it| {
        it.name.eq_ignore_ascii_case(name)
            || name
                .strip_suffix(['s', 'S'])
                .is_some_and(|one| it.name.eq_ignore_ascii_case(one))
    })
}

/// What a kind of fastener is owed when no name narrows it.
pub fn usual_reuse(kind: FastenerKind) -> Reuse {
    match kind {
        K::SplitPin | K::Circlip | K::Rivet => Renew,
        K::Clip | K::Clamp | K::Pin | K::Other => Inspect,
        K::Bolt | K::Nut | K::Stud | K::Screw | K::Washer | K::Spacer | K::Shim | K::Plug => Again,
    }
}

/// What the trade does with a fastener, by its free words where they name a
/// common thing, else by its kind; with that name.
pub fn reuse_of(spec: &FastenerSpec) -> (Reuse, Option<&'static CommonItem>) {
    let words = spec.text.to_ascii_lowercase();
    let named = COMMON_ITEMS.iter().find(|it| {
        it.kind.is_some_and(|kind| kind.could_be(spec.kind))
            && words.contains(&it.name.to_ascii_lowercase())
    });
    (named.map_or(usual_reuse(spec.kind), |it| it.reuse), named)
}

const SELF_LOCKING: &str = "self-locking";

/// Words by which a nut is known to lock by itself, in small letters.
const LOCKING: [&str; 5] = [
    SELF_LOCKING,
    "self locking",
    "nylon insert",
    "lock nut",
    "locknut",
];

/// A nut that resists all the way down, by its free words.
pub fn self_locks(spec: &FastenerSpec) -> bool {
    let words = spec.text.to_ascii_lowercase();
    spec.kind == K::Nut && LOCKING.iter().any(|it| words.contains(it))
}

const STRETCH: &str = "stretch bolt";

/// Names of bolts that are stretched when they are drawn down, in small letters.
const STRETCHED: [&str; 2] = [STRETCH, "angle-tightened bolt"];

/// A bolt that stretches, by its free words.
pub fn stretches(spec: &FastenerSpec) -> bool {
    let words = spec.text.to_ascii_lowercase();
    spec.kind.could_be(K::Bolt) && STRETCHED.iter().any(|it| words.contains(it))
}

/// The same bolt, said to stretch.
pub fn that_stretches(mut spec: FastenerSpec) -> FastenerSpec {
    if !stretches(&spec) {
        spec.text = format!("{} {STRETCH}", spec.text).trim().to_owned();
    }
    spec
}

/// The same bolt without those words; what else is said of it stays.
pub fn that_does_not_stretch(spec: FastenerSpec) -> FastenerSpec {
    without(spec, &STRETCHED)
}

/// The same nut, said to lock by itself.
pub fn that_locks(mut spec: FastenerSpec) -> FastenerSpec {
    if !self_locks(&spec) {
        spec.text = format!("{} {SELF_LOCKING}", spec.text).trim().to_owned();
    }
    spec
}

/// The same nut without those words; what else is said of it stays.
pub fn that_runs_free(spec: FastenerSpec) -> FastenerSpec {
    without(spec, &LOCKING)
}

fn without(mut spec: FastenerSpec, words: &[&str]) -> FastenerSpec {
    for word in words {
        // Letters outside ASCII keep their length, so places are the same.
        while let Some(at) = spec.text.to_ascii_lowercase().find(word) {
            spec.text.replace_range(at..at + word.len(), "");
        }
    }
    let kept: Vec<&str> = spec.text.split_whitespace().collect();
    spec.text = kept.join(" ");
    spec
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_nut_is_said_to_lock_and_loses_no_other_word() {
        let flanged = FastenerSpec {
            kind: K::Nut,
            text: "flanged".to_owned(),
            ..FastenerSpec::default()
        };
        let locks = that_locks(flanged.clone());
        assert!(self_locks(&locks) && locks.text.contains("flanged"));
        assert_eq!(that_locks(locks.clone()), locks);
        assert_eq!(that_runs_free(locks), flanged);
        let bought = FastenerSpec {
            text: "flanged Locknut".to_owned(),
            ..flanged.clone()
        };
        assert_eq!(that_locks(bought.clone()), bought);
        assert_eq!(that_runs_free(bought), flanged);
    }

    #[test]
    fn a_bolt_is_said_to_stretch_and_loses_no_other_word() {
        let long = FastenerSpec {
            text: "long".to_owned(),
            ..FastenerSpec::default()
        };
        let stretched = that_stretches(long.clone());
        assert!(stretches(&stretched) && stretched.text.contains("long"));
        assert_eq!(reuse_of(&stretched).0, Renew);
        assert_eq!(that_stretches(stretched.clone()), stretched);
        assert_eq!(that_does_not_stretch(stretched), long);
        assert!(!stretches(&long));
    }

    #[test]
    fn one_use_things_are_renewed_by_default() {
        for name in [
            "gaskets",
            "O-rings",
            "split pin",
            "lock wire",
            "lock washer",
            "self-locking nut",
            "stretch bolt",
            "crush washer",
            "copper washers",
            "circlip",
        ] {
            assert_eq!(common_item(name).map(|it| it.reuse), Some(Renew), "{name}");
        }
        assert_eq!(common_item("unheard-of"), None);
        assert_eq!(usual_reuse(K::Bolt), Again);
    }

    #[test]
    fn the_free_words_of_a_fastener_narrow_its_kind() {
        let spec = |kind, text: &str| FastenerSpec {
            kind,
            text: text.to_owned(),
            ..FastenerSpec::default()
        };
        assert_eq!(reuse_of(&spec(K::Nut, "Self-locking nut")).0, Renew);
        assert_eq!(reuse_of(&spec(K::Bolt, "stretch bolt, long")).0, Renew);
        // A bolt beside a gasket is no gasket.
        assert_eq!(reuse_of(&spec(K::Bolt, "under the gasket")).0, Again);
        assert_eq!(reuse_of(&spec(K::Circlip, "")).0, Renew);
    }

    #[test]
    fn a_self_locking_nut_is_known_by_its_words() {
        let of = |kind, text: &str| {
            self_locks(&FastenerSpec {
                kind,
                text: text.to_owned(),
                ..FastenerSpec::default()
            })
        };
        assert!(of(K::Nut, "Self-locking nut") && of(K::Nut, "nylon insert nut, low"));
        assert!(!of(K::Nut, "castle nut") && !of(K::Bolt, "beside the lock nut"));
    }

    #[test]
    fn no_name_stands_twice() {
        for (n, one) in COMMON_ITEMS.iter().enumerate() {
            assert!(
                COMMON_ITEMS
                    .iter()
                    .skip(n + 1)
                    .all(|it| it.name != one.name),
                "{}",
                one.name
            );
        }
    }
}
