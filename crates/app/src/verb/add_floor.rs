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
    floor_page::page(garage, id, now)
}

/// Name of a way of levelling and its staff u; `None` where nothing is read.
pub(super) const fn method(levelling: Levelling) -> Option<(&'static str, f64)> {
    match levelling {
        Levelling::WaterLevel => Some(("water level", WATER_LEVEL_U_MM)),
        Levelling::LaserLine => Some(("laser line and rule", LASER_LINE_U_MM)),
        // Its own u is that of the gauge; a later pass has its own.
        Levelling::Straightedge => Some(("straightedge with angle gauge", WATER_LEVEL_U_MM)),
        Levelling::NotLevelled | Levelling::FlatTo => None,
    }
}

/// The survey of a floor that is levelled so, with its first pass to be read.
pub(super) fn survey(levelling: Levelling) -> Value {
    match method(levelling) {
        None => Value::Null,
        Some((method, staff_u_mm)) if levelling == Levelling::Straightedge => {
            json!({ "method": method, "staff_u_mm": staff_u_mm, "passes": [], "now_with": "straightedge" })
        }
        Some((method, staff_u_mm)) => {
            json!({ "method": method, "staff_u_mm": staff_u_mm, "passes": [{ "pass_no": 1, "readings": [] }] })
        }
    }
}

/// Begins one more pass or set in a floor's document; `page` is the floor as it stands.
pub(super) fn begin(document: &mut Value, levelling: Levelling, page: &FloorView) {
    let Some((name, staff_u_mm)) = method(levelling) else { return };
    if document["survey"].is_null() {
        document["survey"] = survey(levelling);
        return;
    }
    let survey = &mut document["survey"];
    if levelling == Levelling::Straightedge {
        let sets = page.book.iter().filter(|pass| pass.words.starts_with("Set")).count();
        survey["now_with"] = json!("straightedge");
        survey["set"] = json!(sets + 1);
        return;
    }
    if let Some(keys) = survey.as_object_mut() {
        keys.shift_remove("now_with");
    }
    // A pass begun and not read in is the one to read.
    if let Some(last) = page.passes.last()
        && last.spots.iter().all(|spot| spot.text.is_none())
        && page.levelling == levelling
    {
        return;
    }
    let pass_no = page.passes.iter().map(|pass| pass.pass_no).max().unwrap_or(0) + 1;
    let mut pass = json!({ "pass_no": pass_no, "readings": [] });
    if survey["method"] != name {
        pass["method"] = json!(name);
        pass["staff_u_mm"] = json!(staff_u_mm);
    }
    match survey["passes"].as_array_mut() {
        Some(passes) => passes.push(pass),
        None => survey["passes"] = json!([pass]),
    }
}
