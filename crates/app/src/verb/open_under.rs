//! Opens what is under a car as a form.

use crate::floor_page::typed;
use crate::wire::{CarRef, Problem, TapeUnit, UnderView};
use crate::{Garage, Now, car_form, snapshot_row, under_form};
use trueground_core::capture::CarFile;
use trueground_core::checks::lamps::KINDS;

/// The form as it would be typed, and the two snapshots that new numbers can be measured beside.
///
/// # Errors
/// No such car, or its description is damaged.
pub fn open_under(garage: &mut Garage, request: CarRef, _now: &Now<'_>) -> Result<UnderView, Problem> {
    let id = garage.find("car", &request.car)?;
    let file: CarFile = typed(garage.store.car_file(id)?.document)?;
    let listed = garage.store.snapshots(id)?;
    let newest = snapshot_row::last_on_wheels(garage, &listed, true).map(|record| record.name);
    let label = |name: Option<&str>| {
        let found = file.snapshots.iter().find(|snapshot| Some(snapshot.id.as_str()) == name);
        found.map(snapshot_row::label).unwrap_or_default()
    };
    let finished = file.snapshots.iter().filter(|snapshot| {
        snapshot.on_wheels() && listed.iter().any(|(_, name, finished)| *finished && *name == snapshot.id)
    });
    let first = finished.min_by(|a, b| a.date.cmp(&b.date)).map(|snapshot| snapshot.id.as_str());
    let tape: TapeUnit = car_form::tape_unit(&file.instrument.tape);
    Ok(UnderView {
        form: under_form::form(&request.car, tape, &file.vehicle, file.ground.as_ref()),
        newest: label(newest.as_deref()),
        first: label(first),
        lamp_kinds: KINDS.iter().map(|kind| (*kind).to_owned()).collect(),
    })
}
