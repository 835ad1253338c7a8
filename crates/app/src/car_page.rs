//! A car's page: where it stands, its floors and snapshots, and the next snapshot's form filled in.

use crate::floor_page::{guest_row, other_floors};
use crate::plan::Plan;
use crate::side::{of_stance, shown_kinds};
use crate::solved::{self, SolvedCar};
use crate::verdicts::even;
use crate::wire::{CarForm, CarView, FloorRow, Problem, SnapshotForm, TapeUnit, WalkOrder};
use crate::words::{kinds, typed_pressure};
use crate::{Garage, car_form, garage_row, instrument_page, snapshot_row, twist_gauge};
use serde_json::Value;
use std::collections::BTreeMap;
use trueground_core::capture::{CarFile, Facing};
use trueground_core::car::PointKind;
use trueground_core::corner::Corners;
use trueground_core::stance::{Figure, Known, SnapshotStance};
use trueground_store::SnapshotRecord;
use uuid::Uuid;

/// The page.
///
/// # Errors
/// The car cannot be read.
pub(crate) fn page(garage: &mut Garage, id: Uuid) -> Result<CarView, Problem> {
    let listed = garage.store.snapshots(id)?;
    let last = listed.iter().rev().find(|(.., finished)| *finished).map(|(_, name, _)| name.clone());
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
    // A damaged one is no reason to keep the car closed.
    let previous = listed.last().and_then(|(snapshot_id, ..)| garage.store.snapshot(*snapshot_id).ok());
    Ok(CarView {
        car: id.to_string(),
        form: form(garage, &solved)?,
        floors: floors(garage, id, &solved)?,
        other_floors: other_floors(garage, id, &solved.file.vehicle)?,
        side: stance.zip(kind).and_then(|(stance, kind)| of_stance(&solved.file.vehicle, stance, kind)),
        rake_deg: line.map(|line| line.rake_deg),
        corners: stance.zip(kind).map(|(stance, kind)| corners(&solved, stance, kind)),
        corners_words: line.and(kind).map(|kind| kinds(kind).to_owned()),
        even: line.map(even),
        next: next(&solved, unfinished.is_some(), last.as_deref()),
        begin: begin(garage, &solved, previous.as_ref())?,
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
        let mut points = solved.file.vehicle.ref_points.iter();
        let point = points.find(|point| point.kind == kind && point.corner == corner);
        let height = point.and_then(|point| stance.heights.get(&point.id)).copied();
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

/// Setting that names the tape used last.
pub(crate) const LAST_TAPE: &str = "last_tape";
/// The same of the angle gauge.
pub(crate) const LAST_GAUGE: &str = "last_gauge";

fn last_used(garage: &Garage, setting: &str) -> Result<Option<String>, Problem> {
    let last = garage.store.setting(setting)?;
    still_offered(garage, last.as_deref())
}

/// What became of that tape or gauge since.
fn still_offered(garage: &Garage, id: Option<&str>) -> Result<Option<String>, Problem> {
    match id {
        Some(id) => instrument_page::as_now(garage, id),
        None => Ok(None),
    }
}

/// The next snapshot as the last one was.
fn begin(garage: &Garage, solved: &SolvedCar, previous: Option<&SnapshotRecord>) -> Result<SnapshotForm, Problem> {
    let vehicle = &solved.file.vehicle;
    let has = |kind: &PointKind| vehicle.ref_points.iter().any(|point| point.kind == *kind && !point.retired);
    let floor_id = |name: Option<&str>| -> Result<Option<String>, Problem> {
        let floors = garage.store.floors(solved.car)?;
        Ok(floors.into_iter().find(|(_, known)| Some(known.as_str()) == name).map(|(id, _)| id.to_string()))
    };
    let blank = SnapshotForm {
        car: solved.car.to_string(),
        floor: floor_id(solved.file.floors.last().map(|floor| floor.id.as_str()))?,
        facing: Facing::A,
        label: String::new(),
        kinds: PointKind::ALL.into_iter().filter(has).collect(),
        hubs: vehicle.tires.is_some(),
        rounds: 2,
        bounces: 2,
        angle_gauge: false,
        gauge_across: false,
        level_line: None,
        hub_to_lip: false,
        order: WalkOrder::default(),
        tape: garage.settings()?.tape,
        own_tape: last_used(garage, LAST_TAPE)?,
        own_gauge: last_used(garage, LAST_GAUGE)?,
        pressures: Corners::from_fn(|_| String::new()),
        odometer: String::new(),
    };
    let Some(previous) = previous else { return Ok(blank) };
    let plan = Plan::of(previous, vehicle);
    let snapshot = snapshot_row::typed(previous)?;
    let pressures = match &snapshot.tire_pressure_kpa {
        Some(kpa) => Corners::from_fn(|corner| typed_pressure(*kpa.at(corner))),
        None => blank.pressures,
    };
    Ok(SnapshotForm {
        floor: floor_id(snapshot.floor.as_deref())?,
        facing: snapshot.facing,
        kinds: plan.kinds.into_iter().filter(|kind| has(kind)).collect(),
        hubs: plan.hubs,
        rounds: plan.rounds,
        bounces: plan.bounces,
        angle_gauge: plan.angle_gauge,
        gauge_across: plan.gauge_across,
        level_line: plan.level_line,
        hub_to_lip: plan.hub_to_lip,
        order: plan.order,
        tape: plan.tape,
        own_tape: still_offered(garage, snapshot.tape.as_deref())?,
        own_gauge: match snapshot.gauge.as_deref() {
            Some(id) => still_offered(garage, Some(id))?,
            None => blank.own_gauge.clone(),
        },
        pressures,
        ..blank
    })
}
