//! A car in the garage: drawn in its last measured stance from results kept beside it, so that opening works nothing out.

use crate::Garage;
use crate::floor_page::vehicle;
use crate::side::{of_stance, shown_kinds};
use crate::snapshot_row::{last_on_wheels, progress, result_in_a_sentence};
use crate::solved;
use crate::wire::{CarRow, Problem, SideView};
use serde::{Deserialize, Serialize};
use trueground_core::car::Outline;
use trueground_core::level::ENGINE_VERSION;
use trueground_store::{CarHead, Derived};
use uuid::Uuid;

/// What is kept about the last finished snapshot.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct Kept {
    pub(crate) side: Option<SideView>,
    pub(crate) last_date: Option<String>,
    pub(crate) state: String,
}

/// True where the kept results were worked out from something else than what is there now.
pub(crate) fn is_stale(head: &CarHead) -> bool {
    head.derived.as_ref().is_none_or(|kept| kept.version != head.version || kept.engine != engine())
}

/// The row, from kept results only.
///
/// # Errors
/// An unfinished snapshot cannot be read.
pub(crate) fn row(garage: &Garage, head: &CarHead) -> Result<CarRow, Problem> {
    let kept = kept(head);
    let unfinished_state = match head.unfinished {
        Some(id) => match (garage.store.snapshot(id), garage.store.car(head.id)) {
            (Ok(snapshot), Ok(car)) => Some(progress(&snapshot, &vehicle(&car.document)?)),
            (Err(error), _) | (_, Err(error)) => Some(error.to_string()),
        },
        None => None,
    };
    let state = match &kept {
        Some(kept) => kept.state.clone(),
        None if !head.finished => "Not read yet.".to_owned(),
        None => "Open it to see where it stands.".to_owned(),
    };
    let outline = serde_json::from_value(head.outline.clone().into());
    Ok(CarRow {
        car: head.id.to_string(),
        label: head.label.clone(),
        outline: outline.unwrap_or(Outline::BareFrame),
        side: kept.as_ref().and_then(|kept| kept.side.clone()),
        last_date: kept.and_then(|kept| kept.last_date),
        state,
        unfinished: head.unfinished.map(|id| id.to_string()),
        unfinished_state,
    })
}

/// What is kept, if the present engine worked it out.
pub(crate) fn kept(head: &CarHead) -> Option<Kept> {
    let derived = head.derived.as_ref().filter(|derived| derived.engine == engine())?;
    serde_json::from_str(&derived.row).ok()
}

/// Works out a car and keeps what the list shows.
///
/// # Errors
/// The car cannot be read, or nothing can be written.
pub(crate) fn keep(garage: &mut Garage, car: Uuid) -> Result<(), Problem> {
    let last = last_on_wheels(garage, &garage.store.snapshots(car)?, true).map(|record| record.name);
    let kept = match &last {
        None => Kept { side: None, last_date: None, state: "Not read yet.".to_owned() },
        Some(name) => {
            let solved = solved::car(garage, car, Some(name))?;
            let stance = solved.stance(name);
            let kind = stance.and_then(|stance| shown_kinds(stance).first().copied());
            Kept {
                side: stance.zip(kind).and_then(|(stance, kind)| of_stance(&solved.file.vehicle, stance, kind)),
                last_date: solved.snapshot(name).map(|snapshot| snapshot.date.clone()),
                state: stance.map_or("Its readings cannot be worked out. Open it to see why.".to_owned(), |stance| {
                    result_in_a_sentence(stance)
                }),
            }
        }
    };
    let version = garage.store.car(car)?.version;
    let row = crate::car_form::written(&kept)?.to_string();
    Ok(garage.store.keep_derived(car, &Derived { engine: engine(), version, row })?)
}

fn engine() -> String {
    ENGINE_VERSION.to_string()
}
