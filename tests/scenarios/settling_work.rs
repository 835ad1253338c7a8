//! Work on a car while it settles: a step is told from sag, stored days do not count, and other tires are no drift.

use crate::settling_car::{DAYS, car, date, settled, with_events};
use crate::simulator::seeded;
use rand::Rng;
use serde_json::json;
use trueground_core::capture::CarFile;
use trueground_core::level::{Options, solve};
use trueground_core::trend::{DriftVerdict, End, Model, Settled, drifts_of_car, settle_car};

/// Two exponential ends with 12 mm to come down in 12 days, and something that moves both at some day.
fn moved(rng: &mut impl Rng, step: impl Fn(f64) -> f64, clock: impl Fn(f64) -> f64) -> CarFile {
    let height = |day: f64| 600.0 + 12.0 * libm::exp(-clock(day) / 12.0) + step(day);
    car(rng, &DAYS, &DAYS.map(|day| 15.0 * day as f64), &|_, day, _| height(day))
}

#[test]
fn other_tires_are_a_step_and_no_sag() {
    let mut rng = seeded(65_000);
    let (mut inside, mut rests, mut all) = (0, 0, 0);
    for _ in 0..50 {
        // Nine millimetres higher from day 35 on, between two snapshots.
        let file = moved(&mut rng, |day| if day < 35.0 { -9.0 } else { 0.0 }, |day| day);
        for line in settled(&with_events(file, &[("tires", 35)])) {
            all += 1;
            let [step] = &line.steps[..] else { panic!("{:?}", line.steps) };
            inside += usize::from((step.step_mm.value - 9.0).abs() < 2.0 * step.step_mm.u);
            let rest = line.answer().final_height_mm.expect("a rest");
            rests += usize::from((rest.value - 600.0).abs() < 2.0 * rest.u);
            let first = &line.heights[0];
            assert!((first.on_curve_mm.expect("moved") - first.height_mm - step.step_mm.value).abs() < 1e-9);
            assert_eq!(line.heights.last().expect("heights").on_curve_mm, None);
        }
    }
    assert!(inside * 100 >= 90 * all && rests * 100 >= 90 * all, "{inside} steps and {rests} rests of {all}");
}

#[test]
fn a_torque_check_is_a_step_only_where_it_moved_the_car() {
    let mut rng = seeded(66_000);
    let (mut idle, mut found) = (0, 0);
    for _ in 0..50 {
        let still = with_events(moved(&mut rng, |_| 0.0, |day| day), &[("torque_check", 35)]);
        idle += settled(&still).iter().filter(|line| !line.steps.is_empty()).count();
        let lower = moved(&mut rng, |day| if day < 35.0 { 8.0 } else { 0.0 }, |day| day);
        let lower = settled(&with_events(lower, &[("torque_check", 35)]));
        found += lower.iter().filter(|line| !line.steps.is_empty()).count();
    }
    assert!(idle <= 10 && found >= 80, "{idle} steps of 100 where nothing moved, {found} of 100 where it did");
}

/// From day 28 to day 90 the car is stored: it goes on settling where it stopped.
#[test]
fn stored_days_do_not_count() {
    let mut rng = seeded(67_000);
    let clock = |day: f64| if day < 28.0 { day } else { 28.0 + (day - 90.0).max(0.0) };
    let (mut inside, mut all) = (0, 0);
    for _ in 0..50 {
        let file = with_events(moved(&mut rng, |_| 0.0, clock), &[("stored_for_winter", 28), ("back_on_the_road", 90)]);
        for line in settled(&file) {
            assert_eq!(line.stored, [(28.0, Some(90.0))]);
            let tau = line.settling.parameters.get("tau_days").filter(|_| line.settling.verdict != Settled::TooEarly);
            let Some(tau) = tau else { continue };
            all += 1;
            inside += usize::from((tau.value - 12.0).abs() < 2.0 * tau.u.max(1.0));
        }
    }
    assert!(all >= 90 && inside * 100 >= 88 * all, "{inside} of {all} rates");
}

/// Springs are mostly worked on in winter: the car was put away before, and is back on the road on day 30.
#[test]
fn a_winter_that_began_before_the_work_counts_from_day_0() {
    let mut rng = seeded(68_000);
    for _ in 0..10 {
        let file = with_events(moved(&mut rng, |_| 0.0, |day| (day - 30.0).max(0.0)), &[("back_on_the_road", 30)]);
        let mut value = serde_json::to_value(file).expect("writable");
        let event =
            json!({"date": "2030-11-01", "what": "put away", "kind": "stored_for_winter", "resets_settling": false});
        value["events"].as_array_mut().expect("events").push(event);
        for line in settled(&serde_json::from_value(value).expect("a car")) {
            assert_eq!(line.stored, [(0.0, Some(30.0))]);
        }
    }
}

/// Other tires at one end after the settling are no drift of the rake: its chart begins anew with them.
#[test]
fn other_tires_are_no_drift() {
    let mut rng = seeded(69_000);
    let days: [u64; 22] =
        [0, 3, 7, 14, 21, 30, 42, 56, 70, 84, 98, 112, 126, 140, 154, 168, 182, 196, 210, 224, 238, 252];
    let height = |end: End, day: f64| {
        let higher = if end == End::Rear && day >= 175.0 { 10.0 } else { 0.0 };
        600.0 + 12.0 * libm::exp(-day / 12.0) + higher
    };
    let mut anew = 0;
    for _ in 0..10 {
        let file = car(&mut rng, &days, &days.map(|day| 15.0 * day as f64), &|end, day, _| height(end, day));
        let file = with_events(file, &[("tires", 175)]);
        let solution = solve(&file, &Options::default()).expect("adjustable");
        let lines = settle_car(&file, &solution, Model::Best).expect("laws");
        for drift in drifts_of_car(&file, &solution, &lines).expect("charts") {
            assert_ne!(drift.verdict, DriftVerdict::Drifting, "{:?} since {:?}", drift.figure, drift.moved_since);
            anew += usize::from(drift.since.as_deref() == Some(date(175).as_str()));
        }
    }
    assert!(anew > 0, "no chart began with the tires");
}

/// Summer and winter tires for three years, each set as high as the last of its kind: every change is a step, and the oldest as well.
#[test]
fn every_change_of_tires_is_a_step() {
    let mut rng = seeded(70_000);
    let changes: [u64; 6] = [50, 110, 170, 230, 290, 350];
    let days: Vec<u64> = [0, 3, 7, 14, 21, 30, 42].into_iter().chain((0..24).map(|at| 56 + 14 * at)).collect();
    let km: Vec<f64> = days.iter().map(|day| 15.0 * *day as f64).collect();
    let (mut inside, mut rests, mut all) = (0, 0, 0);
    for _ in 0..20 {
        let lower =
            |day: f64| if changes.iter().filter(|change| day >= **change as f64).count() % 2 == 1 { 8.0 } else { 0.0 };
        let height = |day: f64| 600.0 + 14.0 * libm::exp(-day / 14.0) - lower(day);
        let events: Vec<(&str, u64)> = changes.iter().map(|day| ("tires", *day)).collect();
        let file = with_events(car(&mut rng, &days, &km, &|_, day, _| height(day)), &events);
        for line in settled(&file) {
            assert_eq!(line.steps.len(), changes.len(), "{:?}", line.steps);
            for (at, step) in line.steps.iter().enumerate() {
                all += 1;
                let truth = if at % 2 == 0 { -8.0 } else { 8.0 };
                inside += usize::from((step.step_mm.value - truth).abs() < 2.0 * step.step_mm.u);
            }
            let rest = line.answer().final_height_mm.expect("a rest");
            rests += usize::from((rest.value - 600.0).abs() < 2.0 * rest.u);
        }
    }
    assert!(inside * 100 >= 92 * all && rests >= 36, "{inside} of {all} steps, {rests} of 40 rests");
}
