//! A stance driven over a ground: the car's points, its frame rail and its tires, nose first or backed in, with what the point and the
//! ground may be off by carried to the gap.
//!
//! Backing out the way the car drove in, it stands in the same places facing the same way, so that only the facing counts.

use super::at_stance::AtStance;
use super::finding::Verdict;
use super::ramp::{self, Attach, Ground, Place, Point, Ramp, Run, Wheels};
use crate::car::Attached;
use crate::corner::Corner;
use crate::ground::{OwnGround, Profile, Source, check};
use crate::level::Problem;
use crate::uncertainty::Quantity;
use crate::units::Angle;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// Which end of the car leads into the ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export, rename = "WayIn"))]
#[serde(rename_all = "snake_case")]
pub enum Facing {
    /// The nose.
    NoseFirst,
    /// The tail.
    TailFirst,
}

impl Facing {
    /// Both.
    pub const ALL: [Self; 2] = [Self::NoseFirst, Self::TailFirst];

    /// "nose first".
    pub const fn words(self) -> &'static str {
        match self {
            Self::NoseFirst => "nose first",
            Self::TailFirst => "backed in",
        }
    }
}

/// What must stay free for bounce and load, mm [common practice, no source].
pub const KEPT_MM: f64 = 25.0;
/// What the part along the frame rail is called.
pub const RAIL: &str = "frame rail";
/// Where a point is said to be along the car, mm [common practice, no source].
const POINT_X_U_MM: f64 = 5.0;
/// Ground before and behind, besides the car's own length, mm.
const LEAD_MM: f64 = 1_000.0;
/// Between positions, mm.
const STEP_MM: f64 = 5.0;
/// Stations apart enough that what one is off by shows, mm.
const NUDGE_MM: f64 = 1.0;
const NUDGE_DEG: f64 = 0.05;

/// The car on a ground, ready to be driven.
#[derive(Clone, Debug)]
pub struct Drive<'a> {
    car: &'a AtStance<'a>,
    ground: &'a OwnGround,
    /// Which end leads.
    pub facing: Facing,
    /// Everything in the facing of the car: it faces +s.
    pub ramp: Ramp,
    /// Where the measured or typed part of the ground lies, mm, in the facing of the car.
    pub known: [f64; 2],
    lead_mm: f64,
}

/// Where a stance comes nearest on a ground.
#[derive(Clone, Debug, PartialEq)]
pub struct OverGround {
    /// The whole run.
    pub run: Run,
    /// Least gap with its standard uncertainty, mm.
    pub gap: Quantity,
    /// What of it comes from the car's point.
    pub car_u_mm: f64,
    /// What of it comes from the ground.
    pub ground_u_mm: f64,
    /// Against touching.
    pub verdict: Verdict,
    /// The car there.
    pub place: Place,
    /// s of the front wheel centre there, counted on the ground as it is driven in, mm.
    pub front_axle_at_mm: f64,
    /// True where it comes nearest with a wheel or the point beyond the measured part.
    pub beyond_measured: bool,
}

/// Puts a car onto a ground.
///
/// # Errors
/// The ground makes no sense, or the car has neither a low point nor a frame rail.
pub fn drive<'a>(car: &'a AtStance<'a>, ground: &'a OwnGround, facing: Facing) -> Result<Drive<'a>, Problem> {
    check(ground)?;
    let mean = |left, right| f64::midpoint(car.loaded_radius.at(left).value, car.loaded_radius.at(right).value);
    let wheels = Wheels {
        wheelbase_mm: car.vehicle.wheelbase_mm,
        front_radius_mm: mean(Corner::FL, Corner::FR),
        rear_radius_mm: mean(Corner::RL, Corner::RR),
    };
    let points = points(car);
    let outline = outline(car);
    if points.is_empty() && outline.is_empty() {
        let message = "nothing of the car is known that could touch: it has no low point and no frame rail";
        return Err(Problem::new(message, "Add its low points, or mark its frame rail and measure it."));
    }
    let xs = points.iter().map(|point| point.x_mm).chain(outline.iter().map(|[x, _]| *x));
    let reach = xs.fold(0.0_f64, |reach, x| reach.max(x).max(-wheels.wheelbase_mm - x));
    let lead_mm = wheels.wheelbase_mm + reach + LEAD_MM;
    let profile = ground.profile(lead_mm).ok_or_else(|| {
        Problem::new("the ground has no length", "Read one station every 300 to 500 mm along the string.")
    })?;
    let profile = faced(profile, facing);
    Ok(Drive {
        ramp: Ramp { wheels, points, outline, ground: profile.ground, step_mm: STEP_MM, allowance_mm: KEPT_MM },
        known: profile.known,
        car,
        ground,
        facing,
        lead_mm,
    })
}

/// The frame rail from its front marks to its rear ones, with a corner where it is cut.
fn outline(car: &AtStance<'_>) -> Vec<[f64; 2]> {
    let Some([front, rear]) = car.rail else { return Vec::new() };
    let bends = &car.changed.bends;
    let [x0, x1] = [front.0, rear.0];
    // As the straight frame would stand.
    let [z0, z1] = [front, rear].map(|(x, z)| z.value - bends.rise_mm(x).value);
    let at = |x: f64| [x, z0 + (z1 - z0) * (x - x0) / (x1 - x0) + bends.rise_mm(x).value];
    let mut corners = vec![[x0, front.1.value]];
    let mut cuts: Vec<f64> = bends.places_mm().filter(|x| *x < x0 && *x > x1).collect();
    cuts.sort_by(|a, b| b.total_cmp(a));
    corners.extend(cuts.into_iter().map(at));
    corners.push([x1, rear.1.value]);
    corners
}

/// Low points with names of their own.
fn points(car: &AtStance<'_>) -> Vec<Point> {
    let mut names = BTreeSet::from(["outline".to_owned()]);
    let points = car.vehicle.clearance_points.iter().map(|point| {
        let label = point.called();
        let mut id = label.to_owned();
        let mut again = 2;
        while !names.insert(id.clone()) {
            id = format!("{label} {again}");
            again += 1;
        }
        Point {
            id,
            x_mm: point.x_mm,
            z_mm: car.height_of(point).value,
            attach: match point.attach {
                Attached::Body | Attached::Frame => Attach::Body,
                Attached::FrontAxle => Attach::FrontAxle,
                Attached::RearAxle => Attach::RearAxle,
            },
        }
    });
    points.collect()
}

/// Turned end for end where the car is backed in.
fn faced(profile: Profile, facing: Facing) -> Profile {
    if facing == Facing::NoseFirst {
        return profile;
    }
    let turned: Vec<[f64; 2]> = profile.ground.corners().map(|[s, z]| [-s, z]).collect();
    let known = [-profile.known[1], -profile.known[0]];
    Profile { ground: Ground::new(turned.into_iter().rev()), known }
}

impl Drive<'_> {
    /// Drives it and finds where it comes nearest.
    ///
    /// # Errors
    /// No point is ever over the ground.
    pub fn over(&self) -> Result<OverGround, Problem> {
        let run = ramp::drive(&self.ramp).map_err(refused)?;
        let nowhere = || Problem::new("the car has no place on the ground", "Look at its wheelbase and its tires.");
        let place = ramp::place(&self.ramp, &run.point, run.front_axle_at_mm).ok_or_else(nowhere)?;
        let (car, ground) = (self.car_u(&run, &place), self.ground_u(&run, &place));
        let gap = Quantity::new(place.gap_mm, car.hypot(ground));
        let ends = [place.wheels[0][0], place.wheels[1][0], place.at[0]];
        Ok(OverGround {
            gap,
            car_u_mm: car,
            ground_u_mm: ground,
            verdict: Verdict::clearing(gap, 0.0),
            front_axle_at_mm: self.on_ground(run.front_axle_at_mm),
            // A typed ground is level before and behind by its kind.
            beyond_measured: self.ground.string.is_some()
                && ends.iter().any(|s| !(self.known[0]..=self.known[1]).contains(s)),
            run,
            place,
        })
    }

    /// A place of the run counted as the ground is driven in, mm.
    pub fn on_ground(&self, s: f64) -> f64 {
        if self.facing == Facing::NoseFirst { s } else { -s }
    }

    /// What the point or the rail is called.
    pub fn called<'n>(&self, name: &'n str) -> &'n str {
        if name == "outline" { RAIL } else { name }
    }

    /// Height of the point, and what its place along the car does on ground that rises otherwise than the car.
    fn car_u(&self, run: &Run, place: &Place) -> f64 {
        let height = if run.point == "outline" {
            self.car.rail.map_or(0.0, |rail| rail.map(|(_, z)| z.u).into_iter().fold(0.0, f64::max))
        } else {
            let at = self.ramp.points.iter().position(|point| point.id == run.point).unwrap_or(0);
            let described = &self.car.vehicle.clearance_points[at];
            self.car.height_of(described).u
        };
        let ground = &self.ramp.ground;
        let level = |s: f64| ground.height(s, &mut 0);
        let rises = level(place.at[0] - POINT_X_U_MM).zip(level(place.at[0] + POINT_X_U_MM));
        let slope = rises.map_or(0.0, |(a, b)| (b - a) / (2.0 * POINT_X_U_MM));
        let along = if run.point == "outline" { 0.0 } else { POINT_X_U_MM };
        height.hypot(along * (slope - Angle::deg(place.nose_up_deg).tan()))
    }

    /// Every station, the sag and the slope moved by themselves; and what the ground does between stations, under both wheels and the point.
    fn ground_u(&self, run: &Run, place: &Place) -> f64 {
        let mut square = 0.0;
        for (source, u) in self.ground.sources() {
            let by = if source == Source::Slope { NUDGE_DEG } else { NUDGE_MM };
            let Some(profile) = self.ground.moved(self.lead_mm, Some((source, by))) else { continue };
            let moved = Ramp { ground: faced(profile, self.facing).ground, ..self.ramp.clone() };
            let Some(there) = ramp::place(&moved, &run.point, run.front_axle_at_mm) else { continue };
            square += ((there.gap_mm - place.gap_mm) / by * u).powi(2);
        }
        let back = (place.wheels[0][0] - place.at[0]) / (place.wheels[0][0] - place.wheels[1][0]);
        let parts = [(place.at[0], 1.0), (place.wheels[0][0], 1.0 - back), (place.wheels[1][0], back)];
        for (s, part) in parts {
            square += (part * self.ground.between_u_mm(self.on_ground(s))).powi(2);
        }
        square.sqrt()
    }
}

/// A refusal of the bench sum as one of the engine.
fn refused(refusal: crate::bench::Refusal) -> Problem {
    Problem::new(refusal.message.trim_end_matches('.').to_owned(), refusal.hint)
}
