//! Squareness, jacks, straps and radiator of a car's file, and the ranges that forms refuse by too.

use super::Faults;
use super::fitted::{found_number, number};
use crate::car::{Jacking, Radiator, Square, Toe, Vehicle};
use std::ops::RangeInclusive;

/// From wheel centre to wheel centre along a side.
pub const SIDE_MM: RangeInclusive<f64> = 500.0..=10_000.0;
/// Crossed over a frame.
pub const DIAGONAL_MM: RangeInclusive<f64> = 200.0..=10_000.0;
/// Across two treads.
pub const TOE_MM: RangeInclusive<f64> = 300.0..=4_000.0;
/// Front and rear of the tires may differ by that much.
pub const TOE_DIFFERENCE_MM: RangeInclusive<f64> = -150.0..=150.0;
/// From mark to mark of one tire.
pub const TOE_APART_MM: RangeInclusive<f64> = 200.0..=1_500.0;
/// Camber and caster.
pub const WHEEL_DEG: RangeInclusive<f64> = -20.0..=20.0;
/// Steered for a swing.
pub const SWING_DEG: RangeInclusive<f64> = 5.0..=35.0;
/// Of a floor.
pub const SLOPE_DEG: RangeInclusive<f64> = -15.0..=15.0;
/// Of a jack's saddle.
pub const SADDLE_MM: RangeInclusive<f64> = 20.0..=1_500.0;
/// Along the car, ahead of the front axle.
pub const ALONG_MM: RangeInclusive<f64> = -15_000.0..=5_000.0;
/// Aside of the centre plane.
pub const ASIDE_MM: RangeInclusive<f64> = -2_500.0..=2_500.0;
/// Of a place to lift at.
pub const POINT_HEIGHT_MM: RangeInclusive<f64> = -50.0..=1_500.0;
/// In a strap or a pair.
pub const PULL_KG: RangeInclusive<f64> = 10.0..=5_000.0;
/// Of a strap from level.
pub const DOWN_DEG: RangeInclusive<f64> = 0.0..=90.0;
/// Of a radiator's core, high or wide.
pub const CORE_MM: RangeInclusive<f64> = 100.0..=1_500.0;
const U_DEG: RangeInclusive<f64> = 0.01..=5.0;
const MOST: usize = 50;

pub(super) fn check(vehicle: &Vehicle, found: &mut Faults) {
    if let Some(stands) = &vehicle.square {
        square("vehicle.square.", stands, found);
    }
    if let Some(lifted) = &vehicle.jacking {
        jacking("vehicle.jacking", lifted, found);
    }
    if let Some(core) = &vehicle.radiator {
        radiator("vehicle.radiator", core, found);
    }
}

pub(super) fn square(place: &str, square: &Square, found: &mut Faults) {
    let at = |name: &str| format!("{place}{name}");
    for (name, value) in
        [("wheelbase_left_mm", square.wheelbase_left_mm), ("wheelbase_right_mm", square.wheelbase_right_mm)]
    {
        found_number(found, &at(name), value, &SIDE_MM, "mm");
    }
    match (square.wheelbase_left_mm, square.wheelbase_right_mm) {
        (Some(_), None) => {
            found.add(at("wheelbase_right_mm"), "one side alone says nothing", "measure the other side too")
        }
        (None, Some(_)) => {
            found.add(at("wheelbase_left_mm"), "one side alone says nothing", "measure the other side too")
        }
        _ => {}
    }
    found.count(&at("diagonals"), square.diagonals.len(), MOST);
    found.names(&at("diagonals"), square.diagonals.iter().map(|pair| pair.label.as_str()));
    for (i, pair) in square.diagonals.iter().enumerate() {
        let place = at(&format!("diagonals[{i}]"));
        number(
            found,
            &place,
            "left_front_to_right_rear_mm",
            Some(pair.left_front_to_right_rear_mm),
            &DIAGONAL_MM,
            "mm",
        );
        number(
            found,
            &place,
            "right_front_to_left_rear_mm",
            Some(pair.right_front_to_left_rear_mm),
            &DIAGONAL_MM,
            "mm",
        );
        number(found, &place, "apart_mm", pair.apart_mm, &DIAGONAL_MM, "mm");
        let shorter = pair.left_front_to_right_rear_mm.min(pair.right_front_to_left_rear_mm);
        if pair.apart_mm.is_some_and(|apart| apart > shorter) {
            let message = format!("{} mm along the car is longer than a diagonal", pair.apart_mm.unwrap_or(0.0));
            found.add(
                format!("{place}.apart_mm"),
                message,
                "measure straight along the car, front points to rear points",
            );
        }
    }
    for (name, toe) in [("toe_front", &square.toe_front), ("toe_rear", &square.toe_rear)] {
        if let Some(toe) = toe {
            one_toe(&at(name), toe, found);
        }
    }
    for (corner, camber) in &square.camber_deg {
        found.number(&at(&format!("camber_deg.{corner}")), *camber, &WHEEL_DEG, "deg");
    }
    for (corner, caster) in &square.caster {
        let place = at(&format!("caster.{corner}"));
        if !corner.is_front() {
            found.add(place.clone(), "rear wheels have no caster", "give it to FL or FR");
        }
        number(found, &place, "gauge_deg", caster.gauge_deg, &WHEEL_DEG, "deg");
        number(found, &place, "steered_deg", caster.steered_deg, &SWING_DEG, "deg");
        number(found, &place, "camber_out_deg", caster.camber_out_deg, &WHEEL_DEG, "deg");
        number(found, &place, "camber_in_deg", caster.camber_in_deg, &WHEEL_DEG, "deg");
        if caster.gauge_deg.is_none() && caster.swing_deg().is_none() {
            found.add(
                place,
                "the reading is not whole",
                "give gauge_deg, or steered_deg with camber_out_deg and camber_in_deg",
            );
        }
    }
    if let Some(floor) = &square.floor {
        let place = at("floor");
        number(found, &place, "rear_higher_deg", Some(floor.rear_higher_deg), &SLOPE_DEG, "deg");
        number(found, &place, "left_higher_front_deg", Some(floor.left_higher_front_deg), &SLOPE_DEG, "deg");
        number(found, &place, "left_higher_rear_deg", Some(floor.left_higher_rear_deg), &SLOPE_DEG, "deg");
        number(found, &place, "u_deg", floor.u_deg, &U_DEG, "deg");
    }
}

fn one_toe(place: &str, toe: &Toe, found: &mut Faults) {
    number(found, place, "front_mm", Some(toe.front_mm), &TOE_MM, "mm");
    number(found, place, "rear_mm", Some(toe.rear_mm), &TOE_MM, "mm");
    number(found, place, "apart_mm", toe.apart_mm, &TOE_APART_MM, "mm");
    if !TOE_DIFFERENCE_MM.contains(&(toe.rear_mm - toe.front_mm)) {
        let message = format!("front {} mm and rear {} mm differ by more than 150 mm", toe.front_mm, toe.rear_mm);
        found.add(place, message, "measure both across the same scribed lines");
    }
}

fn jacking(place: &str, jacking: &Jacking, found: &mut Faults) {
    for (name, labels) in [
        ("jacks", jacking.jacks.iter().map(|one| one.label.as_str()).collect::<Vec<_>>()),
        ("points", jacking.points.iter().map(|one| one.label.as_str()).collect()),
        ("straps", jacking.straps.iter().map(|one| one.label.as_str()).collect()),
    ] {
        let place = format!("{place}.{name}");
        found.count(&place, labels.len(), MOST);
        found.names(&place, labels.into_iter());
    }
    for (i, jack) in jacking.jacks.iter().enumerate() {
        let place = format!("{place}.jacks[{i}]");
        number(found, &place, "saddle_low_mm", Some(jack.saddle_low_mm), &SADDLE_MM, "mm");
        number(found, &place, "saddle_high_mm", jack.saddle_high_mm, &SADDLE_MM, "mm");
        if jack.saddle_high_mm.is_some_and(|high| high <= jack.saddle_low_mm) {
            let message = format!("up it is {} mm, down {} mm", jack.saddle_high_mm.unwrap_or(0.0), jack.saddle_low_mm);
            found.add(format!("{place}.saddle_high_mm"), message, "correct the one that is wrong");
        }
    }
    for (i, point) in jacking.points.iter().enumerate() {
        let place = format!("{place}.points[{i}]");
        number(found, &place, "x_mm", Some(point.x_mm), &ALONG_MM, "mm");
        number(found, &place, "y_mm", Some(point.y_mm), &ASIDE_MM, "mm");
        number(found, &place, "z_mm", Some(point.z_mm), &POINT_HEIGHT_MM, "mm");
    }
    for (i, strap) in jacking.straps.iter().enumerate() {
        let place = format!("{place}.straps[{i}]");
        number(found, &place, "x_mm", Some(strap.x_mm), &ALONG_MM, "mm");
        number(found, &place, "pull_kg", Some(strap.pull_kg), &PULL_KG, "kg");
        number(found, &place, "down_deg", Some(strap.down_deg), &DOWN_DEG, "deg");
    }
}

pub(super) fn radiator(place: &str, radiator: &Radiator, found: &mut Faults) {
    number(found, place, "core_height_mm", Some(radiator.core_height_mm), &CORE_MM, "mm");
    number(found, place, "core_width_mm", Some(radiator.core_width_mm), &CORE_MM, "mm");
    number(found, place, "sectioned_mm", Some(radiator.sectioned_mm), &(0.0..=*CORE_MM.end()), "mm");
    if radiator.sectioned_mm >= radiator.core_height_mm {
        let message =
            format!("{} mm out of a core of {} mm leaves none", radiator.sectioned_mm, radiator.core_height_mm);
        found.add(format!("{place}.sectioned_mm"), message, "correct the one that is wrong");
    }
}

#[cfg(test)]
mod tests {
    use crate::capture::CarFile;
    use crate::validate::faults;
    use serde_json::{Value, json};

    /// A car whose wheels, travel, squareness, jacks and radiator were measured.
    pub(in crate::validate) fn file() -> Value {
        let tire = json!({"designation": "185/80R15", "free_diameter_mm": 677, "rim_diameter_mm": 381, "nominal_pressure_kpa": 220});
        json!({"snapshots": [], "vehicle": {"label": "x", "wheelbase_mm": 2790, "track_front_mm": 1448, "track_rear_mm": 1430,
            "tires": {"FL": tire, "FR": tire, "RL": tire, "RR": tire},
            "fitment": {
                "wheels": {
                    "FL": {"rim_width_mm": 152.4, "offset_mm": 20, "gaps": {"frame": {"at_rest_mm": 80, "at_lock_mm": 7, "height_mm": 400}}},
                    "RL": {"rim_width_mm": 152.4, "backspacing_mm": 110, "gaps": {"spring": {"at_rest_mm": 30}}}},
                "steer": {"lock_inner_deg": 33, "kingpin_to_face_mm": 80},
                "others": [{"label": "205", "marking": "205/70R15 95T", "rim_width_mm": 177.8, "offset_mm": 28}]},
            "travel": {"front": {"frame_gap_mm": 80, "stop_gap_mm": 45, "droop_mm": 60,
                "shackle": {"length_mm": 75, "angle_deg": 45, "spring_length_mm": 900, "arch_mm": 60, "both_ends": true},
                "shock": {"length_mm": 350, "shortest_mm": 290, "longest_mm": 440, "lean_deg": 15},
                "hose": {"length_mm": 330, "span_mm": 240},
                "track_bar": {"length_mm": 800, "rise_mm": 10, "frame_end": "left"}}},
            "square": {"wheelbase_left_mm": 2790, "wheelbase_right_mm": 2788,
                "diagonals": [{"label": "rails", "left_front_to_right_rear_mm": 2500, "right_front_to_left_rear_mm": 2502, "apart_mm": 2400}],
                "toe_front": {"front_mm": 1440, "rear_mm": 1442}, "camber_deg": {"FL": 0.5},
                "caster": {"FL": {"gauge_deg": 6}, "FR": {"steered_deg": 20, "camber_out_deg": 2, "camber_in_deg": -2}},
                "floor": {"rear_higher_deg": 0.5, "left_higher_front_deg": 0.2, "left_higher_rear_deg": 0}},
            "jacking": {"jacks": [{"label": "trolley", "saddle_low_mm": 85, "saddle_high_mm": 450}],
                "points": [{"label": "axle", "attach": "front_axle", "x_mm": 0, "y_mm": 300, "z_mm": 180}],
                "straps": [{"label": "front pair", "x_mm": 300, "pull_kg": 400, "down_deg": 40}]},
            "radiator": {"core_height_mm": 500, "core_width_mm": 440, "sectioned_mm": 75}}})
    }

    #[test]
    fn what_was_measured_soundly_has_no_faults() {
        let file: CarFile = serde_json::from_value(file()).expect("well-formed");
        assert_eq!(faults(&file), []);
    }

    #[test]
    fn each_number_out_of_range_is_named_with_its_place_value_and_range() {
        let vehicle = "/vehicle";
        for (pointer, value, says) in [
            (
                "/fitment/wheels/FL/rim_width_mm",
                json!(6),
                "vehicle.fitment.wheels.FL.rim_width_mm: 6 mm is outside 60 to 400 mm",
            ),
            (
                "/fitment/wheels/FL/gaps/frame/at_rest_mm",
                json!(-51),
                "vehicle.fitment.wheels.FL.gaps.frame.at_rest_mm: -51 mm is outside -50 to 1000 mm",
            ),
            (
                "/fitment/steer/lock_inner_deg",
                json!(330),
                "vehicle.fitment.steer.lock_inner_deg: 330 deg is outside 5 to 60 deg",
            ),
            (
                "/travel/front/track_bar/rise_mm",
                json!(800),
                "vehicle.travel.front.track_bar.rise_mm: one end 800 mm over the other does not fit a bar of 800 mm",
            ),
            (
                "/travel/front/hose/span_mm",
                json!(340),
                "vehicle.travel.front.hose.span_mm: the ends are 340 mm apart, the hose is 330 mm long",
            ),
            (
                "/travel/front/shock/longest_mm",
                json!(280),
                "vehicle.travel.front.shock.longest_mm: pushed in 290 mm and pulled out 280 mm",
            ),
            (
                "/travel/front/shackle/angle_deg",
                json!(91),
                "vehicle.travel.front.shackle.angle_deg: 91 deg is outside -90 to 90 deg",
            ),
            (
                "/square/wheelbase_right_mm",
                json!(null),
                "vehicle.square.wheelbase_right_mm: one side alone says nothing",
            ),
            (
                "/square/toe_front/rear_mm",
                json!(1640),
                "vehicle.square.toe_front: front 1440 mm and rear 1640 mm differ by more than 150 mm",
            ),
            ("/square/caster/FL/gauge_deg", json!(null), "vehicle.square.caster.FL: the reading is not whole"),
            (
                "/square/diagonals/0/apart_mm",
                json!(2600),
                "vehicle.square.diagonals[0].apart_mm: 2600 mm along the car is longer than a diagonal",
            ),
            (
                "/jacking/jacks/0/saddle_high_mm",
                json!(80),
                "vehicle.jacking.jacks[0].saddle_high_mm: up it is 80 mm, down 85 mm",
            ),
            (
                "/jacking/straps/0/down_deg",
                json!(-3),
                "vehicle.jacking.straps[0].down_deg: -3 deg is outside 0 to 90 deg",
            ),
            (
                "/radiator/sectioned_mm",
                json!(500),
                "vehicle.radiator.sectioned_mm: 500 mm out of a core of 500 mm leaves none",
            ),
        ] {
            let mut file = file();
            *file.pointer_mut(&format!("{vehicle}{pointer}")).unwrap_or_else(|| panic!("{pointer} is in the file")) =
                value;
            let file: CarFile = serde_json::from_value(file).expect("well-formed");
            let found: Vec<String> = faults(&file).iter().map(ToString::to_string).collect();
            assert_eq!(found, [says], "{pointer}");
        }
    }

    #[test]
    fn what_says_two_things_or_none_is_named() {
        for (pointer, key, value, says) in [
            (
                "/vehicle/fitment/wheels/FL",
                "backspacing_mm",
                json!(110),
                "vehicle.fitment.wheels.FL.backspacing_mm: offset_mm and backspacing_mm are given together",
            ),
            (
                "/vehicle/fitment/steer",
                "scrub_radius_mm",
                json!(40),
                "vehicle.fitment.steer.scrub_radius_mm: kingpin_to_face_mm and scrub_radius_mm are given together",
            ),
            (
                "/vehicle/fitment/wheels/RL/gaps/spring",
                "at_lock_mm",
                json!(4),
                "vehicle.fitment.wheels.RL.gaps.spring.at_lock_mm: nothing steers there",
            ),
            (
                "/vehicle/fitment/others/0",
                "marking",
                json!("205//70"),
                "vehicle.fitment.others[0].marking: 205/ was understood, /70 was not: an aspect ratio such as 75 was expected",
            ),
        ] {
            let mut file = file();
            file.pointer_mut(pointer).unwrap_or_else(|| panic!("{pointer}"))[key] = value;
            let file: CarFile = serde_json::from_value(file).expect("well-formed");
            let found: Vec<String> = faults(&file).iter().map(ToString::to_string).collect();
            assert_eq!(found, [says], "{pointer}");
        }
    }
}
