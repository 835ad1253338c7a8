//! How the car stands: from a form to a snapshot's document and back, and what is claimed of it.

use crate::fields::Fields;
use crate::floor_page::typed;
use crate::wire::{FieldProblem, GaugeUnit, LoadForm, Problem, SnapshotForm, StandsOn};
use crate::words::typed_pressure;
use crate::{Garage, car_form, load};
use serde_json::{Value, json};
use trueground_core::capture::{ConditionPart, LoadChange, Snapshot, Standing};
use trueground_core::car::Vehicle;
use trueground_core::corner::Corners;
use trueground_core::units::{AIR_C, TemperatureUnit, read_temperature};
use trueground_core::wording::shown;
use uuid::Uuid;

/// A condition that could be read, ready to be written.
#[derive(Debug)]
pub(crate) struct Condition {
    floor: Option<String>,
    label: Option<String>,
    standing: Standing,
    pressures: Option<Corners<f64>>,
    odometer_km: Option<f64>,
    air_c: Option<f64>,
    load: Vec<LoadChange>,
    confirmed: Option<Vec<ConditionPart>>,
}

impl Condition {
    /// Reads the condition of a form; what was not confirmed is not claimed. `None` where something cannot be read: `fields` has it.
    ///
    /// # Errors
    /// The floor is not there, or carries another car's spots.
    pub(crate) fn read(
        garage: &Garage,
        fields: &mut Fields,
        form: &SnapshotForm,
        car: Uuid,
        vehicle: &Vehicle,
    ) -> Result<Self, Problem> {
        let says = |part: ConditionPart| form.confirmed.as_ref().is_none_or(|confirmed| confirmed.contains(&part));
        let standing = standing(fields, form.stands_on);
        let on_wheels = standing.on_wheels();
        let floor = floor_name(garage, car, form.floor.as_deref())?.filter(|_| says(ConditionPart::Floor));
        if floor.is_some() && !says(ConditionPart::Facing) {
            let hint = "Say whether it stands the same way round on its spots, or choose.";
            fields.refuse("facing", "", "Which way round it stands is not said.", hint);
        }
        let label = match form.label.trim() {
            "" => Some(String::new()),
            typed => fields.label("label", "The snapshot", typed),
        };
        let pressures = if on_wheels && says(ConditionPart::Pressures) {
            pressures(fields, &form.pressures, form.pressure_unit)
        } else {
            None
        };
        let load =
            if on_wheels && says(ConditionPart::Load) { load::read(fields, &form.load, vehicle) } else { Vec::new() };
        let confirmed = form.confirmed.clone().map(|mut parts| {
            parts.retain(|part| match part {
                ConditionPart::Pressures => pressures.is_some(),
                ConditionPart::Load | ConditionPart::Tires => on_wheels,
                ConditionPart::Floor | ConditionPart::Facing => true,
            });
            parts
        });
        let odometer_km = odometer(fields, &form.odometer);
        let air_c = air(fields, &form.air, form.air_unit);
        Ok(Self { floor, label, standing, pressures, odometer_km, air_c, load, confirmed })
    }

    /// Writes it into a snapshot's document, in place of what stands there; what was typed stays beside the numbers.
    ///
    /// # Errors
    /// It cannot be written.
    pub(crate) fn write(&self, document: &mut Value, form: &SnapshotForm) -> Result<(), Problem> {
        document["label"] = json!(self.label);
        document["floor"] = json!(self.floor);
        document["facing"] = car_form::written(&form.facing)?;
        // Which spots the wheels stand on follows from the facing.
        let warm = form.tires_warm && self.pressures.is_some();
        let optional = [
            ("wheel_on_spot", None),
            ("tire_pressure_kpa", self.pressures.as_ref().map(car_form::written).transpose()?),
            ("tires_warm", warm.then_some(json!(true))),
            ("odometer_km", self.odometer_km.map(|km| json!(km))),
            ("air_c", self.air_c.map(|degrees| json!(degrees))),
            ("standing", (!self.standing.on_wheels()).then(|| json!(self.standing.code()))),
            ("confirmed", self.confirmed.as_ref().map(car_form::written).transpose()?),
        ];
        for (key, value) in optional {
            match value {
                Some(value) => document[key] = value,
                None => {
                    document.as_object_mut().and_then(|keys| keys.shift_remove(key));
                }
            }
        }
        document["load_change_from_nominal"] = car_form::written(&self.load)?;
        document["typed"] = json!({ "pressures": car_form::written(&form.pressures)?, "odometer": form.odometer });
        if form.pressure_unit != GaugeUnit::Kpa {
            document["typed"]["pressure_unit"] = car_form::written(&form.pressure_unit)?;
        }
        if !form.air.trim().is_empty() {
            document["typed"]["air"] = json!(form.air);
            document["typed"]["air_unit"] = car_form::written(&form.air_unit)?;
        }
        if form.load.says_something() {
            document["typed"]["load"] = car_form::written(&form.load)?;
        }
        Ok(())
    }
}

/// Fills in the condition of a form from a snapshot, as it was typed where that is kept. `fresh_load` is the load where none was typed.
pub(crate) fn fill(form: &mut SnapshotForm, snapshot: &Snapshot, fresh_load: LoadForm) {
    let kept = &snapshot.extra;
    let said = kept.get("typed").cloned().unwrap_or_default();
    form.facing = snapshot.facing;
    form.pressure_unit = typed(said["pressure_unit"].clone()).unwrap_or_default();
    form.pressures = match (&snapshot.tire_pressure_kpa, typed::<Corners<String>>(said["pressures"].clone())) {
        (Some(_), Ok(as_typed)) if as_typed.iter().all(|(_, text)| !text.trim().is_empty()) => as_typed,
        (Some(kpa), _) => {
            form.pressure_unit = GaugeUnit::Kpa;
            Corners::from_fn(|corner| typed_pressure(*kpa.at(corner)))
        }
        (None, _) => Corners::from_fn(|_| String::new()),
    };
    (form.air, form.air_unit) = match (snapshot.air_c, said["air"].as_str()) {
        (Some(_), Some(as_typed)) => (as_typed.to_owned(), typed(said["air_unit"].clone()).unwrap_or_default()),
        (Some(degrees), None) => (degrees.to_string(), TemperatureUnit::C),
        (None, _) => (String::new(), typed(said["air_unit"].clone()).unwrap_or_default()),
    };
    form.load = typed(said["load"].clone()).unwrap_or(fresh_load);
    form.stands_on = if snapshot.on_wheels() { StandsOn::Wheels } else { StandsOn::RatedStands };
}

/// Heights on a jack are refused as ride heights, a mock-up on rated stands is its own kind.
fn standing(fields: &mut Fields, on: StandsOn) -> Standing {
    match on {
        StandsOn::Wheels => Standing::OnWheels,
        StandsOn::RatedStands => Standing::MockUp,
        StandsOn::Jack => {
            let sentence = "Heights on a jack are not ride heights: they are not stored.";
            let hint = "Put the wheels on the ground, or the body on rated stands on solid floor. Never put any part of you under a car held by a jack.";
            fields.refuse("stands_on", "", sentence, hint);
            Standing::OnWheels
        }
    }
}

fn floor_name(garage: &Garage, car: Uuid, floor: Option<&str>) -> Result<Option<String>, Problem> {
    let Some(floor) = floor else { return Ok(None) };
    let id = garage.find("floor", floor)?;
    let Some((_, name)) = garage.store.floors(car)?.into_iter().find(|(known, _)| *known == id) else {
        let sentence = "That floor carries another car\u{2019}s spots.";
        let hint =
            "Choose it under another car\u{2019}s floor first, or add the floor for this car and mark its spots.";
        return Err(Problem::new("floor_of_another_car", sentence, hint));
    };
    Ok(Some(name))
}

/// The pressures of the day, all four or none. None means that they were not read: then the heights count as at the usual ones,
/// and nothing says that a gauge showed them.
pub(crate) fn pressures(fields: &mut Fields, typed: &Corners<String>, unit: GaugeUnit) -> Option<Corners<f64>> {
    if typed.iter().all(|(_, typed)| typed.trim().is_empty()) {
        return None;
    }
    let read = Corners::from_fn(|corner| {
        let (field, typed) = (format!("pressures.{corner}"), typed.at(corner));
        if typed.trim().is_empty() {
            let sentence = format!("The pressure at the {} is missing.", corner.words());
            let hint = "Read all four, or leave all four empty: then they count as usual.";
            fields.refuse(&field, typed, &sentence, hint);
            return None;
        }
        fields.pressure(&field, typed, unit)
    });
    Some(Corners { FL: read.FL?, FR: read.FR?, RL: read.RL?, RR: read.RR? })
}

pub(crate) fn odometer(fields: &mut Fields, typed: &str) -> Option<f64> {
    let text: String = typed.chars().filter(|c| !c.is_whitespace()).collect();
    let text = text.trim_end_matches("km").replace(',', ".");
    if text.is_empty() {
        return None;
    }
    let shown = shown(typed);
    let number = text.parse::<f64>().ok().filter(|km| (0.0..=5_000_000.0).contains(km));
    let Some(km) = number else {
        let sentence = format!("{shown} is not a number of kilometres from 0 to 5,000,000.");
        fields.refuse("odometer", typed, &sentence, "Type whole kilometres, or leave it empty.");
        return None;
    };
    // Three digits behind the mark are thousands to one person and thousandths to another.
    if let Some((before, behind)) = text.split_once('.')
        && behind.len() == 3
        && behind.chars().all(|c| c.is_ascii_digit())
    {
        let proposals = vec![format!("{before}{behind}"), km.to_string()];
        fields.push(FieldProblem {
            field: "odometer".to_owned(),
            typed: typed.to_owned(),
            sentence: format!("{shown} can be read two ways."),
            hint: format!("Did you mean {}? Type whole kilometres without a comma or point.", proposals.join(" or ")),
            proposals,
        });
        return None;
    }
    Some(km)
}

/// The air's temperature, °C; `None` where nothing is typed or it cannot be read.
pub(crate) fn air(fields: &mut Fields, typed: &str, thermometer: TemperatureUnit) -> Option<f64> {
    if typed.trim().is_empty() {
        return None;
    }
    let read = read_temperature(typed, thermometer).filter(|degrees| AIR_C.contains(degrees));
    if read.is_none() {
        let (low, high) = (AIR_C.start().abs(), AIR_C.end());
        let sentence = format!("{} is no temperature from \u{2212}{low} to {high} °C.", shown(typed));
        fields.refuse("air", typed, &sentence, "Type 18, 18 °C or 64 °F, or leave it empty.");
    }
    read
}
