//! Begins a snapshot.

use crate::begin_form::{LAST_GAUGE, LAST_TAPE};
use crate::condition::Condition;
use crate::fields::Fields;
use crate::floor_page::{typed, vehicle};
use crate::plan::Plan;
use crate::steps::{new_bounces, new_set_ups};
use crate::wire::{Problem, SnapshotForm, StandsOn, TapeUnit, WalkOrder, WalkView};
use crate::{Garage, Now, car_form, instrument_page, load, moment, walk_page};
use serde_json::{Value, json};
use trueground_core::capture::{OwnedInstrument, OwnedTape};
use trueground_core::car::{PointKind, Vehicle};

/// Begins a snapshot and shows its walk. A car has one unfinished snapshot at a time.
///
/// # Errors
/// No such car or floor, another one is unfinished, or every field that cannot be read, at once.
pub fn begin_snapshot(garage: &mut Garage, request: SnapshotForm, now: &Now<'_>) -> Result<WalkView, Problem> {
    let car = garage.find("car", &request.car)?;
    let mut car_document = garage.store.car(car)?.document;
    let vehicle = vehicle(&car_document)?;
    if garage.store.snapshots(car)?.iter().any(|(.., finished)| !finished) {
        return Err(Problem::new(
            "snapshot_unfinished",
            "Another snapshot of this car is unfinished.",
            "Go on with it and finish it first. Nothing in it is lost.",
        ));
    }
    let mut fields = Fields::default();
    let condition = Condition::read(garage, &mut fields, &request, car, &vehicle)?;
    check_plan(&mut fields, &request, &vehicle);
    let own_tape = own_tape(garage, &mut fields, &request)?;
    let own_gauge = own_gauge(garage, &mut fields, &request)?;
    let sheet_read_at =
        if request.from_sheet { moment::read_at(&mut fields, &request.date, &request.time, now) } else { None };
    fields.done()?;

    let id = now.id();
    let name = id.to_string();
    // A body on stands is not rolled and not bounced.
    let bounces = if request.stands_on == StandsOn::RatedStands { 1 } else { request.bounces };
    let date = sheet_read_at.as_deref().and_then(|at| at.get(..10)).map_or_else(|| now.stamp().date(), str::to_owned);
    let mut document = json!({ "id": name, "date": date, "bounces": new_bounces(&name, bounces) });
    condition.write(&mut document, &request)?;
    if request.stands_on == StandsOn::RatedStands {
        document["bounces"][0]["how"] = json!("on rated stands");
    }
    if request.level_line.is_some() {
        document["plane_on_car"] = new_set_ups(&name, bounces);
    }
    let tape_unit = own_tape.as_ref().map_or(request.tape, |tape| car_form::tape_unit(&tape.tape));
    if let Some(tape) = &own_tape {
        document["tape"] = json!(tape.id);
        garage.store.set(LAST_TAPE, &tape.id)?;
    }
    if let Some(gauge) = &own_gauge {
        document["gauge"] = json!(gauge);
        garage.store.set(LAST_GAUGE, gauge)?;
    }
    let plan = Plan {
        kinds: request.kinds,
        hubs: request.hubs,
        rounds: request.rounds,
        bounces,
        angle_gauge: request.angle_gauge,
        gauge_across: request.gauge_across,
        level_line: request.level_line,
        hub_to_lip: request.hub_to_lip,
        // The paper has one order.
        order: if request.from_sheet { WalkOrder::default() } else { request.order },
        sheet_read_at,
        skips: Vec::new(),
        half_typed: std::collections::BTreeMap::new(),
        tape: tape_unit,
    };
    let before = car_document.clone();
    load::remember(&mut car_document, &request.load);
    if own_tape.is_none() && coarser(&car_document, request.tape) {
        car_document["instrument"]["tape"] = car_form::written(&car_form::tape(request.tape))?;
    }
    if car_document != before {
        garage.store.change_car(car, &car_document)?;
    }
    garage.store.begin_snapshot(id, car, &document, &car_form::written(&plan)?, now.stamp())?;
    walk_page::page(garage, id)
}

/// The chosen tape of one's own.
fn own_tape(garage: &Garage, fields: &mut Fields, request: &SnapshotForm) -> Result<Option<OwnedTape>, Problem> {
    let Some(id) = request.own_tape.as_deref() else { return Ok(None) };
    if let OwnedInstrument::Tape(tape) = instrument_page::offered(garage, id)? {
        return Ok(Some(tape));
    }
    fields.refuse("own_tape", id, "That is an angle gauge, not a tape.", "Choose a tape.");
    Ok(None)
}

/// Id of the chosen gauge, where a gauge is read at all.
fn own_gauge(garage: &Garage, fields: &mut Fields, request: &SnapshotForm) -> Result<Option<String>, Problem> {
    let Some(id) = request.own_gauge.as_deref().filter(|_| request.angle_gauge || request.gauge_across) else {
        return Ok(None);
    };
    if matches!(instrument_page::offered(garage, id)?, OwnedInstrument::AngleGauge(_)) {
        return Ok(Some(id.to_owned()));
    }
    fields.refuse("own_gauge", id, "That is a tape, not an angle gauge.", "Choose a gauge.");
    Ok(None)
}

fn check_plan(fields: &mut Fields, request: &SnapshotForm, vehicle: &Vehicle) {
    fields.count("rounds", "rounds", request.rounds, 1..=5);
    fields.count("bounces", "bounces", request.bounces, 1..=4);
    let lips = vehicle.ref_points.iter().any(|point| point.kind == PointKind::FenderLip);
    if request.hub_to_lip && !lips {
        let sentence = "This car has no fender lip marked to measure up to from the wheel centre.";
        fields.refuse("hub_to_lip", "", sentence, "Add its lips to the car, or leave this out.");
    }
    if request.kinds.is_empty() && !request.hubs && !request.hub_to_lip {
        fields.refuse("kinds", "", "Nothing to read is chosen.", "Choose a kind of point.");
    }
    if request.kinds.is_empty() && request.level_line.is_some() {
        let hint = "Choose the kind of point that is read from the line.";
        fields.refuse("kinds", "", "The level line has no point to be read to.", hint);
    }
    for (number, kind) in request.kinds.iter().enumerate() {
        let field = format!("kinds.{number}");
        if !vehicle.ref_points.iter().any(|point| point.kind == *kind) {
            let sentence = format!("This car has no {} marked.", kind.words());
            fields.refuse(&field, kind.code(), &sentence, "Choose a kind that is marked, or add it to the car.");
        }
        if vehicle.ref_points.iter().filter(|point| point.kind == *kind).all(|point| point.retired) {
            let sentence = format!("The {} is no longer read.", kind.words());
            fields.refuse(
                &field,
                kind.code(),
                &sentence,
                "Choose another kind, or take it up again on the car\u{2019}s page.",
            );
        }
        if request.kinds[..number].contains(kind) {
            let sentence = format!("The {} stands here twice.", kind.words());
            fields.refuse(&field, kind.code(), &sentence, "Take one of the two away.");
        }
    }
}

/// True where this tape is divided coarser than the one the car is written down with.
fn coarser(document: &Value, tape: TapeUnit) -> bool {
    let known = typed::<trueground_core::capture::Instrument>(document["instrument"].clone()).unwrap_or_default();
    car_form::tape(tape).division_mm() > known.tape.division_mm()
}
