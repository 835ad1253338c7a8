//! Begins one more pass over a floor's spots.

use crate::wire::{FloorRef, FloorView, Levelling, Problem};
use crate::{Garage, Now, floor_page};
use serde_json::{Value, json};

/// Begins a pass with a level line of its own. Where the last one is not complete, nothing is added.
///
/// # Errors
/// No such floor, or it cannot be written.
pub fn add_pass(garage: &mut Garage, request: FloorRef, _now: &Now<'_>) -> Result<FloorView, Problem> {
    let id = garage.find("floor", &request.floor)?;
    let page = floor_page::page(garage, id)?;
    if page.next.is_some() {
        return Ok(page);
    }
    let mut document = garage.store.floor(id)?.document;
    let pass_no = page.passes.iter().map(|pass| pass.pass_no).max().unwrap_or(0) + 1;
    if document["survey"].is_null() {
        document["survey"] = super::add_floor::survey(Levelling::WaterLevel);
    } else if let Some(passes) = document.pointer_mut("/survey/passes").and_then(Value::as_array_mut) {
        passes.push(json!({ "pass_no": pass_no, "readings": [] }));
    } else {
        document["survey"]["passes"] = json!([{ "pass_no": pass_no, "readings": [] }]);
    }
    garage.store.change_floor(id, &document)?;
    floor_page::page(garage, id)
}
