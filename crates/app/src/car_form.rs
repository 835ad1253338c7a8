//! The form of a car: from what was typed to a vehicle, and back.

use crate::fields::Fields;
use crate::wire::{CarForm, FieldProblem, PointsForm, Problem, TapeUnit, TireForm};
use crate::words::capital;
use serde_json::{Map, Value, json};
use trueground_core::capture::{CarFile, Instrument, Tape};
use trueground_core::car::{FittedTire, Outline, PointKind, RefPoint, Vehicle};
use trueground_core::corner::{Corner, Corners};
use trueground_core::tire::{Basis, Measured, MeasuredLength, TireDimensions, dimensions, read_marking};
use trueground_core::validate;

/// Diameter measured round the free tire with a tape [common practice, no source].
const MEASURED_DIAMETER_U_MM: f64 = 2.0;

/// The vehicle that a form describes. What an earlier description knew beyond the form is kept.
///
/// # Errors
/// Every field that cannot be read, at once.
pub(crate) fn vehicle(form: &CarForm, earlier: Option<&Vehicle>) -> Result<Vehicle, Problem> {
    let mut fields = Fields::default();
    let before = earlier.map(|vehicle| of(vehicle, form.tape));
    let label = fields.label("label", "The car", &form.label);
    let wheelbase = fields.length("wheelbase", "a wheelbase", &form.wheelbase, form.tape, 500.0..=10_000.0);
    let track_front = fields.length("track_front", "a track", &form.track_front, form.tape, 300.0..=4_000.0);
    let track_rear = fields.length("track_rear", "a track", &form.track_rear, form.tape, 300.0..=4_000.0);
    if form.points.is_empty() {
        let hint = "Choose frame rails, fender lips or another point that is marked on both sides, front and rear.";
        fields.refuse("points", "", "No point to measure to is chosen.", hint);
    }
    let mut points = Vec::new();
    for (number, pair) in form.points.iter().enumerate() {
        if form.points[..number].iter().any(|other| other.kind == pair.kind) {
            let sentence = format!("The {} stands here twice.", pair.kind.words());
            fields.refuse(&format!("points.{number}.kind"), pair.kind.code(), &sentence, "Take one of the two away.");
            continue;
        }
        let unchanged = before.as_ref().is_some_and(|form| form.points.contains(pair));
        let kept = earlier.filter(|_| unchanged).into_iter().flat_map(|vehicle| of_kind(vehicle, pair.kind));
        points.extend(kept.cloned());
        if !unchanged {
            points.extend(pair_of_points(&mut fields, number, pair, form.tape, wheelbase));
        }
    }
    let tires = tires(&mut fields, form, earlier, before.as_ref());
    fields.done()?;
    let (Some(label), Some(wheelbase_mm), Some(track_front_mm), Some(track_rear_mm)) =
        (label, wheelbase, track_front, track_rear)
    else {
        unreachable!("a field without a value was refused above");
    };
    let load = form.nominal_load.trim();
    let rest = earlier.cloned().unwrap_or_else(blank);
    for kept in &rest.ref_points {
        if !form.points.iter().any(|pair| pair.kind == kept.kind) {
            // Readings of other kinds may hang on their points.
            points.push(kept.clone());
        }
    }
    let vehicle = Vehicle {
        label,
        wheelbase_mm,
        track_front_mm,
        track_rear_mm,
        ref_points: points,
        tires,
        outline: Some(form.outline),
        nominal_load: (!load.is_empty()).then(|| load.to_owned()),
        ..rest
    };
    as_a_whole(form, &vehicle)?;
    Ok(vehicle)
}

/// What only the whole car shows, such as a rim larger than its tire: the engine's own check, so that no car is kept that it
/// would refuse.
fn as_a_whole(form: &CarForm, vehicle: &Vehicle) -> Result<(), Problem> {
    let file: CarFile = crate::floor_page::typed(json!({ "vehicle": written(vehicle)? }))?;
    let mut fields = Fields::default();
    for fault in validate::faults(&file) {
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

/// The document of a new car.
pub(crate) fn document(form: &CarForm, vehicle: &Vehicle) -> Result<Value, Problem> {
    let instrument = Instrument { tape: tape(form.tape), ..Instrument::default() };
    Ok(json!({ "vehicle": written(vehicle)?, "instrument": written(&instrument)?, "form": written(form)? }))
}

/// The division of a tape.
pub(crate) fn tape(unit: TapeUnit) -> Tape {
    match unit {
        TapeUnit::In => Tape { unit: "in".to_owned(), den: Some(16), step_mm: None },
        TapeUnit::Mm => Tape::default(),
    }
}

/// As JSON.
pub(crate) fn written(thing: &impl serde::Serialize) -> Result<Value, Problem> {
    serde_json::to_value(thing)
        .map_err(|error| Problem::new("unwritable", format!("This cannot be written: {error}."), "Try again."))
}

/// The form that would make this vehicle.
pub(crate) fn of(vehicle: &Vehicle, tape: TapeUnit) -> CarForm {
    let mm = |value: f64| match tape {
        TapeUnit::Mm => format!("{value}"),
        TapeUnit::In => format!("{value} mm"),
    };
    let points = PointKind::ALL.into_iter().filter_map(|kind| {
        let at = |corner| of_kind(vehicle, kind).find(|point| point.corner == corner);
        let (front_left, front_right) = (at(Corner::FL)?, at(Corner::FR)?);
        let (rear_left, rear_right) = (at(Corner::RL)?, at(Corner::RR)?);
        Some(PointsForm {
            kind,
            front_behind_axle: mm(0.0 - front_left.x_mm),
            front_apart: mm(front_left.y_mm - front_right.y_mm),
            rear_ahead_of_axle: mm(rear_left.x_mm + vehicle.wheelbase_mm),
            rear_apart: mm(rear_left.y_mm - rear_right.y_mm),
            what: front_left.what.clone().unwrap_or_default(),
        })
    });
    let tire = |corner: Corner| {
        vehicle.tires.as_ref().map(|tires| tires.at(corner)).map_or_else(
            || TireForm { marking: String::new(), pressure: String::new(), measured_diameter: String::new() },
            |tire| TireForm {
                marking: tire.designation.clone(),
                pressure: format!("{}", tire.nominal_pressure_kpa),
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
        points: points.collect(),
        tires: Corners::from_fn(tire),
        nominal_load: vehicle.nominal_load.clone().unwrap_or_default(),
    }
}

fn of_kind(vehicle: &Vehicle, kind: PointKind) -> impl Iterator<Item = &RefPoint> {
    vehicle.ref_points.iter().filter(move |point| point.kind == kind)
}

fn pair_of_points(
    fields: &mut Fields,
    number: usize,
    pair: &PointsForm,
    tape: TapeUnit,
    wheelbase: Option<f64>,
) -> Vec<RefPoint> {
    let along = -2_000.0..=wheelbase.unwrap_or(10_000.0);
    let apart = 100.0..=3_000.0;
    let name = |field: &str| format!("points.{number}.{field}");
    let place = "the distance of a mark from its axle";
    let width = "the distance from left mark to right mark";
    let front_x = fields.signed_length(&name("front_behind_axle"), place, &pair.front_behind_axle, tape, along.clone());
    let front_y = fields.length(&name("front_apart"), width, &pair.front_apart, tape, apart.clone());
    let rear_x = fields.signed_length(&name("rear_ahead_of_axle"), place, &pair.rear_ahead_of_axle, tape, along);
    let rear_y = fields.length(&name("rear_apart"), width, &pair.rear_apart, tape, apart);
    let (Some(front_x), Some(front_y), Some(rear_x), Some(rear_y), Some(wheelbase)) =
        (front_x, front_y, rear_x, rear_y, wheelbase)
    else {
        return Vec::new();
    };
    if front_x + rear_x >= wheelbase {
        let sentence = "The front marks lie behind the rear marks.";
        let hint = "Measure the front mark back from the front axle, and the rear mark forward from the rear axle.";
        fields.refuse(&name("rear_ahead_of_axle"), &pair.rear_ahead_of_axle, sentence, hint);
        return Vec::new();
    }
    let what = Some(pair.what.trim().to_owned()).filter(|what| !what.is_empty());
    let point = |corner: Corner| {
        let (x_mm, width) = if corner.is_front() { (0.0 - front_x, front_y) } else { (rear_x - wheelbase, rear_y) };
        RefPoint {
            id: format!("{}.{corner}", pair.kind.stem()),
            corner,
            kind: pair.kind,
            x_mm,
            y_mm: if corner.is_left() { width / 2.0 } else { -width / 2.0 },
            what: what.clone(),
            extra: Map::new(),
        }
    };
    Corner::ALL.into_iter().map(point).collect()
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
        let typed = form.tires.at(corner);
        if let (Some(kept), Some(before)) = (kept, before)
            && before.tires.at(corner) == typed
        {
            return Some(kept.at(corner).clone());
        }
        tire(fields, corner, typed, form.tape)
    });
    Some(Corners { FL: read.FL?, FR: read.FR?, RL: read.RL?, RR: read.RR? })
}

fn tire(fields: &mut Fields, corner: Corner, typed: &TireForm, tape: TapeUnit) -> Option<FittedTire> {
    let pressure = fields.pressure(&format!("tires.{corner}.pressure"), &typed.pressure);
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
        roll_share_front: None,
        lean_gain: None,
        outline: None,
        known_twist_mm: Default::default(),
        extra: Map::new(),
    }
}
