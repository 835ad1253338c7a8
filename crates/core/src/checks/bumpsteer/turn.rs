//! Both front wheels in a turn: what arms and tie rod give, and what rolling without scrub asks for.
//!
//! # Source
//! Rolling without scrub: cot(outer) − cot(inner) = distance of the kingpins over the wheelbase. Arms that point at the middle of the
//! rear axle lean in by atan(distance/(2·wheelbase)) (Khurmi and Gupta, *Theory of Machines*, from memory).

use super::four_bar::circles;
use crate::bench::Refusal;
use crate::units::Angle;
use serde::Serialize;

/// Arms and tie rod behind the axle, in plan, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Turning {
    /// Between the kingpins.
    pub kingpin_distance_mm: f64,
    /// Between the axles.
    pub wheelbase_mm: f64,
    /// From kingpin to tie-rod ball.
    pub arm_mm: f64,
    /// Between its balls.
    pub tie_rod_mm: f64,
    /// Angles of the inner wheel asked for, degrees, above 0.
    pub inner_deg: Vec<f64>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TurnAnswer {
    /// How far the arms lean in, straight ahead, degrees.
    pub arm_angle_deg: f64,
    /// How far they would, pointing at the middle of the rear axle, degrees.
    pub arm_angle_to_rear_axle_deg: f64,
    /// In the order asked.
    pub rows: Vec<TurnRow>,
}

/// One turn.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct TurnRow {
    /// Of the inner wheel, degrees.
    pub inner_deg: f64,
    /// Of the outer wheel, degrees.
    pub outer_deg: f64,
    /// Of the outer wheel for rolling without scrub, degrees.
    pub ackermann_outer_deg: f64,
}

/// Angle of the outer wheel for rolling without scrub, degrees.
pub fn ackermann_outer_deg(kingpin_distance: f64, wheelbase: f64, inner_deg: f64) -> f64 {
    Angle::atan(1.0 / (1.0 / Angle::deg(inner_deg).tan() + kingpin_distance / wheelbase)).to_deg()
}

/// How far arms lean in that point at the middle of the rear axle, degrees.
pub fn arm_angle_to_rear_axle_deg(kingpin_distance: f64, wheelbase: f64) -> f64 {
    Angle::atan(kingpin_distance / (2.0 * wheelbase)).to_deg()
}

/// # Errors
/// A tie rod that does not fit between the arms, or cannot reach at an angle.
pub(super) fn turn(turning: &Turning) -> Result<TurnAnswer, Refusal> {
    let (distance, arm, rod) = (turning.kingpin_distance_mm, turning.arm_mm, turning.tie_rod_mm);
    let Some(lean) = Angle::asin((distance - rod) / (2.0 * arm)) else {
        let message = format!(
            "turn.tie_rod_mm is {rod} mm: arms of {arm} mm on kingpins {distance} mm apart cannot hold it straight ahead."
        );
        return Err(Refusal::new(message, "Measure the tie rod between its balls, and the arms from kingpin to ball."));
    };
    // Plan with x forward and y left, a turn to the left: the left wheel is the inner one. Arms point backward and inward.
    let mut rows = Vec::new();
    for &inner_deg in &turning.inner_deg {
        let ball = |turn: f64| {
            let angle = Angle::rad(turn + lean.to_rad());
            [-arm * angle.cos(), distance / 2.0 - arm * angle.sin()]
        };
        // Turning left by an angle takes an arm that points backward to the right.
        let inner = ball(Angle::deg(inner_deg).to_rad());
        let met = circles([0.0, -distance / 2.0], arm, inner, rod);
        let outer = met.into_iter().flatten().filter_map(|[x, y]| {
            // How far the right arm has turned to the left from where it stands straight ahead.
            let stands = Angle::atan2(arm * lean.sin(), -arm * lean.cos()).to_rad();
            let turned = Angle::atan2(y + distance / 2.0, x).to_rad() - stands;
            let turned = Angle::rad(turned - std::f64::consts::TAU * (turned / std::f64::consts::TAU).round()).to_deg();
            (turned > -90.0 && turned < 90.0).then_some(turned)
        });
        // Of the two closings that which goes over into straight ahead.
        let nearest = outer.min_by(|a, b| (a - inner_deg).abs().total_cmp(&(b - inner_deg).abs()));
        let Some(outer_deg) = nearest else {
            let message = format!("The tie rod cannot reach with the inner wheel at {inner_deg} deg.");
            return Err(Refusal::new(message, "Ask for a smaller angle, or look at arm_mm and tie_rod_mm."));
        };
        let ackermann_outer_deg = ackermann_outer_deg(distance, turning.wheelbase_mm, inner_deg);
        rows.push(TurnRow { inner_deg, outer_deg, ackermann_outer_deg });
    }
    Ok(TurnAnswer {
        arm_angle_deg: lean.to_deg(),
        arm_angle_to_rear_axle_deg: arm_angle_to_rear_axle_deg(distance, turning.wheelbase_mm),
        rows,
    })
}
