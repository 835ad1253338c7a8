//! The parts that are worked out by a bench sum of their own: the steering, the leaf springs, steering box, pedal and wedge. They are
//! refused where the sum would.

use super::Faults;
use crate::bench::Refusal;
use crate::car::Vehicle;
use crate::checks::bumpsteer::Linkage;
use crate::checks::pedal::Pedal;
use crate::checks::steering_box::SteeringBox;
use crate::checks::wedge::Wedge;
use crate::plan::spring::SpringPack;

pub(super) fn check(vehicle: &Vehicle, found: &mut Faults) {
    if let Some(Err(refusal)) = vehicle.steering.as_ref().map(Linkage::of) {
        refused("vehicle.steering", &refusal, found);
    }
    if let Some(Err(refusal)) = vehicle.steering_box.as_ref().map(SteeringBox::of_car) {
        refused("vehicle.steering_box", &refusal, found);
    }
    if let Some(Err(refusal)) = vehicle.pedal.as_ref().map(Pedal::of_car) {
        refused("vehicle.pedal", &refusal, found);
    }
    if let Some(Err(refusal)) = vehicle.wanted_caster.as_ref().map(Wedge::of_car) {
        refused("vehicle.wanted_caster", &refusal, found);
    }
    for (end, pack) in [("front", &vehicle.leaf_packs.front), ("rear", &vehicle.leaf_packs.rear)] {
        if let Some(Err(refusal)) = pack.as_ref().map(SpringPack::of_car) {
            refused(&format!("vehicle.leaf_packs.{end}"), &refusal, found);
        }
    }
}

/// The place stands before the sentence, which begins with the place inside it.
fn refused(place: &str, refusal: &Refusal, found: &mut Faults) {
    found.add(place, refusal.message.trim_end_matches('.'), refusal.hint.trim_end_matches('.'));
}
