//! Clamp force and torque by VDI 2230.
//!
//! A bolt that is tightened is pulled and twisted together; how much of its
//! strength the twist takes depends on the friction in the thread, and most of
//! the torque goes into friction. So the force that a given torque makes is
//! known only as a range. None of this is a specification.

use super::head_face::face;
use super::strength::strength;
use crate::fastener::{HeadSize, PropertyClass, Thread};
use std::f64::consts::PI;

/// Friction in the thread and under the head, taken as alike.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Friction(pub f64);

/// How hard the twist counts against the pull in VDI 2230 from 2001, where the
/// bolt may yield at its skin. Before 2001, and in most tables of workshop books,
/// it was 2, wholly elastic, which gives about a tenth less.
const TWIST: f64 = 1.5;

/// A bolt under a hexagon head that is turned, with or without a flange.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    thread: Thread,
    d2_mm: f64,
    pitch_mm: f64,
    area_mm2: f64,
    /// Diameter of the stress area.
    ds_mm: f64,
    /// Mean diameter of the ring under the head.
    head_mm: f64,
    yield_mpa: f64,
}

impl Joint {
    /// A bolt of a standard size; the ring that its head bears on is that of a
    /// plain hexagon, unless it is known to have a flange. `None` for pipe threads,
    /// diameters without a standard head, and classes that are not of bolts.
    pub fn new(thread: Thread, class: PropertyClass, head: Option<HeadSize>) -> Option<Self> {
        let face = face(thread, head)?;
        let yield_mpa = strength(class, thread.diameter_mm()?)?.yield_limit;
        let (d2_mm, d3_mm) = (thread.pitch_diameter_mm()?, thread.root_diameter_mm()?);
        Some(Self {
            thread,
            d2_mm,
            pitch_mm: thread.pitch_mm()?,
            area_mm2: thread.stress_area_mm2()?,
            ds_mm: (d2_mm + d3_mm) / 2.0,
            head_mm: (face.outer_mm + face.inner_mm) / 2.0,
            yield_mpa,
        })
    }

    pub fn thread(&self) -> Thread {
        self.thread
    }

    /// Clamp force in kN at which pull and twist together reach `part` of the
    /// yield limit (0.9 is usual in tables, 1 is yield).
    ///
    /// ```
    /// use countback_core::torque::preload::{Friction, Joint};
    /// let joint = Joint::new("M8 x 1".parse().unwrap(), "8.8".parse().unwrap(), None).unwrap();
    /// assert!((joint.preload_kn(0.9, Friction(0.10)) - 20.7).abs() < 0.2);
    /// assert!((joint.torque_nm(0.9, Friction(0.10)) - 22.8).abs() < 0.6);
    /// ```
    pub fn preload_kn(&self, part: f64, friction: Friction) -> f64 {
        let lead = self.pitch_mm / (PI * self.d2_mm) + 1.155 * friction.0;
        let twist = TWIST * (self.d2_mm / self.ds_mm) * lead;
        part * self.yield_mpa * self.area_mm2 / (1.0 + 3.0 * twist * twist).sqrt() / 1e3
    }

    /// Torque in N·m that makes a clamp force in kN.
    pub fn torque_for_nm(&self, preload_kn: f64, friction: Friction) -> f64 {
        preload_kn * self.arm_mm(friction)
    }

    /// Clamp force in kN that a torque in N·m makes, as long as nothing yields.
    pub fn preload_from_kn(&self, torque_nm: f64, friction: Friction) -> f64 {
        torque_nm / self.arm_mm(friction)
    }

    /// Torque in N·m at which the bolt reaches `part` of its yield limit.
    pub fn torque_nm(&self, part: f64, friction: Friction) -> f64 {
        self.torque_for_nm(self.preload_kn(part, friction), friction)
    }

    /// The part of the yield limit that a torque in N·m takes up; above 1 it
    /// yields.
    pub fn utilisation(&self, torque_nm: f64, friction: Friction) -> f64 {
        torque_nm / self.torque_nm(1.0, friction)
    }

    /// Torque in N·m for each kN of clamp force.
    fn arm_mm(&self, friction: Friction) -> f64 {
        0.159 * self.pitch_mm + friction.0 * (0.577 * self.d2_mm + self.head_mm / 2.0)
    }
}
