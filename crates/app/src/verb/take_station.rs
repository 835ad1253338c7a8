//! Takes one station under a string.

use crate::fields::{Fields, unit};
use crate::floor_page::typed;
use crate::wire::{FieldProblem, GroundView, Problem, TakeStation};
use crate::{Garage, Now, ground_page};
use serde_json::json;
use std::ops::RangeInclusive;
use trueground_core::ground::OwnGround;

const ALONG_MM: RangeInclusive<f64> = 0.0..=100_000.0;
const DOWN_MM: RangeInclusive<f64> = 0.0..=5_000.0;

/// Takes a station; it is on the disk when the reply comes. Two at one place make a step. One that lies before the last is asked for
/// again, and taken with `between`.
///
/// # Errors
/// No such ground, a text that cannot be read, a place behind the last one, or a third at one place; then nothing was stored.
pub fn take_station(garage: &mut Garage, request: TakeStation, now: &Now<'_>) -> Result<GroundView, Problem> {
    let record = garage.store.ground(&request.ground)?;
    let own: OwnGround = typed(record.file())?;
    let mut fields = Fields::default();
    let along = match request.along.trim() {
        // Where a string begins is a station too, and no tape shows a nought.
        "0" => Some(0.0),
        _ => fields.length("along", "a way along the string", &request.along, request.tape, ALONG_MM),
    };
    let down = fields.length("down", "a height under the string", &request.down, request.tape, DOWN_MM);
    if own.string.is_none() {
        fields.refuse("way", "", "This ground is typed, and has no string.", "Add another ground, with a string.");
    }
    let station = json!({
        "along_mm": along.unwrap_or_default(),
        "down_mm": down.unwrap_or_default(),
        "along_text": request.along.trim(),
        "text": request.down.trim(),
        "unit": unit(request.tape).to_string(),
        "taken_at": now.stamp().iso(),
    });
    // Asked again because no answer was heard, it stands there by itself.
    let heard = garage.store.heard_station(&request.ground, &station, &request.request_id)?;
    if let Some(along) = along.filter(|_| !heard) {
        place(&mut fields, &request, &own, along);
    }
    fields.done()?;
    garage.store.take_station(&request.ground, now.id(), &station, &request.request_id, now.stamp())?;
    ground_page::page(garage, &request.ground)
}

/// Whether a station may stand there.
fn place(fields: &mut Fields, request: &TakeStation, own: &OwnGround, along: f64) {
    let read: Vec<f64> =
        own.string.iter().flat_map(|string| string.counting()).map(|station| station.along_mm).collect();
    let next = ground_page::next_along(own, request.tape);
    let mut refuse = |sentence: String, hint: &str| {
        fields.push(FieldProblem {
            field: "along".to_owned(),
            typed: request.along.clone(),
            sentence,
            hint: hint.to_owned(),
            proposals: vec![next.clone()],
        });
    };
    if read.iter().filter(|other| **other == along).count() > 1 {
        refuse(
            format!("Two stations stand at {along:.0} mm already: they make a step, and a third says nothing."),
            "Type the next place.",
        );
    } else if let Some(last) = read.last().filter(|last| along < **last && !request.between) {
        refuse(
            format!("{along:.0} mm lies before the last station, at {last:.0} mm: the profile would run backwards."),
            "Type the next place; or put it between the others.",
        );
    }
}
