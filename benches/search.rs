//! The search among parts: 20 parts by looking at every combination, 200 parts in 8 slots by meeting in the middle, against adding up every
//! combination of 20 parts with nothing left out.

use std::hint::black_box;

use criterion::Criterion;
use trueground_benches::{Ratio, criterion, print};
use trueground_core::plan::search::{Choices, Problem, Slot, solve};

const GROUP: &str = "parts against four heights";
const TWENTY: &str = "20 parts, each its own place";
const TWO_HUNDRED: &str = "200 parts in 8 places";
const YARDSTICK: &str = "every sum of 20 parts";

/// Parts that move front and rear by −20 to 12 mm, against heights that are 24 and 6 mm too high with 6 mm allowed.
fn problem(slots: usize, parts: usize) -> Problem {
    let mut state = 0x2545_f491_4f6c_dd1d_u64;
    let mut next = |low: f64, high: f64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * ((state >> 11) as f64 / (1_u64 << 53) as f64)
    };
    let mut part = || {
        let (front, rear) = if next(0.0, 1.0) < 0.5 { (next(-20.0, 12.0), 0.0) } else { (0.0, next(-20.0, 12.0)) };
        let at = |along: f64| (front * (1.0 - along) + rear * along) / 6.0;
        Choices {
            moves: vec![at(0.13), at(0.13), at(0.84), at(0.84)],
            price: next(0.0, 300.0).round(),
            alike: Vec::new(),
            room: Vec::new(),
        }
    };
    let slots = (0..slots).map(|_| Slot { choices: (0..parts).map(|_| part()).collect() }).collect();
    Problem { now: vec![25.0 / 6.0, 23.0 / 6.0, 1.0, 7.0 / 6.0], slots, wanted: 10, room: Vec::new() }
}

/// The best of every combination, one sum a combination.
fn every_sum(problem: &Problem) -> f64 {
    let parts: Vec<&[f64]> = problem.slots.iter().map(|slot| slot.choices[0].moves.as_slice()).collect();
    let mut best = f64::INFINITY;
    for taken in 0_u32..1 << parts.len() {
        let mut rows = [problem.now[0], problem.now[1], problem.now[2], problem.now[3]];
        for (number, part) in parts.iter().enumerate() {
            if taken >> number & 1 == 1 {
                rows.iter_mut().zip(*part).for_each(|(row, by)| *row += by);
            }
        }
        best = best.min(rows.iter().fold(0.0, |worst: f64, row| worst.max(row.abs())));
    }
    best
}

fn main() {
    let (twenty, two_hundred) = (problem(20, 1), problem(8, 25));
    let search = |problem: &Problem| {
        let found = solve(black_box(problem), &mut |_| true, &mut |_| true);
        assert!(found.proved, "nothing was left over");
        found.best[0].worst
    };
    assert!((search(&twenty) - every_sum(&twenty)).abs() < 1e-9, "both find the same");
    let mut criterion: Criterion = criterion();
    let mut group = criterion.benchmark_group(GROUP);
    group.sample_size(10);
    group.bench_function(TWENTY, |turn| turn.iter(|| search(&twenty)));
    group.bench_function(TWO_HUNDRED, |turn| turn.iter(|| search(&two_hundred)));
    group.bench_function(YARDSTICK, |turn| turn.iter(|| every_sum(black_box(&twenty))));
    group.finish();
    print(Ratio { group: GROUP, job: TWENTY, yardstick: YARDSTICK, goal: "≤ 1 ×" });
    print(Ratio { group: GROUP, job: TWO_HUNDRED, yardstick: YARDSTICK, goal: "≤ 1 s" });
    criterion.final_summary();
}
