//! What a car's file says about the things that are checked: low points, lamps, rod, ratios, shaft, level parts, ground; and the
//! ranges of their numbers, which forms refuse by too.

use super::Faults;
use crate::capture::CarFile;
use crate::car::{AxleGuide, Driveline, GroundAngles, Vehicle};
use crate::tire::read_marking;
use crate::wording::shown;
use std::ops::RangeInclusive;

/// Along the car, from the front axle.
pub const PLACE_X_MM: RangeInclusive<f64> = -20_000.0..=20_000.0;
/// From the centre plane.
pub const PLACE_Y_MM: RangeInclusive<f64> = -3_000.0..=3_000.0;
/// Above level ground.
pub const PLACE_Z_MM: RangeInclusive<f64> = -500.0..=5_000.0;
/// Of a low beam over its way.
pub const BEAM_DROP_PERCENT: RangeInclusive<f64> = -20.0..=20.0;
/// Of a radius rod.
pub const ROD_MM: RangeInclusive<f64> = 100.0..=5_000.0;
/// Of a rod's ball, from the front axle.
pub const ROD_PIVOT_X_MM: RangeInclusive<f64> = -5_000.0..=5_000.0;
/// Of a front axle.
pub const CASTER_DEG: RangeInclusive<f64> = -30.0..=30.0;
/// Of a rear axle.
pub const AXLE_RATIO: RangeInclusive<f64> = 0.2..=50.0;
/// Of a gear.
pub const GEAR_RATIO: RangeInclusive<f64> = 0.1..=50.0;
/// Of a transmission, a pinion, a flange.
pub const SLOPE_DEG: RangeInclusive<f64> = -45.0..=45.0;
/// How far one part may tip.
pub const TIP_DEG: RangeInclusive<f64> = 0.1..=45.0;
/// Luggage, or what lies on a ball.
pub const CARRIED_KG: RangeInclusive<f64> = 0.1..=5_000.0;
/// From joint to joint.
pub const SHAFT_MM: RangeInclusive<f64> = 50.0..=10_000.0;
/// Of a joint above level ground.
pub const JOINT_Z_MM: RangeInclusive<f64> = -500.0..=3_000.0;
/// Of an apron or a ramp.
pub const GROUND_DEG: RangeInclusive<f64> = 0.0..=60.0;
/// Of an axle, one way.
pub const TRAVEL_MM: RangeInclusive<f64> = 1.0..=500.0;
/// Of a slip joint, one way.
pub const SLIP_MM: RangeInclusive<f64> = 0.0..=500.0;
/// Of the arc on which a leaf spring leads an axle.
pub const GUIDE_RADIUS_MM: RangeInclusive<f64> = 50.0..=5_000.0;
/// Of one sort.
pub const MOST_THINGS: usize = 200;

pub(super) fn check(vehicle: &Vehicle, found: &mut Faults) {
    found.count("vehicle.clearance_points", vehicle.clearance_points.len(), MOST_THINGS);
    for (number, point) in vehicle.clearance_points.iter().enumerate() {
        place(&format!("vehicle.clearance_points[{number}]"), point.place_mm(), found);
    }
    found.count("vehicle.lamps", vehicle.lamps.len(), MOST_THINGS);
    let listed = vehicle.lamps.iter().enumerate().map(|(number, lamp)| (format!("vehicle.lamps[{number}]"), lamp));
    for (at, lamp) in listed.chain(vehicle.lamp.iter().map(|lamp| ("vehicle.lamp".to_owned(), lamp))) {
        place(&at, [lamp.x_mm, lamp.y_mm, lamp.z_mm], found);
        let drop = lamp.beam_drop_percent.unwrap_or(0.0);
        found.number(&format!("{at}.beam_drop_percent"), drop, &BEAM_DROP_PERCENT, "percent");
    }
    if let Some(rod) = &vehicle.radius_rod {
        found.number("vehicle.radius_rod.length_mm", rod.length_mm, &ROD_MM, "mm");
        found.number("vehicle.radius_rod.frame_pivot_x_mm", rod.frame_pivot_x_mm, &ROD_PIVOT_X_MM, "mm");
        let caster = rod.static_caster_deg.unwrap_or(0.0);
        found.number("vehicle.radius_rod.static_caster_deg", caster, &CASTER_DEG, "deg");
    }
    if let Some(drive) = &vehicle.drive {
        found.number("vehicle.drive.axle_ratio", drive.axle_ratio, &AXLE_RATIO, "");
        found.number("vehicle.drive.top_gear_ratio", drive.top_gear_ratio, &GEAR_RATIO, "");
        found.count("vehicle.drive.gears", drive.gears.len(), MOST_THINGS);
        found.names("vehicle.drive.gears", drive.gears.iter().map(|gear| gear.gear.as_str()));
        for (number, gear) in drive.gears.iter().enumerate() {
            found.number(&format!("vehicle.drive.gears[{number}].ratio"), gear.ratio, &GEAR_RATIO, "");
        }
        found.count("vehicle.drive.beside", drive.beside.len(), MOST_THINGS);
        for (number, other) in drive.beside.iter().enumerate() {
            let at = format!("vehicle.drive.beside[{number}]");
            found.number(&format!("{at}.axle_ratio"), other.axle_ratio.unwrap_or(1.0), &AXLE_RATIO, "");
            if let Some(Err(error)) = other.tire.as_deref().map(read_marking) {
                found.add(format!("{at}.tire"), error.message().trim_end_matches('.'), error.hint());
            }
        }
    }
    if let Some(line) = &vehicle.driveline {
        driveline(line, found);
    }
    for (name, carried) in [("luggage", &vehicle.luggage), ("tow_ball", &vehicle.tow_ball)] {
        if let Some(carried) = carried {
            found.number(&format!("vehicle.{name}.mass_kg"), carried.mass_kg, &CARRIED_KG, "kg");
            found.number(&format!("vehicle.{name}.x_mm"), carried.x_mm, &super::vehicle::ALONG_MM, "mm");
        }
    }
    found.count("vehicle.attitude", vehicle.attitude.len(), MOST_THINGS);
    for (number, part) in vehicle.attitude.iter().enumerate() {
        let at = format!("vehicle.attitude[{number}]");
        found.number(&format!("{at}.nose_down_deg"), part.nose_down_deg, &SLOPE_DEG, "deg");
        if let Some(x) = part.x_mm {
            found.number(&format!("{at}.x_mm"), x, &PLACE_X_MM, "mm");
        }
        found.number(&format!("{at}.limit_deg"), part.limit_deg, &TIP_DEG, "deg");
    }
}

/// Snapshots that parts were measured beside are there, and the car stands on its wheels in them.
pub(super) fn measured_in(file: &CarFile, found: &mut Faults) {
    for (at, id) in file.vehicle.measured_beside() {
        match file.snapshots.iter().find(|snapshot| snapshot.id == id) {
            Some(snapshot) if snapshot.on_wheels() => {}
            Some(_) => found.add(
                format!("vehicle.{at}.measured_in"),
                format!("snapshot {} stands on stands", shown(id)),
                "name one in which the car stands on its wheels",
            ),
            None => found.add(
                format!("vehicle.{at}.measured_in"),
                format!("there is no snapshot {}", shown(id)),
                "name one of the file, or leave it out: then it counts from the first",
            ),
        }
    }
}

pub(super) fn ground(ground: &GroundAngles, found: &mut Faults) {
    for (name, angle) in
        [("apron_angle_deg", ground.apron_angle_deg), ("trailer_ramp_angle_deg", ground.trailer_ramp_angle_deg)]
    {
        if let Some(angle) = angle {
            found.number(&format!("ground.{name}"), angle, &GROUND_DEG, "deg");
        }
    }
}

fn place(at: &str, [x, y, z]: [f64; 3], found: &mut Faults) {
    found.number(&format!("{at}.x_mm"), x, &PLACE_X_MM, "mm");
    found.number(&format!("{at}.y_mm"), y, &PLACE_Y_MM, "mm");
    found.number(&format!("{at}.z_mm"), z, &PLACE_Z_MM, "mm");
}

fn driveline(line: &Driveline, found: &mut Faults) {
    found.number("vehicle.driveline.transmission_deg", line.transmission_deg, &SLOPE_DEG, "deg");
    found.number("vehicle.driveline.pinion_deg", line.pinion_deg.unwrap_or(0.0), &SLOPE_DEG, "deg");
    for (name, [x, z]) in [("front_joint", line.front_joint), ("rear_joint", line.rear_joint)] {
        found.number(&format!("vehicle.driveline.{name}[0]"), x, &PLACE_X_MM, "mm");
        found.number(&format!("vehicle.driveline.{name}[1]"), z, &JOINT_Z_MM, "mm");
    }
    for (name, value, range) in [
        ("droop_mm", line.droop_mm, TRAVEL_MM),
        ("bump_mm", line.bump_mm, TRAVEL_MM),
        ("slip_in_mm", line.slip_in_mm, SLIP_MM),
        ("slip_out_mm", line.slip_out_mm, SLIP_MM),
    ] {
        if let Some(value) = value {
            found.number(&format!("vehicle.driveline.{name}"), value, &range, "mm");
        }
    }
    if let Some(guide) = &line.guide {
        axle_guide(guide, found);
    }
    let length = line.front_joint[0] - line.rear_joint[0];
    if !SHAFT_MM.contains(&length) {
        found.add(
            "vehicle.driveline.front_joint[0]",
            format!("the front joint lies {length} mm ahead of the rear one; 50 to 10000 mm is taken"),
            "x counts forward from the front axle; what lies behind it is negative",
        );
    }
}

fn axle_guide(guide: &AxleGuide, found: &mut Faults) {
    let mut at = |name: &str, places: &[f64]| {
        for (number, value) in places.iter().enumerate() {
            found.number(&format!("vehicle.driveline.guide.{name}[{number}]"), *value, &PLACE_X_MM, "mm");
        }
    };
    match guide {
        AxleGuide::RadiusRod { pivot } => at("pivot", pivot),
        AxleGuide::Parallel => {}
        AxleGuide::Leaf { eye, radius_mm } => {
            at("eye", eye);
            found.number("vehicle.driveline.guide.radius_mm", *radius_mm, &GUIDE_RADIUS_MM, "mm");
        }
        AxleGuide::FourBar { lower, upper } => {
            for (name, link) in [("lower", lower), ("upper", upper)] {
                at(&format!("{name}.frame"), &link.frame);
                at(&format!("{name}.axle"), &link.axle);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::capture::CarFile;
    use crate::validate::faults;
    use serde_json::{Value, json};

    fn file() -> Value {
        json!({"vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400,
            "clearance_points": [{"id": "pan", "x_mm": -560, "z_mm": 178}],
            "lamps": [{"id": "low", "attach": "body", "x_mm": 240, "z_mm": 688, "beam_drop_percent": 1.2}],
            "lamp": {"x_mm": 240, "z_mm": 688},
            "radius_rod": {"frame_pivot_x_mm": -980, "length_mm": 980, "static_caster_deg": 6.4},
            "drive": {"axle_ratio": 4.11},
            "driveline": {"transmission_deg": 3, "pinion_deg": 2.5, "front_joint": [-900, 420], "rear_joint": [-2400, 395]},
            "attitude": [{"label": "carburetor flange", "nose_down_deg": 1}]},
          "ground": {"apron_angle_deg": 9, "trailer_ramp_angle_deg": 11}})
    }

    #[test]
    fn what_is_described_soundly_has_no_faults() {
        assert_eq!(faults(&serde_json::from_value::<CarFile>(file()).expect("well-formed")), []);
    }

    #[test]
    fn each_number_out_of_range_is_named_with_its_place_value_and_range() {
        for (pointer, value, says) in [
            (
                "/vehicle/clearance_points/0/x_mm",
                20_001.0,
                "vehicle.clearance_points[0].x_mm: 20001 mm is outside -20000 to 20000 mm",
            ),
            (
                "/vehicle/clearance_points/0/z_mm",
                1e9,
                "vehicle.clearance_points[0].z_mm: 1000000000 mm is outside -500 to 5000 mm",
            ),
            ("/vehicle/lamps/0/z_mm", -501.0, "vehicle.lamps[0].z_mm: -501 mm is outside -500 to 5000 mm"),
            (
                "/vehicle/lamps/0/beam_drop_percent",
                21.0,
                "vehicle.lamps[0].beam_drop_percent: 21 percent is outside -20 to 20 percent",
            ),
            ("/vehicle/lamp/x_mm", -1e5, "vehicle.lamp.x_mm: -100000 mm is outside -20000 to 20000 mm"),
            ("/vehicle/radius_rod/length_mm", 0.0, "vehicle.radius_rod.length_mm: 0 mm is outside 100 to 5000 mm"),
            (
                "/vehicle/radius_rod/static_caster_deg",
                64.0,
                "vehicle.radius_rod.static_caster_deg: 64 deg is outside -30 to 30 deg",
            ),
            ("/vehicle/drive/axle_ratio", 411.0, "vehicle.drive.axle_ratio: 411 is outside 0.2 to 50"),
            ("/vehicle/driveline/pinion_deg", -46.0, "vehicle.driveline.pinion_deg: -46 deg is outside -45 to 45 deg"),
            (
                "/vehicle/driveline/rear_joint/1",
                3_001.0,
                "vehicle.driveline.rear_joint[1]: 3001 mm is outside -500 to 3000 mm",
            ),
            (
                "/vehicle/driveline/front_joint/0",
                -2_390.0,
                "vehicle.driveline.front_joint[0]: the front joint lies 10 mm ahead of the rear one; 50 to 10000 mm is taken",
            ),
            (
                "/vehicle/attitude/0/nose_down_deg",
                46.0,
                "vehicle.attitude[0].nose_down_deg: 46 deg is outside -45 to 45 deg",
            ),
            ("/ground/apron_angle_deg", -5.0, "ground.apron_angle_deg: -5 deg is outside 0 to 60 deg"),
        ] {
            let mut file = file();
            *file.pointer_mut(pointer).unwrap_or_else(|| panic!("{pointer} is in the file")) = json!(value);
            let file: CarFile = serde_json::from_value(file).expect("well-formed");
            let found: Vec<String> = faults(&file).iter().map(ToString::to_string).collect();
            assert_eq!(found, [says], "{pointer}");
        }
    }

    #[test]
    fn what_stands_on_another_key_or_in_another_shape_is_named_where_it_stands() {
        for (pointer, value, place) in [
            ("/vehicle/clearance_points/0/z_mm", json!("low"), "vehicle.clearance_points[0].z_mm"),
            ("/vehicle/lamps/0/attach", json!("roof"), "vehicle.lamps[0].attach"),
            ("/vehicle/drive", json!("open"), "vehicle.drive"),
            ("/vehicle/driveline/front_joint", json!([1, 2, 3]), "vehicle.driveline.front_joint"),
            ("/ground", json!("gravel"), "ground"),
        ] {
            let mut file = file();
            *file.pointer_mut(pointer).unwrap_or_else(|| panic!("{pointer} is in the file")) = value;
            let error = serde_path_to_error::deserialize::<_, CarFile>(file).expect_err("refused");
            assert!(error.path().to_string().starts_with(place), "{pointer}: {}", error.path());
        }
    }
}
