//! Opens the file of a target for a car.

use crate::wire::{OpenTargetFile, Problem, TargetsView};
use crate::{Garage, Now, car_form, target_page};
use trueground_core::target::{Target, TargetFile};
use trueground_core::wording::shown;
use uuid::Uuid;

/// The target is one of the car's then; opening the same file twice adds it once. What could not be carried over is said.
///
/// # Errors
/// Not the file of a target, it makes no sense, or the car has none of its points; then nothing was stored.
pub fn open_target_file(garage: &mut Garage, request: OpenTargetFile, now: &Now<'_>) -> Result<TargetsView, Problem> {
    let named =
        |problem: Problem| Problem { sentence: format!("{}: {}", shown(&request.name), problem.sentence), ..problem };
    let car = garage.find("car", &request.car)?;
    let file = TargetFile::read(&request.text).map_err(|error| named(target_page::refused(error)))?;
    let own = garage.store.with_targets(car)?;
    let carried = file.on(&own.vehicle, request.keep);
    if carried.target.is_empty() {
        let sentence = format!("{} has none of the points of this target.", shown(&own.vehicle.label));
        return Err(named(Problem::new("target_refused", sentence, "Mark the same kinds of point on the car first.")));
    }
    let mut extra = carried.target.extra.clone();
    extra.remove("form");
    let plain = Target { extra, ..carried.target };
    // The file's own name where it is this car's target; else one made from what it says, so that it is added once.
    let says = car_form::written(&Target { id: String::new(), since: None, replaces: None, ..plain.clone() })?;
    let made = Uuid::new_v5(&car, format!("target file\n{says}").as_bytes()).to_string();
    let known = |id: &str| target_page::find(&own, id).ok();
    let same = |known: &Target| {
        let mut extra = known.extra.clone();
        extra.remove("form");
        Target { since: plain.since.clone(), replaces: plain.replaces.clone(), extra, ..known.clone() } == plain
    };
    let id = match known(&plain.id) {
        _ if !file.is_of(&own.vehicle) || Uuid::parse_str(&plain.id).is_err() => made,
        Some(here) if !same(&here) => made,
        _ => plain.id.clone(),
    };
    let mut said = carried.left_out;
    if known(&id).is_some() || own.targets.iter().any(|target| target.id == id) {
        said.insert(0, "This target is here already.".to_owned());
        return target_page::page(garage, car, Some(id), said);
    }
    let since = plain.since.clone().or_else(|| Some(now.stamp().date()));
    let target = Target { id: id.clone(), since, ..plain };
    garage.store.add_target(car, &car_form::written(&target)?, now.stamp())?;
    target_page::page(garage, car, Some(id), said)
}
