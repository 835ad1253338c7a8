//! Whether an exchange file makes sense: every name points somewhere, every number lies in its range.
//!
//! All faults are found in one walk. Nothing is repaired or guessed.

pub mod aligned;
mod corrected;
pub mod described;
mod events;
pub mod fitted;
mod grounds;
mod instruments;
mod linkages;
mod measured;
mod photo;
mod targets;
pub mod vehicle;

use crate::capture::{CarFile, Event, OwnedInstrument};
use crate::car::{Radiator, Square, Vehicle};
use crate::target::Target;
use crate::units::LengthUnit;
use crate::wording::shown;
use std::collections::BTreeSet;
use std::ops::RangeInclusive;

/// One thing that is wrong with a file.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{place}: {message}")]
pub struct Fault {
    /// Path in the file, such as `snapshots[0].bounces[1].readings[3].value_mm`.
    pub place: String,
    /// What is wrong, with the value and the range.
    pub message: String,
    /// What to do next.
    pub hint: String,
}

/// All faults of a file, in its order; empty where it can be adjusted.
pub fn faults(file: &CarFile) -> Vec<Fault> {
    let mut found = Faults::default();
    vehicle::check(&file.vehicle, &mut found);
    if let Some(ground) = &file.ground {
        described::ground(ground, &mut found);
    }
    described::measured_in(file, &mut found);
    measured::check(file, &mut found);
    targets::check(file, &mut found);
    grounds::check(file, &mut found);
    found.faults
}

/// All faults of a file that is read in: also those that would only be in the way later.
pub fn import_faults(file: &CarFile) -> Vec<Fault> {
    let mut found = Faults { faults: faults(file) };
    targets::check_only(file, &mut found);
    found.faults
}

/// What is wrong with one tape or gauge; places are those inside its entry.
pub fn instrument_faults(owned: &OwnedInstrument) -> Vec<Fault> {
    let mut found = Faults::default();
    found.names("id", [owned.id()].into_iter());
    instruments::check_one("", owned, &mut found);
    for fault in &mut found.faults {
        fault.place = fault.place.trim_start_matches('.').to_owned();
    }
    found.faults
}

/// What is wrong with one event; places are those inside its entry.
pub fn event_faults(event: &Event) -> Vec<Fault> {
    let mut found = Faults::default();
    events::check_one("", event, &mut found);
    for fault in &mut found.faults {
        fault.place = fault.place.trim_start_matches('.').to_owned();
    }
    found.faults
}

/// What is wrong with a car's description alone.
pub fn vehicle_faults(vehicle: &Vehicle) -> Vec<Fault> {
    let mut found = Faults::default();
    vehicle::check(vehicle, &mut found);
    found.faults
}

/// What is wrong with one measuring of squareness; places are those inside its entry.
pub fn square_faults(square: &Square) -> Vec<Fault> {
    let mut found = Faults::default();
    aligned::square("", square, &mut found);
    found.faults
}

/// What is wrong with one radiator; places are those inside its entry.
pub fn radiator_faults(radiator: &Radiator) -> Vec<Fault> {
    let mut found = Faults::default();
    aligned::radiator("", radiator, &mut found);
    for fault in &mut found.faults {
        fault.place = fault.place.trim_start_matches('.').to_owned();
    }
    found.faults
}

/// What is wrong with one target; places are those inside its entry.
pub fn target_faults(target: &Target) -> Vec<Fault> {
    let mut found = Faults::default();
    found.names("id", [target.id.as_str()].into_iter());
    targets::check_one("", target, &mut found);
    found.faults
}

/// The faults found so far.
#[derive(Default)]
struct Faults {
    faults: Vec<Fault>,
}

impl Faults {
    fn add(&mut self, place: impl Into<String>, message: impl Into<String>, hint: impl Into<String>) {
        self.faults.push(Fault { place: place.into(), message: message.into(), hint: hint.into() });
    }

    /// A number that must be finite and lie in a range; `unit` is said beside it.
    fn number(&mut self, place: &str, value: f64, range: &RangeInclusive<f64>, unit: &str) {
        if !range.contains(&value) {
            let (low, high) = (range.start(), range.end());
            let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
            self.add(
                place,
                format!("{}{unit} is outside {low} to {high}{unit}", number(value)),
                "correct the value; check its unit",
            );
        }
    }

    /// A count that must not be larger than what one adjustment carries.
    fn count(&mut self, place: &str, count: usize, most: usize) {
        if count > most {
            self.add(place, format!("{count} entries; at most {most} are understood"), "split the file");
        }
    }

    /// Names that must differ from each other and say something.
    fn names<'a>(&mut self, place: &str, names: impl Iterator<Item = &'a str>) {
        let mut seen = BTreeSet::new();
        for name in names {
            if name.trim().is_empty() || name.chars().any(char::is_control) {
                self.add(place, format!("{} is no name", shown(name)), "give it letters and digits");
            } else if !seen.insert(name) {
                self.add(place, format!("the name {} stands twice", shown(name)), "give each its own name");
            }
        }
    }

    /// What was typed and the mm beside it must say the same, within half a division of the tape.
    fn text(&mut self, place: &str, text: &str, unit: &str, value_mm: f64, division_mm: f64) {
        let Some(unit) = length_unit(unit) else {
            self.add(place, format!("the unit {} is not known", shown(unit)), "use mm, cm or in");
            return;
        };
        // A staff above the plane has a sign, which no tape has.
        let (sign, text) = text.trim().strip_prefix(['-', '−']).map_or((1.0, text), |rest| (-1.0, rest));
        if text.trim().is_empty() {
            return;
        }
        // A program's text may carry more digits than a person's.
        let plain = text.trim().replace(',', ".").parse::<f64>().ok();
        let digits = text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | ' '));
        let read = match plain.filter(|number| digits && number.is_finite()) {
            Some(number) => Ok(number * unit.to_mm()),
            None => crate::units::read_length(text, unit).map(|entered| entered.length.to_mm()),
        };
        match read {
            Ok(length_mm) => {
                let said = sign * length_mm;
                if (said - value_mm).abs() > division_mm / 2.0 + 1e-6 {
                    self.add(
                        place,
                        format!("the text {} says {said:.2} mm, value_mm says {}", shown(text), number(value_mm)),
                        "correct the one that is wrong",
                    );
                }
            }
            Err(error) => {
                self.add(place, format!("the text {} cannot be read: {}", shown(text), error.message), error.hint);
            }
        }
    }
}

/// A number as a person can read it, however large or small.
fn number(value: f64) -> String {
    let plain = value == 0.0 || (1e-6..1e15).contains(&value.abs()) || !value.is_finite();
    if plain { value.to_string() } else { format!("{value:e}") }
}

fn length_unit(name: &str) -> Option<LengthUnit> {
    match name {
        "mm" => Some(LengthUnit::Mm),
        "cm" => Some(LengthUnit::Cm),
        "in" => Some(LengthUnit::In),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn file() -> Value {
        json!({"vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400, "ref_points": [
                {"id": "lip.FL", "corner": "FL", "kind": "fender_lip", "x_mm": 0, "y_mm": 800},
                {"id": "lip.RL", "corner": "RL", "kind": "fender_lip", "x_mm": -2600, "y_mm": 800}]},
            "floors": [{"id": "f", "survey": {"passes": [{"pass_no": 1, "readings": [{"point": "S1", "text": "882", "value_mm": 882}]}]}}],
            "snapshots": [{"id": "s", "date": "2031-04-12", "floor": "f", "photos": [], "bounces": [{"bounce_id": "b", "readings": [
                {"ref": "lip.FL", "repeat": 1, "text": "25 1/4", "unit": "in", "value_mm": 641.35}]}]}],
            "instrument": {"tape": {"unit": "in", "den": 16}}})
    }

    /// Sets one value in the file and says what is found, as `place: message`.
    fn check(pointer: &str, value: Value, expected: &str) {
        let mut file = file();
        *file.pointer_mut(pointer).unwrap_or_else(|| panic!("{pointer} is in the file")) = value;
        let file: CarFile = serde_json::from_value(file).expect("well-formed");
        let found: Vec<String> = faults(&file).iter().map(ToString::to_string).collect();
        assert_eq!(found, [expected], "{pointer}");
    }

    #[test]
    fn a_sound_file_has_no_faults() {
        let file: CarFile = serde_json::from_value(file()).expect("well-formed");
        assert_eq!(faults(&file), []);
    }

    #[test]
    fn each_fault_is_named_with_place_value_and_range() {
        let reading = "/snapshots/0/bounces/0/readings/0";
        let at = "snapshots[0].bounces[0].readings[0]";
        check("/vehicle/wheelbase_mm", json!(26), "vehicle.wheelbase_mm: 26 mm is outside 500 to 10000 mm");
        let photo = json!({"side": "left", "sha256": "../x", "media_type": "image/jpeg", "width_px": 40, "height_px": 30, "size_bytes": 99});
        let at_photo = "snapshots[0].photos[0].sha256";
        check(
            "/snapshots/0/photos",
            json!([photo]),
            &format!("{at_photo}: ../x is no SHA-256: 64 digits of 0 to 9 and a to f"),
        );
        check("/snapshots/0/floor", json!("g"), "snapshots[0].floor: there is no floor g");
        check("/snapshots/0/date", json!("12 April"), "snapshots[0].date: 12 April is no date");
        check(
            &format!("{reading}/value_mm"),
            json!(651.35),
            &format!("{at}: the text 25 1/4 says 641.35 mm, value_mm says 651.35"),
        );
        check(&format!("{reading}/ref"), json!("lip.XX"), &format!("{at}.ref: the car has no point lip.XX"));
        check(
            "/vehicle/ref_points/1/x_mm",
            json!(2600),
            "vehicle.ref_points: fender_lip: a front mark at x = 0 mm and a rear mark at x = 2600 mm are less than 100 mm apart",
        );
        check(
            "/vehicle/ref_points/0/y_mm",
            json!(-800),
            "vehicle.ref_points[0].y_mm: -800 mm does not fit lip.FL, which is on the left, so 5 to 2500 mm",
        );
    }

    #[test]
    fn a_programs_long_decimal_is_read() {
        let mut file = file();
        *file.pointer_mut("/snapshots/0/bounces/0/readings/0/text").expect("there") = json!("25.250000000001");
        let file: CarFile = serde_json::from_value(file).expect("well-formed");
        assert_eq!(faults(&file), []);
    }

    #[test]
    fn half_a_division_between_text_and_value_is_rounding() {
        let mut file = file();
        *file.pointer_mut("/snapshots/0/bounces/0/readings/0/value_mm").expect("there") = json!(642.1);
        let file: CarFile = serde_json::from_value(file).expect("well-formed");
        assert_eq!(faults(&file), []);
    }
}
