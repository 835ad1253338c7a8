//! Books work on the frame or the body mounts, which ends what was known of the car's twist.

use crate::floor_page::vehicle;
use crate::wire::{CarRef, CarView, Problem};
use crate::{Garage, Now, car_form, car_page, event};
use trueground_core::capture::{Event, EventKind};

/// Books it for today: kept twists end, results of later days do without them, and those of earlier days stay as they are.
///
/// # Errors
/// No such car.
pub fn body_remounted(garage: &mut Garage, request: CarRef, now: &Now<'_>) -> Result<CarView, Problem> {
    let id = garage.find("car", &request.car)?;
    let mut document = garage.store.car(id)?.document;
    let today = now.stamp().date();
    let kind = EventKind::BodyRemounted;
    let mut twists = vehicle(&document)?.known_twist_mm;
    for twist in twists.values_mut().filter(|twist| twist.until.is_none()) {
        (twist.until, twist.ended_by) = (Some(today.clone()), Some(kind.words().to_owned()));
    }
    document["vehicle"]["known_twist_mm"] = car_form::written(&twists)?;
    let says =
        Event { date: today, kind: Some(kind.code().to_owned()), what: kind.words().to_owned(), ..Event::default() };
    garage.store.change_car_with_event(id, &document, &event::kept(says, now), now.stamp())?;
    car_page::page(garage, id, now)
}
