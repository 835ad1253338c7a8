//! Adds a target, or changes one.

use crate::fields::Fields;
use crate::target_form::read;
use crate::wire::{Problem, TargetForm, TargetsView};
use crate::{Garage, Now, car_form, target_page};
use trueground_core::target::{Made, Target};

/// A height that a tape in sixteenths prints is off by no more than half a sixteenth, mm.
const AS_PRINTED_MM: f64 = 25.4 / 32.0;

/// Keeps a target. A change is a new entry from today on that replaces the earlier one; what was typed is kept beside the numbers.
///
/// # Errors
/// No such car or target, or every field that cannot be read, at once; then nothing was stored.
pub fn keep_target(garage: &mut Garage, request: TargetForm, now: &Now<'_>) -> Result<TargetsView, Problem> {
    let car = garage.find("car", &request.car)?;
    let file = garage.store.with_targets(car)?;
    let earlier = request.target.as_deref().map(|name| target_page::find(&file, name)).transpose()?;
    let mut fields = Fields::default();
    let of = target_page::of_snapshot(garage, car, &request)?;
    let mut wanted = read(&mut fields, &request, &file.vehicle, of).target;
    fields.done()?;
    if let Some(earlier) = earlier.as_ref().filter(|_| wanted.made == Some(Made::Typed)) {
        keep_what_is_not_typed(earlier, &mut wanted);
    }
    let form = TargetForm { target: None, ..request.clone() };
    let mut extra = earlier.as_ref().map(|earlier| earlier.extra.clone()).unwrap_or_default();
    extra.insert("form".to_owned(), car_form::written(&form)?);
    let id = now.id().to_string();
    let target = Target {
        id: id.clone(),
        since: Some(now.stamp().date()),
        replaces: earlier.as_ref().map(|earlier| earlier.id.clone()),
        extra,
        ..wanted
    };
    if let Some(earlier) = &earlier
        && says_the_same(earlier, &target)
    {
        return target_page::page(garage, car, Some(earlier.id.clone()), Vec::new());
    }
    garage.store.add_target(car, &car_form::written(&target)?, now.stamp())?;
    target_page::page(garage, car, Some(id), Vec::new())
}

/// The form of typed heights has no field for tires and rake: what a target from a file said of them stays, the rake as long as the
/// heights do.
fn keep_what_is_not_typed(earlier: &Target, typed: &mut Target) {
    typed.tires = earlier.tires.clone();
    let stays = |(point, mm): (&String, &f64)| {
        typed.heights_mm.get(point).is_some_and(|typed| (typed - mm).abs() <= AS_PRINTED_MM)
    };
    if earlier.heights_mm.len() == typed.heights_mm.len() && earlier.heights_mm.iter().all(stays) {
        (typed.rake_deg, typed.rake_kind) = (earlier.rake_deg, earlier.rake_kind);
    }
}

/// True where nothing but the entry's own name and day would differ.
fn says_the_same(earlier: &Target, new: &Target) -> bool {
    let same = Target {
        id: earlier.id.clone(),
        since: earlier.since.clone(),
        replaces: earlier.replaces.clone(),
        ..new.clone()
    };
    same == *earlier
}
