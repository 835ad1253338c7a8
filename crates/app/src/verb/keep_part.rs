//! Keeps a part that the person has or could buy, or changes one.

use crate::fields::Fields;
use crate::plan_form::read;
use crate::wire::{PartForm, PlansView, Problem};
use crate::{Garage, Now, plan_page};
use serde_json::{Map, Value, json};
use trueground_core::plan::KeptPart;

/// Keeps a part. A change is a new entry that replaces the earlier one.
///
/// # Errors
/// No such car or part, or every field that cannot be read, at once; then nothing was stored.
pub fn keep_part(garage: &mut Garage, request: PartForm, now: &Now<'_>) -> Result<PlansView, Problem> {
    let car = garage.find("car", &request.car)?;
    let file = garage.store.with_plans(car)?;
    let tape = garage.settings()?.tape;
    let earlier = request.part.as_deref().map(|id| plan_page::part_of(&file, id)).transpose()?;
    let mut fields = Fields::default();
    let label = fields.label("label", "The part", &request.label).unwrap_or_default();
    let slot = fields.label("slot", "The place", &request.slot).unwrap_or_default();
    if request.steps.is_empty() {
        fields.refuse("kind", "", "What it changes is not chosen.", "Choose one.");
    }
    let steps: Vec<Option<Value>> = request.steps.iter().map(|step| read(&mut fields, "step", step, tape)).collect();
    let mut number = |field: &str, typed: &str, most: f64| {
        let typed = typed.trim().replace(',', ".");
        let read: Option<f64> = if typed.is_empty() { Some(0.0) } else { typed.parse().ok() };
        let read = read.filter(|number| (0.0..=most).contains(number));
        if read.is_none() {
            fields.refuse(field, &typed, &format!("A number from 0 to {most} is taken here."), "Look at the number.");
        }
        read.unwrap_or_default()
    };
    let (price, hours) = (number("price", &request.price, 1e7), number("hours", &request.hours, 1e4));
    fields.done()?;
    let steps: Vec<Value> = steps.into_iter().flatten().collect();
    plan_page::can_be_done(garage, &request.car, &steps)?;
    let mut says = earlier.as_ref().map_or_else(Map::new, |earlier| earlier.says.clone());
    for (key, value) in [
        ("label", json!(label)),
        ("slot", json!(slot)),
        ("steps", Value::Array(steps)),
        ("price", json!(price)),
        ("hours", json!(hours)),
    ] {
        says.insert(key.to_owned(), value);
    }
    let part = KeptPart {
        id: now.id().to_string(),
        since: Some(now.stamp().date()),
        replaces: earlier.map(|earlier| earlier.id),
        says,
    };
    garage.store.add_part(car, &part, now.stamp())?;
    plan_page::page(garage, car, Some(part.id), now)
}
