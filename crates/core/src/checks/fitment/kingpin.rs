//! The kingpin's place against a wheel, and the scrub radius now and with another wheel.

use super::wheel::WheelSize;
use crate::car::Steer;
use crate::uncertainty::{Quantity, propagate};
use crate::units::Angle;

/// The kingpin inboard of the tire's middle at the height of the wheel centre, mm, and the scrub radius with that wheel.
pub(super) fn kingpin_mm(steer: &Steer, wheel: &WheelSize) -> Option<[Quantity; 2]> {
    let lean = steer.kingpin_lean_deg.map_or(USUAL_LEAN_DEG, |deg| Quantity::new(deg, LEAN_U_DEG));
    let slope = |lean_deg: f64| Angle::deg(lean_deg).tan();
    if let Some(face) = steer.kingpin_to_face_mm {
        let offset = wheel.offset?;
        let at_hub = Quantity::new(face - offset.value, offset.u.hypot(FACE_U_MM));
        let scrub =
            propagate([at_hub, wheel.loaded_radius, lean], |[at_hub, radius, lean]| at_hub - radius * slope(lean));
        return Some([at_hub, Quantity::new(scrub.value, scrub.u)]);
    }
    let scrub = Quantity::new(steer.scrub_radius_mm?, SCRUB_U_MM);
    let at_hub = propagate([scrub, wheel.loaded_radius, lean], |[scrub, radius, lean]| scrub + radius * slope(lean));
    Some([Quantity::new(at_hub.value, at_hub.u), scrub])
}

/// Scrub radius with another wheel, from that with the present one, mm.
pub(super) fn scrub_then_mm(scrub: Quantity, steer: &Steer, now: &WheelSize, other: &WheelSize) -> Option<Quantity> {
    let lean = steer.kingpin_lean_deg.map_or(USUAL_LEAN_DEG, |deg| Quantity::new(deg, LEAN_U_DEG));
    let (from, to) = (now.offset?, other.offset?);
    let out = Quantity::new(from.value - to.value, from.u.hypot(to.u));
    let (r0, r1) = (now.loaded_radius, other.loaded_radius);
    let higher = Quantity::new(r1.value - r0.value, r0.u.hypot(r1.u));
    let then = propagate([scrub, out, higher, lean], |[scrub, out, higher, lean]| {
        scrub + out - higher * Angle::deg(lean).tan()
    });
    Some(Quantity::new(then.value, then.u))
}

/// Kingpins of beam axles [common practice, no source].
const USUAL_LEAN_DEG: Quantity = Quantity::new(7.0, 2.5);
/// An angle gauge on the kingpin, degrees [common practice, no source].
const LEAN_U_DEG: f64 = 0.5;
/// A rule from the kingpin's middle to a straightedge on the face, mm [common practice, no source].
const FACE_U_MM: f64 = 1.5;
/// A rod along the kingpin to the floor, mm [common practice, no source].
const SCRUB_U_MM: f64 = 5.0;
