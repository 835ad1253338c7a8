//! Adds a ground, or changes one.

use crate::fields::Fields;
use crate::floor_page::typed;
use crate::wire::{GroundForm, GroundView, GroundWay, Problem};
use crate::{Garage, Now, car_form, ground_form, ground_page};
use trueground_core::ground::OwnGround;

/// Keeps a ground. What is changed is described anew, and its stations stay; what was typed is kept beside the numbers.
///
/// # Errors
/// No such ground, or every field that cannot be read, at once; then nothing was stored.
pub fn keep_ground(garage: &mut Garage, request: GroundForm, now: &Now<'_>) -> Result<GroundView, Problem> {
    let record = request.ground.as_deref().map(|name| garage.store.ground(name)).transpose()?;
    let earlier: Option<OwnGround> = record.as_ref().map(|record| typed(record.file())).transpose()?;
    let mut fields = Fields::default();
    if record.as_ref().is_some_and(|record| request.way == GroundWay::Measures && !record.stations.is_empty()) {
        let hint = "Add another ground for its measures.";
        fields.refuse("way", "", "Stations were read under a string here, and they stay.", hint);
    }
    let mut own = ground_form::read(&mut fields, &request, earlier.as_ref());
    fields.done()?;
    own.id = record.as_ref().map_or_else(|| now.id().to_string(), |record| record.name.clone());
    own.date = earlier.as_ref().and_then(|earlier| earlier.date.clone()).or_else(|| Some(now.stamp().date()));
    own.put_away = earlier.is_some_and(|earlier| earlier.put_away);
    own.extra.insert("form".to_owned(), car_form::written(&GroundForm { ground: None, ..request })?);
    let mut document = car_form::written(&own)?;
    if let Some(string) = document["string"].as_object_mut() {
        string.shift_remove("stations");
    }
    if record.is_none_or(|record| record.document != document) {
        garage.store.keep_ground(&document, now.stamp())?;
    }
    ground_page::page(garage, &own.id)
}
