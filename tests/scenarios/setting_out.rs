//! A target set out on simulated floors: what the tape is told to read is what it would read if the car stood as wanted, and a car
//! that was brought there measures as the target; as first and turned end for end.

use crate::simulator::{Car, Ground, Noise, Work, measure, normal, seeded};
use rand::Rng;
use serde_json::json;
use std::collections::BTreeMap;
use trueground_core::capture::{Facing, Snapshot};
use trueground_core::compare::{Load, Stance, Target, Verdict, compare};
use trueground_core::level::{Options, solve};
use trueground_core::setout::{Wanted, set_out};
use trueground_core::stance::Known;

const LEVELLED: Work = Work {
    passes: 2,
    level_under_marks: false,
    both_facings: false,
    bounces: 1,
    rounds: 1,
    gauge: false,
    roll_share_u: Some(0.06),
};

/// A car on a levelled floor; what is wanted of it: front and rear moved from where it stands; and what the tape would read then, by
/// the simulator alone: level height, what the body follows of the floor, less the floor below.
fn case(seed: u64, facing: Facing) -> (trueground_core::capture::CarFile, Target, BTreeMap<String, f64>) {
    let mut rng = seeded(seed);
    let car = Car::random(&mut rng);
    let twist = rng.random_range(-40.0..40.0);
    let ground = Ground::random(&mut rng, twist);
    let (front, rear) = (rng.random_range(-60.0..20.0), rng.random_range(-60.0..20.0));
    let file = measure(&mut rng, &car, &ground, &Noise::usual(), &LEVELLED).file;
    let wheel = |corner: usize| {
        let (x, track) = if corner < 2 { (0.0, car.front.track) } else { (-car.wheelbase, car.rear.track) };
        (x, if corner.is_multiple_of(2) { track / 2.0 } else { -track / 2.0 })
    };
    // Turned end for end every place of the car lies over the opposite one of the floor.
    let over = |x: f64, y: f64| if facing == Facing::B { (-car.wheelbase - x, -y) } else { (x, y) };
    let under: [f64; 4] = std::array::from_fn(|corner| {
        let (x, y) = wheel(corner);
        let (x, y) = over(x, y);
        ground.elevation(&car, x, y)
    });
    let at_rest = car.stand(under);
    let mut target = Target { label: "wanted".to_owned(), ..Target::default() };
    let mut truth = BTreeMap::new();
    for (name, _, _, x, y, level) in &car.points {
        let along = -x / car.wheelbase;
        let wanted = level + front * (1.0 - along) + rear * along;
        let follows = at_rest.front * (1.0 - along) + at_rest.rear * along + at_rest.roll * y;
        target.heights_mm.insert(name.clone(), wanted);
        let (floor_x, floor_y) = over(*x, *y);
        truth.insert(name.clone(), wanted + follows - ground.elevation(&car, floor_x, floor_y));
    }
    (file, target, truth)
}

#[test]
fn the_tape_is_told_what_it_would_read() {
    let mut errors = Vec::new();
    for seed in 50_000..50_150 {
        let facing = if seed % 2 == 0 { Facing::A } else { Facing::B };
        let (file, target, truth) = case(seed, facing);
        let set_out = set_out(&file, "f", facing, Wanted::Target(&target)).expect("set out");
        for (point, reading) in &set_out.readings {
            assert_eq!(reading.known, Known::Measured, "seed {seed} {point}");
            let (value, u) = (reading.value.expect("a value"), reading.u.expect("a u"));
            assert!(u < 6.0, "seed {seed} {point}: u {u}");
            errors.push((value - truth[point]) / u);
        }
    }
    let inside = errors.iter().filter(|error| error.abs() <= 2.0).count() as f64 / errors.len() as f64;
    assert!((0.91..=0.995).contains(&inside), "{inside} of {} inside ±2u", errors.len());
}

#[test]
fn a_car_that_reads_what_was_set_out_measures_as_the_target() {
    let (mut inside, mut all, mut off) = (0, 0, 0);
    for seed in 60_000..60_060 {
        let facing = if seed % 2 == 0 { Facing::A } else { Facing::B };
        let (mut file, target, _) = case(seed, facing);
        let told = set_out(&file, "f", facing, Wanted::Target(&target)).expect("set out").readings;
        // Brought there and read again: two bounces of two rounds, each reading with the tape's own noise and rounding.
        let mut rng = seeded(seed + 1_000_000);
        let bounces: Vec<_> = (1..=2)
            .map(|bounce| {
                let readings: Vec<_> = (1..=2)
                    .flat_map(|round| told.iter().map(move |told| (round, told)))
                    .map(|(round, (point, reading))| {
                        let read = (reading.value.expect("a value") + normal(&mut rng, 1.2)).round();
                        json!({"ref": point, "repeat": round, "text": format!("{read}"), "unit": "mm", "value_mm": read})
                    })
                    .collect();
                json!({"bounce_id": format!("c.{bounce}"), "readings": readings})
            })
            .collect();
        let snapshot = json!({"id": "c", "date": "2031-06-01", "floor": "f", "facing": facing, "bounces": bounces});
        file.snapshots = vec![serde_json::from_value::<Snapshot>(snapshot).expect("a snapshot")];
        let solution = solve(&file, &Options::default()).expect("adjustable");
        for (point, figure) in &solution.snapshots[0].heights {
            let (value, u) = (figure.value.expect("a value"), figure.u.expect("a u"));
            all += 1;
            inside += usize::from((value - target.heights_mm[point]).abs() <= 2.0 * u);
        }
        let comparison = compare(&file, &solution, Stance::Measured("c"), Stance::Target(&target), Load::Nominal)
            .expect("points in common");
        off += comparison.differences.values().filter(|difference| difference.verdict == Verdict::Off).count();
    }
    // Survey and roll share are the same both times, so the target comes back nearer than its ± alone would have it.
    assert!(inside * 100 >= all * 98, "{inside} of {all} heights within 2u of the target");
    assert_eq!(off, 0, "nothing is off the target by more than the tolerance and 2u");
}
