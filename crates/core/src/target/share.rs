//! A target as a small file: the target with the marks of the car it was made for.

use super::{Carried, Keep, Target, carry};
use crate::car::{RefPoint, Vehicle};
use crate::level::Problem;
use crate::misread::misread;
use crate::validate;
use crate::wording::{quotes_cut, shown};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// The version that is written.
const VERSION: u64 = 1;
/// Largest file that is read, bytes: a target is small.
pub const LARGEST_BYTES: usize = 1 << 20;
const HINT: &str = "Ask whoever sent it to write it anew from Trueground.";

/// The file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct TargetFile {
    /// What it is: `target`.
    pub trueground: String,
    /// Version of this format, 1.
    pub version: u64,
    /// The car it was made for.
    pub car: SharedCar,
    /// The target.
    pub target: Target,
    /// Whatever else the file said.
    #[serde(flatten)]
    pub extra: Map<String, Value>,
}

/// As much of a car as its targets need.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SharedCar {
    /// What it is called.
    pub label: String,
    /// Between the axles, mm.
    pub wheelbase_mm: f64,
    /// Between the front wheel centres, mm.
    pub track_front_mm: f64,
    /// Between the rear wheel centres, mm.
    pub track_rear_mm: f64,
    /// The marks that the target names, with all of their kinds.
    #[serde(default)]
    pub ref_points: Vec<RefPoint>,
}

impl TargetFile {
    /// The file of a target of this car.
    pub fn of(vehicle: &Vehicle, target: &Target) -> Self {
        let named = |id: &String| {
            target.heights_mm.contains_key(id) || target.limits.iter().any(|limit| limit.points.contains(id))
        };
        let wanted = |point: &RefPoint| {
            let of_rake = target.rake_kind == Some(point.kind);
            of_rake || vehicle.ref_points.iter().any(|other| other.kind == point.kind && named(&other.id))
        };
        let plain = |point: &RefPoint| RefPoint { extra: Map::new(), ..point.clone() };
        Self {
            trueground: "target".to_owned(),
            version: VERSION,
            car: SharedCar {
                label: vehicle.label.clone(),
                wheelbase_mm: vehicle.wheelbase_mm,
                track_front_mm: vehicle.track_front_mm,
                track_rear_mm: vehicle.track_rear_mm,
                ref_points: vehicle.ref_points.iter().filter(|point| wanted(point)).map(plain).collect(),
            },
            target: Target { replaces: None, extra: without_form(&target.extra), ..target.clone() },
            extra: Map::new(),
        }
    }

    /// Reads a file.
    ///
    /// # Errors
    /// Not JSON, not a target's file, of a later version, or one whose numbers make no sense: the place, the value, the range.
    pub fn read(text: &str) -> Result<Self, Problem> {
        if text.len() > LARGEST_BYTES {
            return Err(Problem::new("the file is larger than 1 MB, and a target is small", HINT));
        }
        let value: Value = serde_json::from_str(text.trim_start_matches('\u{feff}')).map_err(|error| {
            let place = format!("line {}, column {}", error.line(), error.column());
            Problem::new(format!("the file is not JSON: {place}: {}", quotes_cut(&error.to_string())), HINT)
        })?;
        if value["trueground"] != "target" {
            let hint = if value.get("vehicle").is_some() {
                "It is the file of a whole car: open it in the garage."
            } else {
                "Give a file that Trueground wrote for a target."
            };
            return Err(Problem::new("the file is not that of a target", hint));
        }
        match value["version"].as_u64() {
            Some(VERSION) => {}
            Some(later) if later > VERSION => {
                let message = format!("the file is of version {later}; this Trueground reads version {VERSION}");
                return Err(Problem::new(message, "Open it with a newer Trueground."));
            }
            _ => return Err(Problem::new("the file does not say its version", HINT)),
        }
        let file: Self = serde_path_to_error::deserialize(value).map_err(|error| {
            Problem::new(format!("{}: {}", error.path(), misread(&error.inner().to_string())), HINT)
        })?;
        file.check()?;
        // What it replaced stands in another book; here it takes nobody's place.
        Ok(Self { target: Target { replaces: None, ..file.target }, ..file })
    }

    fn check(&self) -> Result<(), Problem> {
        let at = |place: &str, fault: &validate::Fault| {
            Problem::new(format!("{place}{}: {}", fault.place, fault.message), fault.hint.clone())
        };
        if let Some(fault) = validate::vehicle_faults(&self.vehicle()).first() {
            let place = fault.place.trim_start_matches("vehicle.");
            return Err(Problem::new(format!("car.{place}: {}", fault.message), fault.hint.clone()));
        }
        let named = Target { id: "shared".to_owned(), ..self.target.clone() };
        if let Some(fault) = validate::target_faults(&named).first() {
            return Err(at("target.", fault));
        }
        if self.target.is_empty() {
            return Err(Problem::new("target: it wants no height, no rake and no limit", HINT));
        }
        let known = |id: &String| self.car.ref_points.iter().any(|point| point.id == *id);
        let points = self.target.heights_mm.keys().chain(self.target.limits.iter().flat_map(|limit| &limit.points));
        match points.into_iter().find(|id| !known(id)) {
            Some(id) => Err(Problem::new(format!("target: its car has no point {}", shown(id)), HINT)),
            None => Ok(()),
        }
    }

    /// The car it was made for, as far as the file says.
    pub fn vehicle(&self) -> Vehicle {
        let SharedCar { label, wheelbase_mm, track_front_mm, track_rear_mm, ref_points } = &self.car;
        let written = serde_json::json!({"label": label, "wheelbase_mm": wheelbase_mm, "track_front_mm": track_front_mm,
            "track_rear_mm": track_rear_mm, "ref_points": ref_points});
        serde_json::from_value(written).unwrap_or_else(|_| unreachable!("written from its own fields just above"))
    }

    /// True where its marks are those of this car: then nothing needs to be carried over.
    pub fn is_of(&self, vehicle: &Vehicle) -> bool {
        let same = |a: &RefPoint, b: &RefPoint| {
            (&a.id, a.kind, a.corner) == (&b.id, b.kind, b.corner) && (a.x_mm - b.x_mm).abs() < 0.5
        };
        self.car.ref_points.iter().all(|point| vehicle.ref_points.iter().any(|own| same(own, point)))
    }

    /// The target as this car has it: as written where the marks are the same, else carried over.
    pub fn on(&self, vehicle: &Vehicle, keep: Keep) -> Carried {
        if self.is_of(vehicle) {
            return Carried { target: self.target.clone(), left_out: Vec::new() };
        }
        carry(&self.target, &self.vehicle(), vehicle, keep)
    }
}

/// What was typed stays with the car it was typed for.
fn without_form(extra: &Map<String, Value>) -> Map<String, Value> {
    extra.iter().filter(|(key, _)| *key != "form").map(|(key, value)| (key.clone(), value.clone())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn car() -> Vehicle {
        let point = |id: &str, corner: &str, kind: &str, x: f64, y: f64| json!({"id": id, "corner": corner, "kind": kind, "x_mm": x, "y_mm": y});
        serde_json::from_value(json!({"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400,
            "ref_points": [point("rail.FL", "FL", "frame_rail", 0.0, 400.0), point("rail.RL", "RL", "frame_rail", -2600.0, 400.0),
                point("lip.FL", "FL", "fender_lip", 0.0, 800.0)]}))
        .expect("a vehicle")
    }

    fn target() -> Target {
        serde_json::from_value(
            json!({"id": "t", "label": "low", "heights_mm": {"rail.FL": 246.0}, "form": {"typed": "here"}, "later": 1}),
        )
        .expect("a target")
    }

    #[test]
    fn what_is_written_reads_back_with_the_marks_of_its_kinds_only() {
        let file = TargetFile::of(&car(), &target());
        let ids: Vec<&str> = file.car.ref_points.iter().map(|point| point.id.as_str()).collect();
        assert_eq!(ids, ["rail.FL", "rail.RL"]);
        assert!(!file.target.extra.contains_key("form") && file.target.extra.contains_key("later"));
        let read = TargetFile::read(&serde_json::to_string(&file).expect("writable")).expect("readable");
        assert_eq!(read, file);
        assert!(read.is_of(&car()));
        assert_eq!(read.on(&car(), Keep::Heights).target, file.target);
    }

    #[test]
    fn what_is_no_target_is_refused_in_words() {
        let sound = serde_json::to_value(TargetFile::of(&car(), &target())).expect("writable");
        let with = |pointer: &str, value: Value| {
            let mut file = sound.clone();
            *file.pointer_mut(pointer).unwrap_or_else(|| panic!("{pointer} is in the file")) = value;
            file.to_string()
        };
        let deep = format!("{}{}", "[".repeat(5_000), "]".repeat(5_000));
        let rows = [
            (String::new(), "the file is not JSON"),
            (deep, "the file is not JSON"),
            ("[]".to_owned(), "the file is not that of a target"),
            (json!({"vehicle": {}}).to_string(), "the file is not that of a target"),
            (with("/version", json!(2)), "the file is of version 2"),
            (with("/version", json!("one")), "the file does not say its version"),
            (with("/car/wheelbase_mm", json!(2)), "car.wheelbase_mm: 2 mm is outside 500 to 10000 mm"),
            (with("/target/heights_mm", json!({"rail.FL": -4})), "target.heights_mm.rail.FL: -4 mm is outside"),
            (with("/target/heights_mm", json!({"rail.FL": "low"})), "target.heights_mm"),
            (with("/target/heights_mm", json!({"lip.FL": 600})), "target: its car has no point lip.FL"),
            (with("/target/heights_mm", json!({})), "target: it wants no height"),
            (with("/target/label", json!("x".repeat(500))), "target.label"),
            (" ".repeat(LARGEST_BYTES + 1), "the file is larger than 1 MB"),
        ];
        for (text, says) in rows {
            let problem = TargetFile::read(&text).expect_err(says);
            assert!(problem.message().starts_with(says), "{}", problem.message());
            assert!(!problem.hint().is_empty() && problem.message().len() < 400);
        }
    }
}
