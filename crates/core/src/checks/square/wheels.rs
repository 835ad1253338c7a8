//! Camber and caster by gauge, with what the floor leaned taken out.

use super::{even, finding, usual};
use crate::car::{FloorSlope, Square};
use crate::checks::finding::Finding;
use crate::corner::Corner;
use crate::uncertainty::Quantity;
use crate::units::Angle;

/// A gauge on a rim or a spindle, degrees [common practice, no source].
const GAUGE_U_DEG: f64 = 0.15;
/// A floor that nobody levelled, degrees [common practice, no source].
const FLOOR_U_DEG: f64 = 0.5;
/// A floor's slope that was found, degrees [common practice, no source].
const SLOPE_U_DEG: f64 = 0.1;
/// Left against right, degrees [common practice, no source].
const SIDES_DEG: f64 = 0.5;
/// Of a beam axle, degrees [common practice, no source].
const CASTER_DEG: [f64; 2] = [5.0, 8.0];

/// What the floor leaned, left side up, degrees, and its standard uncertainty.
fn cross_slope(square: &Square, corner: Corner) -> Quantity {
    let of = |floor: &FloorSlope| {
        if corner.is_front() { floor.left_higher_front_deg } else { floor.left_higher_rear_deg }
    };
    slope(square, of)
}

fn slope(square: &Square, of: impl Fn(&FloorSlope) -> f64) -> Quantity {
    square
        .floor
        .as_ref()
        .map_or(Quantity::new(0.0, FLOOR_U_DEG), |floor| Quantity::new(of(floor), floor.u_deg.unwrap_or(SLOPE_U_DEG)))
}

pub(super) fn camber(square: &Square) -> Vec<Finding> {
    let of = |corner: Corner| {
        let read = square.camber_deg.get(&corner)?;
        let floor = cross_slope(square, corner);
        let leaned = if corner.is_left() { floor.value } else { -floor.value };
        Some(Quantity::new(read + leaned, GAUGE_U_DEG.hypot(floor.u)))
    };
    let mut findings = Vec::new();
    for corner in Corner::ALL {
        let Some(value) = of(corner) else { continue };
        let way = if value.value < 0.0 { "inward" } else { "outward" };
        let says = format!("{corner} camber is {:.1}° {way} at the top.", value.value.abs());
        findings.push(finding(&format!("{corner} camber"), value, "deg", says));
    }
    for (left, right, axle) in [(Corner::FL, Corner::FR, "front"), (Corner::RL, Corner::RR, "rear")] {
        let Some((l, r)) = of(left).zip(of(right)) else { continue };
        // The floor's lean counts with opposite signs on the two sides.
        let floor = cross_slope(square, left).u;
        let apart = Quantity::new(l.value - r.value, (2.0_f64.sqrt() * GAUGE_U_DEG).hypot(2.0 * floor));
        let says = format!("{axle} cambers differ by {:.1}°.", apart.value.abs());
        findings.push(even(&format!("{axle} camber, left and right"), apart, "deg", SIDES_DEG, capital(&says)));
    }
    findings
}

pub(super) fn caster(square: &Square) -> Vec<Finding> {
    let floor = slope(square, |floor| floor.rear_higher_deg);
    let of = |corner: Corner| {
        let read = square.caster.get(&corner)?;
        let (gauge, u) = match (read.gauge_deg, read.swing_deg()) {
            (Some(gauge), _) => (gauge, GAUGE_U_DEG),
            (None, swing) => {
                let [steered, out, inward] = swing?;
                let twice = 2.0 * Angle::deg(steered).sin();
                ((out - inward) / twice, 2.0_f64.sqrt() * GAUGE_U_DEG / twice)
            }
        };
        Some((Quantity::new(gauge + floor.value, u.hypot(floor.u)), u))
    };
    let mut findings = Vec::new();
    for corner in [Corner::FL, Corner::FR] {
        let Some((value, _)) = of(corner) else { continue };
        let [low, high] = CASTER_DEG;
        let says = format!("{corner} caster is {:.1}°; {low} to {high}° are usual for a beam axle.", value.value);
        findings.push(usual(&format!("{corner} caster"), value, "deg", CASTER_DEG, says));
    }
    if let Some(((left, u_left), (right, u_right))) = of(Corner::FL).zip(of(Corner::FR)) {
        // The floor's slope is the same on both sides and drops out.
        let apart = Quantity::new(left.value - right.value, u_left.hypot(u_right));
        let says = format!("The casters differ by {:.1}°.", apart.value.abs());
        findings.push(even("caster, left and right", apart, "deg", SIDES_DEG, says));
    }
    findings
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
