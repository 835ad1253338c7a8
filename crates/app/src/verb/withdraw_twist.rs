//! Withdraws a kept twist.

use crate::floor_page::vehicle;
use crate::wire::{CarView, Problem, WithdrawTwist};
use crate::{Garage, Now, car_form, car_page};

/// Withdraws the kept twist of one kind; results that leaned on it are worked out without it. The store keeps the earlier
/// description of the car.
///
/// # Errors
/// No such car, or nothing of that kind is kept.
pub fn withdraw_twist(garage: &mut Garage, request: WithdrawTwist, now: &Now<'_>) -> Result<CarView, Problem> {
    let id = garage.find("car", &request.car)?;
    let mut document = garage.store.car(id)?.document;
    let mut twists = vehicle(&document)?.known_twist_mm;
    let Some(kind) = twists.keys().copied().find(|kind| kind.code() == request.kind) else {
        let sentence = format!("No twist of {} is kept.", trueground_core::wording::shown(&request.kind));
        return Err(Problem::new("twist_unknown", sentence, "Look at what is kept on the car\u{2019}s page."));
    };
    twists.remove(&kind);
    document["vehicle"]["known_twist_mm"] = car_form::written(&twists)?;
    garage.store.change_car(id, &document)?;
    car_page::page(garage, id, now)
}
