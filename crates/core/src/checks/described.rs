//! What a car's file says about the things that are checked: low points, lamps, rod, drive, joints. Each is optional.

use crate::car::Vehicle;
use crate::level::Problem;
use crate::wording::quotes_cut;
use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// Everything that is checked on a car, as its file has it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Described {
    /// Low points; heights as first measured, at nominal load.
    pub clearance_points: Vec<CarPoint>,
    /// Lamps.
    pub lamps: Vec<Lamp>,
    /// What leads the front axle.
    pub radius_rod: Option<RadiusRod>,
    /// Ratios.
    pub drive: Option<Drive>,
    /// Joints of the shaft.
    pub driveline: Option<Driveline>,
    /// Things that want to stand level.
    pub attitude: Vec<Level>,
}

/// A point of the car; height above level ground as first measured, at nominal load.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct CarPoint {
    /// Its name.
    pub id: String,
    /// In words.
    #[serde(default)]
    pub label: Option<String>,
    /// What it goes with.
    #[serde(default)]
    pub attach: Attached,
    /// Ahead of the front axle, mm.
    pub x_mm: f64,
    /// Left of the centre plane, mm.
    #[serde(default)]
    pub y_mm: f64,
    /// mm.
    pub z_mm: f64,
}

/// What a point goes with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Attached {
    /// Body or frame.
    #[default]
    Body,
    /// The front axle.
    FrontAxle,
    /// The rear axle.
    RearAxle,
}

/// A lamp; height of its centre as first measured, at nominal load.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Lamp {
    /// Its name.
    #[serde(default = "a_lamp")]
    pub id: String,
    /// As the lamp table of 49 CFR 571.108 calls it: `lower beam headlamp`, `taillamp` …
    #[serde(default = "low_beam")]
    pub kind: String,
    /// What it goes with.
    #[serde(default)]
    pub attach: Attached,
    /// Ahead of the front axle, mm.
    pub x_mm: f64,
    /// Left of the centre plane, mm.
    #[serde(default)]
    pub y_mm: f64,
    /// mm.
    pub z_mm: f64,
    /// How far its beam falls over the way, percent, as first measured.
    #[serde(default)]
    pub beam_drop_percent: Option<f64>,
}

fn a_lamp() -> String {
    "lamp".to_owned()
}

fn low_beam() -> String {
    "lower beam headlamp".to_owned()
}

/// A rod rigid with the axle, with a ball at the frame.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
pub struct RadiusRod {
    /// Of its ball at the frame, ahead of the front axle, mm.
    pub frame_pivot_x_mm: f64,
    /// mm.
    pub length_mm: f64,
    /// As first measured, degrees.
    #[serde(default)]
    pub static_caster_deg: Option<f64>,
}

/// Ratios.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
pub struct Drive {
    /// Turns of the shaft for one of the wheels.
    pub axle_ratio: f64,
    /// Turns of the engine for one of the shaft in top gear.
    #[serde(default = "direct")]
    pub top_gear_ratio: f64,
}

const fn direct() -> f64 {
    1.0
}

/// An open shaft with a joint at each end, or a closed one with a joint in front. Slopes as first measured, at nominal load.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
pub struct Driveline {
    /// Slope of the transmission's output, degrees, positive falling to the rear.
    pub transmission_deg: f64,
    /// Slope of the pinion, degrees, positive falling to the rear; absent for a closed shaft.
    #[serde(default)]
    pub pinion_deg: Option<f64>,
    /// Front joint `[x, z]`, mm.
    pub front_joint: [f64; 2],
    /// Rear joint, or the axle's middle for a closed shaft, `[x, z]`, mm.
    pub rear_joint: [f64; 2],
}

/// A thing that wants to stand level: a carburetor flange, the line of an oil level.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Level {
    /// In words.
    pub label: String,
    /// How far it tips nose-down as first measured, degrees.
    pub nose_down_deg: f64,
    /// How far it may tip, degrees.
    #[serde(default = "usual_tip_deg")]
    pub limit_deg: f64,
}

/// Float bowls and oil levels [common practice, no source].
const fn usual_tip_deg() -> f64 {
    3.0
}

impl Described {
    /// From what a file says beside the measures that are typed.
    ///
    /// # Errors
    /// Names the key that cannot be read, or a number that is none of a car.
    pub fn of(vehicle: &Vehicle) -> Result<Self, Problem> {
        let lamps: Option<Vec<Lamp>> = read(vehicle, "lamps")?;
        let described = Self {
            clearance_points: read(vehicle, "clearance_points")?.unwrap_or_default(),
            lamps: match lamps {
                Some(lamps) => lamps,
                // A file with one lamp means a low beam.
                None => read::<Lamp>(vehicle, "lamp")?.into_iter().collect(),
            },
            radius_rod: read(vehicle, "radius_rod")?,
            drive: read(vehicle, "drive")?,
            driveline: read(vehicle, "driveline")?,
            attitude: read(vehicle, "attitude")?.unwrap_or_default(),
        };
        described.check()?;
        Ok(described)
    }

    fn check(&self) -> Result<(), Problem> {
        let within = |place: String, value: f64, low: f64, high: f64, unit: &str| {
            if (low..=high).contains(&value) {
                return Ok(());
            }
            let message = format!("vehicle.{place} is {value} {unit}: {low} to {high} {unit} is taken");
            Err(Problem::new(message, "Look at the number and its unit."))
        };
        let place = |place: &str, [x, y, z]: [f64; 3]| {
            within(format!("{place}.x_mm"), x, -20_000.0, 20_000.0, "mm")?;
            within(format!("{place}.y_mm"), y, -3_000.0, 3_000.0, "mm")?;
            within(format!("{place}.z_mm"), z, -500.0, 5_000.0, "mm")
        };
        for (i, point) in self.clearance_points.iter().enumerate() {
            place(&format!("clearance_points[{i}]"), [point.x_mm, point.y_mm, point.z_mm])?;
        }
        for (i, lamp) in self.lamps.iter().enumerate() {
            place(&format!("lamps[{i}]"), [lamp.x_mm, lamp.y_mm, lamp.z_mm])?;
            within(
                format!("lamps[{i}].beam_drop_percent"),
                lamp.beam_drop_percent.unwrap_or(0.0),
                -20.0,
                20.0,
                "percent",
            )?;
        }
        if let Some(rod) = self.radius_rod {
            within("radius_rod.length_mm".to_owned(), rod.length_mm, 100.0, 5_000.0, "mm")?;
            within("radius_rod.frame_pivot_x_mm".to_owned(), rod.frame_pivot_x_mm, -5_000.0, 5_000.0, "mm")?;
            within(
                "radius_rod.static_caster_deg".to_owned(),
                rod.static_caster_deg.unwrap_or(0.0),
                -30.0,
                30.0,
                "deg",
            )?;
        }
        if let Some(drive) = self.drive {
            within("drive.axle_ratio".to_owned(), drive.axle_ratio, 0.2, 50.0, "to 1")?;
            within("drive.top_gear_ratio".to_owned(), drive.top_gear_ratio, 0.1, 50.0, "to 1")?;
        }
        if let Some(line) = self.driveline {
            within("driveline.transmission_deg".to_owned(), line.transmission_deg, -45.0, 45.0, "deg")?;
            within("driveline.pinion_deg".to_owned(), line.pinion_deg.unwrap_or(0.0), -45.0, 45.0, "deg")?;
            let length = line.front_joint[0] - line.rear_joint[0];
            within("driveline.front_joint ahead of rear_joint".to_owned(), length, 50.0, 10_000.0, "mm")?;
            for (name, [_, z]) in [("front_joint[1]", line.front_joint), ("rear_joint[1]", line.rear_joint)] {
                within(format!("driveline.{name}"), z, -500.0, 3_000.0, "mm")?;
            }
        }
        for (i, level) in self.attitude.iter().enumerate() {
            within(format!("attitude[{i}].nose_down_deg"), level.nose_down_deg, -45.0, 45.0, "deg")?;
            within(format!("attitude[{i}].limit_deg"), level.limit_deg, 0.1, 45.0, "deg")?;
        }
        Ok(())
    }
}

fn read<T: DeserializeOwned>(vehicle: &Vehicle, key: &str) -> Result<Option<T>, Problem> {
    match vehicle.extra.get(key) {
        None | Some(Value::Null) => Ok(None),
        Some(value) => T::deserialize(value).map(Some).map_err(|e| {
            let message = format!("vehicle.{key} cannot be read: {}", quotes_cut(&e.to_string()));
            Problem::new(message, "Correct the file there.")
        }),
    }
}
