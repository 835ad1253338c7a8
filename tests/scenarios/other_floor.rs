//! A floor that one car marked out and levelled, used by another with other measures: honest, and a little less sure.

use crate::simulator::{Car, Ground, Noise, Work, measure, seeded};
use rand::Rng;
use trueground_core::capture::Footprint;
use trueground_core::level::{Options, solve};
use trueground_core::stance::Known;

const WORK: Work = Work {
    passes: 2,
    level_under_marks: false,
    both_facings: false,
    bounces: 2,
    rounds: 2,
    gauge: false,
    roll_share_u: Some(0.06),
};

#[test]
fn another_cars_spots_serve_with_a_wider_band() {
    let (mut errors, mut wider) = (Vec::new(), 0);
    let count = 150;
    for seed in 30_000..30_000 + count {
        let mut rng = seeded(seed);
        let (owner, guest) = (Car::random(&mut rng), Car::random(&mut rng));
        let twist = rng.random_range(-40.0..40.0);
        let ground = Ground::random(&mut rng, twist);
        let levelled = measure(&mut rng, &owner, &ground, &Noise::usual(), &WORK).file;
        // The guest stands with its front axle over the owner's front spots; the ground is the owner's.
        let stands = measure(&mut rng, &guest, &ground.of(&owner), &Noise::usual(), &WORK);
        let mut file = stands.file.clone();
        file.floors = levelled.floors.clone();
        file.floors[0].footprint = Some(Footprint {
            wheelbase_mm: owner.wheelbase,
            track_front_mm: owner.front.track,
            track_rear_mm: owner.rear.track,
        });
        let mut own = stands.file.clone();
        own.floors[0].footprint = None;
        let by_other = solve(&file, &Options::default()).expect("adjustable");
        let by_own = solve(&own, &Options::default()).expect("adjustable");
        let (other, own) = (&by_other.snapshots[0], &by_own.snapshots[0]);
        wider += usize::from(other.floor.twist_mm.u > own.floor.twist_mm.u);
        for (id, figure) in &other.heights {
            assert_ne!(figure.known, Known::Undetermined, "seed {seed} {id}");
            errors.push((figure.value.expect("a value") - stands.heights[id]) / figure.u.expect("a u"));
        }
    }
    let inside = errors.iter().filter(|error| error.abs() <= 2.0).count() as f64 / errors.len() as f64;
    assert!((0.91..=0.99).contains(&inside), "{inside} of {} inside ±2u", errors.len());
    assert!(
        wider as u64 * 10 >= count * 9,
        "only {wider} of {count} floors of another car are less sure than one's own"
    );
}
