//! What must be kept as rooms that parts add to and take from: heights over the ground, caster, travel, the number of parts, their price.
//!
//! Each is linear in what parts do, so that the most and the least of every part bound what any combination keeps. How high a point must
//! stand so as not to touch is found on a car that has this one point and nothing else: another one can only touch besides. It
//! depends on the wheels alone, and where parts change those, the lowest of their heights counts.

use super::keep::Keep;
use crate::car::{LowPoint, Vehicle};
use crate::checks::{AtStance, findings};
use crate::plan::effect::{Effect, NONE};

/// Wheels that parts can bring, at most; with more of them nothing is said about touching beforehand.
pub(super) const MOST_WHEELS: usize = 16;
/// Between these a point is looked for that does not touch, mm over where it stands.
const REACH_MM: [f64; 2] = [-600.0, 600.0];
/// To that it is known, mm; what is told stays on the safe side of it.
const FINE_MM: f64 = 0.1;

/// What the car needs, and how to tell how much of it is left.
pub(super) struct Rooms<'a> {
    keep: &'a Keep,
    now: &'a AtStance<'a>,
    /// By low point: how high it must stand so as not to touch, mm; empty where that is not asked or not known.
    least_mm: Vec<Option<f64>>,
}

impl<'a> Rooms<'a> {
    /// `wheels` are all states of the wheels that parts can bring, each with the car that has them.
    pub(super) fn of(keep: &'a Keep, now: &'a AtStance<'a>, wheels: &[(Effect, Vehicle)]) -> Self {
        let points = &now.vehicle.clearance_points;
        let least_mm = if keep.no_touch && wheels.len() <= MOST_WHEELS {
            points.iter().map(|point| least_mm(now, point, wheels)).collect()
        } else {
            Vec::new()
        };
        Self { keep, now, least_mm }
    }

    /// Room left after an effect of so many parts at such a price; below 0 what is asked cannot be kept.
    pub(super) fn after(&self, effect: &Effect, jobs: usize, price: f64) -> Vec<f64> {
        let mut room = Vec::new();
        room.extend(self.keep.most_jobs.map(|most| most as f64 - jobs as f64));
        room.extend(self.keep.most_price.map(|most| most - price));
        room.extend(
            self.keep.travel_lost_mm.iter().flat_map(|most| effect.travel_mm.map(|travel| most + travel.value)),
        );
        let after = self.now.clone().moved_by(effect);
        for (number, point) in self.now.vehicle.clearance_points.iter().enumerate() {
            let height = after.height_of(point).value;
            room.extend(self.keep.clearance_mm.map(|least| height - least));
            room.extend(self.least_mm.get(number).copied().flatten().map(|least| height - least));
        }
        if let Some([low, high]) = self.keep.caster_deg {
            let caster = findings(&after, &["caster"]).into_iter().find(|finding| finding.what == "caster");
            // A car that does not say its caster never keeps it.
            room.extend(caster.map_or([-1.0; 2], |caster| [caster.value - low, high - caster.value]));
        }
        room
    }
}

/// How high a point must stand at least so as not to touch with any of the wheels; `None` where it never touches.
fn least_mm(now: &AtStance<'_>, point: &LowPoint, wheels: &[(Effect, Vehicle)]) -> Option<f64> {
    let of = |(effect, vehicle): &(Effect, Vehicle)| {
        let touches_at = |by_mm: f64| {
            let mut raised = point.clone();
            raised.z_mm += by_mm;
            let alone = Vehicle { clearance_points: vec![raised], ..vehicle.clone() };
            let car = AtStance { vehicle: &alone, rail: None, ..now.clone() };
            touches(&car.moved_by(effect))
        };
        let [mut low, mut high] = REACH_MM;
        if !touches_at(low) {
            return None;
        }
        while high - low > FINE_MM {
            let middle = f64::midpoint(low, high);
            if touches_at(middle) { low = middle } else { high = middle }
        }
        let stands = now.clone().moved_by(effect).height_of(point).value;
        Some(stands + low - FINE_MM)
    };
    // With wheels of which it is not known it is not known at all.
    wheels.iter().map(of).reduce(|a, b| Some(a?.min(b?))).flatten()
}

/// True where the low points touch a ground, or with a flat tire.
fn touches(car: &AtStance<'_>) -> bool {
    findings(car, &["ramp", "flat_tire"]).iter().any(super::keep::touches)
}

/// What the wheels do of an effect.
pub(super) fn of_wheels(effect: &Effect) -> Effect {
    Effect { hub_mm: effect.hub_mm.map(|hub| crate::uncertainty::Quantity::exact(hub.value)), ..Effect::NONE }
}

/// True where an effect leaves the wheels alone.
pub(super) fn leaves_wheels(effect: &Effect) -> bool {
    effect.hub_mm == [NONE; 2]
}
