//! A second road to bump steer: every ball a point with its distances to others kept, solved numerically without any angle.
#![expect(clippy::unwrap_used, reason = "a test stops where it stands")]

use nalgebra::{DMatrix, DVector, Vector3};
use proptest::prelude::*;
use trueground_core::checks::bumpsteer::{Linkage, work_out};

type Place = Vector3<f64>;

/// Points to be found, what each must keep, and where to begin.
struct Bars {
    points: Vec<Place>,
    keeps: Vec<Keep>,
}

enum Keep {
    /// Distance of a found point to a fixed place.
    ToPlace(usize, Place, f64),
    /// Distance of two found points.
    ToPoint(usize, usize, f64),
    /// Height of a found point.
    Height(usize, f64),
}

impl Bars {
    fn errors(&self, at: &DVector<f64>) -> DVector<f64> {
        let point = |i: usize| Vector3::new(at[3 * i], at[3 * i + 1], at[3 * i + 2]);
        let error = |keep: &Keep| match keep {
            Keep::ToPlace(i, place, distance) => (point(*i) - place).norm() - distance,
            Keep::ToPoint(i, j, distance) => (point(*i) - point(*j)).norm() - distance,
            Keep::Height(i, z) => point(*i).z - z,
        };
        DVector::from_iterator(self.keeps.len(), self.keeps.iter().map(error))
    }

    /// Newton with slopes by differences, from where the points begin.
    fn solve(&self) -> Vec<Place> {
        let mut at = DVector::from_iterator(3 * self.points.len(), self.points.iter().flat_map(|p| [p.x, p.y, p.z]));
        for _ in 0..50 {
            let errors = self.errors(&at);
            if errors.amax() < 1e-9 {
                break;
            }
            let mut slopes = DMatrix::zeros(self.keeps.len(), at.len());
            for i in 0..at.len() {
                let (mut more, mut less) = (at.clone(), at.clone());
                more[i] += 1e-4;
                less[i] -= 1e-4;
                slopes.set_column(i, &((self.errors(&more) - self.errors(&less)) / 2e-4));
            }
            at -= slopes.lu().solve(&errors).unwrap();
        }
        assert!(self.errors(&at).amax() < 1e-8, "the second road does not arrive");
        (0..self.points.len()).map(|i| Vector3::new(at[3 * i], at[3 * i + 1], at[3 * i + 2])).collect()
    }
}

/// A front end with a rod, mm.
#[derive(Debug, Clone)]
struct Case {
    pitman: Place,
    arm: Place,
    kingpin: Place,
    axis: Place,
    hub: Place,
    pivot: Place,
}

impl Case {
    fn json(&self, guide: &str) -> String {
        let place = |p: &Place| format!("[{}, {}, {}]", p.x, p.y, p.z);
        format!(
            r#"{{"pitman_ball": {}, "arm_ball": {}, "kingpin": {{"point": {}, "axis": {}}}, "hub": {}, "guide": {guide},
            "travel_mm": [-70, 60], "step_mm": 10}}"#,
            place(&self.pitman),
            place(&self.arm),
            place(&self.kingpin),
            place(&self.axis),
            place(&self.hub)
        )
    }

    /// The axle's points, carried: kingpin below, kingpin above, the arm's ball as if the wheel did not steer.
    fn steer_deg(&self, carried: [Place; 3], start: Place) -> (f64, Place) {
        let [low, high, still] = carried;
        let axis = (self.axis).normalize();
        let (k1, k2) = (self.kingpin, self.kingpin + axis * 400.0);
        let ball = Bars {
            points: vec![start],
            keeps: vec![
                Keep::ToPlace(0, low, (self.arm - k1).norm()),
                Keep::ToPlace(0, high, (self.arm - k2).norm()),
                Keep::ToPlace(0, self.pitman, (self.arm - self.pitman).norm()),
            ],
        }
        .solve()[0];
        let up = (high - low).normalize();
        let square = |p: Place| p - low - up * up.dot(&(p - low));
        let (before, after) = (square(still), square(ball));
        (libm::atan2(up.dot(&before.cross(&after)), before.dot(&after)).to_degrees(), ball)
    }

    /// The three points with the axle turned about the pivot until the hub has risen.
    fn on_the_rod(&self, travel: f64) -> [Place; 3] {
        let across = self.pivot + Vector3::new(0.0, 700.0, 0.0);
        let high = self.kingpin + self.axis.normalize() * 400.0;
        // A mark far below the others, so that no distance leaves a point free to swing through a plane they share.
        let mark = self.hub - Vector3::new(0.0, 0.0, 600.0);
        let mut points = vec![self.hub, mark, self.kingpin, high, self.arm];
        let mut keeps = vec![Keep::Height(0, self.hub.z + travel), Keep::ToPoint(1, 0, 600.0)];
        for (i, point) in points.iter().enumerate() {
            keeps.push(Keep::ToPlace(i, self.pivot, (point - self.pivot).norm()));
            keeps.push(Keep::ToPlace(i, across, (point - across).norm()));
            if i > 1 {
                keeps.push(Keep::ToPoint(i, 1, (point - mark).norm()));
            }
        }
        // Begun where a shift takes them, so that of two mirrored answers the right one is found.
        points.iter_mut().for_each(|point| point.z += travel * (point.x - self.pivot.x) / (self.hub.x - self.pivot.x));
        let found = Bars { points, keeps }.solve();
        [found[2], found[3], found[4]]
    }
}

fn near(x: f64, y: f64, z: f64, by: f64) -> impl Strategy<Value = Place> {
    (x - by..x + by, y - by..y + by, z - by..z + by).prop_map(|(x, y, z)| Vector3::new(x, y, z))
}

fn case() -> impl Strategy<Value = Case> {
    (
        near(-850.0, 500.0, 460.0, 60.0),
        near(0.0, 530.0, 410.0, 30.0),
        near(0.0, 640.0, 330.0, 20.0),
        (-0.15..0.05_f64, -0.05..0.2_f64).prop_map(|(x, y)| Vector3::new(x, y, 1.0)),
        near(0.0, 700.0, 330.0, 10.0),
        near(-980.0, 250.0, 300.0, 80.0),
    )
        .prop_map(|(pitman, arm, kingpin, axis, hub, pivot)| Case { pitman, arm, kingpin, axis, hub, pivot })
        // The link pulls nearly square to the arm, so that it reaches over the whole travel.
        .prop_filter("the link pulls across the arm", |case| {
            let axis = case.axis.normalize();
            let arm = case.arm - case.kingpin;
            let arm = arm - axis * axis.dot(&arm);
            let link = (case.arm - case.pitman).normalize();
            arm.norm() > 90.0 && arm.cross(&link).dot(&axis).abs() > 0.93 * arm.norm()
        })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_radius_rod_steers_as_its_distances_say(case in case()) {
        let p = case.pivot;
        let guide = format!(r#"{{"kind": "radius_rod", "pivot": [{}, {}, {}]}}"#, p.x, p.y, p.z);
        let answer = work_out(&Linkage::read(&case.json(&guide)).unwrap()).unwrap();
        prop_assert_eq!(answer.bump_steer_curve.len(), 14);
        for point in answer.bump_steer_curve {
            let carried = case.on_the_rod(point.travel_mm);
            let (steer, _) = case.steer_deg(carried, carried[2]);
            prop_assert!((point.steer_deg - steer).abs() < 1e-6, "{point:?}, by distances {steer}");
        }
    }

    #[test]
    fn rising_straight_and_on_a_leaf_steer_as_their_distances_say(case in case(), radius in 500.0..900.0_f64) {
        let high = case.kingpin + case.axis.normalize() * 400.0;
        let eye = [case.hub.x - 700.0, 300.0, case.hub.z + 60.0];
        for (leaf, guide) in [
            (false, r#"{"kind": "parallel"}"#.to_owned()),
            (true, format!(r#"{{"kind": "leaf", "eye": {eye:?}, "radius_mm": {radius}}}"#)),
        ] {
            for point in work_out(&Linkage::read(&case.json(&guide)).unwrap()).unwrap().bump_steer_curve {
                // On a leaf the axle stays on the circle round the eye's height.
                let forward = |up: f64| (radius * radius - up * up).sqrt();
                let x = if leaf { forward(point.travel_mm - 60.0) - forward(-60.0) } else { 0.0 };
                let shift = Vector3::new(x, 0.0, point.travel_mm);
                let (steer, _) = case.steer_deg([case.kingpin + shift, high + shift, case.arm + shift], case.arm + shift);
                prop_assert!((point.steer_deg - steer).abs() < 1e-6, "{point:?}, by distances {steer}");
            }
        }
    }

    #[test]
    fn no_other_height_of_the_pitman_ball_is_flatter(case in case(), by in prop_oneof![-60.0..-1.0_f64, 1.0..60.0_f64]) {
        let p = case.pivot;
        let guide = format!(r#"{{"kind": "radius_rod", "pivot": [{}, {}, {}]}}"#, p.x, p.y, p.z);
        let best = work_out(&Linkage::read(&case.json(&guide)).unwrap()).unwrap().best_pitman_ball;
        prop_assert!(best.rms_deg <= best.rms_now_deg);
        let rms = |z: f64| {
            let moved = Case { pitman: Vector3::new(case.pitman.x, case.pitman.y, z), ..case.clone() };
            work_out(&Linkage::read(&moved.json(&guide)).unwrap()).unwrap().best_pitman_ball.rms_now_deg
        };
        prop_assert!((rms(best.z_mm) - best.rms_deg).abs() < 1e-9);
        prop_assert!(rms(best.z_mm + by) >= best.rms_deg, "{best:?} and {by} mm beside it");
    }
}
