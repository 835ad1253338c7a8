//! Hundreds of random cars on random floors: the stated uncertainty must be true whatever the car.

use crate::simulator::{Car, Ground, Noise, Simulated, Work, measure, seeded};
use rand::Rng;
use trueground_core::level::{Options, solve};
use trueground_core::stance::{Figure, Known};

/// Error over own u of every height, mean, rake, difference and twist of a simulated file.
fn normalised_errors(simulated: &Simulated, wanted: impl Fn(&str) -> bool) -> Vec<f64> {
    let solution = solve(&simulated.file, &Options::default()).expect("adjustable");
    let truth = |id: &str| simulated.heights[id];
    let mut errors = Vec::new();
    for stance in &solution.snapshots {
        let mut add = |name: &str, figure: &Figure, truth: f64| {
            if wanted(name) {
                assert_ne!(figure.known, Known::Undetermined, "{name}");
                errors.push((figure.value.expect("a value") - truth) / figure.u.expect("a u"));
            }
        };
        for (id, figure) in &stance.heights {
            add("height", figure, truth(id));
        }
        for (kind, stem) in [("fender_lip", "lip"), ("frame_rail", "rail")] {
            let line = &stance.lines[kind];
            let [fl, fr, rl, rr] = ["FL", "FR", "RL", "RR"].map(|corner| truth(&format!("{stem}.{corner}")));
            add("mean", &line.front_mean_mm, (fl + fr) / 2.0);
            add("mean", &line.rear_mean_mm, (rl + rr) / 2.0);
            add("rake", &line.rake_mm, (rl + rr - fl - fr) / 2.0);
            add("difference", &line.front_left_minus_right_mm, fl - fr);
            add("difference", &line.rear_left_minus_right_mm, rl - rr);
            add("twist", &line.twist_mm, fl - fr - rl + rr);
        }
    }
    errors
}

fn assert_honest(what: &str, errors: &[f64]) {
    let count = errors.len() as f64;
    let inside = errors.iter().filter(|error| error.abs() <= 2.0).count() as f64 / count;
    let rms = (errors.iter().map(|error| error * error).sum::<f64>() / count).sqrt();
    assert!((0.925..=0.985).contains(&inside), "{what}: {inside} of {count} inside ±2u");
    assert!((0.75..=1.15).contains(&rms), "{what}: rms {rms} of {count}");
}

#[test]
fn surveyed_floors_of_any_kind() {
    let mut errors = Vec::new();
    for seed in 0..250 {
        let mut rng = seeded(seed);
        let car = Car::random(&mut rng);
        let twist = rng.random_range(-40.0..40.0);
        let ground = Ground::random(&mut rng, twist);
        let work = Work {
            passes: rng.random_range(1..=2),
            level_under_marks: rng.random_bool(0.5),
            both_facings: rng.random_bool(0.4),
            bounces: rng.random_range(1..=3),
            rounds: rng.random_range(1..=3),
            gauge: rng.random_bool(0.5),
            roll_share_u: [Some(0.06), Some(0.1), None][rng.random_range(0..3)],
        };
        let simulated = measure(&mut rng, &car, &ground, &Noise::usual(), &work);
        errors.extend(normalised_errors(&simulated, |_| true));
    }
    assert_honest("surveyed", &errors);
}

#[test]
fn floors_that_nobody_levelled_still_give_means_and_rake() {
    let mut errors = Vec::new();
    for seed in 1000..1250 {
        let mut rng = seeded(seed);
        let car = Car::random(&mut rng);
        let twist = rng.random_range(-40.0..40.0);
        let ground = Ground::random(&mut rng, twist);
        let work = Work {
            passes: 0,
            level_under_marks: false,
            both_facings: rng.random_bool(0.5),
            bounces: 2,
            rounds: 2,
            gauge: false,
            roll_share_u: Some(0.06),
        };
        let simulated = measure(&mut rng, &car, &ground, &Noise::usual(), &work);
        errors.extend(normalised_errors(&simulated, |name| name == "mean" || name == "rake"));
        let solution = solve(&simulated.file, &Options::default()).expect("adjustable");
        for stance in &solution.snapshots {
            let corners = stance.heights.iter().filter(|(id, _)| id.starts_with("lip"));
            for (id, figure) in corners {
                assert_eq!(figure.known, Known::Undetermined, "{id} claimed on a floor that nobody levelled");
                assert!(figure.value.is_none() && figure.band_if.is_some());
            }
            assert_eq!(stance.lines["fender_lip"].twist_mm.known, Known::Undetermined);
            assert_eq!(stance.floor.twist_mm.known, Known::Undetermined);
        }
    }
    assert_honest("not levelled: means and rake", &errors);
}

#[test]
fn the_floor_twist_is_honest() {
    let errors: Vec<f64> = (2000..2250)
        .map(|seed| {
            let mut rng = seeded(seed);
            let car = Car::random(&mut rng);
            let twist = rng.random_range(-40.0..40.0);
            let ground = Ground::random(&mut rng, twist);
            let work = Work {
                passes: 2,
                level_under_marks: false,
                both_facings: false,
                bounces: 1,
                rounds: 1,
                gauge: false,
                roll_share_u: None,
            };
            let simulated = measure(&mut rng, &car, &ground, &Noise::usual(), &work);
            let solution = solve(&simulated.file, &Options::default()).expect("adjustable");
            let twist = solution.snapshots[0].floor.twist_mm;
            assert_eq!(twist.known, Known::Measured);
            (twist.value.expect("a value") - simulated.twist) / twist.u.expect("a u")
        })
        .collect();
    assert_honest("floor twist", &errors);
}
