//! Keeps a car's twist as a gauge for floors that nobody levelled.

use crate::floor_page::vehicle;
use crate::wire::{CarView, KeepTwist, Problem};
use crate::{Garage, Now, car_form, car_page, solved, twist_gauge};
use serde_json::Map;
use trueground_core::car::{KnownTwist, PointKind};

/// Keeps the twist of one kind of point as a finished snapshot on a levelled floor or from a level line found it, in place of an earlier one.
///
/// # Errors
/// No such snapshot or kind, not finished, or its own floor does not tell the twist.
pub fn keep_twist(garage: &mut Garage, request: KeepTwist, now: &Now<'_>) -> Result<CarView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let record = garage.store.snapshot(id)?;
    if !record.finished {
        let hint = "Keep the snapshot first: until then its numbers may change.";
        return Err(Problem::new("snapshot_unfinished", "This snapshot is not finished.", hint));
    }
    let solved = solved::car(garage, record.car, Some(&record.name))?;
    let file = &solved.file;
    let found = (|| {
        let kind = PointKind::ALL.into_iter().find(|kind| kind.code() == request.kind)?;
        let (snapshot, stance) = (solved.snapshot(&record.name)?, solved.stance(&record.name)?);
        let floor = file.floors.iter().find(|floor| Some(&floor.id) == snapshot.floor.as_ref());
        let offers = twist_gauge::offers(&file.vehicle, snapshot, stance, floor);
        offers.iter().find(|offer| offer.kind == request.kind)?;
        let twist = stance.lines.get(kind.code())?.twist_mm;
        Some((
            kind,
            KnownTwist {
                value: twist.value?,
                u: twist.u?,
                snapshot: Some(snapshot.id.clone()),
                date: Some(snapshot.date.clone()),
                until: None,
                ended_by: None,
                extra: Map::new(),
            },
        ))
    })();
    let Some((kind, twist)) = found else {
        let hint = "Level all four spots or read the points from a level line, and read all four corners of that kind.";
        return Err(Problem::new(
            "twist_unknown",
            "This snapshot does not tell the car\u{2019}s twist by itself.",
            hint,
        ));
    };
    let mut document = garage.store.car(record.car)?.document;
    let mut twists = vehicle(&document)?.known_twist_mm;
    twists.insert(kind, twist);
    document["vehicle"]["known_twist_mm"] = car_form::written(&twists)?;
    garage.store.change_car(record.car, &document)?;
    car_page::page(garage, record.car, now)
}
