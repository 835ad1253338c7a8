//! Forms of measures that a car takes part by part: from its description to what would be typed, and back.
//!
//! Gaps count from the first snapshot's stance, a person measures the car as it stands: what the springs let it down since is put between.
//! A table says what each part asks and where it goes; the description's own check says what is wrong, and it is put beside its field.

mod read;
mod table;

use crate::fields::unit;
use crate::floor_page::typed;
use crate::wire::{
    KeepMeasured, MeasuredChoice, MeasuredField, MeasuredForm, MeasuredPart, MeasuredRef, MeasuredSection, Problem,
    TapeUnit,
};
use crate::words::capital;
use crate::{Garage, car_form, fitment_page};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use table::{Ask, Kind};
use trueground_core::car::{GapPlace, Vehicle};
use trueground_core::corner::Corner;
use trueground_core::validate::vehicle_faults;
use uuid::Uuid;

/// Most entries of a list that one car takes.
const MOST: usize = 50;

/// Where a part stands under `vehicle`: keys, the last one a place in a list where it is a number.
fn place(part: MeasuredPart, of: &str) -> Result<Vec<String>, Problem> {
    let known = |keys: &[&str]| Ok(keys.iter().map(|key| (*key).to_owned()).collect());
    let numbered = |list: &[&str]| {
        let number = of.parse::<usize>().ok().filter(|number| *number < MOST);
        number.map(|number| list.iter().map(|key| (*key).to_owned()).chain([number.to_string()]).collect())
    };
    let unknown = || Problem::new("part_unknown", "There is no such part of a car.", "Open it again from its list.");
    match part {
        MeasuredPart::Wheel => {
            let corner = Corner::from_code(of).ok_or_else(unknown)?;
            known(&["fitment", "wheels", corner.code()])
        }
        MeasuredPart::Steer => known(&["fitment", "steer"]),
        MeasuredPart::OtherWheel => numbered(&["fitment", "others"]).ok_or_else(unknown),
        MeasuredPart::Travel if matches!(of, "front" | "rear") => known(&["travel", of]),
        MeasuredPart::Travel => Err(unknown()),
        MeasuredPart::Square => known(&["square"]),
        MeasuredPart::Jack => numbered(&["jacking", "jacks"]).ok_or_else(unknown),
        MeasuredPart::JackPoint => numbered(&["jacking", "points"]).ok_or_else(unknown),
        MeasuredPart::Strap => numbered(&["jacking", "straps"]).ok_or_else(unknown),
        MeasuredPart::Radiator => known(&["radiator"]),
        MeasuredPart::Weighed => known(&["weighed"]),
    }
}

fn title(part: MeasuredPart, of: &str) -> String {
    match part {
        MeasuredPart::Wheel => {
            Corner::from_code(of).map_or_else(String::new, |at| format!("{} in its opening", capital(at.words())))
        }
        MeasuredPart::Steer => "How it steers".to_owned(),
        MeasuredPart::OtherWheel => "Another wheel".to_owned(),
        MeasuredPart::Travel => format!("Travel, {of} axle"),
        MeasuredPart::Square => "Square and aligned".to_owned(),
        MeasuredPart::Jack => "A jack".to_owned(),
        MeasuredPart::JackPoint => "A place to lift at".to_owned(),
        MeasuredPart::Strap => "Straps".to_owned(),
        MeasuredPart::Radiator => "The radiator".to_owned(),
        MeasuredPart::Weighed => "On the scales".to_owned(),
    }
}

/// The form, filled in with what is known.
///
/// # Errors
/// No such car or part.
pub(crate) fn open(garage: &mut Garage, request: &MeasuredRef) -> Result<MeasuredForm, Problem> {
    let id = garage.find("car", &request.car)?;
    let document = garage.store.car(id)?.document;
    let vehicle: Vehicle = typed(document["vehicle"].clone())?;
    let of = numbered(&vehicle, request.part, &request.of);
    let tape = tape(&document);
    let kept = car_form::written(&vehicle)?;
    let known = place(request.part, &of)?.iter().try_fold(&kept, |at, key| step(at, key)).cloned();
    let risen = risen(garage, id, request.part, &of)?;
    let sections = table::sections(request.part, &of).into_iter().map(|section| MeasuredSection {
        title: section.title.to_owned(),
        good: section.good.to_owned(),
        fields: section.asks.iter().map(|ask| field(ask, known.as_ref(), tape, &risen)).collect(),
    });
    Ok(MeasuredForm {
        car: request.car.clone(),
        part: request.part,
        title: title(request.part, &of),
        caution: table::caution(request.part).to_owned(),
        sections: sections.collect(),
        tape,
        known: known.is_some(),
        of,
    })
}

/// Keeps what was typed.
///
/// # Errors
/// No such car or part, or every field that is wrong, at once; nothing is kept then.
pub(crate) fn keep(garage: &mut Garage, request: &KeepMeasured) -> Result<MeasuredForm, Problem> {
    let id = garage.find("car", &request.car)?;
    let mut document = garage.store.car(id)?.document;
    let before: Vehicle = typed(document["vehicle"].clone())?;
    let of = numbered(&before, request.part, &request.of);
    let path = place(request.part, &of)?;
    let asks: Vec<Ask> = table::sections(request.part, &of).into_iter().flat_map(|section| section.asks).collect();
    let kept = path.iter().try_fold(&document["vehicle"], |at, key| step(at, key)).cloned().unwrap_or(json!({}));
    let written = car_form::written(&before)?;
    let earlier = path.iter().try_fold(&written, |at, key| step(at, key));
    let form = read::Typed {
        fields: &request.fields,
        tape: request.tape,
        risen: &risen(garage, id, request.part, &of)?,
        earlier,
    };
    let mut part = read::part(&asks, kept.clone(), &form)?;
    let listed = garage.store.snapshots(id)?;
    let newest = crate::snapshot_row::last_on_wheels(garage, &listed, true).map(|record| record.name);
    measured_beside(request.part, &kept, &mut part, newest.as_deref());
    put(&mut document["vehicle"], &path, part);
    whole(id, &document, &before, &asks, &path, request)?;
    garage.store.change_car(id, &document)?;
    open(garage, &MeasuredRef { car: request.car.clone(), part: request.part, of })
}

/// What was read as the car stands now counts from the newest snapshot; what did not change stays beside its own.
fn measured_beside(part: MeasuredPart, kept: &Value, new: &mut Value, newest: Option<&str>) {
    const HUNG: [(&str, &[&str]); 3] = [
        ("shackle", &["angle_deg", "spring_length_mm", "arch_mm"]),
        ("shock", &["length_mm", "lean_deg"]),
        ("hose", &["span_mm"]),
    ];
    match part {
        MeasuredPart::Travel => {
            for (key, stands) in HUNG {
                if let Some(new) = new.get_mut(key).filter(|new| new.is_object()) {
                    beside(kept.get(key), new, stands, newest);
                }
            }
        }
        MeasuredPart::JackPoint => beside(Some(kept), new, &["attach", "x_mm", "y_mm", "z_mm"], newest),
        _ => {}
    }
}

fn beside(kept: Option<&Value>, new: &mut Value, stands: &[&str], newest: Option<&str>) {
    if stands.iter().all(|key| kept.and_then(|kept| kept.get(*key)) == new.get(*key)) {
        return;
    }
    match newest {
        Some(name) => new["measured_in"] = json!(name),
        None => drop(new.as_object_mut().and_then(|keys| keys.shift_remove("measured_in"))),
    }
}

/// Leaves a part out of the car again.
///
/// # Errors
/// No such car or part.
pub(crate) fn leave_out(garage: &mut Garage, request: &MeasuredRef) -> Result<(), Problem> {
    let id = garage.find("car", &request.car)?;
    let mut document = garage.store.car(id)?.document;
    let path = place(request.part, &request.of)?;
    let Some((last, above)) = path.split_last() else { return Ok(()) };
    let holder = above.iter().try_fold(&mut document["vehicle"], |at, key| step_mut(at, key));
    match holder {
        Some(Value::Object(keys)) => drop(keys.shift_remove(last)),
        Some(Value::Array(list)) => {
            if let Some(number) = last.parse::<usize>().ok().filter(|number| *number < list.len()) {
                list.remove(number);
            }
        }
        _ => {}
    }
    garage.store.change_car(id, &document)?;
    Ok(())
}

/// The place of a new entry is the end of its list.
fn numbered(vehicle: &Vehicle, part: MeasuredPart, of: &str) -> String {
    if !of.is_empty() {
        return of.to_owned();
    }
    let (fitment, jacking) = (vehicle.fitment.as_ref(), vehicle.jacking.as_ref());
    let length = match part {
        MeasuredPart::OtherWheel => fitment.map_or(0, |fitment| fitment.others.len()),
        MeasuredPart::Jack => jacking.map_or(0, |jacking| jacking.jacks.len()),
        MeasuredPart::JackPoint => jacking.map_or(0, |jacking| jacking.points.len()),
        MeasuredPart::Strap => jacking.map_or(0, |jacking| jacking.straps.len()),
        _ => return String::new(),
    };
    length.to_string()
}

/// The whole car looked at with the part in it; what is wrong only since then stands beside its field.
fn whole(
    _id: Uuid,
    document: &Value,
    before: &Vehicle,
    asks: &[Ask],
    path: &[String],
    request: &KeepMeasured,
) -> Result<(), Problem> {
    let after: Vehicle = typed(document["vehicle"].clone())?;
    let earlier = vehicle_faults(before);
    read::refused(&vehicle_faults(&after), &earlier, asks, path, &request.fields)
}

/// How much more a field says of the car as it stands than of the stance its numbers count from, mm, by its path.
fn risen(garage: &mut Garage, id: Uuid, part: MeasuredPart, of: &str) -> Result<Risen, Problem> {
    if !matches!(part, MeasuredPart::Wheel | MeasuredPart::Travel) {
        return Ok(Risen::new());
    }
    let (standing, _) = fitment_page::standing(garage, id)?;
    let rise = |corner: Corner| standing.at(corner).spring_rise.value;
    let one = |path: &str, mm: f64| (path.to_owned(), mm);
    Ok(match (part, Corner::from_code(of)) {
        (MeasuredPart::Wheel, Some(corner)) => {
            let heights = GapPlace::ALL.into_iter().map(|place| format!("gaps.{}.height_mm", place.code()));
            let heights = heights.map(|path| (path, rise(corner)));
            heights.chain([one("gaps.above.at_rest_mm", rise(corner))]).collect()
        }
        _ => {
            let pair = if of == "front" { [Corner::FL, Corner::FR] } else { [Corner::RL, Corner::RR] };
            let rise = f64::midpoint(rise(pair[0]), rise(pair[1]));
            [
                one("frame_gap_mm", rise),
                one("stop_gap_mm", rise),
                one("droop_mm", -rise),
                one("track_bar.rise_mm", -rise),
            ]
            .into()
        }
    })
}

/// Millimetres by path.
type Risen = BTreeMap<String, f64>;

/// The tape of the car's form, else of its readings.
fn tape(document: &Value) -> TapeUnit {
    let kept = serde_json::from_value(document["form"]["tape"].clone()).ok();
    kept.unwrap_or_else(|| {
        let instrument: trueground_core::capture::Instrument =
            serde_json::from_value(document["instrument"].clone()).unwrap_or_default();
        car_form::tape_unit(&instrument.tape)
    })
}

fn step<'v>(at: &'v Value, key: &str) -> Option<&'v Value> {
    match at {
        Value::Array(list) => list.get(key.parse::<usize>().ok()?),
        value => value.get(key),
    }
    .filter(|value| !value.is_null())
}

fn step_mut<'v>(at: &'v mut Value, key: &str) -> Option<&'v mut Value> {
    match at {
        Value::Array(list) => list.get_mut(key.parse::<usize>().ok()?),
        value => value.get_mut(key),
    }
}

/// Puts a part where it belongs; an entry of a list that is new goes to its end.
fn put(at: &mut Value, path: &[String], part: Value) {
    let Some((key, rest)) = path.split_first() else {
        *at = part;
        return;
    };
    let is_list = rest.first().is_some_and(|next| next.parse::<usize>().is_ok());
    if let Value::Array(list) = at {
        let number = key.parse::<usize>().unwrap_or(list.len()).min(list.len());
        if number == list.len() {
            list.push(json!({}));
        }
        put(&mut list[number], rest, part);
        return;
    }
    if !at.is_object() {
        *at = Value::Object(Map::new());
    }
    if at[key.as_str()].is_null() {
        at[key.as_str()] = if is_list { json!([]) } else { json!({}) };
    }
    put(&mut at[key.as_str()], rest, part);
}

/// A field as it would be typed.
fn field(ask: &Ask, known: Option<&Value>, tape: TapeUnit, risen: &Risen) -> MeasuredField {
    let value = known.and_then(|known| ask.path.split('.').try_fold(known, step));
    let number = value.and_then(Value::as_f64).map(|number| match risen.get(&ask.path) {
        // Nobody measured it so: a tenth is what can be said of it.
        Some(rise) if rise.abs() > 0.05 => ((number + rise) * 10.0).round() / 10.0 + 0.0,
        _ => (number * 1e6).round() / 1e6,
    });
    let (unit_word, text) = match ask.kind {
        Kind::Length => {
            let word = match unit(tape) {
                trueground_core::units::LengthUnit::In => "in",
                trueground_core::units::LengthUnit::Cm => "cm",
                trueground_core::units::LengthUnit::Mm => "mm",
            };
            let typed = number.map(|mm| if word == "mm" { format!("{mm}") } else { format!("{mm} mm") });
            (word, typed)
        }
        Kind::Degrees => ("°", number.map(|degrees| format!("{degrees}"))),
        Kind::Kg => ("kg", number.map(|kg| format!("{kg}"))),
        Kind::Words | Kind::Marking => ("", value.and_then(Value::as_str).map(str::to_owned)),
        Kind::Choice(choices) => {
            let said = match value {
                Some(Value::Bool(true)) => Some("true".to_owned()),
                Some(Value::String(text)) => Some(text.clone()),
                _ => None,
            };
            ("", said.or_else(|| choices.first().map(|(value, _)| (*value).to_owned())))
        }
    };
    let choices = match ask.kind {
        Kind::Choice(choices) => choices
            .iter()
            .map(|(value, words)| MeasuredChoice { value: (*value).to_owned(), words: (*words).to_owned() })
            .collect(),
        _ => Vec::new(),
    };
    MeasuredField {
        name: ask.path.clone(),
        words: ask.words.clone(),
        unit: unit_word.to_owned(),
        hint: ask.hint.to_owned(),
        value: text.unwrap_or_default(),
        choices,
    }
}
