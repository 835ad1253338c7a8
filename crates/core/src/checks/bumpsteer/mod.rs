//! Bump steer: how far the front wheels turn by themselves while the axle rises and falls, and the height of the pitman ball that
//! makes it least.
//!
//! The axle, with its kingpin and arm ball, goes with its guide until the hub has risen by the travel; the wheel then turns about the
//! carried kingpin until the drag link has its length again. Travel is positive with the wheel up, steer positive to the left.
//!
//! ```
//! use trueground_core::checks::bumpsteer::{Linkage, work_out};
//! // A level drag link behind an axle that only rises: the ball's path and the link's arc part as the square of the travel.
//! let linkage = Linkage::read(r#"{"pitman_ball": [-900, 500, 400], "arm_ball": [100, 500, 400], "hub": [0, 700, 320],
//!     "kingpin": {"point": [0, 650, 320], "axis": [0, 0, 1]}, "guide": {"kind": "parallel"}, "travel_mm": [-60, 60]}"#)?;
//! assert!(work_out(&linkage)?.steer_deg_per_mm_at_rest.abs() < 1e-6);
//! # Ok::<(), trueground_core::bench::Refusal>(())
//! ```

mod at_stance;
mod best;
pub mod four_bar;
mod guide;
mod input;
mod steer;
pub mod turn;

pub(super) use at_stance::check;
pub use at_stance::{AtThisStance, at_stance, with_pitman_ball};
pub use best::BestPitmanBall;
pub use guide::{Guide, PlaneLink};
pub use turn::{TurnAnswer, TurnRow, Turning};

use crate::bench::Refusal;
use crate::units::Angle;
use nalgebra::Vector3;
use serde::Serialize;
use steer::Unreachable;

/// The steering of one front wheel, mm, with the car at rest.
#[derive(Debug, Clone, PartialEq)]
pub struct Linkage {
    /// Ball on the steering box's arm.
    pub pitman_ball: Vector3<f64>,
    /// Ball on the steering arm of the wheel.
    pub arm_ball: Vector3<f64>,
    /// A point on the kingpin's axis.
    pub kingpin_point: Vector3<f64>,
    /// The axis, pointing up, of length 1.
    pub kingpin_axis: Vector3<f64>,
    /// Centre of the wheel on its spindle.
    pub hub: Vector3<f64>,
    /// What leads the axle.
    pub guide: Guide,
    /// Both ends of the travel, the lower one first, mm.
    pub travel_mm: [f64; 2],
    /// From one travel of the curve to the next, mm.
    pub step_mm: f64,
    /// Tie rod and arms for turning, where they are given.
    pub turning: Option<Turning>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BumpSteer {
    /// Both ends of the travel, every step from the lower one, and 0.
    pub bump_steer_curve: Vec<CurvePoint>,
    /// Slope of the curve at rest, degrees for each mm.
    pub steer_deg_per_mm_at_rest: f64,
    /// Largest steer of the curve, without its sign, degrees.
    pub worst_deg: f64,
    /// Where that is, mm of travel.
    pub worst_at_travel_mm: f64,
    /// Of the drag link at rest, in its own upright plane, positive where the arm's end is higher, degrees.
    pub drag_link_angle_deg: f64,
    /// Where the curve is flattest with the pitman ball moved up or down.
    pub best_pitman_ball: BestPitmanBall,
    /// The two wheels when the car turns.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turn: Option<TurnAnswer>,
}

/// Steer at one travel.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct CurvePoint {
    /// mm, positive with the wheel up.
    pub travel_mm: f64,
    /// Degrees, positive to the left.
    pub steer_deg: f64,
}

/// Half of the travel over which the slope at rest is taken, mm.
const AT_REST_MM: f64 = 0.01;

/// The curve, its slope at rest, and the best pitman ball.
///
/// # Errors
/// A drag link or a guide that cannot reach, naming the travel; a tie rod that cannot reach, naming the angle.
pub fn work_out(linkage: &Linkage) -> Result<BumpSteer, Refusal> {
    let travels = linkage.travels();
    let refused = |unreachable: Unreachable| unreachable.refusal();
    let curve = linkage.curve(&travels, linkage.pitman_ball).map_err(refused)?;
    let slope = linkage.curve(&[-AT_REST_MM, AT_REST_MM], linkage.pitman_ball).map_err(refused)?;
    let worst = curve.iter().max_by(|a, b| a.steer_deg.abs().total_cmp(&b.steer_deg.abs()));
    let worst = worst.copied().unwrap_or(CurvePoint { travel_mm: 0.0, steer_deg: 0.0 });
    let link = linkage.arm_ball - linkage.pitman_ball;
    Ok(BumpSteer {
        best_pitman_ball: best::best(linkage, &travels, &curve),
        bump_steer_curve: curve,
        steer_deg_per_mm_at_rest: (slope[1].steer_deg - slope[0].steer_deg) / (2.0 * AT_REST_MM),
        worst_deg: worst.steer_deg.abs(),
        worst_at_travel_mm: worst.travel_mm,
        drag_link_angle_deg: Angle::atan2(link.z, link.x.hypot(link.y)).to_deg(),
        turn: linkage.turning.as_ref().map(turn::turn).transpose()?,
    })
}

impl Linkage {
    /// Both ends, every step from the lower one, and 0.
    fn travels(&self) -> Vec<f64> {
        let [low, high] = self.travel_mm;
        let steps = (0_u32..).map(|i| low + self.step_mm * f64::from(i)).take_while(|travel| *travel < high);
        let mut travels: Vec<f64> = steps.chain([high, 0.0]).collect();
        travels.sort_by(f64::total_cmp);
        // −0 and 0, and a step that ends a hair before an end, are one travel.
        travels.dedup_by(|b, a| {
            let same = (*b - *a).abs() < 1e-9;
            if same && *b == 0.0 {
                *a = 0.0;
            }
            same
        });
        travels
    }

    fn curve(&self, travels: &[f64], pitman_ball: Vector3<f64>) -> Result<Vec<CurvePoint>, Unreachable> {
        let at = |travel_mm: &f64| {
            let steer_deg = steer::steer_deg(self, pitman_ball, *travel_mm)?;
            Ok(CurvePoint { travel_mm: *travel_mm, steer_deg })
        };
        travels.iter().map(at).collect()
    }
}
