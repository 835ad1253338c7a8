//! Whether a ground makes sense: one that runs backwards, has one station, or numbers that no ground has.

use super::{OwnGround, StringLine};
use crate::checks::ramp::Shape;
use crate::checks::ramp::measures as range;
use crate::level::Problem;
use crate::wording::shown;
use std::ops::RangeInclusive;

/// No string is longer.
const ALONG_MM: RangeInclusive<f64> = 0.0..=100_000.0;
/// From the string down; a little above it where a stone sticks up.
const DOWN_MM: RangeInclusive<f64> = -500.0..=5_000.0;
const SLOPE_DEG: RangeInclusive<f64> = -45.0..=45.0;
const MOST_STATIONS: usize = 500;

/// What is wrong with a ground, as place inside its entry, message and hint; a capture that has only begun is no fault.
pub fn faults(ground: &OwnGround) -> Vec<(String, String, String)> {
    let mut found = Vec::new();
    let mut number = |place: &str, value: f64, range: &RangeInclusive<f64>, unit: &str| {
        if !range.contains(&value) {
            let (low, high) = (range.start(), range.end());
            let message = format!("{} {unit} is outside {low} to {high} {unit}", plain(value));
            found.push((place.to_owned(), message, "correct the value; check its unit".to_owned()));
        }
    };
    match ground.shape {
        Some(Shape::Ramp { angle_deg, rise_mm }) => {
            number("shape.angle_deg", angle_deg, &range::SLOPE_DEG, "deg");
            number("shape.rise_mm", rise_mm, &range::RISE_MM, "mm");
        }
        Some(Shape::Crest { angle_deg }) => number("shape.angle_deg", angle_deg, &range::SLOPE_DEG, "deg"),
        Some(Shape::Hump { length_mm, height_mm, flat_mm, .. }) => {
            number("shape.length_mm", length_mm, &range::HUMP_LENGTH_MM, "mm");
            number("shape.height_mm", height_mm, &range::HUMP_HEIGHT_MM, "mm");
            number("shape.flat_mm", flat_mm, &range::FLAT_MM, "mm");
            number("shape.height_mm", height_mm, &(0.0..=length_mm / 2.0), "mm");
        }
        None => {}
    }
    let Some(string) = &ground.string else { return found };
    number("string.slope_deg", string.slope_deg.unwrap_or(0.0), &SLOPE_DEG, "deg");
    number("string.slope_u_deg", string.slope_u_deg.unwrap_or(1.0), &(0.0..=45.0), "deg");
    number("string.sag_mm", string.sag_mm.unwrap_or(0.0), &(0.0..=500.0), "mm");
    number("string.mass_g_per_m", string.mass_g_per_m.unwrap_or(1.0), &(0.01..=1_000.0), "g/m");
    number("string.pull_n", string.pull_n.unwrap_or(1.0), &(0.5..=2_000.0), "N");
    number("string.height_u_mm", string.height_u_mm(), &(0.0..=100.0), "mm");
    for (i, station) in string.stations.iter().enumerate() {
        number(&format!("string.stations[{i}].along_mm"), station.along_mm, &ALONG_MM, "mm");
        number(&format!("string.stations[{i}].down_mm"), station.down_mm, &DOWN_MM, "mm");
    }
    if string.stations.len() > MOST_STATIONS {
        let message = format!("{} stations; at most {MOST_STATIONS} are understood", string.stations.len());
        found.push(("string.stations".to_owned(), message, "take one every 300 to 500 mm".to_owned()));
    }
    if found.is_empty() {
        found.extend(order(string));
    }
    found
}

/// The first station that is driven over before the one in front of it, or a third at one place.
fn order(string: &StringLine) -> Option<(String, String, String)> {
    let all: Vec<(usize, f64)> = string
        .stations
        .iter()
        .enumerate()
        .filter(|(_, station)| station.struck.is_none())
        .map(|(i, station)| (i, station.along_mm))
        .collect();
    let step = |until: usize| all[..=until].windows(2).map(|pair| pair[1].1 - pair[0].1).find(|step| *step > 0.0);
    for (n, (i, along)) in all.iter().enumerate().skip(1) {
        let place = format!("string.stations[{i}].along_mm");
        let before = all[n - 1].1;
        let next = before + step(n - 1).unwrap_or(400.0);
        if *along < before {
            let message =
                format!("{along} mm lies behind the station before it, at {before} mm: the profile runs backwards");
            return Some((
                place,
                message,
                format!("give the stations as they are driven over; {next} mm would be next"),
            ));
        }
        if n > 1 && all[n - 2].1 == *along {
            let message = format!("a third station stands at {along} mm: two at one place make a step");
            return Some((place, message, format!("leave it out, or correct its place; {next} mm would be next")));
        }
    }
    None
}

/// Whether the ground can be driven over.
///
/// # Errors
/// A fault, neither stations nor measures, one station, or stations that all stand at one place.
pub fn check(ground: &OwnGround) -> Result<(), Problem> {
    let name = format!("the ground {}", shown(ground.called()));
    if let Some((place, message, hint)) = faults(ground).into_iter().next() {
        return Err(Problem::new(format!("{name}: {place}: {message}"), sentence(&hint)));
    }
    let Some(string) = &ground.string else {
        let hint = "Measure it with a string and a rule, or give it a shape: \"shape\": {\"kind\": \"ramp\", \"angle_deg\": 11, \"rise_mm\": 600}.";
        return ground
            .shape
            .map(|_| ())
            .ok_or_else(|| Problem::new(format!("{name} has neither stations under a string nor a shape"), hint));
    };
    let count = string.counting().count();
    if count < 2 {
        let message = match count {
            0 => format!("{name} has no station yet"),
            _ => format!("{name} has one station, and two at least make a profile"),
        };
        return Err(Problem::new(message, "Read one every 300 to 500 mm along the string; ten tell a driveway."));
    }
    if string.length_mm() <= 0.0 {
        let message = format!("{name} has no length: all its stations stand at one place");
        return Err(Problem::new(message, "Give the way along the string from its beginning, in mm."));
    }
    Ok(())
}

fn sentence(hint: &str) -> String {
    let mut letters = hint.chars();
    letters.next().map_or_else(String::new, |first| format!("{}{}.", first.to_uppercase(), letters.as_str()))
}

fn plain(value: f64) -> String {
    let short = value == 0.0 || (1e-6..1e15).contains(&value.abs()) || !value.is_finite();
    if short { value.to_string() } else { format!("{value:e}") }
}
