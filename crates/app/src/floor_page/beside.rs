//! A floor used by a car that did not mark it out: where its wheels stand, and what that loses.

use super::picture::band;
use super::{floor, row, vehicle};
use crate::Garage;
use crate::wire::{FloorRow, Problem};
use crate::words::whole;
use std::collections::HashSet;
use trueground_core::capture::{Floor, Footprint};
use trueground_core::car::Vehicle;
use trueground_core::floor_block::beside_spots;
use uuid::Uuid;

/// The row of a floor in a car's own file, with where its wheels stand if another car marked it out.
pub(crate) fn guest_row(id: Uuid, floor: &Floor, car: &Vehicle) -> FloorRow {
    let of = floor.extra.get("marked_out_for").and_then(|label| label.as_str()).map(str::to_owned);
    FloorRow { beside: floor.footprint.map(|spots| beside(&spots, car)).unwrap_or_default(), of, ..row(id, floor) }
}

/// Every floor of the garage that this car neither marked out nor uses. One that cannot be read is left out.
///
/// # Errors
/// The garage cannot be read.
pub(crate) fn other_floors(garage: &Garage, car: Uuid, own: &Vehicle) -> Result<Vec<FloorRow>, Problem> {
    let known: HashSet<Uuid> = garage.store.floors(car)?.into_iter().map(|(id, _)| id).collect();
    let mut seen = HashSet::new();
    let mut rows = Vec::new();
    for other in garage.store.cars()? {
        for (id, _) in garage.store.floors(other.id)? {
            if !known.contains(&id) && seen.insert(id) {
                rows.extend(other_row(garage, id, own));
            }
        }
    }
    Ok(rows)
}

fn other_row(garage: &Garage, id: Uuid, own: &Vehicle) -> Option<FloorRow> {
    let record = garage.store.floor(id).ok()?;
    let owner = vehicle(&garage.store.car(record.car).ok()?.document).ok()?;
    let floor = floor(&record.file()).ok()?;
    let spots = floor.footprint.unwrap_or(Footprint {
        wheelbase_mm: owner.wheelbase_mm,
        track_front_mm: owner.track_front_mm,
        track_rear_mm: owner.track_rear_mm,
    });
    Some(FloorRow { of: Some(owner.label), beside: beside(&spots, own), ..row(id, &floor) })
}

/// "Its rear wheels stand 120 mm behind the spots and 10 mm outside them. …"
fn beside(spots: &Footprint, car: &Vehicle) -> String {
    let found = beside_spots(spots, car);
    let side = |mm: f64| match mm.round() {
        mm if mm >= 1.0 => Some(format!("{} mm outside", whole(mm))),
        mm if mm <= -1.0 => Some(format!("{} mm inside", whole(-mm))),
        _ => None,
    };
    let along = match found.rear_behind_mm.round() {
        mm if mm >= 1.0 => Some(format!("{} mm behind", whole(mm))),
        mm if mm <= -1.0 => Some(format!("{} mm ahead of", whole(-mm))),
        _ => None,
    };
    let front = side(found.front_outside_mm).map(|side| format!("Its front wheels stand {side} the spots."));
    let rear = match (along, side(found.rear_outside_mm)) {
        (Some(along), Some(side)) => Some(format!("Its rear wheels stand {along} the spots and {side} them.")),
        (Some(one), None) | (None, Some(one)) => Some(format!("Its rear wheels stand {one} the spots.")),
        (None, None) => None,
    };
    let worst = found.front_u_mm.max(found.rear_u_mm);
    if front.is_none() && rear.is_none() {
        return "Its wheels stand on the same spots: nothing is lost.".to_owned();
    }
    let loss = format!(
        "The floor there is worked out from the four spots, which leaves up to ±{} mm more under a wheel.",
        band(worst)
    );
    let told: Vec<String> = front.into_iter().chain(rear).chain([loss]).collect();
    told.join(" ")
}
