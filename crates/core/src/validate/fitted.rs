//! Wheels in their openings and travel of a car's file, and the ranges that forms refuse by too.

use super::Faults;
use crate::car::{AxleTravel, Fitment, GapPlace, RimFit, Shackle, Shock, Steer, Travel, Vehicle};
use crate::tire::read_marking;
use std::ops::RangeInclusive;

/// Between the bead seats of a rim.
pub const RIM_WIDTH_MM: RangeInclusive<f64> = 60.0..=400.0;
/// Of a wheel's mounting face.
pub const OFFSET_MM: RangeInclusive<f64> = -200.0..=200.0;
/// From the inner edge of a rim to its face.
pub const BACKSPACING_MM: RangeInclusive<f64> = 0.0..=400.0;
/// Of a mounted tire.
pub const SECTION_MM: RangeInclusive<f64> = 60.0..=450.0;
/// Across a tire without load.
pub const DIAMETER_MM: RangeInclusive<f64> = 300.0..=1_500.0;
/// What one tire carries.
pub const MAX_LOAD_KG: RangeInclusive<f64> = 50.0..=5_000.0;
/// Round a tire; below 0 it touches.
pub const GAP_MM: RangeInclusive<f64> = -50.0..=1_000.0;
/// Of a place round a wheel, above the floor.
pub const GAP_HEIGHT_MM: RangeInclusive<f64> = 0.0..=1_500.0;
/// Of a place round a wheel, ahead of its centre.
pub const GAP_ALONG_MM: RangeInclusive<f64> = -800.0..=800.0;
/// Between hub and wheel.
pub const SPACER_MM: RangeInclusive<f64> = 0.0..=100.0;
/// From straight ahead to a lock.
pub const LOCK_DEG: RangeInclusive<f64> = 5.0..=60.0;
/// Of a kingpin to the wheel's face.
pub const KINGPIN_MM: RangeInclusive<f64> = -100.0..=400.0;
/// At the ground.
pub const SCRUB_MM: RangeInclusive<f64> = -200.0..=300.0;
/// Of a kingpin from upright.
pub const LEAN_DEG: RangeInclusive<f64> = 0.0..=20.0;
/// Of an axle's travel.
pub const TRAVEL_MM: RangeInclusive<f64> = 0.0..=500.0;
/// What a stop gives.
pub const STOP_GIVES_MM: RangeInclusive<f64> = 0.0..=100.0;
/// Between the pins of a shackle.
pub const SHACKLE_MM: RangeInclusive<f64> = 20.0..=300.0;
/// Of a shackle from upright.
pub const SHACKLE_DEG: RangeInclusive<f64> = -90.0..=90.0;
/// Between the eyes of a leaf spring.
pub const LEAF_MM: RangeInclusive<f64> = 200.0..=2_500.0;
/// Of a leaf's arc.
pub const ARCH_MM: RangeInclusive<f64> = -150.0..=400.0;
/// Between the pins of a shock.
pub const SHOCK_MM: RangeInclusive<f64> = 100.0..=1_200.0;
/// Of a shock from upright.
pub const SHOCK_LEAN_DEG: RangeInclusive<f64> = 0.0..=80.0;
/// Of a brake hose.
pub const HOSE_MM: RangeInclusive<f64> = 30.0..=1_500.0;
/// Of a bar across the car.
pub const BAR_MM: RangeInclusive<f64> = 100.0..=2_000.0;
/// Of one end of a bar over the other.
pub const RISE_MM: RangeInclusive<f64> = -1_000.0..=1_000.0;
const U_MM: RangeInclusive<f64> = 0.05..=50.0;
const MOST: usize = 50;

pub(super) fn check(vehicle: &Vehicle, found: &mut Faults) {
    if let Some(fit) = &vehicle.fitment {
        fitment("vehicle.fitment", fit, found);
    }
    if let Some(moved) = &vehicle.travel {
        travel("vehicle.travel", moved, found);
    }
}

fn fitment(place: &str, fitment: &Fitment, found: &mut Faults) {
    for (corner, wheel) in &fitment.wheels {
        let place = format!("{place}.wheels.{corner}");
        rim(&place, &wheel.rim, found);
        for (of, gap) in &wheel.gaps {
            let place = format!("{place}.gaps.{}", of.code());
            number(found, &place, "at_rest_mm", Some(gap.at_rest_mm), &GAP_MM, "mm");
            number(found, &place, "at_bump_mm", gap.at_bump_mm, &GAP_MM, "mm");
            number(found, &place, "at_lock_mm", gap.at_lock_mm, &GAP_MM, "mm");
            number(found, &place, "height_mm", gap.height_mm, &GAP_HEIGHT_MM, "mm");
            number(found, &place, "along_mm", gap.along_mm, &GAP_ALONG_MM, "mm");
            number(found, &place, "u_mm", gap.u_mm, &U_MM, "mm");
            let steered = gap.at_lock_mm.is_some() && (!corner.is_front() || *of == GapPlace::Above);
            if steered {
                found.add(
                    format!("{place}.at_lock_mm"),
                    "nothing steers there",
                    "leave it out, or give it to a front wheel's lip, rail, spring or rod",
                );
            }
        }
    }
    if let Some(one) = &fitment.steer {
        steer(&format!("{place}.steer"), one, found);
    }
    found.count(&format!("{place}.others"), fitment.others.len(), MOST);
    found.names(&format!("{place}.others"), fitment.others.iter().map(|other| other.label.as_str()));
    for (i, other) in fitment.others.iter().enumerate() {
        let place = format!("{place}.others[{i}]");
        rim(&place, &other.rim, found);
        number(found, &place, "spacer_mm", other.spacer_mm, &SPACER_MM, "mm");
        number(found, &place, "free_diameter_mm", other.free_diameter_mm, &DIAMETER_MM, "mm");
        if let Err(error) = read_marking(&other.marking) {
            let said = error.message();
            found.add(format!("{place}.marking"), said.trim_end_matches('.'), error.hint());
        }
    }
}

fn rim(place: &str, rim: &RimFit, found: &mut Faults) {
    number(found, place, "rim_width_mm", rim.rim_width_mm, &RIM_WIDTH_MM, "mm");
    number(found, place, "offset_mm", rim.offset_mm, &OFFSET_MM, "mm");
    number(found, place, "backspacing_mm", rim.backspacing_mm, &BACKSPACING_MM, "mm");
    number(found, place, "section_width_mm", rim.section_width_mm, &SECTION_MM, "mm");
    number(found, place, "max_load_kg", rim.max_load_kg, &MAX_LOAD_KG, "kg");
    if rim.offset_mm.is_some() && rim.backspacing_mm.is_some() {
        let message = "offset_mm and backspacing_mm are given together";
        found.add(format!("{place}.backspacing_mm"), message, "keep the one that was measured");
    }
    if rim.backspacing_mm.is_some() && rim.rim_width_mm.is_none() {
        let message = "backspacing says nothing without the rim's width";
        found.add(format!("{place}.rim_width_mm"), message, "add rim_width_mm, between the bead seats");
    }
}

fn steer(place: &str, steer: &Steer, found: &mut Faults) {
    number(found, place, "lock_inner_deg", Some(steer.lock_inner_deg), &LOCK_DEG, "deg");
    number(found, place, "lock_outer_deg", steer.lock_outer_deg, &LOCK_DEG, "deg");
    number(found, place, "kingpin_to_face_mm", steer.kingpin_to_face_mm, &KINGPIN_MM, "mm");
    number(found, place, "scrub_radius_mm", steer.scrub_radius_mm, &SCRUB_MM, "mm");
    number(found, place, "kingpin_lean_deg", steer.kingpin_lean_deg, &LEAN_DEG, "deg");
    if steer.kingpin_to_face_mm.is_some() && steer.scrub_radius_mm.is_some() {
        let message = "kingpin_to_face_mm and scrub_radius_mm are given together";
        found.add(format!("{place}.scrub_radius_mm"), message, "keep the one that was measured");
    }
}

fn travel(place: &str, travel: &Travel, found: &mut Faults) {
    for (name, axle) in [("front", &travel.front), ("rear", &travel.rear)] {
        axle_travel(&format!("{place}.{name}"), axle, found);
    }
}

fn axle_travel(place: &str, axle: &AxleTravel, found: &mut Faults) {
    number(found, place, "frame_gap_mm", axle.frame_gap_mm, &TRAVEL_MM, "mm");
    number(found, place, "stop_gap_mm", axle.stop_gap_mm, &TRAVEL_MM, "mm");
    number(found, place, "stop_gives_mm", axle.stop_gives_mm, &STOP_GIVES_MM, "mm");
    number(found, place, "droop_mm", axle.droop_mm, &TRAVEL_MM, "mm");
    if let Some(Shackle { length_mm, angle_deg, spring_length_mm, arch_mm, .. }) = axle.shackle {
        let place = format!("{place}.shackle");
        number(found, &place, "length_mm", Some(length_mm), &SHACKLE_MM, "mm");
        number(found, &place, "angle_deg", Some(angle_deg), &SHACKLE_DEG, "deg");
        number(found, &place, "spring_length_mm", Some(spring_length_mm), &LEAF_MM, "mm");
        number(found, &place, "arch_mm", Some(arch_mm), &ARCH_MM, "mm");
    }
    if let Some(shock) = &axle.shock {
        shock_lengths(&format!("{place}.shock"), shock, found);
    }
    if let Some(hose) = &axle.hose {
        let place = format!("{place}.hose");
        number(found, &place, "length_mm", Some(hose.length_mm), &HOSE_MM, "mm");
        number(found, &place, "span_mm", Some(hose.span_mm), &HOSE_MM, "mm");
        if hose.span_mm > hose.length_mm {
            let message = format!("the ends are {} mm apart, the hose is {} mm long", hose.span_mm, hose.length_mm);
            found.add(
                format!("{place}.span_mm"),
                message,
                "measure the hose along itself and its ends straight across",
            );
        }
    }
    if let Some(bar) = &axle.track_bar {
        let place = format!("{place}.track_bar");
        number(found, &place, "length_mm", Some(bar.length_mm), &BAR_MM, "mm");
        number(found, &place, "rise_mm", bar.rise_mm, &RISE_MM, "mm");
        if bar.rise_mm.is_some_and(|rise| rise.abs() >= bar.length_mm) {
            let message = format!(
                "one end {} mm over the other does not fit a bar of {} mm",
                bar.rise_mm.unwrap_or(0.0).abs(),
                bar.length_mm
            );
            found.add(format!("{place}.rise_mm"), message, "correct the one that is wrong");
        }
    }
}

fn shock_lengths(place: &str, shock: &Shock, found: &mut Faults) {
    number(found, place, "length_mm", Some(shock.length_mm), &SHOCK_MM, "mm");
    number(found, place, "shortest_mm", Some(shock.shortest_mm), &SHOCK_MM, "mm");
    number(found, place, "longest_mm", Some(shock.longest_mm), &SHOCK_MM, "mm");
    number(found, place, "lean_deg", shock.lean_deg, &SHOCK_LEAN_DEG, "deg");
    if shock.shortest_mm >= shock.longest_mm {
        let message = format!("pushed in {} mm and pulled out {} mm", shock.shortest_mm, shock.longest_mm);
        found.add(format!("{place}.longest_mm"), message, "the longest is longer than the shortest");
    }
}

pub(super) fn number(
    found: &mut Faults,
    place: &str,
    name: &str,
    value: Option<f64>,
    range: &RangeInclusive<f64>,
    unit: &str,
) {
    found_number(found, &format!("{place}.{name}"), value, range, unit);
}

pub(super) fn found_number(
    found: &mut Faults,
    place: &str,
    value: Option<f64>,
    range: &RangeInclusive<f64>,
    unit: &str,
) {
    if let Some(value) = value {
        found.number(place, value, range, unit);
    }
}
