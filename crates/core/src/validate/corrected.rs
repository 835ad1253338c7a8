//! Corrections of a file: each names something that is there, in the shape its kind has.

use super::Faults;
use crate::capture::{Corrected, Correction, Snapshot, condition_fits};
use crate::wording::shown;
use serde_json::Value;
use std::collections::BTreeSet;

/// More than anyone makes of one snapshot.
const MOST_CORRECTIONS: usize = 2_000;

pub(super) fn check(place: &str, snapshot: &Snapshot, found: &mut Faults) {
    let place = format!("{place}.corrections");
    found.count(&place, snapshot.corrections.len(), MOST_CORRECTIONS);
    found.names(&place, snapshot.corrections.iter().map(|correction| correction.uuid.as_str()));
    let mut readings = ids(snapshot);
    let added = snapshot.corrections.iter().filter(|correction| correction.what == Corrected::Added);
    readings.extend(added.filter_map(|correction| correction.reading.as_deref()));
    let mut earlier = BTreeSet::new();
    for (number, correction) in snapshot.corrections.iter().enumerate() {
        one(&format!("{place}[{number}]"), correction, &readings, &earlier, found);
        earlier.insert(correction.uuid.as_str());
    }
}

/// Ids that readings of the snapshot give themselves.
fn ids(snapshot: &Snapshot) -> BTreeSet<&str> {
    let tapes = snapshot.bounces.iter().flat_map(|bounce| &bounce.readings).map(|reading| &reading.extra);
    let gauges = snapshot.angle_gauge.iter().map(|reading| &reading.extra);
    let planes = snapshot.plane_on_car.iter().flat_map(|pass| &pass.readings).map(|reading| &reading.extra);
    tapes.chain(gauges).chain(planes).filter_map(|extra| extra.get("uuid")?.as_str()).collect()
}

fn one(place: &str, correction: &Correction, readings: &BTreeSet<&str>, earlier: &BTreeSet<&str>, found: &mut Faults) {
    if matches!(correction.what, Corrected::Value | Corrected::Struck | Corrected::BroughtBack | Corrected::Added) {
        let id = correction.reading.as_deref().unwrap_or_default();
        if !readings.contains(id) {
            let message = format!("there is no reading with the uuid {}", shown(id));
            found.add(format!("{place}.reading"), message, "name a reading of this snapshot by its uuid");
        }
    }
    let said = |value: &Option<Value>| value.clone().unwrap_or_default();
    match correction.what {
        Corrected::Value => {
            for (key, side) in [("old", &correction.old), ("new", &correction.new)] {
                if written(&said(side)).is_none() {
                    found.add(
                        format!("{place}.{key}"),
                        "no value stands here",
                        "give value_mm or angle_deg, and the text",
                    );
                }
            }
        }
        Corrected::Added => {
            let new = said(&correction.new);
            if !new["bounce_id"].is_string() || written(&new).is_none() {
                found.add(format!("{place}.new"), "no reading stands here", "give the reading and its bounce_id");
            }
        }
        Corrected::Condition => {
            let field = correction.field.as_deref().unwrap_or_default();
            for (key, side) in [("old", &correction.old), ("new", &correction.new)] {
                if !condition_fits(field, &said(side)) {
                    let message = format!("this is no {} of a snapshot", shown(field));
                    found.add(format!("{place}.{key}"), message, "give it as the snapshot does");
                }
            }
        }
        Corrected::TakenBack => {
            let of = correction.of.as_deref().unwrap_or_default();
            if !earlier.contains(of) {
                let message = format!("there is no earlier correction {}", shown(of));
                found.add(format!("{place}.of"), message, "name the correction that is taken back");
            }
        }
        Corrected::Struck | Corrected::BroughtBack => {}
    }
}

/// The number of a written value, mm or degrees, where it has one in the range of a reading.
fn written(value: &Value) -> Option<f64> {
    let number = value.get("value_mm").or_else(|| value.get("angle_deg"))?.as_f64()?;
    (-20_000.0..=20_000.0).contains(&number).then_some(number)
}
