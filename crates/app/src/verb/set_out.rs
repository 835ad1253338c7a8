//! Sets a target or a snapshot out on a floor.

use crate::set_out_page::{Wanted, not_levelled, page};
use crate::wire::{Problem, SetOutAsk, SetOutView};
use crate::words::day;
use crate::{Garage, Now, solved, target_page};
use trueground_core::setout::{self, set_out as set_out_on};
use trueground_core::target::snapshot_heights;
use trueground_core::wording::shown;
use trueground_store::StoreError;

/// What the tape must read on the floor, the plates that even it out, and what a mock-up on stands needs; on a floor that is not
/// levelled what can be set out all the same. Nothing is stored.
///
/// # Errors
/// No such car, floor, target or snapshot, or a target that wants no height.
pub fn set_out(garage: &mut Garage, request: SetOutAsk, _now: &Now<'_>) -> Result<SetOutView, Problem> {
    let car = garage.find("car", &request.car)?;
    let floor_id = garage.find("floor", &request.floor)?;
    let named = garage.store.floors(car)?.into_iter().find(|(id, _)| *id == floor_id).map(|(_, name)| name);
    let snapshot = match &request.snapshot {
        Some(id) => Some(garage.store.snapshot(garage.find("snapshot", id)?)?.name),
        None => None,
    };
    let solved = solved::car(garage, car, snapshot.as_deref())?;
    let file = &solved.file;
    // The floor of another car stands under its id.
    let of_name = |name: &str| file.floors.iter().find(|floor| floor.id == name);
    let found = named.as_deref().and_then(of_name).or_else(|| of_name(&request.floor));
    let floor = found.ok_or_else(|| StoreError::NotFound { what: "floor", id: shown(&request.floor) })?;
    let target = request.target.as_deref().map(|name| target_page::find(file, name)).transpose()?;
    let (wanted, what) = match (&target, &snapshot) {
        (Some(target), _) => {
            let label = if target.label.is_empty() { "the target".to_owned() } else { target.label.clone() };
            (Wanted { label, heights_mm: target.heights_mm.clone() }, setout::Wanted::Target(target))
        }
        (None, Some(name)) => {
            let solution = solved.solution.as_ref().map_err(Clone::clone)?;
            let heights_mm = snapshot_heights(file, solution, name).map_err(target_page::refused)?;
            let date = solved.snapshot(name).map(|snapshot| day(&snapshot.date)).unwrap_or_default();
            (Wanted { label: format!("the snapshot of {date}"), heights_mm }, setout::Wanted::Snapshot(name))
        }
        (None, None) => {
            let sentence = "Neither a target nor a snapshot is chosen.";
            return Err(Problem::new("nothing_to_set_out", sentence, "Choose what is to be set out."));
        }
    };
    if wanted.heights_mm.is_empty() {
        let sentence = format!("{} wants no height: there is nothing to set out.", shown(&wanted.label));
        return Err(Problem::new(
            "nothing_to_set_out",
            sentence,
            "Type the heights that are wanted, or set a snapshot out.",
        ));
    }
    if !floor.levelled() {
        return Ok(not_levelled(file, floor, &wanted, request.tape));
    }
    let finished = solved::finished(garage, car, file)?;
    let set_out = set_out_on(&finished, &floor.id, request.facing, what).map_err(target_page::refused)?;
    Ok(page(file, floor, &wanted, &set_out, &request))
}
