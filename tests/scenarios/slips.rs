//! Blunders: one slip among clean readings is found and named, and clean readings raise no alarm.

use crate::simulator::{Car, Ground, Noise, Work, measure, seeded};
use rand::Rng;
use trueground_core::level::{Options, solve};

/// Readings that other readings check: three rounds in each of two bounces on a levelled floor.
const WORK: Work = Work {
    passes: 2,
    level_under_marks: false,
    both_facings: false,
    bounces: 2,
    rounds: 3,
    gauge: false,
    roll_share_u: Some(0.06),
};

#[test]
fn a_slip_is_found_and_left_out_and_clean_snapshots_stay_quiet() {
    let (mut found, mut alarms) = (0, 0);
    let count = 300;
    for seed in 0..count {
        let mut rng = seeded(10_000 + seed);
        let car = Car::random(&mut rng);
        let twist = rng.random_range(-40.0..40.0);
        let ground = Ground::random(&mut rng, twist);
        let clean = measure(&mut rng, &car, &ground, &Noise::usual(), &WORK).file;
        let quiet = solve(&clean, &Options::default()).expect("adjustable");
        alarms += usize::from(quiet.snapshots[0].doubtful.iter().any(|doubtful| !doubtful.used));

        let mut slipped = clean.clone();
        let (bounce, reading) = (rng.random_range(0..2), rng.random_range(0..24));
        let slip = [25.4, -25.4, 12.7, -12.7, 20.0, -15.0][rng.random_range(0..6)];
        let wrong = &mut slipped.snapshots[0].bounces[bounce].readings[reading];
        wrong.value_mm += slip;
        wrong.text = format!("{}", wrong.value_mm);
        let (point, repeat) = (wrong.point.clone(), wrong.repeat);
        let id = slipped.snapshots[0].bounces[bounce].bounce_id.clone();
        let solution = solve(&slipped, &Options::default()).expect("adjustable");
        let doubtful = &solution.snapshots[0].doubtful;
        let named = doubtful.iter().find(|d| d.point == point && d.reading == repeat && d.bounce.as_ref() == Some(&id));
        found += usize::from(named.is_some_and(|d| !d.used));
    }
    assert!(found * 100 >= 95 * count as usize, "{found} of {count} slips found");
    assert!(alarms * 100 <= 5 * count as usize, "{alarms} alarms on {count} clean snapshots");
}

/// A statement that the readings contradict is dropped and named; no clean reading is doubted for its sake.
#[test]
fn a_wrong_statement_is_doubted_before_any_reading() {
    for seed in 0..20 {
        let mut rng = seeded(20_000 + seed);
        let car = Car::random(&mut rng);
        let ground = Ground::random(&mut rng, 30.0);
        let clean = measure(&mut rng, &car, &ground, &Noise::usual(), &WORK).file;
        let truth = solve(&clean, &Options::default()).expect("adjustable");

        let mut stated = clean.clone();
        stated.floors[0].flat_to_mm = Some(1.0);
        let levelled = solve(&stated, &Options::default()).expect("adjustable");
        assert_eq!(
            levelled.snapshots[0].floor.twist_mm, truth.snapshots[0].floor.twist_mm,
            "a levelled floor needs no word"
        );

        let mut stated = clean.clone();
        let twist = serde_json::from_value(serde_json::json!({"value": 40.0, "u": 1.0})).expect("an estimate");
        stated.vehicle.known_twist_mm.insert(trueground_core::car::PointKind::FrameRail, twist);
        let solution = solve(&stated, &Options::default()).expect("adjustable");
        let doubtful = &solution.snapshots[0].doubtful;
        let named = doubtful.iter().find(|doubtful| doubtful.point == "known_twist_mm.frame_rail").expect("named");
        assert!(!named.used, "{named:?}");
        let readings = |solution: &trueground_core::level::Solution| {
            let doubtful = &solution.snapshots[0].doubtful;
            doubtful.iter().filter(|d| !d.used && !d.point.starts_with("known_twist")).count()
        };
        assert_eq!(readings(&solution), readings(&truth), "seed {seed}: {doubtful:?}");
    }
}
