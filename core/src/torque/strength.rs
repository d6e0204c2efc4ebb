//! What the strength classes bear: ISO 898-1, SAE J429, ISO 3506-1, and class
//! 6.9 of DIN 267 (recalled). Stresses in MPa, loads in kN.

use crate::fastener::{PropertyClass, Thread};

/// Least stresses of a class at a diameter, in MPa.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strength {
    /// Stress under proof load; `None` where the standard defines none
    /// (ISO 3506-1, DIN 267).
    pub proof: Option<f64>,
    /// Lower yield point, or the 0.2 % limit.
    pub yield_limit: f64,
    pub tensile: f64,
}

/// Megapascals in a thousand pounds-force per square inch.
const KSI: f64 = 6.894_757_293_168_361;

/// The strength of a class at a nominal diameter in millimetres. `None` for nut
/// classes, which are proved against a bolt, and for stainless strengths that
/// the standard does not have.
pub fn strength(class: PropertyClass, diameter_mm: f64) -> Option<Strength> {
    use PropertyClass as C;
    let of = |proof: f64, yield_limit: f64, tensile: f64| {
        Some(Strength {
            proof: Some(proof),
            yield_limit,
            tensile,
        })
    };
    let sae = |proof: f64, yield_limit: f64, tensile: f64| {
        of(proof * KSI, yield_limit * KSI, tensile * KSI)
    };
    let unproved = |yield_limit: f64, tensile: f64| {
        Some(Strength {
            proof: None,
            yield_limit,
            tensile,
        })
    };
    match class {
        C::C4_6 => of(225.0, 240.0, 400.0),
        C::C4_8 => of(310.0, 340.0, 420.0),
        C::C5_6 => of(280.0, 300.0, 500.0),
        C::C5_8 => of(380.0, 420.0, 520.0),
        C::C6_8 => of(440.0, 480.0, 600.0),
        C::C6_9 => unproved(540.0, 600.0),
        // The lower band holds up to and including 16 mm.
        C::C8_8 if diameter_mm <= 16.0 => of(580.0, 640.0, 800.0),
        C::C8_8 => of(600.0, 660.0, 830.0),
        C::C9_8 => of(650.0, 720.0, 900.0),
        C::C10_9 => of(830.0, 940.0, 1_040.0),
        C::C12_9 => of(970.0, 1_100.0, 1_220.0),
        C::Sae1 => sae(33.0, 36.0, 60.0),
        C::Sae2 if diameter_mm <= 19.06 => sae(55.0, 57.0, 74.0),
        C::Sae2 => sae(33.0, 36.0, 60.0),
        C::Sae5 if diameter_mm <= 25.41 => sae(85.0, 92.0, 120.0),
        C::Sae5 => sae(74.0, 81.0, 105.0),
        C::Sae8 => sae(120.0, 130.0, 150.0),
        C::Stainless { tenth_mpa: 50, .. } => unproved(210.0, 500.0),
        C::Stainless { tenth_mpa: 70, .. } => unproved(450.0, 700.0),
        C::Stainless { tenth_mpa: 80, .. } => unproved(600.0, 800.0),
        C::Stainless { .. } | C::Nut(_) => None,
    }
}

/// The load in kN that every bolt of the class is proved with. `None` for pipe
/// threads and for classes without a proof stress.
pub fn proof_load_kn(thread: Thread, class: PropertyClass) -> Option<f64> {
    let stress = strength(class, thread.diameter_mm()?)?.proof?;
    Some(stress * thread.nominal_stress_area_mm2()? / 1e3)
}

/// The least load in kN at which a bolt of the class breaks.
pub fn ultimate_load_kn(thread: Thread, class: PropertyClass) -> Option<f64> {
    let stress = strength(class, thread.diameter_mm()?)?.tensile;
    Some(stress * thread.nominal_stress_area_mm2()? / 1e3)
}
