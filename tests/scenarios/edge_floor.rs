//! A floor levelled with a straightedge and an angle gauge across both axles: honest about the car and about the floor's twist.

use crate::simulator::{Car, Ground, Noise, Work, measure, normal, seeded};
use rand::Rng;
use serde_json::json;
use trueground_core::level::{Options, solve};
use trueground_core::stance::Known;

const WORK: Work = Work {
    passes: 0,
    level_under_marks: false,
    both_facings: false,
    bounces: 2,
    rounds: 2,
    gauge: false,
    roll_share_u: Some(0.06),
};

/// One reading of the gauge, degrees: what its steps, the bar and the hand leave.
const GAUGE_DEG: f64 = 0.1;

#[test]
fn a_straightedge_across_both_axles_tells_twist_and_corners_within_their_bands() {
    let (mut heights, mut twists) = (Vec::new(), Vec::new());
    for seed in 40_000..40_150 {
        let mut rng = seeded(seed);
        let car = Car::random(&mut rng);
        let twist = rng.random_range(-40.0..40.0);
        let ground = Ground::random(&mut rng, twist);
        let simulated = measure(&mut rng, &car, &ground, &Noise::usual(), &WORK);
        // The gauge has a zero of its own, which turning it end for end takes out.
        let zero = normal(&mut rng, 0.2);
        let mut readings = Vec::new();
        for (from, to, x, track) in [("S1", "S2", 0.0, car.front.track), ("S3", "S4", -car.wheelbase, car.rear.track)] {
            let higher = ground.elevation(&car, x, track / 2.0) - ground.elevation(&car, x, -track / 2.0);
            let tilt = libm::asin(higher / track).to_degrees();
            for reversed in [false, true] {
                let read = tilt + if reversed { -zero } else { zero } + normal(&mut rng, GAUGE_DEG);
                let read = (read * 100.0).round() / 100.0;
                readings.push(json!({"from": from, "to": to, "angle_deg": read, "reversed": reversed}));
            }
        }
        let mut file = simulated.file.clone();
        let survey = json!({"method": "straightedge", "straightedge": readings});
        file.floors[0].survey = Some(serde_json::from_value(survey).expect("a survey"));
        let solved = solve(&file, &Options::default()).expect("adjustable");
        let stance = &solved.snapshots[0];
        for (id, figure) in &stance.heights {
            assert_ne!(figure.known, Known::Undetermined, "seed {seed} {id}");
            let error = figure.value.expect("a value") - simulated.heights[id];
            heights.push(error / figure.u.expect("a u"));
        }
        let found = stance.floor.twist_mm;
        twists.push((found.value.expect("a value") - simulated.twist) / found.u.expect("a u"));
    }
    for (what, errors) in [("heights", heights), ("twists", twists)] {
        let inside = errors.iter().filter(|error| error.abs() <= 2.0).count() as f64 / errors.len() as f64;
        assert!((0.9..=0.995).contains(&inside), "{what}: {inside} of {} inside ±2u", errors.len());
    }
}
