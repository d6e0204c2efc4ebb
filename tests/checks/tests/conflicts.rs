//! Where published values disagree, conflicts.md says which is right and why; the
//! core gives that one and not the other. Each row of it has its check here, by
//! what it says in its first column, or stands among those that are no figure of
//! the core's.
#![allow(clippy::unwrap_used, clippy::panic)]

mod common;

use common::close;
use countback_core::fastener::head_table::HEAD_STANDARDS;
use countback_core::fastener::{PropertyClass, Thread};
use countback_core::tag::check;
use countback_core::torque::adapter::Reach;
use countback_core::torque::preload::{Friction, Joint};
use countback_core::torque::strength::{proof_load_kn, strength, ultimate_load_kn};
use countback_core::torque::{Torque, TorqueUnit};

fn thread(name: &str) -> Thread {
    name.parse().unwrap()
}

fn class(name: &str) -> PropertyClass {
    name.parse().unwrap()
}

/// Sizes across flats in millimetres that the standards of this name give a
/// thread.
fn across(standard: &str, name: &str) -> Vec<f64> {
    let of = HEAD_STANDARDS
        .iter()
        .filter(|it| it.name.contains(standard));
    let rows = of.flat_map(|it| it.entries());
    let mut sizes: Vec<f64> = rows
        .filter(|it| it.0 == thread(name))
        .filter_map(|it| Some(f64::from(it.1.to_um()?) / 1e3))
        .collect();
    sizes.dedup();
    sizes
}

fn area(name: &str) -> f64 {
    thread(name).stress_area_mm2().unwrap()
}

/// Of all that is published, `right` is met within `percent` and `wrong` is not.
fn settled(value: f64, right: f64, wrong: f64, percent: f64) {
    assert!(close(value, right, percent), "{value}, not {right}");
    assert!(!close(value, wrong, percent), "{value}, which is wrong");
}

fn heads(where_: &str) {
    match where_ {
        it if it.contains("iso4014head, iso4017head") => {
            assert_eq!(across("ISO 4014", "M14"), [21.0]);
            assert_eq!(across("ISO 8676", "M14 x 1.5"), [21.0]);
            assert_eq!(across("DIN 931", "M14"), [22.0]);
            assert_eq!(across("DIN 934", "M14"), [22.0]);
        }
        it if it.ends_with("iso4017head") => assert_eq!(across("ISO 4017", "M3.5"), [6.0]),
        it if it.contains("iso8676def") => {
            for name in ["M10 x 1", "M10 x 1.25"] {
                assert_eq!(across("ISO 8676", name), [16.0]);
            }
        }
        it if it.contains("hex_head_parameters") => {
            // Its 3.02 to 5.82 are lower limits: the nominal sizes stand here.
            for (name, size) in [("M2", 4.0), ("M2.5", 5.0), ("M3", 5.5)] {
                assert_eq!(across("DIN 931", name), [size], "{name}");
            }
        }
        it if it.starts_with("JIS B 1189") => {
            assert_eq!(across("JIS B 1189", "M12"), [15.0]);
            assert_eq!(across("EN 1662", "M12"), [16.0]);
        }
        it => panic!("no check for: {it}"),
    }
}

fn areas(where_: &str) {
    match where_ {
        it if it.contains("fine table") => {
            for (name, right, wrong) in [
                ("M18 x 1.5", 216.2, 232.0),
                ("M20 x 2", 258.0, 272.0),
                ("M20 x 1.5", 271.5, 290.0),
                ("M10 x 0.75", 67.9, 72.7),
                ("M8 x 0.75", 41.8, 44.2),
                ("M16 x 1", 178.2, 182.0),
            ] {
                settled(area(name), right, wrong, 0.4);
            }
        }
        it if it.contains("inch areas") => {
            settled(area("7/16-14") / (25.4 * 25.4), 0.1063, 0.0163, 0.4);
        }
        it if it.contains("metric areas") => {
            assert!(close(area("M12 x 1.75"), 84.267, 0.4));
            assert!(!close(area("M12 x 1"), 84.267, 0.4), "its label is cut");
        }
        it if it.contains("tap_hole_sizes") => {
            assert_eq!(thread("M14 x 2").tap_drill_mm(), Some(12.0));
        }
        it => panic!("no check for: {it}"),
    }
}

fn loads(where_: &str) {
    let breaks = |name, of| ultimate_load_kn(thread(name), class(of)).unwrap();
    match where_ {
        it if it.contains("ultimate loads") => settled(breaks("M4", "10.9"), 9.13, 91.13, 0.5),
        it if it.contains("engineeringtoolbox copy") => {
            settled(breaks("M12", "9.8"), 75.9, 75.2, 0.5);
            settled(breaks("M20", "10.9"), 254.8, 250.0, 0.5);
        }
        it if it.contains("nfgab") => {
            let proof = proof_load_kn(thread("M16"), class("8.8")).unwrap();
            settled(proof, 91.0, 157.0 * 0.6, 0.5);
        }
        it if it.starts_with("roymech") => {
            assert_eq!(strength(class("12.9"), 12.0).unwrap().tensile, 1_220.0);
        }
        it if it.contains("K-factor") => {
            assert_eq!(strength(class("8.8"), 10.0).unwrap().proof, Some(580.0));
            let proof = proof_load_kn(thread("M10"), class("8.8")).unwrap();
            settled(proof, 33.65, 34.8, 0.5);
        }
        it => panic!("no check for: {it}"),
    }
}

/// A torque of 100 N·m through an adapter at an angle.
fn set(angle_degrees: f64) -> f64 {
    let reach = Reach::Offset {
        wrench: 400.0,
        adapter: 100.0,
        angle_degrees,
    };
    let asked: Torque = "100 N·m".parse().unwrap();
    reach.setting(asked).unwrap().value()
}

fn tools(where_: &str) {
    match where_ {
        it if it.starts_with("VDI 2230") => {
            // Both are right for their edition and head: a band holds them.
            for (name, new, old) in [("M8 x 1", 29.2, 27.0), ("M12 x 1.25", 101.0, 93.0)] {
                let joint = Joint::new(thread(name), class("8.8"), None).unwrap();
                let torque = joint.torque_nm(0.9, Friction(0.14));
                assert!(
                    close(torque, new, 10.0) && close(torque, old, 10.0),
                    "{torque}"
                );
            }
        }
        it if it.starts_with("torque-calculator") => {
            assert!(
                close(set(90.0), 100.0, 1e-6),
                "at 90 degrees it changes nothing"
            );
            assert!(set(45.0) < 95.0);
        }
        it if it.starts_with("firetrucks") => {
            let cosine = 45_f64.to_radians().cos();
            let sum = 400.0 / (400.0 + 100.0 * cosine) * 100.0;
            assert!((set(45.0) - sum).abs() < 0.001, "sum, and no product");
        }
        it if it.contains("check-digits") => {
            // 98 - (n x 100 mod 97), and not 98 - (n mod 97).
            for n in [1_u32, 12, 123_456, 794] {
                let pair = check::check_pair(&n.to_string()).unwrap();
                assert_eq!(pair, 98 - (n * 100) % 97);
                assert_ne!(pair, 98 - n % 97);
            }
        }
        it if it.starts_with("mhforce") => {
            let one: Torque = "1000 N·m".parse().unwrap();
            let inch = one.in_unit(TorqueUnit::PoundForceInch).unwrap();
            assert_eq!(inch.thousandths(), 8_850_746);
        }
        it => panic!("no check for: {it}"),
    }
}

#[test]
fn each_verdict_on_a_conflict_is_kept() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../reference/conflicts.md");
    let text = std::fs::read_to_string(path).unwrap();
    let rows = text.lines().filter(|it| it.starts_with("| "));
    let mut n = 0;
    for row in rows.skip(1) {
        let where_ = row.trim_matches('|').split('|').next().unwrap().trim();
        n += 1;
        match where_ {
            it if it.contains("head") && !it.contains("page") && !it.contains("heading") => {
                heads(it);
            }
            it if it.contains("iso8676def") || it.starts_with("JIS") => heads(it),
            it if it.contains("fine table") || it.contains("areas") || it.contains("tap_hole") => {
                areas(it);
            }
            it if it.contains("loads")
                || it.contains("copy")
                || it.contains("nfgab")
                || it.contains("roymech")
                || it.contains("K-factor") =>
            {
                loads(it);
            }
            // How one maker's book is to be read: the core holds no maker's figures.
            "one machine table headings" => {}
            it => tools(it),
        }
    }
    assert_eq!(n, 20);
}
