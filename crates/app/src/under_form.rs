//! What is under a car: from what was typed to the parts of its file, and back. What is typed as it was stays as the file has it.

mod back;
mod field;
mod parts;

use crate::fields::Fields;
use crate::wire::{Problem, UnderForm};
pub(crate) use back::form;
use serde_json::{Value, json};
use trueground_core::car::{GroundAngles, Vehicle};

/// What a form is read against.
pub(crate) struct Before<'a> {
    pub(crate) vehicle: &'a Vehicle,
    pub(crate) ground: Option<&'a GroundAngles>,
    /// Name of the newest finished snapshot: what is new was measured beside it.
    pub(crate) newest: Option<&'a str>,
}

/// What the form says, under the keys of the file.
///
/// # Errors
/// Every field that cannot be read, at once.
pub(crate) fn read(form: &UnderForm, before: &Before<'_>) -> Result<Vec<(&'static str, Value)>, Problem> {
    let was = back::form(&form.car, form.tape, before.vehicle, before.ground);
    let beside = if form.as_first { None } else { before.newest.map(str::to_owned) };
    let mut fields = Fields::default();
    let mut reader = parts::Reader { fields: &mut fields, form, was: &was, vehicle: before.vehicle, beside };
    let (points, lamps) = (reader.low_points(), reader.lamps());
    let rod = reader.rod();
    let (level, luggage, ball) = (reader.level_parts(), reader.luggage(), reader.tow_ball());
    let ground = reader.ground(before.ground);
    fields.done()?;
    Ok(vec![
        ("clearance_points", json!(points)),
        ("lamps", json!(lamps)),
        ("radius_rod", json!(rod)),
        ("attitude", json!(level)),
        ("luggage", json!(luggage)),
        ("tow_ball", json!(ball)),
        ("ground", json!(ground)),
    ])
}

/// The car's document with these parts; what did not change stays as it was written.
pub(crate) fn changed(mut document: Value, parts: Vec<(&'static str, Value)>, before: &Before<'_>) -> Value {
    let kept = |key: &str| match key {
        "clearance_points" => json!(before.vehicle.clearance_points),
        // The one lamp of an older file goes into the list as soon as a lamp is changed.
        "lamps" => json!(before.vehicle.all_lamps()),
        "radius_rod" => json!(before.vehicle.radius_rod),
        "attitude" => json!(before.vehicle.attitude),
        "luggage" => json!(before.vehicle.luggage),
        "tow_ball" => json!(before.vehicle.tow_ball),
        _ => json!(before.ground),
    };
    for (key, value) in parts {
        if kept(key) == value {
            continue;
        }
        let owner = if key == "ground" { &mut document } else { &mut document["vehicle"] };
        let Value::Object(keys) = owner else { continue };
        if key == "lamps" {
            keys.shift_remove("lamp");
        }
        let nothing = value.is_null() || value.as_array().is_some_and(Vec::is_empty);
        if nothing {
            keys.shift_remove(key);
        } else {
            keys.insert(key.to_owned(), value);
        }
    }
    document
}
