//! Settling: two laws with covariance, band and AICc through nine heights, and ten years of weekly snapshots of a car.
//!
//! The peer is `scipy.optimize.curve_fit` with one of the laws, run in the same minute by the Python that `PEER_PYTHON` names (else
//! `python3`); where it has no scipy, its line says so.

use std::hint::black_box;
use std::process::Command;

use criterion::Criterion;
use serde_json::{Value, json};
use trueground_benches::{Ratio, criterion, median, milliseconds, print};
use trueground_core::capture::{CarFile, day_after};
use trueground_core::level::{Options, solve};
use trueground_core::trend::{Height, Model, Series, drifts_of_car, settle, settle_car};

const SERIES: &str = "settling, nine heights";
const TWO_LAWS: &str = "two laws, covariance, band, AICc";
const YEARS: &str = "ten years of weekly heights";
const LINES: &str = "settle_car, front and rear";
const CHARTS: &str = "charts of rake and lean";
const SOLVE: &str = "level solve";
const WEEKS: i64 = 520;

/// The heights of `peers/curve_fit.py`.
const DAYS: [f64; 9] = [0.0, 3.0, 7.0, 14.0, 21.0, 30.0, 42.0, 56.0, 70.0];
const OFF: [f64; 9] = [0.6, -0.9, 0.4, 1.1, -0.7, 0.2, -1.0, 0.8, -0.3];

fn main() {
    let law = |day: f64| 597.0 + 14.0 * libm::exp(-day / 15.0);
    let heights = DAYS.iter().zip(OFF).map(|(day, off)| Height { day: *day, height_mm: law(*day) + off, u_mm: 1.0 });
    let series = Series { heights: heights.collect(), ..Series::default() };
    let mut criterion: Criterion = criterion();
    let mut group = criterion.benchmark_group(SERIES);
    group.bench_function(TWO_LAWS, |turn| turn.iter(|| settle(black_box(&series), Model::Best).expect("laws")));
    group.finish();
    peer();

    let file: CarFile = serde_json::from_value(decade()).expect("an exchange file");
    let solution = solve(&file, &Options::default()).expect("it adjusts");
    let lines = settle_car(&file, &solution, Model::Best).expect("laws");
    let mut group = criterion.benchmark_group(YEARS);
    group.sample_size(10);
    group.bench_function(SOLVE, |turn| turn.iter(|| solve(black_box(&file), &Options::default()).expect("it adjusts")));
    group.bench_function(LINES, |turn| {
        turn.iter(|| settle_car(black_box(&file), &solution, Model::Best).expect("laws"));
    });
    group.bench_function(CHARTS, |turn| {
        turn.iter(|| drifts_of_car(black_box(&file), &solution, &lines).expect("charts"));
    });
    group.finish();
    print(Ratio { group: YEARS, job: LINES, yardstick: SOLVE, goal: "≤ 1 ×" });
    print(Ratio { group: YEARS, job: CHARTS, yardstick: SOLVE, goal: "≤ 1 ×" });
    criterion.final_summary();
}

/// Our two laws against one of scipy's.
#[expect(clippy::print_stdout, reason = "the line is what a benchmark is run for")]
fn peer() {
    let Some(ours) = median(SERIES, TWO_LAWS) else { return };
    let python = std::env::var("PEER_PYTHON").unwrap_or_else(|_| "python3".into());
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/peers/curve_fit.py");
    let run = Command::new(&python).arg(script).output();
    let theirs = run
        .ok()
        .filter(|run| run.status.success())
        .and_then(|run| String::from_utf8_lossy(&run.stdout).trim().parse::<f64>().ok());
    match theirs {
        Some(theirs) => println!(
            "ratio  {SERIES}: {TWO_LAWS} {} against scipy curve_fit, one law {}: {:.2} ×   (goal ≤ 0.5 ×)",
            milliseconds(ours),
            milliseconds(theirs),
            ours / theirs
        ),
        None => println!("{SERIES}: {TWO_LAWS} {}; {python} has no scipy to hold it against", milliseconds(ours)),
    }
}

/// A car that settles and is then measured every week; four points, one bounce, on a floor that nobody levelled.
fn decade() -> Value {
    let corners = [("FL", 0, 700), ("FR", 0, -700), ("RL", -2_600, 700), ("RR", -2_600, -700)];
    let points: Vec<Value> = corners
        .iter()
        .map(|(corner, x, y)| {
            json!({"id": format!("lip.{corner}"), "corner": corner, "kind": "fender_lip", "x_mm": x, "y_mm": y})
        })
        .collect();
    let snapshots: Vec<Value> = (0..WEEKS)
        .map(|week| {
            let settled = 14.0 * libm::exp(-(7 * week) as f64 / 20.0);
            let readings: Vec<Value> = corners
                .iter()
                .enumerate()
                .map(|(at, (corner, ..))| {
                    // A millimetre or two of noise, so that no reading is doubtful.
                    let mm = (600.0 + settled).round() + ((week * 7 + at as i64 * 5) % 4) as f64;
                    json!({"ref": format!("lip.{corner}"), "repeat": 1, "text": format!("{mm}"), "unit": "mm", "value_mm": mm})
                })
                .collect();
            json!({"id": format!("s{week}"), "date": day_after("2031-05-03", 7 * week), "odometer_km": 1_000 + 140 * week,
                "bounces": [{"bounce_id": format!("b{week}"), "readings": readings}]})
        })
        .collect();
    json!({
        "vehicle": {"label": "Bench car", "wheelbase_mm": 2_600, "track_front_mm": 1_400, "track_rear_mm": 1_400, "ref_points": points},
        "snapshots": snapshots,
        "events": [{"date": "2031-05-03", "odometer_km": 1_000, "what": "leaves out", "resets_settling": true}],
    })
}
