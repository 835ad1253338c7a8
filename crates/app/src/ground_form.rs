//! The form of a ground: from what was typed to how the file has it.

use crate::fields::Fields;
use crate::wire::{FieldProblem, GroundForm, GroundWay};
use std::ops::RangeInclusive;
use trueground_core::checks::ramp::{Shape, measures as range};
use trueground_core::ground::{GroundKind, OwnGround, StringLine};
use trueground_core::units::{Angle, read_angle};

const SLOPE_DEG: RangeInclusive<f64> = -45.0..=45.0;
const SAG_MM: RangeInclusive<f64> = 0.0..=500.0;
const LENGTH_MM: RangeInclusive<f64> = 100.0..=50_000.0;
/// Three measures of a triangle that agree this well are taken, relative: nobody tapes a ramp better.
const AGREES: f64 = 0.05;

/// What the form says, as far as it can be read; everything that cannot be is said to `fields`. What a string has besides stays as
/// `earlier` has it.
pub(crate) fn read(fields: &mut Fields, form: &GroundForm, earlier: Option<&OwnGround>) -> OwnGround {
    let measured = form.way == GroundWay::String;
    let label = match form.label.trim() {
        "" if !measured => Some(String::new()),
        _ => fields.label("label", "The ground", &form.label),
    };
    let mut own = OwnGround {
        id: String::new(),
        label: label.unwrap_or_default(),
        kind: form.kind,
        date: None,
        string: None,
        shape: None,
        put_away: false,
        extra: earlier.map(|earlier| earlier.extra.clone()).unwrap_or_default(),
    };
    if measured {
        let kept = earlier.and_then(|earlier| earlier.string.clone());
        own.string = Some(StringLine {
            slope_deg: angle(fields, "slope", "a string\u{2019}s slope", &form.slope, &SLOPE_DEG),
            sag_mm: fields.optional_length("sag", "a sag", &form.sag, form.tape, SAG_MM),
            stations: Vec::new(),
            ..kept.unwrap_or_else(nothing_said)
        });
    } else {
        own.shape = shape(fields, form);
    }
    own
}

fn nothing_said() -> StringLine {
    StringLine {
        slope_deg: None,
        slope_u_deg: None,
        sag_mm: None,
        mass_g_per_m: None,
        pull_n: None,
        height_u_mm: None,
        stations: Vec::new(),
        extra: serde_json::Map::new(),
    }
}

fn shape(fields: &mut Fields, form: &GroundForm) -> Option<Shape> {
    let tape = form.tape;
    match form.kind {
        GroundKind::Crest => {
            let deg = needed_angle(fields, form, "Type the degrees of the slope below the edge.")?;
            Some(Shape::Crest { angle_deg: deg })
        }
        GroundKind::SpeedHump => {
            let length = fields.length("length", "a hump\u{2019}s length", &form.length, tape, range::HUMP_LENGTH_MM);
            let height = fields.length("rise", "a hump\u{2019}s height", &form.rise, tape, range::HUMP_HEIGHT_MM);
            let flat = fields.optional_length("flat", "a level piece", &form.flat, tape, range::FLAT_MM).unwrap_or(0.0);
            let (length_mm, height_mm) = (length?, height?);
            if height_mm > length_mm / 2.0 {
                let sentence = format!("{height_mm:.0} mm is more than half of its length of {length_mm:.0} mm.");
                fields.refuse("rise", &form.rise, &sentence, "Give the height of its crown over the road.");
                return None;
            }
            Some(Shape::Hump { length_mm, height_mm, flat_mm: flat, shape: form.hump })
        }
        GroundKind::Driveway | GroundKind::Apron | GroundKind::TrailerRamp => ramp(fields, form),
    }
}

/// Two of angle, length of the slope and rise tell the third; three must agree.
fn ramp(fields: &mut Fields, form: &GroundForm) -> Option<Shape> {
    let angle = angle(fields, "angle", "a ramp\u{2019}s angle", &form.angle, &range::SLOPE_DEG);
    let length = fields.optional_length("length", "a ramp\u{2019}s length", &form.length, form.tape, LENGTH_MM);
    let rise = fields.optional_length("rise", "a height", &form.rise, form.tape, range::RISE_MM);
    let bad = |typed: &str, read: Option<f64>| !typed.trim().is_empty() && read.is_none();
    if bad(&form.angle, angle) || bad(&form.length, length) || bad(&form.rise, rise) {
        return None;
    }
    let (angle_deg, rise_mm) = match (angle, length, rise) {
        (Some(deg), Some(long), Some(high)) => {
            let by_angle = long * Angle::deg(deg).sin();
            if (by_angle - high).abs() > AGREES * high.max(by_angle) {
                let sentence = format!(
                    "With {deg}\u{b0} and {long:.0} mm it rises {by_angle:.0} mm, not {high:.0} mm: the three do not agree."
                );
                fields.refuse(
                    "rise",
                    &form.rise,
                    &sentence,
                    "Correct one of them, or leave one empty: two are enough.",
                );
                return None;
            }
            (deg, high)
        }
        (Some(deg), _, Some(high)) => (deg, high),
        (Some(deg), Some(long), None) => (deg, long * Angle::deg(deg).sin()),
        (None, Some(long), Some(high)) => {
            let Some(angle) = Angle::asin(high / long).filter(|angle| range::SLOPE_DEG.contains(&angle.to_deg()))
            else {
                let sentence =
                    format!("A slope of {long:.0} mm cannot lead {high:.0} mm up: it would be steeper than 60\u{b0}.");
                fields.refuse("length", &form.length, &sentence, "Give the length along the slope.");
                return None;
            };
            (angle.to_deg(), high)
        }
        _ => {
            let hint = "Type two of them: the angle, the length along the slope, how high it leads.";
            fields.refuse(if angle.is_none() { "angle" } else { "rise" }, "", "Two measures tell a ramp.", hint);
            return None;
        }
    };
    if !range::RISE_MM.contains(&rise_mm) {
        let sentence = format!("It would rise {rise_mm:.0} mm: 1 to 20000 mm is taken.");
        fields.refuse("length", &form.length, &sentence, "Correct the length or the angle.");
        return None;
    }
    Some(Shape::Ramp { angle_deg, rise_mm })
}

fn needed_angle(fields: &mut Fields, form: &GroundForm, hint: &str) -> Option<f64> {
    if form.angle.trim().is_empty() {
        fields.refuse("angle", "", "The angle is not typed yet.", hint);
        return None;
    }
    angle(fields, "angle", "a slope", &form.angle, &range::SLOPE_DEG)
}

/// Degrees in a range, or nothing where the field is empty.
fn angle(fields: &mut Fields, field: &str, what: &str, typed: &str, range: &RangeInclusive<f64>) -> Option<f64> {
    if typed.trim().is_empty() {
        return None;
    }
    match read_angle(typed) {
        Ok(entered) if range.contains(&entered.angle.to_deg()) => Some((entered.angle.to_deg() * 1e6).round() / 1e6),
        Ok(entered) => {
            let deg = (entered.angle.to_deg() * 1e6).round() / 1e6;
            let (low, high) = (range.start(), range.end());
            let sentence = format!("{deg}\u{b0} is outside {low}\u{b0} to {high}\u{b0}, where {what} lies.");
            fields.refuse(field, typed, &sentence, "Correct it.");
            None
        }
        Err(error) => {
            fields.push(FieldProblem::entry(field, typed, error));
            None
        }
    }
}
