//! The car's part of a file, and the ranges of its measures, which forms refuse by too.

use super::Faults;
use crate::car::{AxleSprings, Extent, FittedTire, PointKind, RefPoint, Vehicle};
use crate::checks::weight::AXLE_HEIGHT_MM;
use crate::wording::shown;
use std::ops::RangeInclusive;

/// Smaller or larger is no road car.
pub const WHEELBASE_MM: RangeInclusive<f64> = 500.0..=10_000.0;
/// Smaller or larger is no road car.
pub const TRACK_MM: RangeInclusive<f64> = 300.0..=4_000.0;
pub(super) const ALONG_MM: RangeInclusive<f64> = -15_000.0..=5_000.0;
const ASIDE_MM: RangeInclusive<f64> = 5.0..=2_500.0;
/// Two marks of a kind must be at least this far apart along the car for a rake.
const APART_MM: f64 = 100.0;
/// Heavier or lighter is no road car.
pub const MASS_KG: RangeInclusive<f64> = 50.0..=50_000.0;
/// A tank of a road car.
pub const TANK_LITRES: RangeInclusive<f64> = 1.0..=1_000.0;
/// From a wheel centre to the end of the car.
pub const OVERHANG_MM: RangeInclusive<f64> = 50.0..=4_000.0;
/// Of a hood or a roof above the floor.
pub const BODY_HEIGHT_MM: RangeInclusive<f64> = 300.0..=4_000.0;
/// Between the springs of one axle.
pub const SPRING_BASE_MM: RangeInclusive<f64> = 100.0..=4_000.0;
/// One spring, or both of an axle.
pub const RATE_N_PER_MM: RangeInclusive<f64> = 1.0..=2_000.0;
/// A bar against lean.
pub const BAR_NM_PER_DEG: RangeInclusive<f64> = 1.0..=20_000.0;
const MOST_POINTS: usize = 200;

/// On one axle of a scale ticket.
pub const AXLE_KG: RangeInclusive<f64> = 20.0..=10_000.0;
/// On a pad under one wheel.
pub const WHEEL_KG: RangeInclusive<f64> = 5.0..=5_000.0;
/// Of a scale.
pub const SCALE_U_KG: RangeInclusive<f64> = 0.05..=200.0;

pub(super) fn check(vehicle: &Vehicle, found: &mut Faults) {
    found.number("vehicle.wheelbase_mm", vehicle.wheelbase_mm, &WHEELBASE_MM, "mm");
    found.number("vehicle.track_front_mm", vehicle.track_front_mm, &TRACK_MM, "mm");
    found.number("vehicle.track_rear_mm", vehicle.track_rear_mm, &TRACK_MM, "mm");
    found.count("vehicle.ref_points", vehicle.ref_points.len(), MOST_POINTS);
    found.names("vehicle.ref_points", vehicle.ref_points.iter().map(|point| point.id.as_str()));
    for (number, point) in vehicle.ref_points.iter().enumerate() {
        ref_point(&format!("vehicle.ref_points[{number}]"), point, found);
    }
    apart(vehicle, found);
    if let Some(tires) = &vehicle.tires {
        for (corner, fitted) in tires.iter() {
            tire(&format!("vehicle.tires.{corner}"), fitted, found);
        }
    }
    if let Some(springs) = &vehicle.suspension {
        axle("vehicle.suspension.front", &springs.front, found);
        axle("vehicle.suspension.rear", &springs.rear, found);
    }
    if let Some(mass) = vehicle.mass_kg_approx {
        found.number("vehicle.mass_kg_approx", mass, &MASS_KG, "kg");
    }
    if let Some(share) = vehicle.front_mass_share {
        found.number("vehicle.front_mass_share", share, &(0.1..=0.9), "");
    }
    if let Some(weighed) = &vehicle.weighed {
        let axles =
            weighed.axles_kg.iter().flat_map(|axles| [("axles_kg.front", axles.front), ("axles_kg.rear", axles.rear)]);
        for (key, kg) in axles {
            found.number(&format!("vehicle.weighed.{key}"), kg, &AXLE_KG, "kg");
        }
        for (corner, kg) in weighed.wheels_kg.iter().flat_map(|wheels| wheels.iter()) {
            found.number(&format!("vehicle.weighed.wheels_kg.{corner}"), *kg, &WHEEL_KG, "kg");
        }
        if let Some(u) = weighed.u_kg {
            found.number("vehicle.weighed.u_kg", u, &SCALE_U_KG, "kg");
        }
        if let Some(raised) = &weighed.raised {
            let place = "vehicle.weighed.raised";
            found.number(&format!("{place}.front_kg"), raised.front_kg, &AXLE_KG, "kg");
            // Farther up than its wheelbase lets it, an axle cannot be raised.
            let lift = 50.0..=(0.7 * vehicle.wheelbase_mm).max(50.0);
            found.number(&format!("{place}.lift_mm"), raised.lift_mm, &lift, "mm");
            found.number(&format!("{place}.axle_height_mm"), raised.axle_height_mm, &AXLE_HEIGHT_MM, "mm");
        }
    }
    if let Some(tank) = &vehicle.tank {
        found.number("vehicle.tank.litres", tank.litres, &TANK_LITRES, "l");
        found.number("vehicle.tank.x_mm", tank.x_mm, &ALONG_MM, "mm");
    }
    found.count("vehicle.seats", vehicle.seats.len(), MOST_POINTS);
    for (number, seat) in vehicle.seats.iter().enumerate() {
        found.number(&format!("vehicle.seats[{number}].x_mm"), seat.x_mm, &ALONG_MM, "mm");
    }
    extent(&vehicle.extent, found);
    super::described::check(vehicle, found);
    super::linkages::check(vehicle, found);
    super::fitted::check(vehicle, found);
    super::aligned::check(vehicle, found);
    for (name, estimate, range, widest) in [
        ("roll_share_front", &vehicle.roll_share_front, 0.0..=1.0, 1.0),
        ("lean_gain", &vehicle.lean_gain, 0.5..=2.0, 1.0),
    ] {
        if let Some(estimate) = estimate {
            found.number(&format!("vehicle.{name}.value"), estimate.value, &range, "");
            found.number(&format!("vehicle.{name}.u"), estimate.u, &(1e-4..=widest), "");
        }
    }
    for (kind, twist) in &vehicle.known_twist_mm {
        let place = format!("vehicle.known_twist_mm.{}", kind.code());
        found.number(&format!("{place}.value"), twist.value, &(-500.0..=500.0), "mm");
        found.number(&format!("{place}.u"), twist.u, &(0.05..=500.0), "mm");
        for (key, day) in [("date", &twist.date), ("until", &twist.until)] {
            if let Some(day) = day {
                super::measured::date(&format!("{place}.{key}"), day, found);
            }
        }
    }
}

fn ref_point(place: &str, point: &RefPoint, found: &mut Faults) {
    found.number(&format!("{place}.x_mm"), point.x_mm, &ALONG_MM, "mm");
    let aside = if point.corner.is_left() { point.y_mm } else { -point.y_mm };
    if point.kind == PointKind::Other {
        found.number(&format!("{place}.y_mm"), point.y_mm, &(-*ASIDE_MM.end()..=*ASIDE_MM.end()), "mm");
    } else if !ASIDE_MM.contains(&aside) {
        let side = if point.corner.is_left() { "left, so 5 to 2500 mm" } else { "right, so -2500 to -5 mm" };
        found.add(
            format!("{place}.y_mm"),
            format!("{} mm does not fit {}, which is on the {side}", point.y_mm, shown(&point.id)),
            "y counts to the left; correct the value or the corner",
        );
    }
    for word in ["hub.", "hub_to:", "under:", "on:"] {
        if point.id.starts_with(word) {
            found.add(
                format!("{place}.id"),
                format!("{} begins with {word}, which names something else", shown(&point.id)),
                "give the point another name",
            );
        }
    }
}

/// Within a kind every front mark lies ahead of every rear mark.
fn apart(vehicle: &Vehicle, found: &mut Faults) {
    // What is marked as something else need not be a pair; where it is none, it makes no line.
    for kind in PointKind::ALL.into_iter().filter(|kind| *kind != PointKind::Other) {
        let along = |front: bool| {
            let of_kind = move |p: &&RefPoint| p.kind == kind && p.corner.is_front() == front;
            vehicle.ref_points.iter().filter(of_kind).map(|p| p.x_mm)
        };
        let rearmost_front = along(true).fold(f64::INFINITY, f64::min);
        let foremost_rear = along(false).fold(f64::NEG_INFINITY, f64::max);
        if rearmost_front - foremost_rear < APART_MM {
            found.add(
                "vehicle.ref_points",
                format!(
                    "{}: a front mark at x = {rearmost_front} mm and a rear mark at x = {foremost_rear} mm are less than {APART_MM} mm apart",
                    kind.code()
                ),
                "x counts forward from the front axle; what lies behind it is negative",
            );
        }
    }
}

fn tire(place: &str, tire: &FittedTire, found: &mut Faults) {
    found.number(&format!("{place}.free_diameter_mm"), tire.free_diameter_mm, &(200.0..=2_500.0), "mm");
    found.number(&format!("{place}.rim_diameter_mm"), tire.rim_diameter_mm, &(100.0..=1_500.0), "mm");
    if tire.rim_diameter_mm >= tire.free_diameter_mm {
        found.add(
            format!("{place}.rim_diameter_mm"),
            format!("the rim, {} mm, is not smaller than the tire, {} mm", tire.rim_diameter_mm, tire.free_diameter_mm),
            "correct the one that is wrong",
        );
    }
    found.number(&format!("{place}.nominal_pressure_kpa"), tire.nominal_pressure_kpa, &(30.0..=1_000.0), "kPa");
}

fn extent(extent: &Extent, found: &mut Faults) {
    for (name, value, range) in [
        ("overhang_front_mm", extent.overhang_front_mm, OVERHANG_MM),
        ("overhang_rear_mm", extent.overhang_rear_mm, OVERHANG_MM),
        ("roof_height_mm", extent.roof_height_mm, BODY_HEIGHT_MM),
        ("hood_height_mm", extent.hood_height_mm, BODY_HEIGHT_MM),
        ("rail_height_then_mm", extent.rail_height_then_mm, 1.0..=2_500.0),
    ] {
        if let Some(value) = value {
            found.number(&format!("vehicle.extent.{name}"), value, &range, "mm");
        }
    }
}

fn axle(place: &str, springs: &AxleSprings, found: &mut Faults) {
    if let Some(base) = springs.spring_base_mm {
        found.number(&format!("{place}.spring_base_mm"), base, &SPRING_BASE_MM, "mm");
    }
    for (name, rate, range, unit) in [
        ("axle_ride_rate_n_per_mm", springs.axle_ride_rate_n_per_mm, RATE_N_PER_MM, "N/mm"),
        ("side_rate_n_per_mm", springs.side_rate_n_per_mm, RATE_N_PER_MM, "N/mm"),
        ("bar_nm_per_deg", springs.bar_nm_per_deg, BAR_NM_PER_DEG, "N m/deg"),
    ] {
        if let Some(rate) = rate {
            found.number(&format!("{place}.{name}.value"), rate.value, &range, unit);
            found.number(&format!("{place}.{name}.rel_u"), rate.rel_u, &(0.0..=1.0), "");
        }
    }
}
