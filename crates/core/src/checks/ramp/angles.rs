//! Approach, departure and breakover angle on level ground, from points of the body to the arcs of the tires.
//!
//! # Source
//! 40 CFR 86.084-2: tangents to the arcs of the static loaded radius. Ahead of a wheel atan2(d, R − c) − acos(R/√((R − c)² + d²)); between the axles
//! Σ asin(R/√((R − c)² + d²)) − atan2(R − c, d), with the distance d from the wheel centre along the car and c above the ground.

use super::pose::Wheels;
use crate::units::Angle;
use serde::Serialize;

/// An angle and the point that limits it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LimitingPoint {
    /// Degrees.
    pub deg: f64,
    /// The point, or `outline`.
    pub point: String,
}

/// The three angles; `None` where no point of the body lies there.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Angles {
    /// Ahead of the front tire.
    pub approach: Option<LimitingPoint>,
    /// Behind the rear tire.
    pub departure: Option<LimitingPoint>,
    /// Between the tires.
    pub breakover: Option<LimitingPoint>,
}

/// From points of the body: name, x ahead of the front axle, z above level ground. A point inside a tire's circle is left out.
pub fn angles<'p>(wheels: &Wheels, points: impl Iterator<Item = (&'p str, [f64; 2])>) -> Angles {
    let mut angles = Angles::default();
    let (front, rear) = (wheels.front_radius_mm, wheels.rear_radius_mm);
    for (name, [x, z]) in points {
        let behind = x + wheels.wheelbase_mm;
        let outside = |along: f64, radius: f64| along.hypot(radius - z) >= radius;
        if !outside(x, front) || !outside(behind, rear) {
            continue;
        }
        if x > 0.0 {
            take(&mut angles.approach, name, overhang_deg(x, z, front));
        } else if behind < 0.0 {
            take(&mut angles.departure, name, overhang_deg(-behind, z, rear));
        } else {
            take(&mut angles.breakover, name, between_deg(-x, z, front) + between_deg(behind, z, rear));
        }
    }
    angles
}

fn take(best: &mut Option<LimitingPoint>, point: &str, deg: f64) {
    if best.as_ref().is_none_or(|best| deg < best.deg) {
        *best = Some(LimitingPoint { deg, point: point.to_owned() });
    }
}

/// Steepest ground that a point `along` beyond the wheel centre clears, degrees.
fn overhang_deg(along: f64, z: f64, radius: f64) -> f64 {
    let down = radius - z;
    let tangent = Angle::acos((radius / along.hypot(down)).min(1.0)).unwrap_or_default();
    (Angle::atan2(along, down) - tangent).to_deg()
}

/// One tire's part of the breakover angle, degrees.
fn between_deg(along: f64, z: f64, radius: f64) -> f64 {
    let down = radius - z;
    let tangent = Angle::asin((radius / along.hypot(down)).min(1.0)).unwrap_or_default();
    (tangent - Angle::atan2(down, along)).to_deg()
}

#[cfg(test)]
mod tests {
    use super::*;

    const WHEELS: Wheels = Wheels { wheelbase_mm: 2600.0, front_radius_mm: 320.0, rear_radius_mm: 320.0 };

    #[test]
    fn the_check_values_of_the_tangents_come_out() {
        // Worked by hand from the definition: 18.52 and 13.44 degrees.
        let points = [("nose", [500.0, 150.0]), ("pan", [-1200.0, 150.0])];
        let angles = angles(&WHEELS, points.into_iter());
        assert!((angles.approach.unwrap().deg - 18.52).abs() < 0.005);
        assert!((angles.breakover.unwrap().deg - 13.44).abs() < 0.005);
        assert_eq!(angles.departure, None);
    }

    #[test]
    fn a_point_inside_a_tire_is_left_out_and_the_lowest_angle_counts() {
        let points = [("brake", [0.0, 200.0]), ("tank", [-3200.0, 300.0]), ("pipe", [-3100.0, 200.0])];
        let angles = angles(&WHEELS, points.into_iter());
        assert_eq!((angles.approach, angles.breakover), (None, None));
        assert_eq!(angles.departure.unwrap().point, "pipe");
    }
}
