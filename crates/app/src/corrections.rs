//! Corrections of a finished snapshot, in words: what, from what to what, why, and when.

use crate::next_words::point;
use crate::words::{capital, day, whole};
use serde_json::Value;
use trueground_core::capture::{CarFile, Corrected, Correction, Facing, Snapshot};
use trueground_core::corner::Corner;
use trueground_core::wording::shown;

/// One correction in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CorrectionWords {
    /// Its id.
    pub uuid: String,
    /// The reading it is about, or the key of the snapshot; empty where it takes another back.
    pub about: String,
    /// "3 May 2031"; empty where the file does not say.
    pub day: String,
    /// "10:00"
    pub clock: String,
    /// "Front left, fender lip, bounce 1, round 1", "Odometer".
    pub what: String,
    /// "24 5/8 → 23 5/8", "24 5/8 struck".
    pub change: String,
    /// "wrong edge"
    pub reason: String,
    /// True where a later one took it back.
    pub taken_back: bool,
}

impl CorrectionWords {
    /// "corrected 3 May 2031: 24 5/8 → 23 5/8, wrong edge"
    pub fn brief(&self) -> String {
        let when = if self.day.is_empty() { String::new() } else { format!(" {}", self.day) };
        let reason = if self.reason.is_empty() { String::new() } else { format!(", {}", self.reason) };
        let back = if self.taken_back { " (taken back since)" } else { "" };
        format!("corrected{when}: {}{reason}{back}", self.change)
    }

    /// "Front left, fender lip, bounce 1, round 1: corrected 3 May 2031: 24 5/8 → 23 5/8, wrong edge."
    pub fn sentence(&self) -> String {
        format!("{}: {}.", self.what, self.brief())
    }
}

/// The corrections of a snapshot in the order they were made.
pub fn corrections(file: &CarFile, snapshot: &Snapshot) -> Vec<CorrectionWords> {
    let taken_back = Correction::taken_back(&snapshot.corrections);
    let one = |correction: &Correction| {
        let at = correction.at.as_deref().unwrap_or_default();
        CorrectionWords {
            uuid: correction.uuid.clone(),
            about: correction.reading.clone().or_else(|| correction.field.clone()).unwrap_or_default(),
            day: at.get(..10).map(day).unwrap_or_default(),
            clock: at.get(11..16).unwrap_or_default().to_owned(),
            what: what(file, snapshot, correction),
            change: change(file, snapshot, correction),
            reason: shown(&correction.reason),
            taken_back: taken_back.contains(correction.uuid.as_str()),
        }
    };
    snapshot.corrections.iter().map(one).collect()
}

fn what(file: &CarFile, snapshot: &Snapshot, correction: &Correction) -> String {
    if let Some(earlier) = earlier(snapshot, correction) {
        return what(file, snapshot, earlier);
    }
    match (&correction.field, &correction.reading) {
        (Some(field), _) => condition_name(field).to_owned(),
        (None, Some(id)) => capital(&place(file, snapshot, id)),
        (None, None) => "A correction".to_owned(),
    }
}

fn change(file: &CarFile, snapshot: &Snapshot, correction: &Correction) -> String {
    let value = |side: &Option<Value>| side.as_ref().map(written).unwrap_or_default();
    match correction.what {
        Corrected::Value => {
            let unit = |side: &Option<Value>| side.as_ref().map(unit).unwrap_or_default();
            let units = [unit(&correction.old), unit(&correction.new)];
            // A unit is said where the two differ, and the text does not say it.
            let said = |side: &Option<Value>, unit: &str| {
                let text = value(side);
                let bare = !text.contains(|c: char| c.is_alphabetic() || matches!(c, '"' | '\'' | '°'));
                if units[0] != units[1] && bare && !unit.is_empty() { format!("{text} {unit}") } else { text }
            };
            format!("{} → {}", said(&correction.old, &units[0]), said(&correction.new, &units[1]))
        }
        Corrected::Struck => format!("{} struck", now_written(snapshot, correction)),
        Corrected::BroughtBack => format!("{} counts again", now_written(snapshot, correction)),
        Corrected::Added => {
            let at = correction.new.as_ref().and_then(|new| new["taken_at"].as_str()).unwrap_or_default();
            let read = at.get(..10).map(|date| format!(", read {}", day(date))).unwrap_or_default();
            format!("{} added{read}", value(&correction.new))
        }
        Corrected::Condition => {
            let field = correction.field.as_deref().unwrap_or_default();
            let said = |side: &Option<Value>| condition_words(file, field, side.as_ref().unwrap_or(&Value::Null));
            format!("{} → {}", said(&correction.old), said(&correction.new))
        }
        Corrected::TakenBack => match earlier(snapshot, correction) {
            Some(earlier) => format!("taken back: {}", change(file, snapshot, earlier)),
            None => "taken back".to_owned(),
        },
    }
}

fn earlier<'s>(snapshot: &'s Snapshot, correction: &Correction) -> Option<&'s Correction> {
    let of = correction.of.as_ref()?;
    let place = snapshot.corrections.iter().position(|each| each.uuid == correction.uuid)?;
    snapshot.corrections[..place].iter().find(|earlier| earlier.uuid == *of)
}

/// What the reading said when the correction was made, as far as the history tells: its last value before.
fn now_written(snapshot: &Snapshot, correction: &Correction) -> String {
    let place = snapshot.corrections.iter().position(|each| each.uuid == correction.uuid).unwrap_or_default();
    let same = |each: &&Correction| each.reading == correction.reading;
    let (before, after) = snapshot.corrections.split_at(place);
    let set = before.iter().rev().filter(same).find_map(|each| each.new.as_ref());
    let reset =
        after.iter().filter(same).filter(|each| each.what == Corrected::Value).find_map(|each| each.old.as_ref());
    let stands = || {
        let id = correction.reading.as_deref()?;
        let readings = snapshot.bounces.iter().flat_map(|bounce| &bounce.readings);
        let tape = readings.into_iter().find(|reading| says(&reading.extra, id)).map(|reading| shown(&reading.text));
        let gauge = snapshot.angle_gauge.iter().find(|reading| says(&reading.extra, id));
        tape.or_else(|| gauge.map(|reading| format!("{}°", reading.angle_deg)))
    };
    set.or(reset).map(written).or_else(stands).unwrap_or_else(|| "a reading".to_owned())
}

/// A written value: its text, or its number where it has none.
fn written(value: &Value) -> String {
    let degrees = if value.get("angle_deg").is_some() { "°" } else { "" };
    match value["text"].as_str().filter(|text| !text.trim().is_empty()) {
        Some(text) => format!("{}{degrees}", shown(text.trim().trim_end_matches('°'))),
        None => match value["angle_deg"].as_f64() {
            Some(deg) => format!("{deg}°"),
            None => format!("{} mm", value["value_mm"].as_f64().unwrap_or_default()),
        },
    }
}

fn unit(value: &Value) -> String {
    shown(value["unit"].as_str().unwrap_or_default())
}

fn says(extra: &serde_json::Map<String, Value>, id: &str) -> bool {
    extra.get("uuid").and_then(Value::as_str) == Some(id)
}

/// "front left, fender lip, bounce 1, round 2"
fn place(file: &CarFile, snapshot: &Snapshot, id: &str) -> String {
    for (number, bounce) in (1..).zip(&snapshot.bounces) {
        if let Some(reading) = bounce.readings.iter().find(|reading| says(&reading.extra, id)) {
            return in_bounce(&point(&reading.point, &file.vehicle), number, Some(reading.repeat));
        }
    }
    let bounce_number = |bounce_id: &str| {
        snapshot.bounces.iter().position(|bounce| bounce.bounce_id == bounce_id).map_or(1, |place| place + 1)
    };
    if let Some(reading) = snapshot.angle_gauge.iter().find(|reading| says(&reading.extra, id)) {
        return in_bounce(&gauge(&reading.place, reading.reversed), bounce_number(&reading.bounce_id), None);
    }
    if let Some(reading) =
        snapshot.plane_on_car.iter().flat_map(|pass| &pass.readings).find(|reading| says(&reading.extra, id))
    {
        return format!("level plane, {}", shown(&reading.point));
    }
    // One that was added and taken back stands in its correction alone.
    let added =
        snapshot.corrections.iter().find(|each| each.reading.as_deref() == Some(id) && each.what == Corrected::Added);
    let new = added.and_then(|added| added.new.clone()).unwrap_or_default();
    let text = |key: &str| new[key].as_str().unwrap_or_default().to_owned();
    match new.get("where").is_some() {
        true => in_bounce(&gauge(&text("where"), new["reversed"] == true), bounce_number(&text("bounce_id")), None),
        false => {
            let round = new["repeat"].as_u64().and_then(|round| u32::try_from(round).ok());
            in_bounce(&point(&text("ref"), &file.vehicle), bounce_number(&text("bounce_id")), round)
        }
    }
}

/// "front left, fender lip, bounce 1, round 2"
pub(crate) fn in_bounce(place: &str, bounce: usize, round: Option<u32>) -> String {
    let round = round.map(|round| format!(", round {round}")).unwrap_or_default();
    format!("{}, bounce {bounce}{round}", shown(place))
}

/// "angle gauge, left rail, turned"
pub(crate) fn gauge(place: &str, reversed: bool) -> String {
    let rail = match place {
        "frame_rail_left" => "left rail".to_owned(),
        "frame_rail_right" => "right rail".to_owned(),
        other => shown(&other.replace('_', " ")),
    };
    format!("angle gauge, {rail}{}", if reversed { ", turned" } else { "" })
}

/// "Floor", "Tire pressures"
pub(crate) fn condition_name(field: &str) -> &'static str {
    match field {
        "floor" => "Floor",
        "facing" => "Facing",
        "load_change_from_nominal" => "Load",
        "tire_pressure_kpa" => "Tire pressures",
        "tires_warm" => "Tires",
        "odometer_km" => "Odometer",
        "air_c" => "Air",
        "date" => "Date",
        "label" => "Name",
        "tape" => "Tape",
        "gauge" => "Angle gauge",
        _ => "Condition",
    }
}

/// "18 °C", "−4.5 °C"
pub(crate) fn air_words(air_c: f64) -> String {
    format!("{} °C", (air_c * 10.0).round() / 10.0).replace('-', "\u{2212}")
}

/// What a key of the snapshot holds, in words.
pub(crate) fn condition_words(file: &CarFile, field: &str, value: &Value) -> String {
    let text = value.as_str().unwrap_or_default();
    match field {
        "facing" => match serde_json::from_value(value.clone()) {
            Ok(Facing::B) => "turned end for end".to_owned(),
            _ => "as first".to_owned(),
        },
        "floor" if value.is_null() => "somewhere, not levelled".to_owned(),
        "floor" => {
            let floor = file.floors.iter().find(|floor| floor.id == text);
            shown(floor.map(|floor| floor.label.as_str()).filter(|label| !label.trim().is_empty()).unwrap_or(text))
        }
        "tire_pressure_kpa" if value.is_object() => {
            let one =
                |corner: Corner| format!("{corner} {}", whole(value[corner.to_string()].as_f64().unwrap_or_default()));
            format!("{} kPa", Corner::ALL.map(one).join(", "))
        }
        "tires_warm" => if value == true { "warm" } else { "cold" }.to_owned(),
        "air_c" if value.is_number() => air_words(value.as_f64().unwrap_or_default()),
        "odometer_km" if value.is_number() => format!("{} km", value.as_f64().unwrap_or_default()),
        "tape" | "gauge" if value.is_string() => {
            let owned = file.instruments.iter().find(|owned| owned.id() == text);
            shown(owned.map(|owned| owned.label()).filter(|label| !label.trim().is_empty()).unwrap_or(text))
        }
        "date" => day(text),
        "load_change_from_nominal" => {
            let changes = value.as_array().into_iter().flatten();
            let one = |change: &Value| {
                let (label, mass) = (change["label"].as_str().unwrap_or_default(), change["mass_kg"].as_f64());
                // A label of the app's own says its mass.
                if label.ends_with(" kg") {
                    shown(label)
                } else {
                    format!("{} {} kg", shown(label), mass.unwrap_or_default()).trim().to_owned()
                }
            };
            let said: Vec<String> = changes.map(one).collect();
            if said.is_empty() { "as usual".to_owned() } else { said.join(", ") }
        }
        _ if value.is_null() || text.trim().is_empty() => "not said".to_owned(),
        _ => shown(text),
    }
}
