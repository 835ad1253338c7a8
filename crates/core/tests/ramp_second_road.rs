//! A second road to the ramp's answer: exact distances to circles and lines by a general geometry library, on random ground.
#![expect(clippy::unwrap_used, reason = "a test stops where it stands")]

use geo::line_intersection::{LineIntersection, line_intersection};
use geo::{Coord, Distance, Euclidean, Line, LineString, Point};
use proptest::prelude::*;
use std::fmt::Write as _;
use trueground_core::checks::ramp::{Ramp, drive};

/// A car and a ground in plain numbers.
#[derive(Debug, Clone)]
struct Case {
    wheelbase: f64,
    radii: [f64; 2],
    points: Vec<[f64; 2]>,
    outline: Vec<[f64; 2]>,
    profile: Vec<[f64; 2]>,
    step: f64,
}

impl Case {
    fn json(&self) -> String {
        let mut points = String::new();
        for (i, [x, z]) in self.points.iter().enumerate() {
            let comma = if i == 0 { "" } else { "," };
            let _ = write!(points, r#"{comma}{{"id": "p{i}", "x_mm": {x}, "z_mm": {z}}}"#);
        }
        let pairs = |pairs: &[[f64; 2]]| format!("{pairs:?}");
        format!(
            r#"{{"wheelbase_mm": {}, "front_radius_mm": {}, "rear_radius_mm": {}, "points": [{points}], "outline": {},
            "profile": {}, "step_mm": {}, "allowance_mm": 25}}"#,
            self.wheelbase,
            self.radii[0],
            self.radii[1],
            pairs(&self.outline),
            pairs(&self.profile),
            self.step
        )
    }

    fn ground(&self) -> LineString {
        self.profile.iter().map(|[s, z]| Coord { x: *s, y: *z }).collect()
    }

    /// Height of a wheel's centre at `s`: let down from above until it is one radius from the ground. The distance tells how far
    /// it may come down without going through.
    fn centre(&self, ground: &LineString, radius: f64, s: f64) -> f64 {
        let highest = self.profile.iter().map(|[_, z]| *z).fold(f64::MIN, f64::max);
        let mut z = highest + radius + 1.0;
        for _ in 0..20_000 {
            let free = Euclidean.distance(&Point::new(s, z), ground) - radius;
            if free < 1e-9 {
                break;
            }
            z -= free;
        }
        z
    }

    /// Both wheel centres with the front one over `s`, if both are on the ground.
    fn wheels(&self, ground: &LineString, s: f64) -> Option<[Coord; 2]> {
        let front = Coord { x: s, y: self.centre(ground, self.radii[0], s) };
        let begin = self.profile[0][0];
        let off = |at: f64| {
            let rear = Coord { x: at, y: self.centre(ground, self.radii[1], at) };
            (Euclidean.distance(front, rear) - self.wheelbase, rear)
        };
        let (mut far, mut near) = ((s - self.wheelbase).max(begin), s);
        if off(far).0 < 0.0 {
            return None;
        }
        for _ in 0..60 {
            let middle = f64::midpoint(far, near);
            if off(middle).0 > 0.0 { far = middle } else { near = middle }
        }
        let (rest, rear) = off(far);
        (rest.abs() < 1e-6).then_some([front, rear])
    }

    /// Least gap of all points and of the outline with the wheels there; infinite where nothing is over the ground.
    fn gap(&self, ground: &LineString, [front, rear]: [Coord; 2]) -> f64 {
        let (rise, run) = (front.y - rear.y, front.x - rear.x);
        let level_rise = self.radii[0] - self.radii[1];
        let level_run = (self.wheelbase.powi(2) - level_rise.powi(2)).sqrt();
        let turn = libm::atan2(rise, run) - libm::atan2(level_rise, level_run);
        let (sin, cos) = (libm::sin(turn), libm::cos(turn));
        let carry = |[x, z]: [f64; 2]| {
            let up = z - self.radii[0];
            Coord { x: front.x + x * cos - up * sin, y: front.y + x * sin + up * cos }
        };
        let mut least = f64::INFINITY;
        for point in &self.points {
            let at = carry(*point);
            if let Some(height) = height(ground, at.x) {
                least = least.min(at.y - height);
            }
        }
        for line in self.outline.windows(2) {
            let line = Line::new(carry(line[0]), carry(line[1]));
            for end in [line.start, line.end] {
                if let Some(height) = height(ground, end.x) {
                    least = least.min(end.y - height);
                }
            }
            for corner in &self.profile {
                let upright = Line::new(Coord { x: corner[0], y: -1e5 }, Coord { x: corner[0], y: 1e5 });
                if let Some(LineIntersection::SinglePoint { intersection, .. }) = line_intersection(line, upright) {
                    least = least.min(intersection.y - corner[1]);
                }
            }
        }
        least
    }
}

/// Height of the ground: where a plumb line meets it.
fn height(ground: &LineString, s: f64) -> Option<f64> {
    let plumb = Line::new(Coord { x: s, y: -1e5 }, Coord { x: s, y: 1e5 });
    let meets = ground.lines().filter_map(|line| line_intersection(line, plumb)).map(|met| match met {
        LineIntersection::SinglePoint { intersection, .. } => intersection.y,
        LineIntersection::Collinear { intersection } => intersection.start.y.max(intersection.end.y),
    });
    meets.max_by(f64::total_cmp)
}

/// Ground of up to 14 corners, some of them kerbs, hardly ever over a tenth of steep.
fn profile() -> impl Strategy<Value = Vec<[f64; 2]>> {
    let stretch = (150.0..900.0_f64, -70.0..70.0_f64, prop_oneof![4 => Just(0.0), 1 => -90.0..90.0_f64]);
    prop::collection::vec(stretch, 5..12).prop_map(|stretches| {
        let mut corners = vec![[0.0, 0.0], [1500.0, 0.0]];
        for (run, rise, kerb) in stretches {
            let [s, z] = corners[corners.len() - 1];
            corners.push([s + run, z + rise]);
            if kerb != 0.0 {
                corners.push([s + run, z + rise + kerb]);
            }
        }
        let [s, z] = corners[corners.len() - 1];
        corners.push([s + 3000.0, z]);
        corners
    })
}

/// Ground as a scanner gives it: corner by corner every 15 mm, waves with hollows tighter than a wheel, and kerbs.
fn dense_profile() -> impl Strategy<Value = Vec<[f64; 2]>> {
    (60.0..400.0_f64, 1.0..25.0_f64, 0.0..6.3_f64, 300..420_usize, -80.0..80.0_f64).prop_map(
        |(wave, high, phase, corners, kerb)| {
            let height = |s: f64| high * libm::sin(s / wave + phase) + 3.0 * libm::sin(s / 23.0);
            let corner = |i: usize| {
                let s = 15.0 * i as f64;
                [s, height(s) + if i > 240 { kerb } else { 0.0 }]
            };
            (0..corners).map(corner).collect()
        },
    )
}

fn case(profile: impl Strategy<Value = Vec<[f64; 2]>>, step: std::ops::Range<f64>) -> impl Strategy<Value = Case> {
    let points = prop::collection::vec((-3300.0..700.0_f64, 90.0..300.0_f64).prop_map(|(x, z)| [x, z]), 1..5);
    let outline = prop::collection::vec((-3000.0..500.0_f64, 110.0..260.0_f64).prop_map(|(x, z)| [x, z]), 2..5);
    (1900.0..2900.0_f64, 240.0..390.0_f64, 240.0..390.0_f64, points, outline, profile, step).prop_map(
        |(wheelbase, front, rear, points, outline, profile, step)| Case {
            wheelbase,
            radii: [front, rear],
            points,
            outline,
            profile,
            step,
        },
    )
}

/// Both roads over one case.
fn both_agree(case: &Case) -> Result<(), TestCaseError> {
    let run = drive(&Ramp::read(&case.json()).unwrap()).unwrap();
    let ground = case.ground();
    let end = case.profile[case.profile.len() - 1][0];
    let (mut least, mut at, mut positions) = (f64::INFINITY, 0.0, 0);
    for i in 0_u32.. {
        let s = case.step * f64::from(i);
        if s > end {
            break;
        }
        let Some(wheels) = case.wheels(&ground, s) else { continue };
        positions += 1;
        let gap = case.gap(&ground, wheels);
        if gap < least {
            (least, at) = (gap, s);
        }
    }
    prop_assert_eq!(run.positions, positions);
    let ours = run.min_gap_mm;
    prop_assert!((ours - least).abs() < 1e-5, "ours {ours} at {}, exact {least} at {at}", run.front_axle_at_mm);
    prop_assert_eq!(run.touches.is_empty(), least >= 25.0);
    if least < 24.9 {
        let deepest = run.touches.iter().map(|touch| touch.deepest_mm).fold(f64::MIN, f64::max);
        prop_assert!((deepest - (25.0 - least)).abs() < 1e-5);
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_least_gap_is_that_of_exact_circles_and_lines(case in case(profile(), 150.0..400.0)) {
        both_agree(&case)?;
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn on_ground_of_many_corners_too(case in case(dense_profile(), 300.0..500.0)) {
        both_agree(&case)?;
    }
}
