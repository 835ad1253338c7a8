//! Two days of simulated cars against each other: what has changed comes out sharper than a height, and its ± is true.

use crate::simulator::{Car, Ground, Noise, Work, measure, seeded};
use rand::Rng;
use std::collections::BTreeMap;
use trueground_core::capture::CarFile;
use trueground_core::compare::{Comparison, Load, Stance, compare};
use trueground_core::level::{Options, Solution, solve};
use trueground_core::stance::Figure;

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
    /// True heights on the second day, mm.
    heights_after: BTreeMap<String, f64>,
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
    TwoDays { file, changes, heights_after: after.heights }
}

fn compared(days: &TwoDays) -> (Comparison, Solution) {
    let solution = solve(&days.file, &Options::default()).expect("adjustable");
    let (after, before) = (Stance::Measured("after"), Stance::Measured("before"));
    let comparison = compare(&days.file, &solution, after, before, Load::Nominal).expect("the same points");
    (comparison, solution)
}

/// Each day by itself, as if nothing were shared: the heights of one day and their u.
fn alone(days: &TwoDays, number: usize) -> BTreeMap<String, (f64, f64)> {
    let mut file = days.file.clone();
    file.snapshots = vec![days.file.snapshots[number].clone()];
    let solution = solve(&file, &Options::default()).expect("adjustable");
    let told = |(id, of): (&String, &Figure)| Some((id.clone(), (of.value?, of.u?)));
    solution.snapshots[0].heights.iter().filter_map(told).collect()
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

fn mean_of(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

/// Marks, floor and tape are the same on both days. What they do to both heights falls out of the change: its u is less than that of a
/// height, and so is its error against the simulated truth less than that of two days that are worked out each by itself.
#[test]
fn a_change_on_the_same_marks_is_sharper_than_a_height_and_its_band_is_true() {
    let mut all = Vec::new();
    let (mut to_height, mut to_independent) = (Vec::new(), Vec::new());
    let (mut of_one_day, mut of_the_change) = (Vec::new(), Vec::new());
    for seed in 50_000..50_150 {
        let days = two_days(seed, &WORK, true);
        let (comparison, solution) = compared(&days);
        assert_eq!(comparison.differences.len(), days.changes.len(), "seed {seed}");
        let [before, after] = [0, 1].map(|number| alone(&days, number));
        for (id, of) in &comparison.differences {
            let (value, u) = of.value.zip(of.u).expect("every point is told");
            let [then, now] = [0, 1].map(|number| solution.snapshots[number].heights[id].u.expect("told"));
            assert!(u < then.hypot(now), "seed {seed}, {id}: {u} of {then} and {now}");
            to_height.push(u / now);
            to_independent.push(u / before[id].1.hypot(after[id].1));
            let truth = days.changes[id];
            of_the_change.push((value - truth).powi(2));
            of_one_day.push((after[id].0 - days.heights_after[id]).powi(2));
        }
        all.extend(errors(&days, &comparison));
    }
    assert_standard_normal("same floor", &all);
    let sharper = to_height.iter().filter(|ratio| **ratio < 1.0).count() as f64 / to_height.len() as f64;
    // The rest stand on floors so flat that the survey adds little to a height.
    assert!(sharper > 0.7, "only {sharper} of the changes are told sharper than the height");
    assert!(mean_of(&to_height) < 0.9, "{} of a height's u", mean_of(&to_height));
    assert!(mean_of(&to_independent) < 0.65, "{} of two days that share nothing", mean_of(&to_independent));
    // Nobody's claim, but what the simulated tape and floor did.
    let (change, height) = (mean_of(&of_the_change).sqrt(), mean_of(&of_one_day).sqrt());
    assert!(change < 0.95 * height, "a change is off by {change} mm, a height by {height} mm");
}

/// On another floor only the tape's zero is shared, and no more is claimed.
#[test]
fn another_floor_makes_a_change_no_sharper_than_two_heights() {
    for seed in 54_000..54_020 {
        let days = two_days(seed, &WORK, false);
        let (comparison, solution) = compared(&days);
        let (same, _) = compared(&two_days(seed, &WORK, true));
        for (id, of) in &comparison.differences {
            let [then, now] = [0, 1].map(|number| solution.snapshots[number].heights[id].u.expect("told"));
            let u = of.u.expect("told");
            assert!(u > now.max(then), "seed {seed}, {id}: {u} of {then} and {now}");
            assert!(u > same.differences[id].u.expect("told"), "seed {seed}, {id}");
        }
    }
}

/// On spots that nobody levelled no corner is known, but what has changed at each of them is.
#[test]
fn where_nobody_levelled_the_change_on_the_same_spots_is_told_all_the_same() {
    let mut all = Vec::new();
    for seed in 51_000..51_120 {
        let days = two_days(seed, &Work { passes: 0, ..WORK }, true);
        let (comparison, solution) = compared(&days);
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
