//! A levelling network of 400 readings and 200 points, from its JSON to every residual's redundancy, against a bare dense
//! Cholesky factor with covariance of its size.

use std::fmt::Write as _;
use std::hint::black_box;

use criterion::Criterion;
use nalgebra::{DMatrix, DVector};
use trueground_benches::{Ratio, criterion, print};
use trueground_core::network::{Network, adjust};

const GROUP: &str = "400 readings, 200 points";
const JOB: &str = "floor";
const YARDSTICK: &str = "nalgebra Cholesky with covariance";
const POINTS: usize = 200;
const READINGS: usize = 400;

fn main() {
    let file = file();
    let network = Network::read(&file).expect("a network");
    // What anyone would do with the same design matrix: normal equations, factor, solution and inverse.
    let column = |point: &str| point[1..].parse::<usize>().expect("a number behind the letter");
    let design = DMatrix::from_fn(READINGS, POINTS - 1, |i, j| {
        let difference = &network.differences[i];
        f64::from(u8::from(column(&difference.to) == j + 1)) - f64::from(u8::from(column(&difference.from) == j + 1))
    });
    let observed = DVector::from_iterator(READINGS, network.differences.iter().map(|difference| difference.rise_mm));

    let mut criterion: Criterion = criterion();
    let mut group = criterion.benchmark_group(GROUP);
    group.bench_function(JOB, |turn| {
        turn.iter(|| adjust(&Network::read(black_box(&file)).expect("a network")).expect("it adjusts"));
    });
    group.bench_function(YARDSTICK, |turn| {
        turn.iter(|| {
            let design = black_box(&design);
            let factor = design.tr_mul(design).cholesky().expect("every point is tied");
            (factor.solve(&design.tr_mul(&observed)), factor.inverse())
        });
    });
    group.finish();
    print(Ratio { group: GROUP, job: JOB, yardstick: YARDSTICK, goal: "≤ 4 ×" });
    criterion.final_summary();
}

/// A ring through all points, and as many readings across it.
fn file() -> String {
    let mut rows = String::new();
    for i in 0..READINGS {
        let from = i % POINTS;
        let to = if i < POINTS { (i + 1) % POINTS } else { (i * 37 + 11) % POINTS };
        let to = if to == from { (to + 1) % POINTS } else { to };
        // Heights 7 mm apart in order, and up to 2 mm of noise.
        let rise_mm = 7.0 * (to as f64 - from as f64) + (i * 13 % 5) as f64 / 2.0 - 1.0;
        let comma = if i == 0 { "" } else { "," };
        let _ = write!(rows, r#"{comma}{{"from":"P{from}","to":"P{to}","rise_mm":{rise_mm},"u_mm":1.0}}"#);
    }
    format!(r#"{{"fixed":{{"P0":0}},"differences":[{rows}]}}"#)
}
