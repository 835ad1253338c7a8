//! Adds a floor.

use crate::fields::Fields;
use crate::wire::{FloorForm, FloorView, Levelling, Problem};
use crate::{Garage, Now, car_form, floor_page};
use serde_json::{Value, json};

/// A clear hose, both ends read at the same meniscus [common practice, no source].
const WATER_LEVEL_U_MM: f64 = 1.0;
/// A laser line and a rule held on the spot [common practice, no source].
const LASER_LINE_U_MM: f64 = 1.25;

/// Adds a floor, its first pass ready to be read where it is levelled.
///
/// # Errors
/// No such car, or every field that cannot be read, at once.
pub fn add_floor(garage: &mut Garage, request: FloorForm, now: &Now<'_>) -> Result<FloorView, Problem> {
    let car = garage.find("car", &request.car)?;
    let mut fields = Fields::default();
    let label = fields.label("label", "The floor", &request.label);
    let flat = (request.levelling == Levelling::FlatTo)
        .then(|| fields.length("flat_to", "a flatness", &request.flat_to, request.tape, 1.0..=200.0));
    fields.done()?;
    let id = now.id();
    let mut document = json!({ "id": id.to_string(), "label": label, "survey": survey(request.levelling) });
    document["rule"] = car_form::written(&request.tape)?;
    if let Some(Some(flat_to_mm)) = flat {
        document["flat_to_mm"] = json!(flat_to_mm);
        document["flat_to_text"] = json!(request.flat_to);
    }
    garage.store.add_floor(id, car, &document, now.stamp())?;
    floor_page::page(garage, id)
}

/// The survey of a floor that is levelled so, with its first pass to be read.
pub(super) fn survey(levelling: Levelling) -> Value {
    let (method, staff_u_mm) = match levelling {
        Levelling::WaterLevel => ("water level", WATER_LEVEL_U_MM),
        Levelling::LaserLine => ("laser line and rule", LASER_LINE_U_MM),
        Levelling::NotLevelled | Levelling::FlatTo => return Value::Null,
    };
    json!({ "method": method, "staff_u_mm": staff_u_mm, "passes": [{ "pass_no": 1, "readings": [] }] })
}
