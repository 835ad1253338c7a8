//! Takes one staff reading, at a spot or under a point.

use super::add_floor::survey;
use crate::fields::{Fields, unit};
use crate::problems::one_field;
use crate::wire::{FieldProblem, FloorView, Levelling, Problem, TakeFloorReading};
use crate::{Garage, Now, floor_page};
use serde_json::Map;
use trueground_core::units::read_length;
use trueground_core::wording::shown;
use trueground_store::{NewReading, ReadingKind};

/// From a level line down to the floor: nothing shorter or longer is a staff reading at a spot.
const STAFF_RANGE_MM: std::ops::RangeInclusive<f64> = 10.0..=3_000.0;

/// Takes a staff reading; it is on the disk when the reply comes. A spot that was read in this pass is read anew: the earlier
/// reading is struck and stays in the book. A floor that was not levelled is levelled by water level from now on.
///
/// # Errors
/// No such floor or spot, or the text cannot be read; then nothing was stored.
pub fn take_floor_reading(garage: &mut Garage, request: TakeFloorReading, now: &Now<'_>) -> Result<FloorView, Problem> {
    let id = garage.find("floor", &request.floor)?;
    let floor = garage.store.floor(id)?;
    let mut fields = Fields::default();
    let vehicle = floor_page::vehicle(&garage.store.car(floor.car)?.document)?;
    let marked = |id: &str| vehicle.ref_points.iter().any(|point| point.id == id);
    let known = matches!(request.point.as_str(), "S1" | "S2" | "S3" | "S4");
    if !known && !request.point.strip_prefix("under:").is_some_and(marked) {
        let sentence = format!("{} is neither a spot nor under a point that is marked.", shown(&request.point));
        fields.refuse("point", &request.point, &sentence, "Choose one of the four spots, or a point of the car.");
    }
    fields.count("pass_no", "passes", request.pass_no, 1..=20);
    fields.done()?;
    let entered = read_length(&request.text, unit(request.tape))
        .and_then(|entered| entered.within("a staff reading", STAFF_RANGE_MM))
        .map_err(|error| one_field(FieldProblem::entry("text", &request.text, error)))?;
    if floor.document["survey"].is_null() {
        let mut document = floor.document.clone();
        document["survey"] = survey(Levelling::WaterLevel);
        garage.store.change_floor(id, &document)?;
    }
    let reading = NewReading {
        id: now.id(),
        kind: ReadingKind::Staff,
        bounce: String::new(),
        pass_no: request.pass_no,
        place: request.point.clone(),
        round: 1,
        reversed: false,
        text: request.text.clone(),
        unit: entered.unit.to_string(),
        value: entered.length.to_mm(),
        extra: Map::new(),
        request: Some(request.request_id),
    };
    garage.store.take_on_floor(id, &reading, now.stamp())?;
    floor_page::page(garage, id, now)
}
