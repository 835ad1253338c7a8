//! Parts of a car that have a form of their own: what it asks for, and what it makes of the vehicle.

mod ask;
mod driveline;
mod gearing;
mod pedal;
mod spring;
mod steering;
mod steering_box;
mod typed;
mod wedge;

use crate::wire::{FieldProblem, Mechanism, MechanismForm, MechanismFormView, MechanismSection, Problem, TapeUnit};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use trueground_core::bench::Refusal;
use trueground_core::car::{Driveline, Steering, Vehicle};
use typed::Texts;

const UNDER: &str =
    "Wheels on the ground, or rated stands on solid floor. Never put any part of you under a car held by a jack.";

/// The form of a part, as the car has it now. What was typed last comes back as typed, where it still says what the car has.
pub(crate) fn form(
    car: String,
    document: &Value,
    vehicle: &Vehicle,
    part: Mechanism,
    tape: TapeUnit,
) -> Result<MechanismFormView, Problem> {
    let (title, caution) = match part {
        Mechanism::Gearing => ("The gearing", ""),
        Mechanism::Steering => ("The steering, point by point", UNDER),
        Mechanism::Driveline => ("The driveline", UNDER),
        Mechanism::FrontSpring => ("The front spring pack", UNDER),
        Mechanism::RearSpring => ("The rear spring pack", UNDER),
        Mechanism::SteeringBox => ("Steering box and arms", UNDER),
        Mechanism::Pedal => ("The pedal", ""),
        Mechanism::Wedge => ("The caster that is wanted", UNDER),
    };
    let kept = &document["mechanism_forms"][code(part)];
    let as_typed = (!kept.is_null() && kept["made"] == made(vehicle, part)?)
        .then(|| serde_json::from_value::<MechanismForm>(kept["form"].clone()).ok())
        .flatten();
    let form = as_typed.unwrap_or_else(|| {
        let mut texts = Texts::new(tape);
        match part {
            Mechanism::Gearing => gearing::texts(vehicle, &mut texts),
            Mechanism::Steering => steering::texts(vehicle, &mut texts),
            Mechanism::Driveline => driveline::texts(vehicle, &mut texts),
            Mechanism::FrontSpring => spring::texts(vehicle, false, &mut texts),
            Mechanism::RearSpring => spring::texts(vehicle, true, &mut texts),
            Mechanism::SteeringBox => steering_box::texts(vehicle, &mut texts),
            Mechanism::Pedal => pedal::texts(vehicle, &mut texts),
            Mechanism::Wedge => wedge::texts(vehicle, &mut texts),
        }
        MechanismForm { car: car.clone(), part, tape, values: texts.values }
    });
    Ok(MechanismFormView {
        title: title.to_owned(),
        caution: caution.to_owned(),
        sections: sections(part),
        form: MechanismForm { car, ..form },
    })
}

fn sections(part: Mechanism) -> Vec<MechanismSection> {
    match part {
        Mechanism::Gearing => gearing::sections(),
        Mechanism::Steering => steering::sections(),
        Mechanism::Driveline => driveline::sections(),
        Mechanism::FrontSpring | Mechanism::RearSpring => spring::sections(),
        Mechanism::SteeringBox => steering_box::sections(),
        Mechanism::Pedal => pedal::sections(),
        Mechanism::Wedge => wedge::sections(),
    }
}

/// The car with that part as it is typed; what is new in it was measured beside the newest snapshot.
///
/// # Errors
/// Every field that cannot be read, at once, or a part that cannot be worked out.
pub(crate) fn read(earlier: Vehicle, form: &MechanismForm, newest: Option<&str>) -> Result<Vehicle, Problem> {
    let mut vehicle = earlier.clone();
    match form.part {
        Mechanism::Gearing => gearing::read(&mut vehicle, form)?,
        Mechanism::Steering => steering::read(&mut vehicle, form)?,
        Mechanism::Driveline => driveline::read(&mut vehicle, form)?,
        Mechanism::FrontSpring => spring::read(&mut vehicle, false, form)?,
        Mechanism::RearSpring => spring::read(&mut vehicle, true, form)?,
        Mechanism::SteeringBox => steering_box::read(&mut vehicle, form)?,
        Mechanism::Pedal => pedal::read(&mut vehicle, form)?,
        Mechanism::Wedge => wedge::read(&mut vehicle, form)?,
    }
    measured_beside(&mut vehicle, &earlier, newest);
    Ok(vehicle)
}

/// What did not change stays measured where it was.
fn measured_beside(vehicle: &mut Vehicle, earlier: &Vehicle, newest: Option<&str>) {
    let newest = newest.map(str::to_owned);
    if let (Some(now), was) = (vehicle.steering.as_mut(), earlier.steering.as_ref()) {
        let point = |name, of: fn(&Steering) -> Value| (name, was.map(of) != Some(of(now)));
        let changed = [
            point("pitman_ball", |of| json!(of.pitman_ball)),
            point("arm_ball", |of| json!(of.arm_ball)),
            point("hub", |of| json!(of.hub)),
            point("kingpin", |of| json!(of.kingpin)),
            point("guide", |of| json!(of.guide)),
        ];
        points_beside(&changed, newest.as_ref(), &mut now.measured_in, &mut now.measured_in_of);
    }
    if let (Some(now), was) = (vehicle.driveline.as_mut(), earlier.driveline.as_ref()) {
        let point = |name, of: fn(&Driveline) -> Value| (name, was.map(of) != Some(of(now)));
        let changed = [
            point("front_joint", |of| json!(of.front_joint)),
            point("rear_joint", |of| json!(of.rear_joint)),
            point("transmission", |of| json!(of.transmission_deg)),
            point("pinion", |of| json!(of.pinion_deg)),
            point("guide", |of| json!(of.guide)),
        ];
        points_beside(&changed, newest.as_ref(), &mut now.measured_in, &mut now.measured_in_of);
    }
    for part in vehicle.attitude.iter_mut().filter(|now| !earlier.attitude.contains(&**now)) {
        part.measured_in.clone_from(&newest);
    }
}

/// Of a part's points those that changed count from the newest snapshot, where others stay beside an earlier one.
fn points_beside(
    changed: &[(&str, bool)],
    newest: Option<&String>,
    rest: &mut Option<String>,
    of: &mut BTreeMap<String, String>,
) {
    if changed.iter().all(|(_, changed)| *changed) {
        *rest = newest.cloned();
        of.clear();
        return;
    }
    for (point, _) in changed.iter().filter(|(_, changed)| *changed) {
        of.remove(*point);
        of.extend(newest.filter(|newest| Some(*newest) != rest.as_ref()).map(|id| ((*point).to_owned(), id.clone())));
    }
}

/// The car's document with that part of a changed vehicle; everything else stays as it was written.
pub(crate) fn changed(mut document: Value, vehicle: &Vehicle, form: &MechanismForm) -> Result<Value, Problem> {
    let mut new = crate::car_form::written(vehicle)?;
    for key in keys(form.part) {
        match new[*key].take() {
            Value::Null => {
                document["vehicle"].as_object_mut().and_then(|keys| keys.shift_remove(*key));
            }
            value => document["vehicle"][*key] = value,
        }
    }
    let form = MechanismForm { car: String::new(), ..form.clone() };
    document["mechanism_forms"][code(form.part)] =
        json!({ "made": made(vehicle, form.part)?, "form": crate::car_form::written(&form)? });
    Ok(document)
}

/// What of a vehicle a part's form describes.
const fn keys(part: Mechanism) -> &'static [&'static str] {
    match part {
        Mechanism::Gearing => &["drive"],
        Mechanism::Steering => &["steering"],
        Mechanism::Driveline => &["driveline", "attitude"],
        Mechanism::FrontSpring | Mechanism::RearSpring => &["leaf_packs"],
        Mechanism::SteeringBox => &["steering_box"],
        Mechanism::Pedal => &["pedal"],
        Mechanism::Wedge => &["wanted_caster"],
    }
}

/// What the form made of the vehicle.
fn made(vehicle: &Vehicle, part: Mechanism) -> Result<Value, Problem> {
    let mut all = crate::car_form::written(vehicle)?;
    let side = match part {
        Mechanism::FrontSpring => Some("front"),
        Mechanism::RearSpring => Some("rear"),
        _ => None,
    };
    Ok(match side {
        Some(side) => all["leaf_packs"][side].take(),
        None => keys(part).iter().map(|key| all[*key].take()).collect(),
    })
}

const fn code(part: Mechanism) -> &'static str {
    match part {
        Mechanism::Gearing => "gearing",
        Mechanism::Steering => "steering",
        Mechanism::Driveline => "driveline",
        Mechanism::FrontSpring => "front_spring",
        Mechanism::RearSpring => "rear_spring",
        Mechanism::SteeringBox => "steering_box",
        Mechanism::Pedal => "pedal",
        Mechanism::Wedge => "wedge",
    }
}

/// What a bench sum refuses of a part as a whole, beside one field of its form.
fn unworkable(refusal: Refusal, field: String) -> Problem {
    Problem {
        code: "part_unworkable".to_owned(),
        sentence: refusal.message.clone(),
        hint: refusal.hint.clone(),
        fields: vec![FieldProblem {
            field,
            typed: String::new(),
            sentence: refusal.message,
            hint: refusal.hint,
            proposals: Vec::new(),
        }],
    }
}
