//! Two levelled floors with different twist tell how the car shares a twist between its axles.

use crate::simulator::{Car, Ground, Noise, Work, measure, seeded};
use trueground_core::capture::CarFile;
use trueground_core::level::{Options, solve};
use trueground_core::stance::Known;

const WORK: Work = Work {
    passes: 2,
    level_under_marks: true,
    both_facings: false,
    bounces: 3,
    rounds: 2,
    gauge: false,
    roll_share_u: None,
};

/// The same car on the same day on one floor, then on a second one.
fn one_and_two_floors(seed: u64) -> (CarFile, CarFile, f64) {
    let mut rng = seeded(seed);
    let car = Car::random(&mut rng);
    let (first, second) = (Ground::random(&mut rng, 38.0), Ground::random(&mut rng, -38.0));
    let one = measure(&mut rng, &car, &first, &Noise::usual(), &WORK).file;
    let other = measure(&mut rng, &car, &second, &Noise::usual(), &WORK).file;
    let mut both = one.clone();
    let (mut floor, mut snapshot) = (other.floors[0].clone(), other.snapshots[0].clone());
    floor.id = "g".into();
    snapshot.id = "A2".into();
    snapshot.floor = Some("g".into());
    both.floors.push(floor);
    both.snapshots.push(snapshot);
    (one, both, car.roll_share_and_gain().0)
}

#[test]
fn the_roll_share_is_found_and_its_uncertainty_falls() {
    for seed in 500..520 {
        let (one, both, truth) = one_and_two_floors(seed);
        let before = solve(&one, &Options::default()).expect("adjustable").shared().roll_share_front;
        let after = solve(&both, &Options::default()).expect("adjustable").shared().roll_share_front;
        assert_eq!((before.known, after.known), (Known::Assumed, Known::Measured), "seed {seed}");
        let (u_before, u_after) = (before.u.expect("u"), after.u.expect("u"));
        assert!(u_after < 0.5 * u_before, "seed {seed}: {u_before} falls to {u_after} only");
        let error = after.value.expect("a value") - truth;
        assert!(error.abs() < 3.0 * u_after, "seed {seed}: off by {error}, u {u_after}");
    }
}
