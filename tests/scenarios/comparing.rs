//! Two days of simulated cars against each other: what has changed comes out sharper than a height, and its ± is true.

use crate::simulator::{Car, Ground, Noise, Work, measure, seeded};
use rand::Rng;
use std::collections::BTreeMap;
use trueground_core::capture::CarFile;
use trueground_core::compare::{Comparison, Load, Stance, compare};
use trueground_core::level::{Options, solve};

const WORK: Work = Work {
    passes: 2,
    level_under_marks: false,
    both_facings: false,
    bounces: 2,
    rounds: 2,
    gauge: false,
    roll_share_u: Some(0.06),
};

/// A car, then the same one lowered by this much at each point, measured on both days with one tape.
struct TwoDays {
    file: CarFile,
    /// True changes by point, mm.
    changes: BTreeMap<String, f64>,
}

fn two_days(seed: u64, work: &Work, same_floor: bool) -> TwoDays {
    let mut rng = seeded(seed);
    let car = Car::random(&mut rng);
    let twist = rng.random_range(-40.0..40.0);
    let ground = Ground::random(&mut rng, twist);
    let other = Ground::random(&mut rng, -twist);
    // One tape: whatever its zero is, both days have it.
    let noise = Noise { tape_zero: 0.0, ..Noise::usual() };
    let mut lowered = car.clone();
    let (front, rear) = (rng.random_range(-25.0..5.0), rng.random_range(-25.0..5.0));
    for point in &mut lowered.points {
        let along = -point.3 / car.wheelbase;
        point.5 += front * (1.0 - along) + rear * along;
    }
    let before = measure(&mut rng, &car, &ground, &noise, work);
    let after = measure(&mut rng, &lowered, if same_floor { &ground } else { &other }, &noise, work);
    let mut file = before.file;
    file.snapshots[0].id = "before".to_owned();
    let mut later = after.file.snapshots[0].clone();
    (later.id, later.date) = ("after".to_owned(), "2031-05-12".to_owned());
    for bounce in &mut later.bounces {
        bounce.bounce_id = format!("later {}", bounce.bounce_id);
    }
    if !same_floor {
        let mut floor = after.file.floors[0].clone();
        floor.id = "g".to_owned();
        later.floor = Some("g".to_owned());
        file.floors.push(floor);
    }
    file.snapshots.push(later);
    let changes = after.heights.iter().map(|(id, height)| (id.clone(), height - before.heights[id])).collect();
    TwoDays { file, changes }
}

/// What is said of the change, and by how much surer than a height it is, mean over the points that are told.
fn compared(days: &TwoDays) -> (Comparison, Option<f64>) {
    let solution = solve(&days.file, &Options::default()).expect("adjustable");
    let (after, before) = (Stance::Measured("after"), Stance::Measured("before"));
    let comparison = compare(&days.file, &solution, after, before, Load::Nominal).expect("the same points");
    let heights = &solution.snapshots[1].heights;
    let ratios: Vec<f64> = comparison.differences.iter().filter_map(|(id, of)| Some(of.u? / heights[id].u?)).collect();
    let mean = (!ratios.is_empty()).then(|| ratios.iter().sum::<f64>() / ratios.len() as f64);
    (comparison, mean)
}

fn assert_standard_normal(what: &str, errors: &[f64]) {
    let count = errors.len() as f64;
    let inside = errors.iter().filter(|error| error.abs() <= 2.0).count() as f64 / count;
    let rms = (errors.iter().map(|error| error * error).sum::<f64>() / count).sqrt();
    let mean = errors.iter().sum::<f64>() / count;
    assert!((0.925..=0.985).contains(&inside), "{what}: {inside} of {count} inside ±2u");
    assert!((0.85..=1.12).contains(&rms), "{what}: rms {rms} of {count}");
    assert!(mean.abs() < 0.15, "{what}: mean {mean} of {count}");
}

fn errors(days: &TwoDays, comparison: &Comparison) -> Vec<f64> {
    let told = comparison.differences.iter().filter_map(|(id, of)| Some((of.value? - days.changes[id]) / of.u?));
    told.collect()
}

#[test]
fn a_change_on_the_same_marks_is_sharper_than_a_height_and_its_band_is_true() {
    let (mut all, mut sharper) = (Vec::new(), 0);
    const PAIRS: u64 = 150;
    for seed in 50_000..50_000 + PAIRS {
        let days = two_days(seed, &WORK, true);
        let (comparison, ratio) = compared(&days);
        assert_eq!(comparison.differences.len(), days.changes.len(), "seed {seed}");
        // Two heights that shared nothing would have √2 of one's u.
        sharper += u64::from(ratio.expect("every point is told") < 2.0_f64.sqrt());
        all.extend(errors(&days, &comparison));
    }
    assert_standard_normal("same floor", &all);
    assert!(sharper * 20 >= PAIRS * 19, "{sharper} of {PAIRS} are sharper");
}

/// On spots that nobody levelled no corner is known, but what has changed at each of them is.
#[test]
fn where_nobody_levelled_the_change_on_the_same_spots_is_told_all_the_same() {
    let mut all = Vec::new();
    for seed in 51_000..51_120 {
        let days = two_days(seed, &Work { passes: 0, ..WORK }, true);
        let (comparison, _) = compared(&days);
        let solution = solve(&days.file, &Options::default()).expect("adjustable");
        let mut lips = solution.snapshots[1].heights.iter().filter(|(id, _)| id.starts_with("lip"));
        assert!(lips.all(|(_, lip)| lip.value.is_none()), "seed {seed}: no lip is known there");
        let told = errors(&days, &comparison);
        assert_eq!(told.len(), days.changes.len(), "seed {seed}");
        all.extend(told);
    }
    assert_standard_normal("not levelled", &all);
}

#[test]
fn two_levelled_floors_do_as_well_as_their_survey() {
    let mut all = Vec::new();
    for seed in 52_000..52_120 {
        let days = two_days(seed, &WORK, false);
        let (comparison, _) = compared(&days);
        assert_eq!(comparison.unequal[0].what, "floor");
        all.extend(errors(&days, &comparison));
    }
    let count = all.len() as f64;
    let inside = all.iter().filter(|error| error.abs() <= 2.0).count() as f64 / count;
    assert!((0.92..=0.995).contains(&inside), "{inside} of {count} inside ±2u");
}

/// Between two floors that nobody levelled no corner's change is told, and then no movement is made up from nothing.
#[test]
fn what_no_corner_tells_is_no_movement_either() {
    let mut hidden = 0;
    for seed in 53_000..53_020 {
        let days = two_days(seed, &Work { passes: 0, ..WORK }, false);
        let (comparison, _) = compared(&days);
        let told = comparison.differences.values().filter(|of| of.value.is_some()).count();
        if told < 4 {
            hidden += 1;
            assert!(comparison.split.is_none(), "seed {seed}: {:?}", comparison.split);
        }
        assert!(comparison.means["fender_lip"].front.value.is_some(), "seed {seed}: means are told all the same");
    }
    assert!(hidden > 0, "in no pair were the corners hidden");
}
