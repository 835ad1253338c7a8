//! Begins one more pass over a floor's spots, or one more set of straightedge readings.

use super::add_floor::{begin, method};
use crate::wire::{AddPass, FloorView, Levelling, Problem};
use crate::{Garage, Now, floor_page};

/// Begins a pass with a level line of its own, or a set of straightedge readings; at any later date too. Where what was begun is
/// not complete, nothing is added, unless it is to be done another way.
///
/// # Errors
/// No such floor, or it cannot be written.
pub fn add_pass(garage: &mut Garage, request: AddPass, now: &Now<'_>) -> Result<FloorView, Problem> {
    let id = garage.find("floor", &request.floor)?;
    let page = floor_page::page(garage, id, now)?;
    let as_last = if method(page.levelling).is_some() { page.levelling } else { Levelling::WaterLevel };
    let way = request.levelling.filter(|way| method(*way).is_some()).unwrap_or(as_last);
    if page.next.is_some() && way == page.levelling {
        return Ok(page);
    }
    let mut document = garage.store.floor(id)?.document;
    begin(&mut document, way, &page);
    garage.store.change_floor(id, &document)?;
    floor_page::page(garage, id, now)
}
