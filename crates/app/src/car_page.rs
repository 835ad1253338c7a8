//! A car's page: where it stands, its floors and snapshots, and the next snapshot's form filled in.

use crate::floor_page::{guest_row, other_floors};
use crate::side::{of_design, of_stance, shown_kinds};
use crate::solved::{self, SolvedCar};
use crate::verdicts::even;
use crate::wire::{CarForm, CarView, FloorRow, Problem, TapeUnit};
use crate::words::kinds;
use crate::{Garage, Now, begin_form, car_form, garage_row, load, plan_page, snapshot_row, twist_gauge};
use serde_json::Value;
use std::collections::BTreeMap;
use trueground_core::capture::CarFile;
use trueground_core::car::PointKind;
use trueground_core::corner::Corners;
use trueground_core::stance::{Figure, Known, SnapshotStance};
use uuid::Uuid;

/// The page.
///
/// # Errors
/// The car cannot be read.
pub(crate) fn page(garage: &mut Garage, id: Uuid, now: &Now<'_>) -> Result<CarView, Problem> {
    let listed = garage.store.snapshots(id)?;
    let last = snapshot_row::last_on_wheels(garage, &listed, true).map(|record| record.name);
    let solved = solved::car(garage, id, last.as_deref())?;
    if garage_row::is_stale(&garage.store.car_head(id)?) {
        garage_row::keep(garage, id)?;
    }
    let mut snapshots = Vec::new();
    let mut unfinished = None;
    for (snapshot_id, name, finished) in listed.iter().rev() {
        let Some(snapshot) = solved.snapshot(name) else { continue };
        let state = if *finished {
            None
        } else {
            unfinished.get_or_insert_with(|| snapshot_id.to_string());
            Some(snapshot_row::progress(&garage.store.snapshot(*snapshot_id)?, &solved.file.vehicle))
        };
        snapshots.push(snapshot_row::row(&solved, *snapshot_id, snapshot, state));
    }
    let stance = last.as_deref().and_then(|name| solved.stance(name));
    let kind = stance.and_then(|stance| shown_kinds(stance).first().copied());
    let line = stance.zip(kind).and_then(|(stance, kind)| stance.lines.get(kind.code()));
    let previous = snapshot_row::last_on_wheels(garage, &listed, false);
    let side = stance.zip(kind).and_then(|(stance, kind)| of_stance(&solved.file.vehicle, stance, kind));
    let drawn = side.clone().unwrap_or_else(|| of_design(&solved.file.vehicle));
    Ok(CarView {
        car: id.to_string(),
        form: form(garage, &solved)?,
        floors: floors(garage, id, &solved)?,
        other_floors: other_floors(garage, id, &solved.file.vehicle)?,
        side,
        rake_deg: line.map(|line| line.rake_deg),
        corners: stance.zip(kind).map(|(stance, kind)| corners(&solved, stance, kind)),
        corners_words: line.and(kind).map(|kind| kinds(kind).to_owned()),
        even: line.map(even),
        next: next(&solved, unfinished.is_some(), last.as_deref()),
        due: plan_page::coming(garage, id, &solved.file, now)?,
        begin: begin_form::form(garage, &solved, previous.as_ref())?,
        last_time: previous.as_ref().map(|previous| begin_form::last_time(garage, &solved, previous)).transpose()?,
        load: load::sheet(&solved.file.vehicle, &garage.store.car(id)?.document, drawn),
        snapshots,
        unfinished,
        vehicle: solved.file.vehicle.clone(),
        read: read_at(&solved.file),
        twists: twist_gauge::views(&solved.file.vehicle),
    })
}

/// How many readings hang on each mark of the car, in any snapshot or floor.
pub(crate) fn read_at(file: &CarFile) -> BTreeMap<String, u32> {
    let passes = file.floors.iter().filter_map(|floor| floor.survey.as_ref()).flat_map(|survey| &survey.passes);
    let set_ups = file.snapshots.iter().flat_map(|snapshot| &snapshot.plane_on_car);
    let staffs = passes.chain(set_ups).flat_map(|pass| &pass.readings).map(|reading| reading.point.as_str());
    let tapes = file.snapshots.iter().flat_map(|snapshot| &snapshot.bounces).flat_map(|bounce| &bounce.readings);
    let bare = |name: &str| {
        let rest = ["under:", "on:", "hub_to:"].into_iter().find_map(|word| name.strip_prefix(word));
        rest.unwrap_or(name).to_owned()
    };
    let mut read = BTreeMap::new();
    for name in tapes.map(|reading| reading.point.as_str()).chain(staffs).map(bare) {
        *read.entry(name).or_insert(0) += 1;
    }
    let marked = |id: &String| file.vehicle.ref_points.iter().any(|point| point.id == *id);
    read.retain(|id, _| marked(id));
    read
}

/// The four level heights of one kind, as loaded.
fn corners(solved: &SolvedCar, stance: &SnapshotStance, kind: PointKind) -> Corners<Figure> {
    Corners::from_fn(|corner| {
        let mark = solved.file.vehicle.mark_at(kind, corner, |point| stance.heights.contains_key(&point.id));
        let height = mark.and_then(|point| stance.heights.get(&point.id)).copied();
        height.unwrap_or(Figure { value: None, u: None, known: Known::Undetermined, band_if: None })
    })
}

/// The form as it was typed, or one that would make the same car.
fn form(garage: &Garage, solved: &SolvedCar) -> Result<CarForm, Problem> {
    let vehicle = &solved.file.vehicle;
    let mut as_typed = garage.store.car(solved.car)?.document["form"].take();
    if let Value::Object(keys) = &mut as_typed {
        // A form of an earlier version lacks sections that the description may have all the same.
        let tape = keys.get("tape").cloned().and_then(|tape| serde_json::from_value(tape).ok());
        let made = car_form::of(vehicle, tape.unwrap_or(TapeUnit::Mm));
        if let Value::Object(made) = car_form::written(&made)? {
            for (key, value) in made {
                keys.entry(key).or_insert(value);
            }
        }
    }
    let of_measures = || car_form::of(vehicle, car_form::tape_unit(&solved.file.instrument.tape));
    Ok(serde_json::from_value(as_typed).unwrap_or_else(|_| of_measures()))
}

/// Floors, the one of the newest snapshot first.
fn floors(garage: &Garage, id: Uuid, solved: &SolvedCar) -> Result<Vec<FloorRow>, Problem> {
    let last_use = |name: &str| solved.file.snapshots.iter().rposition(|s| s.floor.as_deref() == Some(name));
    let mut floors = garage.store.floors(id)?;
    // Among floors not used yet, the newest first.
    floors.reverse();
    floors.sort_by_key(|(_, name)| std::cmp::Reverse(last_use(name)));
    let named = |name: &str| solved.file.floors.iter().find(|floor| floor.id == name);
    Ok(floors.iter().filter_map(|(id, name)| Some(guest_row(*id, named(name)?, &solved.file.vehicle))).collect())
}

fn next(solved: &SolvedCar, unfinished: bool, last: Option<&str>) -> String {
    if unfinished {
        return "Go on with the unfinished snapshot.".to_owned();
    }
    let Some(last) = last else {
        return "Walk round it with the tape: front left, front right, rear right, rear left.".to_owned();
    };
    if let Err(problem) = &solved.solution {
        return format!("Correct what cannot be worked out: {}", problem.sentence);
    }
    let levelled = solved
        .snapshot(last)
        .and_then(|snapshot| snapshot.floor.as_ref())
        .is_some_and(|name| solved.file.floors.iter().any(|floor| floor.id == *name && floor.levelled()));
    if levelled {
        "Measure again after a week\u{2019}s driving.".to_owned()
    } else {
        "Level the four spots: then left and right can be told apart.".to_owned()
    }
}
