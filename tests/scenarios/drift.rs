//! Rake on a chart: how often a steady car is called drifting, and how soon a drift is seen.

use crate::simulator::seeded;
use nalgebra::DMatrix;
use rand::Rng;
use rand_distr::{Distribution, Normal};
use serde_json::Value;
use trueground_core::capture::CarFile;
use trueground_core::level::{Options, solve};
use trueground_core::trend::{
    ChartOf, Charted, DriftUnknown, DriftVerdict, Model, READINGS_TO_A_FALSE_ALARM, chart, drifts_of_car, settle_car,
};

/// Readings with a mean that goes its own way, a scatter times what is stated, and an error that all share.
fn charted(rng: &mut impl Rng, count: usize, scatter: f64, mean: impl Fn(usize) -> f64) -> Vec<Option<Charted>> {
    let u: Vec<f64> = (0..count).map(|_| rng.random_range(0.8..1.4)).collect();
    let unit = Normal::new(0.0, 1.0).expect("a spread");
    let all = 1.5 * unit.sample(rng);
    let readings: Vec<f64> =
        u.iter().enumerate().map(|(at, u)| -30.0 + all + mean(at) + scatter * u * unit.sample(rng)).collect();
    let covariance = DMatrix::from_fn(count, count, |i, j| 1.5_f64.powi(2) + if i == j { u[i].powi(2) } else { 0.0 });
    chart(&readings, &covariance)
}

/// Readings judged until the first signal, on the average, over cars that are followed for `count` readings each.
fn readings_to_a_signal(seed: u64, cars: usize, count: usize, scatter: f64) -> f64 {
    let mut rng = seeded(seed);
    let (mut judged, mut signals) = (0_usize, 0_usize);
    for _ in 0..cars {
        let charted = charted(&mut rng, count, scatter, |_| 0.0);
        let judgements: Vec<&Charted> = charted.iter().flatten().collect();
        let first = judgements.iter().position(|at| at.is_drift);
        judged += first.map_or(judgements.len(), |at| at + 1);
        signals += usize::from(first.is_some());
    }
    judged as f64 / signals.max(1) as f64
}

/// The rate that is told to the person: no more signals than that, for a car of one year's fortnights and for one of three years.
#[test]
fn a_steady_car_is_signalled_as_rarely_as_promised() {
    for (count, cars) in [(26, 4_000), (80, 2_000)] {
        let readings = readings_to_a_signal(51_000 + count as u64, cars, count, 1.0);
        println!("{count} readings a car: one false alarm in {readings:.0} readings");
        let rate = READINGS_TO_A_FALSE_ALARM..4.0 * READINGS_TO_A_FALSE_ALARM;
        assert!(rate.contains(&readings), "{count} readings a car: one false alarm in {readings:.0}");
    }
    // Readings that scatter half as much again as stated raise alarms until the scatter shows, but not many.
    let readings = readings_to_a_signal(52_000, 2_000, 40, 1.5);
    println!("scatter half as much again: one in {readings:.0}");
    assert!(readings >= 0.2 * READINGS_TO_A_FALSE_ALARM, "one false alarm in {readings:.0}");
}

#[test]
fn a_step_and_a_slow_drift_are_seen() {
    let mut rng = seeded(53_000);
    let (mut steps, mut slow) = (0, 0);
    for _ in 0..200 {
        // Four standard deviations from the eleventh reading on.
        let step = charted(&mut rng, 20, 1.0, |at| if at < 10 { 0.0 } else { 4.0 });
        steps += usize::from(step[10..16].iter().flatten().any(|at| at.is_drift));
        // A quarter of a standard deviation more with each reading.
        let drift = charted(&mut rng, 30, 1.0, |at| 0.25 * at as f64);
        slow += usize::from(drift.iter().flatten().any(|at| at.is_drift));
    }
    println!("{steps} of 200 steps within six readings, {slow} of 200 slow drifts within thirty");
    assert!(steps >= 190, "{steps} of 200 steps seen within six readings");
    assert!(slow >= 190, "{slow} of 200 drifts seen within thirty readings");
}

/// A single slip of an inch between two readings is a reading to be read again, and no drift.
#[test]
fn one_bad_day_is_no_drift() {
    let mut rng = seeded(54_000);
    let (mut named, mut called) = (0, 0);
    for _ in 0..500 {
        let charted = charted(&mut rng, 16, 1.0, |at| if at == 9 { 12.7 } else { 0.0 });
        named += usize::from(charted[9].is_some_and(|at| at.is_out));
        called += usize::from(charted.iter().flatten().any(|at| at.is_drift));
    }
    assert!(named >= 490 && called <= 15, "{named} of 500 named, {called} called a drift");
}

/// The coupe, measured ten weeks: what its snapshots share cancels in the covariance as it does in a change, and its few settled
/// snapshots tell nothing of a drift yet.
#[test]
fn the_coupe_has_too_few_settled_snapshots_for_a_chart() {
    let mut scenario: Value = serde_json::from_str(include_str!("data/demo-02-settling.json")).expect("a scenario");
    let file: CarFile = serde_json::from_value(scenario["input"].take()).expect("its input");
    let solution = solve(&file, &Options::default()).expect("adjustable");
    let names: Vec<&str> = file.snapshots.iter().map(|snapshot| snapshot.id.as_str()).collect();
    for figure in
        ["lines_nominal.fender_lip.rake_mm", "lines_nominal.fender_lip.lean_mm", "lines.fender_lip.rear_mean_mm"]
    {
        let covariance = solution.covariance(&names, figure).expect("read in all of them");
        for i in 1..names.len() {
            let change = solution.change(names[0], names[i], figure).expect("a change").u.expect("told");
            let ours = covariance[(0, 0)] + covariance[(i, i)] - 2.0 * covariance[(0, i)];
            assert!((ours.sqrt() - change).abs() < 1e-9, "{figure}, {}: {ours} {change}", names[i]);
        }
    }
    let lines = settle_car(&file, &solution, Model::Best).expect("laws");
    let drifts = drifts_of_car(&file, &solution, &lines).expect("charts");
    let said: Vec<_> = drifts.iter().map(|drift| (drift.figure, drift.verdict, drift.unknown)).collect();
    let few = |figure| (figure, DriftVerdict::CantTell, Some(DriftUnknown::FewReadings));
    assert_eq!(said, [few(ChartOf::RakeMm), few(ChartOf::LeanMm)]);
    assert_eq!(drifts[0].points.len() + drifts[0].more_readings, 5);
}
