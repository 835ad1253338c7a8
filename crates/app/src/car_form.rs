//! The form of a car: from what was typed to a vehicle, and back.

use crate::fields::Fields;
use crate::floor_page::typed;
use crate::wire::{BodyForm, CarForm, FieldProblem, GaugeUnit, LoadsForm, Problem, SpringsForm, TapeUnit, TireForm};
use crate::words::{capital, typed_pressure};
use crate::{car_loads, car_marks, car_springs};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use trueground_core::capture::{CarFile, Instrument, Tape};
use trueground_core::car::{FittedTire, Outline, Vehicle};
use trueground_core::corner::{Corner, Corners};
use trueground_core::tire::{Basis, Measured, MeasuredLength, TireDimensions, dimensions, read_marking};
use trueground_core::validate;

/// Diameter measured round the free tire with a tape [common practice, no source].
const MEASURED_DIAMETER_U_MM: f64 = 2.0;

/// What a form is read against: the car as it was.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Kept<'a> {
    /// Its description before.
    pub(crate) vehicle: Option<&'a Vehicle>,
    /// How many readings hang on each mark.
    pub(crate) read: Option<&'a BTreeMap<String, u32>>,
    /// Height of its rails mid-wheelbase as it stands, mm, where it was read.
    pub(crate) rail_mm: Option<f64>,
}

/// The vehicle that a form describes. What an earlier description knew beyond the form is kept.
///
/// # Errors
/// Every field that cannot be read, at once.
pub(crate) fn vehicle(form: &CarForm, kept: Kept<'_>) -> Result<Vehicle, Problem> {
    let mut fields = Fields::default();
    let vehicle = read(&mut fields, form, kept);
    fields.done()?;
    as_a_whole(form, &vehicle)?;
    Ok(vehicle)
}

/// The vehicle as far as it can be read, what cannot be is refused; usual sizes stand where none can be read, so that there is
/// something to draw.
pub(crate) fn read(fields: &mut Fields, form: &CarForm, kept: Kept<'_>) -> Vehicle {
    const USUAL_MM: (f64, f64) = (2_600.0, 1_400.0);
    let earlier = kept.vehicle;
    let before = earlier.map(|vehicle| of(vehicle, form.tape));
    let label = fields.label("label", "The car", &form.label);
    let wheelbase = fields.length("wheelbase", "a wheelbase", &form.wheelbase, form.tape, 500.0..=10_000.0);
    let track_front = fields.length("track_front", "a track", &form.track_front, form.tape, 300.0..=4_000.0);
    let track_rear = fields.length("track_rear", "a track", &form.track_rear, form.tape, 300.0..=4_000.0);
    let ref_points = car_marks::of_form(fields, form, wheelbase, kept, before.as_ref());
    let tires = tires(fields, form, earlier, before.as_ref());
    let springs = before.as_ref().map(|form| &form.springs);
    let suspended = earlier.and_then(|vehicle| vehicle.suspension.as_ref());
    let suspension = car_springs::of_form(fields, &form.springs, form.tape, suspended, springs);
    let (roll_share_front, lean_gain) = car_springs::share_and_gain(fields, &form.springs, earlier, springs);
    let loads = before.as_ref().map(|form| &form.loads);
    let (mass_kg_approx, front_mass_share) = car_loads::mass(fields, &form.loads, earlier, loads);
    let scale = earlier.and_then(|vehicle| vehicle.weighed.as_ref());
    let weighed = car_loads::weighed(fields, &form.loads, scale);
    let tank = earlier.and_then(|vehicle| vehicle.tank.as_ref());
    let tank = car_loads::tank(fields, &form.loads, form.tape, tank, loads);
    let seats = earlier.map(|vehicle| &vehicle.seats[..]).unwrap_or_default();
    let seats = car_loads::seats(fields, &form.loads, form.tape, seats, loads);
    let body = before.as_ref().map(|form| &form.body);
    let size = earlier.map(|vehicle| &vehicle.extent);
    let extent = car_loads::extent(fields, &form.body, form.tape, size, body, kept.rail_mm);
    let load = form.nominal_load.trim();
    let rest = earlier.cloned().unwrap_or_else(blank);
    car_springs::with_share_from_springs(Vehicle {
        label: label.unwrap_or_default(),
        wheelbase_mm: wheelbase.unwrap_or(USUAL_MM.0),
        track_front_mm: track_front.unwrap_or(USUAL_MM.1),
        track_rear_mm: track_rear.unwrap_or(USUAL_MM.1),
        ref_points,
        tires,
        suspension,
        mass_kg_approx,
        front_mass_share,
        weighed,
        roll_share_front,
        lean_gain,
        tank,
        seats,
        extent,
        outline: Some(form.outline),
        nominal_load: (!load.is_empty()).then(|| load.to_owned()),
        ..rest
    })
}

/// What only the whole car shows, such as a rim larger than its tire: the engine's own check, so that no car is kept that it
/// would refuse.
fn as_a_whole(form: &CarForm, vehicle: &Vehicle) -> Result<(), Problem> {
    let file: CarFile = typed(json!({ "vehicle": written(vehicle)? }))?;
    let mut fields = Fields::default();
    // Whether the snapshots are there that parts were measured beside is asked of the whole car.
    let alone = validate::faults(&file).into_iter().filter(|fault| !fault.place.ends_with(".measured_in"));
    for fault in alone {
        let place = fault.place.strip_prefix("vehicle.").unwrap_or(&fault.place);
        let corner = place.strip_prefix("tires.").and_then(|rest| Corner::from_code(rest.get(..2)?));
        let (field, typed) = match corner {
            Some(corner) if !form.tires.at(corner).measured_diameter.trim().is_empty() => {
                (format!("tires.{corner}.measured_diameter"), form.tires.at(corner).measured_diameter.as_str())
            }
            Some(corner) => (format!("tires.{corner}.marking"), form.tires.at(corner).marking.as_str()),
            None if place.starts_with("ref_points") => ("points".to_owned(), ""),
            None => (place.to_owned(), ""),
        };
        fields.refuse(&field, typed, &format!("{}.", capital(&fault.message)), &format!("{}.", capital(&fault.hint)));
    }
    fields.done()
}

/// The car's document with a changed vehicle. What the form does not know stays as the document had it, down to keys that this
/// program has no name for.
pub(crate) fn changed(mut document: Value, form: &CarForm, vehicle: &Vehicle) -> Result<Value, Problem> {
    let mut new = written(vehicle)?;
    let mut kept = written(&typed::<Vehicle>(document["vehicle"].clone())?)?;
    for key in KEYS {
        let value = new[key].take();
        // What did not change stays as it was written, with whatever this program has no name for.
        if value == kept[key].take() {
            continue;
        }
        match value {
            Value::Null => {
                document["vehicle"].as_object_mut().and_then(|keys| keys.shift_remove(key));
            }
            value => document["vehicle"][key] = value,
        }
    }
    document["form"] = as_kept(form, vehicle)?;
    Ok(document)
}

/// What of a vehicle the form describes.
const KEYS: [&str; 16] = [
    "label",
    "wheelbase_mm",
    "track_front_mm",
    "track_rear_mm",
    "ref_points",
    "tires",
    "suspension",
    "outline",
    "nominal_load",
    "mass_kg_approx",
    "front_mass_share",
    "roll_share_front",
    "lean_gain",
    "tank",
    "seats",
    "extent",
];

/// Refuses a changed car that its own readings no longer fit.
///
/// # Errors
/// What is wrong only since the change; `file` is the car as it is kept, as one exchange file.
pub(crate) fn still_fits(mut file: Value, document: &Value) -> Result<(), Problem> {
    let kept = validate::faults(&typed(file.clone())?);
    file["vehicle"] = document["vehicle"].clone();
    match validate::faults(&typed(file)?).into_iter().find(|fault| !kept.contains(fault)) {
        None => Ok(()),
        Some(fault) => Err(Problem::new(
            "car_unfit",
            format!("What was read of this car would not fit it any more: {fault}."),
            format!("{}. Nothing was changed.", capital(&fault.hint)),
        )),
    }
}

/// The document of a new car.
pub(crate) fn document(form: &CarForm, vehicle: &Vehicle) -> Result<Value, Problem> {
    let instrument = Instrument { tape: tape(form.tape), ..Instrument::default() };
    Ok(json!({ "vehicle": written(vehicle)?, "instrument": written(&instrument)?, "form": as_kept(form, vehicle)? }))
}

/// The form as it is kept with the car: what was typed, without sections and marks that say nothing.
fn as_kept(form: &CarForm, vehicle: &Vehicle) -> Result<Value, Problem> {
    let mut kept = written(&car_marks::without_gone(form, vehicle))?;
    let empty = [
        ("further", json!([])),
        ("body", written(&BodyForm::default())?),
        ("springs", written(&SpringsForm::default())?),
        ("loads", written(&LoadsForm::default())?),
    ];
    if let Value::Object(sections) = &mut kept {
        sections.retain(|name, section| !empty.iter().any(|(known, nothing)| known == name && nothing == section));
        for list in ["points", "further"] {
            for mark in sections.get_mut(list).and_then(Value::as_array_mut).into_iter().flatten() {
                if mark["retired"] == false {
                    mark.as_object_mut().and_then(|keys| keys.shift_remove("retired"));
                }
            }
        }
    }
    Ok(kept)
}

/// The division of a tape.
pub(crate) fn tape(unit: TapeUnit) -> Tape {
    match unit {
        TapeUnit::In => Tape { unit: "in".to_owned(), den: Some(16), step_mm: None },
        TapeUnit::In32 => Tape { unit: "in".to_owned(), den: Some(32), step_mm: None },
        TapeUnit::Mm => Tape::default(),
        TapeUnit::Cm => Tape { unit: "cm".to_owned(), den: None, step_mm: Some(1.0) },
    }
}

/// What a tape of that division reads in.
pub(crate) fn tape_unit(tape: &Tape) -> TapeUnit {
    match (tape.unit.as_str(), tape.den) {
        ("in", Some(32 | 64)) => TapeUnit::In32,
        ("in", _) => TapeUnit::In,
        ("cm", _) => TapeUnit::Cm,
        _ => TapeUnit::Mm,
    }
}

/// As JSON.
pub(crate) fn written(thing: &impl serde::Serialize) -> Result<Value, Problem> {
    serde_json::to_value(thing)
        .map_err(|error| Problem::new("unwritable", format!("This cannot be written: {error}."), "Try again."))
}

/// The form that would make this vehicle.
pub(crate) fn of(vehicle: &Vehicle, tape: TapeUnit) -> CarForm {
    let mm = |value: f64| {
        // A sum of two exact numbers has a tail of digits that no tape has.
        let value = (value * 1e6).round() / 1e6;
        match tape {
            TapeUnit::Mm => format!("{value}"),
            TapeUnit::In | TapeUnit::In32 | TapeUnit::Cm => format!("{value} mm"),
        }
    };
    let tire = |corner: Corner| {
        vehicle.tires.as_ref().map(|tires| tires.at(corner)).map_or_else(
            || TireForm { marking: String::new(), pressure: String::new(), measured_diameter: String::new() },
            |tire| TireForm {
                marking: tire.designation.clone(),
                pressure: typed_pressure(tire.nominal_pressure_kpa),
                measured_diameter: mm(tire.free_diameter_mm),
            },
        )
    };
    CarForm {
        label: vehicle.label.clone(),
        outline: vehicle.outline.unwrap_or(Outline::BareFrame),
        tape,
        wheelbase: mm(vehicle.wheelbase_mm),
        track_front: mm(vehicle.track_front_mm),
        track_rear: mm(vehicle.track_rear_mm),
        points: car_marks::pairs(vehicle, mm),
        further: car_marks::further(vehicle, mm),
        body: car_loads::body_of(&vehicle.extent, &mm),
        springs: car_springs::of(vehicle, &mm),
        loads: car_loads::loads_of(vehicle, &mm),
        tires: Corners::from_fn(tire),
        nominal_load: vehicle.nominal_load.clone().unwrap_or_default(),
    }
}

fn tires(
    fields: &mut Fields,
    form: &CarForm,
    earlier: Option<&Vehicle>,
    before: Option<&CarForm>,
) -> Option<Corners<FittedTire>> {
    let empty = |tire: &TireForm| {
        [&tire.marking, &tire.pressure, &tire.measured_diameter].into_iter().all(|text| text.trim().is_empty())
    };
    if form.tires.iter().all(|(_, tire)| empty(tire)) {
        return None;
    }
    let kept = earlier.and_then(|vehicle| vehicle.tires.as_ref());
    let read = Corners::from_fn(|corner| {
        let new = form.tires.at(corner);
        if let (Some(kept), Some(before)) = (kept, before)
            && before.tires.at(corner) == new
        {
            return Some(kept.at(corner).clone());
        }
        if let (Some(kept), Some(before)) = (kept, before)
            && before.tires.at(corner).marking == new.marking
            && before.tires.at(corner).measured_diameter == new.measured_diameter
        {
            let nominal_pressure_kpa =
                fields.pressure(&format!("tires.{corner}.pressure"), &new.pressure, GaugeUnit::Kpa)?;
            return Some(FittedTire { nominal_pressure_kpa, ..kept.at(corner).clone() });
        }
        tire(fields, corner, new, form.tape)
    });
    Some(Corners { FL: read.FL?, FR: read.FR?, RL: read.RL?, RR: read.RR? })
}

fn tire(fields: &mut Fields, corner: Corner, typed: &TireForm, tape: TapeUnit) -> Option<FittedTire> {
    let pressure = fields.pressure(&format!("tires.{corner}.pressure"), &typed.pressure, GaugeUnit::Kpa);
    let measured = if typed.measured_diameter.trim().is_empty() {
        Some(None)
    } else {
        let field = format!("tires.{corner}.measured_diameter");
        fields.length(&field, "a tire's diameter", &typed.measured_diameter, tape, 300.0..=1_500.0).map(Some)
    };
    let figures = marking(&format!("tires.{corner}.marking"), &typed.marking, measured.flatten());
    let figures = match figures {
        Ok(figures) => Some(figures),
        Err(problem) => {
            fields.push(problem);
            None
        }
    };
    let (figures, nominal_pressure_kpa, _) = (figures?, pressure?, measured?);
    let mut extra = Map::new();
    extra.insert("basis".to_owned(), json!(figures.diameter_mm.basis));
    extra.insert("free_diameter_u_mm".to_owned(), json!(figures.diameter_mm.u));
    Some(FittedTire {
        designation: typed.marking.trim().to_owned(),
        free_diameter_mm: figures.diameter_mm.value,
        rim_diameter_mm: figures.rim_diameter_mm.value,
        nominal_pressure_kpa,
        extra,
    })
}

/// What a marking means, with a measured diameter where there is one.
///
/// # Errors
/// What was understood of it, what not, and the nearest that can be read.
pub(crate) fn marking(field: &str, typed: &str, diameter_mm: Option<f64>) -> Result<TireDimensions, FieldProblem> {
    let diameter = diameter_mm.map(|value_mm| MeasuredLength { value_mm, u_mm: MEASURED_DIAMETER_U_MM });
    match read_marking(typed) {
        Ok(marking) => Ok(dimensions(&marking, &Measured { diameter, ..Measured::default() })),
        Err(error) => Err(FieldProblem {
            field: field.to_owned(),
            typed: typed.to_owned(),
            sentence: error.message(),
            hint: "Type it as it stands on the sidewall.".to_owned(),
            proposals: vec![error.nearest.clone()],
        }),
    }
}

/// Where a tire's figure comes from, in words.
pub(crate) const fn basis_words(basis: Basis) -> &'static str {
    match basis {
        Basis::Standard => "by the size standard",
        Basis::Formula => "from the marking",
        Basis::Estimate => "an estimate",
        Basis::Measured => "measured",
    }
}

fn blank() -> Vehicle {
    Vehicle {
        label: String::new(),
        wheelbase_mm: 0.0,
        track_front_mm: 0.0,
        track_rear_mm: 0.0,
        ref_points: Vec::new(),
        tires: None,
        suspension: None,
        nominal_load: None,
        mass_kg_approx: None,
        front_mass_share: None,
        weighed: None,
        tank: None,
        seats: Vec::new(),
        luggage: None,
        tow_ball: None,
        roll_share_front: None,
        lean_gain: None,
        outline: None,
        extent: Default::default(),
        fitment: None,
        travel: None,
        square: None,
        jacking: None,
        radiator: None,
        steering_box: None,
        pedal: None,
        wanted_caster: None,
        known_twist_mm: Default::default(),
        clearance_points: Vec::new(),
        lamps: Vec::new(),
        lamp: None,
        radius_rod: None,
        drive: None,
        driveline: None,
        attitude: Vec::new(),
        steering: None,
        leaf_packs: Default::default(),
        extra: Map::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_that_carries_readings_cannot_vanish() -> Result<(), Problem> {
        let text = include_str!("../../../sample-data/settling-coupe.json");
        let file: Value = serde_json::from_str(text).map_err(|error| Problem::new("", error.to_string(), ""))?;
        let mut changed = file.clone();
        changed["vehicle"]["wheelbase_mm"] = json!(2791.0);
        still_fits(file.clone(), &changed)?;
        if let Some(points) = changed["vehicle"]["ref_points"].as_array_mut() {
            points.retain(|point| point["id"] != "lip.FL");
        }
        let problem = still_fits(file, &changed).expect_err("its readings hang on it");
        assert_eq!(problem.code, "car_unfit");
        assert!(problem.sentence.contains("snapshots[0]") && problem.sentence.contains("lip.FL"), "{problem:?}");
        assert!(problem.hint.ends_with("Nothing was changed."), "{problem:?}");
        Ok(())
    }
}
