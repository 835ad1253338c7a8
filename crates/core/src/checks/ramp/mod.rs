//! A car driven over a piece of ground: where it comes nearest, where it touches, and what would save it.
//!
//! The car faces +s. A tire is a circle of its loaded radius rolled on the ground, corners and risers included; the body is
//! rigid on the two wheel centres, and so are the axles. Gaps are straight down.
//!
//! ```
//! use trueground_core::checks::ramp::{Ramp, work_out};
//! let car = r#""wheelbase_mm": 2600, "front_radius_mm": 320, "rear_radius_mm": 320, "points": [{"id": "pan", "x_mm": -1300, "z_mm": 150}]"#;
//! // On the flat every gap is the height of the point.
//! let ramp = Ramp::read(&format!(r#"{{{car}, "profile": [[0, 0], [6000, 0]]}}"#))?;
//! assert_eq!(work_out(&ramp)?.run.min_gap_mm, 150.0);
//! # Ok::<(), trueground_core::bench::Refusal>(())
//! ```

pub mod angles;
mod block;
mod gaps;
mod ground;
mod hub_path;
mod input;
mod inverse;
pub mod measures;
mod one_place;
mod pose;
mod shapes;

pub use ground::Ground;
pub use inverse::{LowestSafe, Plank};
pub use one_place::{Place, curve, place};
pub use pose::Wheels;
pub use shapes::{HumpShape, Shape};

use crate::bench::Refusal;
use angles::Angles;
use gaps::{Part, Scene};
use serde::Serialize;

/// A car and the ground it drives over.
#[derive(Debug, Clone, PartialEq)]
pub struct Ramp {
    /// Wheelbase and loaded radii.
    pub wheels: Wheels,
    /// Points looked at.
    pub points: Vec<Point>,
    /// Underside of the body `[x, z]`, joined by straight lines; empty where it is not known.
    pub outline: Vec<[f64; 2]>,
    /// What it drives over.
    pub ground: Ground,
    /// From one place of the front wheel centre to the next, mm.
    pub step_mm: f64,
    /// What must stay free for bounce and load, mm.
    pub allowance_mm: f64,
}

/// A point of the car.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// Its name.
    pub id: String,
    /// Ahead of the front axle, mm.
    pub x_mm: f64,
    /// Above level ground, mm.
    pub z_mm: f64,
    /// What it goes with.
    pub attach: Attach,
}

/// What a point goes with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Attach {
    /// The body: it comes down with the springs.
    Body,
    /// The front axle.
    FrontAxle,
    /// The rear axle.
    RearAxle,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RampAnswer {
    /// What the drive showed.
    #[serde(flatten)]
    pub run: Run,
    /// Steepest ground the front clears on the flat, degrees; null without a point of the body ahead of the front tire.
    pub approach_deg: Option<f64>,
    /// The same at the rear.
    pub departure_deg: Option<f64>,
    /// Sharpest crest cleared between the tires, degrees; null without a point of the body there.
    pub breakover_deg: Option<f64>,
    /// The points that limit the three angles.
    pub limited_by: LimitedBy,
    /// How low the body may stand for this ground; absent without a point of the body.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lowest_safe: Option<LowestSafe>,
    /// A plank that saves it; absent where nothing touches.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub plank: Option<Plank>,
}

/// Points that limit the three angles, or `outline`.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct LimitedBy {
    /// Of the approach angle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub approach: Option<String>,
    /// Of the departure angle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub departure: Option<String>,
    /// Of the breakover angle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub breakover: Option<String>,
}

/// What one drive over the ground shows.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Run {
    /// Least gap of all, before the allowance is taken off, mm; below 0 where something is in the ground.
    pub min_gap_mm: f64,
    /// What has it: a point, or `outline`.
    pub point: String,
    /// s of the front wheel centre there, mm.
    pub front_axle_at_mm: f64,
    /// Stretches in which one point is nearer than the allowance, in the order they are met.
    pub touches: Vec<Touch>,
    /// Positions looked at.
    pub positions: usize,
    /// Positions in which a point stood beyond the ground, or the wheels had no place.
    pub positions_skipped: usize,
}

/// One stretch in which one point is nearer than the allowance.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Touch {
    /// The point, or `outline`.
    pub point: String,
    /// s of the front wheel centre at its first position, mm.
    pub from_mm: f64,
    /// s of the front wheel centre at its last position, mm.
    pub to_mm: f64,
    /// Allowance less the least gap, mm.
    pub deepest_mm: f64,
    /// True where it is in the ground, not only nearer than the allowance.
    pub contact: bool,
}

/// Everything about a car and a ground that [`Ramp::read`] has taken.
///
/// # Errors
/// The ground is too short for the wheelbase, or no point is ever over it.
pub fn work_out(ramp: &Ramp) -> Result<RampAnswer, Refusal> {
    let run = drive(ramp)?;
    let Angles { approach, departure, breakover } = angles::angles(&ramp.wheels, ramp.body_points());
    let limit = |angle: &Option<angles::LimitingPoint>| angle.as_ref().map(|angle| angle.point.clone());
    Ok(RampAnswer {
        limited_by: LimitedBy {
            approach: limit(&approach),
            departure: limit(&departure),
            breakover: limit(&breakover),
        },
        approach_deg: approach.map(|angle| angle.deg),
        departure_deg: departure.map(|angle| angle.deg),
        breakover_deg: breakover.map(|angle| angle.deg),
        lowest_safe: inverse::lowest_safe(ramp),
        plank: inverse::plank(ramp, &run),
        run,
    })
}

/// Drives the car over the ground.
///
/// # Errors
/// The ground is too short for the wheelbase, or no point is ever over it.
pub fn drive(ramp: &Ramp) -> Result<Run, Refusal> {
    let scene = Scene::of(ramp);
    if scene.poses.is_empty() {
        let (begin, end) = ramp.ground.span();
        let message = format!(
            "profile is {} mm long: both wheels of a wheelbase of {} mm have no place on it.",
            end - begin,
            ramp.wheels.wheelbase_mm
        );
        return Err(Refusal::new(message, "Add ground before and behind, a wheelbase and the overhangs at least."));
    }
    let mut run = Run {
        min_gap_mm: f64::INFINITY,
        point: String::new(),
        front_axle_at_mm: 0.0,
        touches: Vec::new(),
        positions: scene.poses.len(),
        positions_skipped: scene.without,
    };
    let mut skipped = vec![false; scene.poses.len()];
    for part in ramp.parts() {
        let gaps = part.gaps(&scene, 0.0, run.min_gap_mm.max(ramp.allowance_mm));
        gaps.beyond.iter().for_each(|pose| skipped[*pose] = true);
        let (least, at) = gaps.least();
        if least < run.min_gap_mm {
            (run.min_gap_mm, run.front_axle_at_mm) = (least, scene.poses[at].front_s);
            part.name().clone_into(&mut run.point);
        }
        if least < ramp.allowance_mm {
            gaps.touches(part.name(), &scene.poses, ramp.allowance_mm, &mut run.touches);
        }
    }
    if run.min_gap_mm == f64::INFINITY {
        let message = "No point of the car is ever over the profile.";
        return Err(Refusal::new(message, "Add ground before and behind, or look at the x of the points."));
    }
    run.touches.sort_by(|a, b| a.from_mm.total_cmp(&b.from_mm));
    run.positions_skipped += skipped.iter().filter(|skipped| **skipped).count();
    Ok(run)
}

impl Ramp {
    fn parts(&self) -> impl Iterator<Item = Part<'_>> {
        let outline = (!self.outline.is_empty()).then_some(Part::Outline(&self.outline));
        self.points.iter().map(Part::Point).chain(outline)
    }

    /// Points that come down with the body, corners of the outline among them.
    fn body_points(&self) -> impl Iterator<Item = (&str, [f64; 2])> {
        let points = self.points.iter().filter(|point| point.attach == Attach::Body);
        let points = points.map(|point| (point.id.as_str(), [point.x_mm, point.z_mm]));
        points.chain(self.outline.iter().map(|corner| ("outline", *corner)))
    }
}
