//! Floors, snapshots and instruments of a file.

use super::Faults;
use super::instruments::{division, names_a_gauge, names_a_tape, tape_named};
use crate::capture::{CarFile, Facing, Floor, Instrument, Pass, Reading, Snapshot};
use crate::corner::Corner;
use crate::wording::shown;
use chrono::NaiveDate;

const MOST_FLOORS: usize = 200;
const MOST_SNAPSHOTS: usize = 5_000;
const MOST_BOUNCES: usize = 50;
const MOST_PASSES: usize = 50;
const MOST_READINGS: usize = 5_000;
const MOST_READINGS_ALL: usize = 50_000;
/// A staff may stand above or below the plane that was chosen.
const STAFF_MM: std::ops::RangeInclusive<f64> = -20_000.0..=20_000.0;
/// Nothing on a road car that is measured from the floor is higher.
const TAPE_MM: std::ops::RangeInclusive<f64> = 1.0..=5_000.0;

pub(super) fn check(file: &CarFile, found: &mut Faults) {
    instrument(&file.instrument, found);
    super::instruments::check(file, found);
    found.count("floors", file.floors.len(), MOST_FLOORS);
    found.count("snapshots", file.snapshots.len(), MOST_SNAPSHOTS);
    found.names("floors", file.floors.iter().map(|floor| floor.id.as_str()));
    found.names("snapshots", file.snapshots.iter().map(|snapshot| snapshot.id.as_str()));
    for (number, each) in file.floors.iter().enumerate() {
        floor(file, &format!("floors[{number}]"), each, found);
    }
    for (number, each) in file.snapshots.iter().enumerate() {
        snapshot(file, &format!("snapshots[{number}]"), each, found);
    }
    let all: usize =
        file.snapshots.iter().flat_map(|snapshot| &snapshot.bounces).map(|bounce| bounce.readings.len()).sum();
    found.count("snapshots: readings", all, MOST_READINGS_ALL);
    super::events::check(file, found);
}

fn instrument(instrument: &Instrument, found: &mut Faults) {
    found.number("instrument.tape_reading_u_mm", instrument.tape_reading_u_mm, &(0.01..=50.0), "mm");
    found.number("instrument.bounce_repeat_u_mm", instrument.bounce_repeat_u_mm, &(0.01..=50.0), "mm");
    division("instrument.tape", &instrument.tape, found);
}

fn floor(file: &CarFile, place: &str, floor: &Floor, found: &mut Faults) {
    if let Some(flat_to) = floor.flat_to_mm {
        found.number(&format!("{place}.flat_to_mm"), flat_to, &(0.1..=500.0), "mm");
    }
    if let Some(footprint) = &floor.footprint {
        let place = format!("{place}.footprint");
        found.number(&format!("{place}.wheelbase_mm"), footprint.wheelbase_mm, &super::vehicle::WHEELBASE_MM, "mm");
        found.number(&format!("{place}.track_front_mm"), footprint.track_front_mm, &super::vehicle::TRACK_MM, "mm");
        found.number(&format!("{place}.track_rear_mm"), footprint.track_rear_mm, &super::vehicle::TRACK_MM, "mm");
    }
    let Some(survey) = &floor.survey else { return };
    found.number(&format!("{place}.survey.staff_u_mm"), survey.staff_u_mm, &(0.01..=100.0), "mm");
    found.count(&format!("{place}.survey.passes"), survey.passes.len(), MOST_PASSES);
    for (number, each) in survey.passes.iter().enumerate() {
        pass(file, &format!("{place}.survey.passes[{number}]"), each, false, found);
    }
    found.count(&format!("{place}.survey.straightedge"), survey.straightedge.len(), MOST_READINGS);
    for (number, edge) in survey.straightedge.iter().enumerate() {
        let place = format!("{place}.survey.straightedge[{number}]");
        if !is_spot(&edge.from) || !is_spot(&edge.to) || edge.from == edge.to {
            let ends = format!("{} to {}", shown(&edge.from), shown(&edge.to));
            found.add(&place, format!("{ends} are not two spots"), "name two of S1, S2, S3, S4");
        }
        angle(&place, edge.angle_deg, edge.u_deg, found);
        names_a_gauge(file, &format!("{place}.instrument"), edge.instrument.as_deref(), found);
    }
}

/// `on_car`: points of the car may be named too.
fn pass(file: &CarFile, place: &str, pass: &Pass, on_car: bool, found: &mut Faults) {
    found.count(&format!("{place}.readings"), pass.readings.len(), MOST_READINGS);
    names_a_tape(file, &format!("{place}.instrument"), pass.instrument.as_deref(), found);
    if let Some(u) = pass.staff_u_mm {
        found.number(&format!("{place}.staff_u_mm"), u, &(0.01..=100.0), "mm");
    }
    for (number, reading) in pass.readings.iter().enumerate() {
        let place = format!("{place}.readings[{number}]");
        let name = reading.point.as_str();
        let on_floor = is_spot(name) || name.strip_prefix("under:").is_some_and(|id| is_point(file, id));
        let known = on_floor || (on_car && is_point(file, name.strip_prefix("on:").unwrap_or(name)));
        if !known {
            let (or, hint) = if on_car {
                (
                    ", nor a point of the car",
                    "name S1, S2, S3, S4, a reference point of the car, or under: and such a point",
                )
            } else {
                ("", "name S1, S2, S3, S4, or under: and a reference point of the car")
            };
            let message = format!("{} is neither a spot nor the floor under a known point{or}", shown(name));
            found.add(format!("{place}.point"), message, hint);
        }
        found.number(&format!("{place}.value_mm"), reading.value_mm, &STAFF_MM, "mm");
        let division = if reading.unit == "in" { 25.4 / 16.0 } else { 1.0 };
        found.text(&place, &reading.text, &reading.unit, reading.value_mm, division);
    }
}

fn snapshot(file: &CarFile, place: &str, snapshot: &Snapshot, found: &mut Faults) {
    date(&format!("{place}.date"), &snapshot.date, found);
    if let Some(id) = &snapshot.floor
        && !file.floors.iter().any(|floor| floor.id == *id)
    {
        found.add(
            format!("{place}.floor"),
            format!("there is no floor {}", shown(id)),
            "name one of the file's floors, or leave it out",
        );
    }
    facing(place, snapshot, found);
    names_a_tape(file, &format!("{place}.tape"), snapshot.tape.as_deref(), found);
    names_a_gauge(file, &format!("{place}.gauge"), snapshot.gauge.as_deref(), found);
    if let Some(odometer) = snapshot.odometer_km {
        found.number(&format!("{place}.odometer_km"), odometer, &(0.0..=1e7), "km");
    }
    if let Some(pressures) = &snapshot.tire_pressure_kpa {
        for (corner, pressure) in pressures.iter() {
            found.number(&format!("{place}.tire_pressure_kpa.{corner}"), *pressure, &(0.0..=1_000.0), "kPa");
        }
    }
    if let Some(air) = snapshot.air_c {
        found.number(&format!("{place}.air_c"), air, &crate::units::AIR_C, "°C");
    }
    if let Some(plates) = &snapshot.plates_mm {
        for (corner, plate) in plates.iter() {
            found.number(&format!("{place}.plates_mm.{corner}"), *plate, &(0.0..=500.0), "mm");
        }
    }
    for (number, load) in snapshot.load_change_from_nominal.iter().enumerate() {
        let place = format!("{place}.load_change_from_nominal[{number}]");
        found.number(&format!("{place}.mass_kg"), load.mass_kg, &(-5_000.0..=5_000.0), "kg");
        found.number(&format!("{place}.x_mm"), load.x_mm, &(-15_000.0..=5_000.0), "mm");
        found.number(&format!("{place}.y_mm"), load.y_mm, &(-2_500.0..=2_500.0), "mm");
    }
    found.count(&format!("{place}.bounces"), snapshot.bounces.len(), MOST_BOUNCES);
    found.names(&format!("{place}.bounces"), snapshot.bounces.iter().map(|bounce| bounce.bounce_id.as_str()));
    for (number, bounce) in snapshot.bounces.iter().enumerate() {
        let place = format!("{place}.bounces[{number}].readings");
        found.count(&place, bounce.readings.len(), MOST_READINGS);
        for (number, each) in bounce.readings.iter().enumerate() {
            reading(file, &format!("{place}[{number}]"), snapshot.tape.as_deref(), each, found);
        }
    }
    super::photo::check(&format!("{place}.photos"), &snapshot.photos, found);
    gauges(file, place, snapshot, found);
    found.count(&format!("{place}.plane_on_car"), snapshot.plane_on_car.len(), MOST_PASSES);
    for (number, each) in snapshot.plane_on_car.iter().enumerate() {
        pass(file, &format!("{place}.plane_on_car[{number}]"), each, true, found);
    }
    super::corrected::check(place, snapshot, found);
}

/// A car can stand on its spots in two ways only.
fn facing(place: &str, snapshot: &Snapshot, found: &mut Faults) {
    let Some(spots) = &snapshot.wheel_on_spot else { return };
    let expected = match snapshot.facing {
        Facing::A => ["S1", "S2", "S3", "S4"],
        Facing::B => ["S4", "S3", "S2", "S1"],
    };
    let given = Corner::ALL.map(|corner| spots.at(corner).as_str());
    if given != expected {
        let given: Vec<String> = given.iter().map(|spot| shown(spot)).collect();
        found.add(
            format!("{place}.wheel_on_spot"),
            format!(
                "facing {:?} puts FL FR RL RR on {}, not on {}",
                snapshot.facing,
                expected.join(" "),
                given.join(" ")
            ),
            "correct the facing or the spots",
        );
    }
}

fn reading(file: &CarFile, place: &str, default: Option<&str>, reading: &Reading, found: &mut Faults) {
    let name = reading.point.as_str();
    let known = name.strip_prefix("hub.").is_some_and(|code| Corner::from_code(code).is_some())
        || is_point(file, name.strip_prefix("hub_to:").unwrap_or(name));
    if !known {
        found.add(
            format!("{place}.ref"),
            format!("the car has no point {}", shown(name)),
            "name a reference point of the car, or hub. and a corner",
        );
    }
    found.number(&format!("{place}.value_mm"), reading.value_mm, &TAPE_MM, "mm");
    names_a_tape(file, &format!("{place}.instrument"), reading.instrument.as_deref(), found);
    let owned = reading.instrument.as_deref().or(default).and_then(|name| tape_named(file, name));
    if let Some((message, hint)) = owned.and_then(|owned| owned.off_the_tape(reading.value_mm)) {
        found.add(format!("{place}.value_mm"), message, hint);
    }
    // Half of the division that the reading's own unit has on this tape.
    let tape = owned.map_or(&file.instrument.tape, |owned| &owned.tape);
    let division = match (reading.unit.as_str(), tape.unit.as_str()) {
        (unit, own) if unit == own => tape.division_mm(),
        ("in", _) => 25.4 / 16.0,
        _ => 1.0,
    };
    found.text(place, &reading.text, &reading.unit, reading.value_mm, division);
}

fn gauges(file: &CarFile, place: &str, snapshot: &Snapshot, found: &mut Faults) {
    found.count(&format!("{place}.angle_gauge"), snapshot.angle_gauge.len(), MOST_READINGS);
    for (number, gauge) in snapshot.angle_gauge.iter().enumerate() {
        let place = format!("{place}.angle_gauge[{number}]");
        if !["frame_rail_left", "frame_rail_right", "frame_front", "frame_rear"].contains(&gauge.place.as_str()) {
            found.add(
                format!("{place}.where"),
                format!("an angle gauge on {} is not understood", shown(&gauge.place)),
                "use frame_rail_left, frame_rail_right, frame_front or frame_rear",
            );
        }
        if !snapshot.bounces.iter().any(|bounce| bounce.bounce_id == gauge.bounce_id) {
            found.add(
                format!("{place}.bounce_id"),
                format!("there is no bounce {}", shown(&gauge.bounce_id)),
                "name one of the snapshot's bounces",
            );
        }
        angle(&place, gauge.angle_deg, gauge.u_deg, found);
        names_a_gauge(file, &format!("{place}.instrument"), gauge.instrument.as_deref(), found);
    }
}

fn angle(place: &str, angle_deg: f64, u_deg: Option<f64>, found: &mut Faults) {
    found.number(&format!("{place}.angle_deg"), angle_deg, &(-45.0..=45.0), "deg");
    if let Some(u) = u_deg {
        found.number(&format!("{place}.u_deg"), u, &(0.001..=10.0), "deg");
    }
}

pub(super) fn date(place: &str, text: &str, found: &mut Faults) {
    if NaiveDate::parse_from_str(text, "%Y-%m-%d").is_err() {
        found.add(place, format!("{} is no date", shown(text)), "write the day as 2031-04-12");
    }
}

fn is_spot(name: &str) -> bool {
    matches!(name, "S1" | "S2" | "S3" | "S4")
}

fn is_point(file: &CarFile, id: &str) -> bool {
    file.vehicle.ref_points.iter().any(|point| point.id == id)
}
