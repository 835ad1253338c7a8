//! Puts a ground away, or brings it back.

use crate::wire::{GroundsView, Problem, PutAwayGround};
use crate::{Garage, Now, ground_page};
use serde_json::json;

/// A ground that is put away is no longer driven over; it and its stations stay.
///
/// # Errors
/// No such ground.
pub fn put_away_ground(garage: &mut Garage, request: PutAwayGround, now: &Now<'_>) -> Result<GroundsView, Problem> {
    let mut document = garage.store.ground(&request.ground)?.document;
    let away = document["put_away"].as_bool().unwrap_or_default();
    if away != request.away {
        match document.as_object_mut() {
            Some(keys) if !request.away => drop(keys.shift_remove("put_away")),
            _ => document["put_away"] = json!(true),
        }
        garage.store.keep_ground(&document, now.stamp())?;
    }
    ground_page::list(garage)
}
