//! The wheel turned about its carried kingpin until the drag link has its length again.

use super::Linkage;
use crate::bench::Refusal;
use crate::units::Angle;
use nalgebra::Vector3;

/// What cannot reach, and at which travel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Unreachable {
    DragLink { travel_mm: f64, missing_mm: f64 },
    Guide { travel_mm: f64 },
}

impl Unreachable {
    pub(super) fn refusal(self) -> Refusal {
        match self {
            Self::DragLink { travel_mm, missing_mm } => Refusal::new(
                format!("The drag link cannot reach at a travel of {travel_mm} mm: {missing_mm:.1} mm are missing."),
                "Give less travel, or look at pitman_ball, arm_ball and kingpin.",
            ),
            Self::Guide { travel_mm } => Refusal::new(
                format!("The guide does not let the hub rise by {travel_mm} mm."),
                "Give less travel, or look at hub and guide.",
            ),
        }
    }
}

/// Degrees, positive to the left; of two answers the one nearest to zero.
pub(super) fn steer_deg(linkage: &Linkage, pitman_ball: Vector3<f64>, travel_mm: f64) -> Result<f64, Unreachable> {
    let carried = linkage.guide.carry(linkage.hub, travel_mm).ok_or(Unreachable::Guide { travel_mm })?;
    let length = (linkage.arm_ball - pitman_ball).norm();
    let (kingpin, axis) = (carried.point(linkage.kingpin_point), carried.direction(linkage.kingpin_axis));
    // The ball goes round the axis: centre + across·cos + ahead·sin.
    let arm = carried.point(linkage.arm_ball) - kingpin;
    let along = axis * axis.dot(&arm);
    let across = arm - along;
    let ahead = axis.cross(&across);
    let to_pitman = pitman_ball - kingpin - along;
    let (beside, before) = (to_pitman.dot(&across), to_pitman.dot(&ahead));
    let reach = beside.hypot(before);
    let asked = (across.norm_squared() + to_pitman.norm_squared() - length * length) / 2.0;
    let Some(half) = Angle::acos(asked / reach) else {
        // Nearest and farthest that the ball comes to the pitman ball on its way round.
        let square = across.norm_squared() + to_pitman.norm_squared();
        let (nearest, farthest) = ((square - 2.0 * reach).max(0.0).sqrt(), (square + 2.0 * reach).sqrt());
        let missing_mm = if length < nearest { nearest - length } else { length - farthest };
        return Err(Unreachable::DragLink { travel_mm, missing_mm });
    };
    let middle = Angle::atan2(before, beside).to_rad();
    let turn = |rad: f64| Angle::rad(rad - std::f64::consts::TAU * (rad / std::f64::consts::TAU).round()).to_deg();
    let (one, other) = (turn(middle - half.to_rad()), turn(middle + half.to_rad()));
    Ok(if one.abs() <= other.abs() { one } else { other })
}
