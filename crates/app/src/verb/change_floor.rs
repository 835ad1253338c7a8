//! Renames a floor, says how flat it is, or begins to level it.

use super::add_floor::{begin, method};
use crate::fields::Fields;
use crate::wire::{ChangeFloor, FloorView, Levelling, Problem};
use crate::{Garage, Now, car_form, floor_page};
use serde_json::json;

/// Changes what the person says of a floor; what was read stays. Results of snapshots read before follow.
///
/// # Errors
/// No such floor, every field that cannot be read, or "not levelled" said of a floor on which something is read.
pub fn change_floor(garage: &mut Garage, request: ChangeFloor, now: &Now<'_>) -> Result<FloorView, Problem> {
    let id = garage.find("floor", &request.floor)?;
    let page = floor_page::page(garage, id, now)?;
    let mut fields = Fields::default();
    let label = fields.label("label", "The floor", &request.label);
    let flat = (request.levelling == Levelling::FlatTo)
        .then(|| fields.length("flat_to", "a flatness", &request.flat_to, request.tape, 1.0..=200.0));
    if method(request.levelling).is_none() && page.read {
        let sentence = "This floor has readings, and readings are never erased.";
        fields.refuse("levelling", "", sentence, "Strike those that are wrong, with a reason, or add another floor.");
    }
    fields.done()?;
    let mut document = garage.store.floor(id)?.document;
    document["label"] = json!(label);
    document["rule"] = car_form::written(&request.tape)?;
    if method(request.levelling).is_some() {
        if request.levelling != page.levelling {
            begin(&mut document, request.levelling, &page);
        }
    } else {
        document["survey"] = serde_json::Value::Null;
        for said in ["flat_to_mm", "flat_to_text"] {
            if let Some(keys) = document.as_object_mut() {
                keys.shift_remove(said);
            }
        }
        if let Some(Some(flat_to_mm)) = flat {
            document["flat_to_mm"] = json!(flat_to_mm);
            document["flat_to_text"] = json!(request.flat_to);
        }
    }
    garage.store.change_floor(id, &document)?;
    floor_page::page(garage, id, now)
}
