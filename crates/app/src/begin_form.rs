//! The form that begins the next snapshot, filled in as the last one was, and last time's condition in words.

use crate::condition::fill;
use crate::floor_page::{floor, vehicle, with_state};
use crate::plan::Plan;
use crate::snapshot_row::{self, load_words};
use crate::solved::SolvedCar;
use crate::wire::{GaugeUnit, LastLine, LastTime, Problem, SnapshotForm, StandsOn, WalkOrder};
use crate::words::{capital, day};
use crate::{Garage, instrument_page, load};
use serde_json::Value;
use trueground_core::capture::{ConditionPart, Facing, Snapshot};
use trueground_core::car::{PointKind, Vehicle};
use trueground_core::corner::{Corner, Corners};
use trueground_core::units::{Pressure, PressureUnit, TemperatureUnit};
use trueground_store::SnapshotRecord;
use uuid::Uuid;

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

/// The next snapshot as the last one was; the app's own choice where there was none.
///
/// # Errors
/// The last one cannot be read.
pub(crate) fn form(
    garage: &Garage,
    solved: &SolvedCar,
    previous: Option<&SnapshotRecord>,
) -> Result<SnapshotForm, Problem> {
    let document = garage.store.car(solved.car)?.document;
    let floor = floor_id(garage, solved.car, solved.file.floors.last().map(|floor| floor.id.as_str()))?;
    let blank = SnapshotForm { floor, ..blank(garage, solved.car, &solved.file.vehicle, &document)? };
    let Some(previous) = previous else { return Ok(blank) };
    let snapshot = snapshot_row::typed(previous)?;
    let plan = Plan::of(previous, &solved.file.vehicle);
    let fresh_load = blank.load.clone();
    let mut form = SnapshotForm {
        floor: floor_id(garage, solved.car, snapshot.floor.as_deref())?,
        kinds: plan.kinds.into_iter().filter(|kind| blank.kinds.contains(kind)).collect(),
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
        ..blank
    };
    fill(&mut form, &snapshot, fresh_load);
    Ok(form)
}

/// The form of a snapshot's condition, to change it.
///
/// # Errors
/// It cannot be read.
pub(crate) fn of_condition(garage: &Garage, record: &SnapshotRecord) -> Result<SnapshotForm, Problem> {
    let document = garage.store.car(record.car)?.document;
    let mut form = blank(garage, record.car, &vehicle(&document)?, &document)?;
    let snapshot = snapshot_row::typed(record)?;
    let fresh_load = form.load.clone();
    fill(&mut form, &snapshot, fresh_load);
    form.floor = floor_id(garage, record.car, snapshot.floor.as_deref())?;
    form.label.clone_from(&snapshot.label);
    form.tires_warm = snapshot.tires_warm;
    form.odometer = snapshot.odometer_km.map(|km| km.to_string()).unwrap_or_default();
    form.confirmed.clone_from(&snapshot.confirmed);
    Ok(form)
}

fn blank(garage: &Garage, car: Uuid, vehicle: &Vehicle, document: &Value) -> Result<SnapshotForm, Problem> {
    let has = |kind: &PointKind| vehicle.ref_points.iter().any(|point| point.kind == *kind && !point.retired);
    Ok(SnapshotForm {
        car: car.to_string(),
        floor: None,
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
        stands_on: StandsOn::Wheels,
        confirmed: None,
        load: load::blank(document, vehicle),
        pressures: Corners::from_fn(|_| String::new()),
        pressure_unit: GaugeUnit::Kpa,
        tires_warm: false,
        odometer: String::new(),
        air: String::new(),
        air_unit: TemperatureUnit::C,
        from_sheet: false,
        date: String::new(),
        time: String::new(),
    })
}

fn floor_id(garage: &Garage, car: Uuid, name: Option<&str>) -> Result<Option<String>, Problem> {
    let floors = garage.store.floors(car)?;
    Ok(floors.into_iter().find(|(_, known)| Some(known.as_str()) == name).map(|(id, _)| id.to_string()))
}

/// Last time's condition in words.
///
/// # Errors
/// It cannot be read.
pub(crate) fn last_time(garage: &Garage, solved: &SolvedCar, previous: &SnapshotRecord) -> Result<LastTime, Problem> {
    let snapshot = snapshot_row::typed(previous)?;
    let vehicle = &solved.file.vehicle;
    let facing = match (snapshot.facing, snapshot.label.trim()) {
        (Facing::A, "") => "first way round".to_owned(),
        (Facing::B, "") => "turned end for end".to_owned(),
        (Facing::A, label) => format!("first way round, {label}"),
        (Facing::B, label) => format!("turned end for end, {label}"),
    };
    let lines = [
        (ConditionPart::Floor, standing_on(garage, previous, &snapshot)?),
        (ConditionPart::Facing, facing),
        (ConditionPart::Tires, tires(vehicle)),
        (ConditionPart::Load, load_words(vehicle, &snapshot)),
        (ConditionPart::Pressures, pressures(&snapshot)),
    ];
    let lines = lines.into_iter().map(|(part, words)| LastLine { part, words: capital(&words) }).collect();
    Ok(LastTime { day: day(&snapshot.date), lines })
}

/// "Drive, levelled 12 Aug 2031"
fn standing_on(garage: &Garage, previous: &SnapshotRecord, snapshot: &Snapshot) -> Result<String, Problem> {
    let Some(name) = &snapshot.floor else { return Ok(with_state(None)) };
    let Some((id, _)) = garage.store.floors(previous.car)?.into_iter().find(|(_, known)| known == name) else {
        return Ok(with_state(None));
    };
    let record = garage.store.floor(id)?;
    let words = with_state(Some(&floor(&record.file())?));
    let levelled = record.readings.iter().rev().find(|reading| reading.counts()).and_then(|reading| reading.at);
    Ok(match levelled {
        Some(at) if words.ends_with(", levelled") => format!("{words} {}", day(&at.date())),
        _ => words,
    })
}

/// "6.00-16 front, 6.50-16 rear"
fn tires(vehicle: &Vehicle) -> String {
    let Some(tires) = &vehicle.tires else { return "tires not named".to_owned() };
    let axle = |left: Corner, right: Corner| {
        let (left, right) = (&tires.at(left).designation, &tires.at(right).designation);
        if left == right { left.clone() } else { format!("{left} and {right}") }
    };
    let (front, rear) = (axle(Corner::FL, Corner::FR), axle(Corner::RL, Corner::RR));
    if front == rear { format!("{front} all round") } else { format!("{front} front, {rear} rear") }
}

/// "210 kPa front, 220 rear, cold"; in the unit they were typed in.
fn pressures(snapshot: &Snapshot) -> String {
    let Some(kpa) = &snapshot.tire_pressure_kpa else { return "pressures not read".to_owned() };
    let said = snapshot.extra.get("typed").map(|typed| typed["pressure_unit"].clone()).unwrap_or_default();
    let unit = match serde_json::from_value(said).unwrap_or_default() {
        GaugeUnit::Kpa => PressureUnit::Kpa,
        GaugeUnit::Psi => PressureUnit::Psi,
        GaugeUnit::Bar => PressureUnit::Bar,
    };
    let axle = |left: Corner, right: Corner| {
        let [left, right] = [left, right].map(|corner| Pressure::kpa(*kpa.at(corner)).on_a_gauge(unit));
        if left == right { left } else { format!("{left} and {right}") }
    };
    let warm = if snapshot.tires_warm { "warm" } else { "cold" };
    format!("{} {unit} front, {} rear, {warm}", axle(Corner::FL, Corner::FR), axle(Corner::RL, Corner::RR))
}
