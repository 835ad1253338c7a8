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

/// How many snapshots are simulated, each once clean and once with a slip.
const SNAPSHOTS: u64 = 1_000;

/// What was found in one simulated snapshot.
#[derive(Clone, Copy, Default)]
struct Found {
    slips: usize,
    alarms: usize,
}

#[test]
fn a_slip_is_found_and_left_out_and_clean_snapshots_stay_quiet() {
    let workers = std::thread::available_parallelism().map_or(2, |cores| cores.get() as u64);
    let mut found = Found::default();
    std::thread::scope(|scope| {
        let part = |first: u64| (first..SNAPSHOTS).step_by(workers as usize).map(once).collect::<Vec<Found>>();
        let parts: Vec<_> = (0..workers).map(|first| scope.spawn(move || part(first))).collect();
        for each in parts.into_iter().flat_map(|part| part.join().expect("a worker that ends")) {
            found.slips += each.slips;
            found.alarms += each.alarms;
        }
    });
    let of = SNAPSHOTS as usize;
    assert!(found.slips * 100 >= 95 * of, "{} of {of} slips found", found.slips);
    assert!(found.alarms * 100 <= 5 * of, "{} alarms on {of} clean snapshots", found.alarms);
}

/// One car on one floor, read clean, and the same readings with one slip of 12 mm or more in one of them.
fn once(seed: u64) -> Found {
    let mut rng = seeded(10_000 + seed);
    let car = Car::random(&mut rng);
    let twist = rng.random_range(-40.0..40.0);
    let ground = Ground::random(&mut rng, twist);
    let clean = measure(&mut rng, &car, &ground, &Noise::usual(), &WORK).file;
    let quiet = solve(&clean, &Options::default()).expect("adjustable");
    let alarms = usize::from(quiet.snapshots[0].doubtful.iter().any(|doubtful| !doubtful.used));

    let mut slipped = clean;
    let (bounce, reading) = (rng.random_range(0..2), rng.random_range(0..24));
    let id = slipped.snapshots[0].bounces[bounce].bounce_id.clone();
    let wrong = &mut slipped.snapshots[0].bounces[bounce].readings[reading];
    wrong.value_mm = slip(wrong.value_mm, rng.random_range(0..8));
    wrong.text = format!("{}", wrong.value_mm);
    let (point, repeat) = (wrong.point.clone(), wrong.repeat);
    let solution = solve(&slipped, &Options::default()).expect("adjustable");
    let doubtful = &solution.snapshots[0].doubtful;
    let named = doubtful.iter().find(|d| d.point == point && d.reading == repeat && d.bounce.as_ref() == Some(&id));
    Found { slips: usize::from(named.is_some_and(|d| !d.used)), alarms }
}

/// An inch, half an inch or 100 mm either way, or two neighbouring digits exchanged; a number whose digits are nearly alike is
/// read an inch or half an inch wrong instead.
fn slip(read_mm: f64, kind: usize) -> f64 {
    let exchanged = |at: usize| {
        let mut digits = format!("{read_mm:.0}").into_bytes();
        digits.swap(at, at + 1);
        String::from_utf8(digits).expect("digits").parse::<f64>().expect("a number")
    };
    match kind {
        0 => read_mm + 25.4,
        1 => read_mm - 25.4,
        2 => read_mm + 12.7,
        3 => read_mm - 12.7,
        4 => read_mm + 100.0,
        5 => read_mm - 100.0,
        _ => {
            let other = exchanged(kind - 6);
            if (other - read_mm).abs() >= 12.0 { other } else { read_mm + 12.7 * (kind - 5) as f64 }
        }
    }
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
