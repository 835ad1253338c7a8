//! The car at one place of its run: where a point of it stands, and how far over the ground; and one point all along the run.

use super::gaps::{Part, Scene};
use super::pose::{Pose, pose_at};
use super::{Ground, Ramp};

/// A part of the car at one place of the run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Straight down to the ground, mm; below 0 where it is in it.
    pub gap_mm: f64,
    /// Where on the car it comes nearest: ahead of the front axle, above level ground, mm.
    pub on_car: [f64; 2],
    /// Where that stands now `[s, z]`, mm.
    pub at: [f64; 2],
    /// The wheel centres now `[s, z]`, front and rear, mm.
    pub wheels: [[f64; 2]; 2],
    /// How much nose-up it stands against level ground, degrees.
    pub nose_up_deg: f64,
}

/// A point, or `outline`, with the front wheel centre at `front_s`; `None` where the wheels have no place or it is not over the ground.
pub fn place(ramp: &Ramp, name: &str, front_s: f64) -> Option<Place> {
    let pose = pose_at(&ramp.ground, &ramp.wheels, front_s)?;
    let radius = ramp.wheels.front_radius_mm;
    let part = ramp.parts().find(|part| part.name() == name)?;
    let (gap_mm, on_car) = match part {
        Part::Point(point) => {
            let on_car = [point.x_mm, point.z_mm];
            (over(&ramp.ground, &pose, on_car, radius)?, on_car)
        }
        Part::Outline(corners) => lowest_of_line(&ramp.ground, &pose, corners, radius)?,
    };
    let at = pose.carry(on_car[0], on_car[1] - radius);
    let rear = pose.carry(
        -(ramp.wheels.wheelbase_mm.powi(2) - (radius - ramp.wheels.rear_radius_mm).powi(2)).sqrt(),
        ramp.wheels.rear_radius_mm - radius,
    );
    Some(Place {
        gap_mm,
        on_car,
        at: [at.0, at.1],
        wheels: [[pose.front_s, pose.front_z], [rear.0, rear.1]],
        nose_up_deg: libm::atan2(pose.sin, pose.cos).to_degrees(),
    })
}

fn over(ground: &Ground, pose: &Pose, [x, z]: [f64; 2], radius: f64) -> Option<f64> {
    let (s, height) = pose.carry(x, z - radius);
    Some(height - ground.height(s, &mut 0)?)
}

fn lowest_of_line(ground: &Ground, pose: &Pose, corners: &[[f64; 2]], radius: f64) -> Option<(f64, [f64; 2])> {
    let ends = corners.iter().filter_map(|corner| Some((over(ground, pose, *corner, radius)?, *corner)));
    let between = corners.windows(2).flat_map(|line| {
        let [a, b] = [line[0], line[1]].map(|[x, z]| pose.carry(x, z - radius));
        let part = move |s: f64| (s - a.0) / (b.0 - a.0);
        let inside = ground.corners().filter(move |[s, _]| part(*s) > 0.0 && part(*s) < 1.0);
        inside.map(move |[s, z]| {
            let part = part(s);
            let on_car = [0, 1].map(|i| line[0][i] + part * (line[1][i] - line[0][i]));
            (a.1 + part * (b.1 - a.1) - z, on_car)
        })
    });
    ends.chain(between).min_by(|a, b| a.0.total_cmp(&b.0))
}

/// The gap of a point, or of `outline`, all along the run: `[s of the front wheel centre, gap]`, mm.
pub fn curve(ramp: &Ramp, name: &str) -> Vec<[f64; 2]> {
    let scene = Scene::of(ramp);
    let Some(part) = ramp.parts().find(|part| part.name() == name) else { return Vec::new() };
    let gaps = part.gaps(&scene, 0.0, f64::INFINITY);
    let all = scene.poses.iter().zip(gaps.all()).filter(|(_, gap)| gap.is_finite());
    all.map(|(pose, gap)| [pose.front_s, *gap]).collect()
}
