//! A drive over 100 m of ground at 5 mm steps with 40 points, against grey dilation and interpolation: written plainly here, and
//! scipy's with numpy's where a Python that has them is named by `TRUEGROUND_PYTHON`.

use std::fmt::Write as _;
use std::hint::black_box;

use criterion::Criterion;
use trueground_benches::{Ratio, criterion, peer, print};
use trueground_core::checks::ramp::{Attach, Ground, Point, Ramp, Wheels, drive};

const GROUP: &str = "100 m at 5 mm, 40 points";
const JOB: &str = "ramp";
const YARDSTICK: &str = "dilation and interpolation, plain";
const STEP_MM: f64 = 5.0;
const CORNERS: usize = 20_001;
const WHEELS: Wheels = Wheels { wheelbase_mm: 2600.0, front_radius_mm: 330.0, rear_radius_mm: 350.0 };

fn main() {
    let heights: Vec<f64> = (0..CORNERS).map(height_mm).collect();
    let points: Vec<Point> = (0..40_u32).map(point).collect();
    let ramp = Ramp {
        wheels: WHEELS,
        points: points.clone(),
        outline: Vec::new(),
        ground: Ground::new(heights.iter().enumerate().map(|(i, z)| [STEP_MM * i as f64, *z])),
        step_mm: STEP_MM,
        allowance_mm: 25.0,
    };
    let mut criterion: Criterion = criterion();
    let mut group = criterion.benchmark_group(GROUP);
    group.bench_function(JOB, |turn| turn.iter(|| drive(black_box(&ramp)).expect("it drives")));
    group.bench_function(YARDSTICK, |turn| turn.iter(|| plain(black_box(&heights), &points)));
    group.finish();
    print(Ratio { group: GROUP, job: JOB, yardstick: YARDSTICK, goal: "below 1 ×" });
    let text = heights.iter().fold(String::new(), |mut text, z| {
        let _ = writeln!(text, "{z}");
        text
    });
    peer::print(
        Ratio { group: GROUP, job: JOB, yardstick: "scipy grey dilation and numpy interp", goal: "≤ 0.3 ×" },
        "ramp.py",
        &text,
    );
    criterion.final_summary();
}

/// A road with long waves, short ones, and a kerb of 60 mm now and then.
fn height_mm(i: usize) -> f64 {
    let s = STEP_MM * i as f64;
    let kerb = if i / 1700 % 2 == 1 { 60.0 } else { 0.0 };
    80.0 * libm::sin(s / 2_300.0) + 9.0 * libm::sin(s / 310.0) + kerb
}

fn point(i: u32) -> Point {
    let x_mm = -3300.0 + 100.0 * f64::from(i);
    Point { id: format!("p{i}"), x_mm, z_mm: 150.0 + 7.0 * f64::from(i % 11), attach: Attach::Body }
}

/// What anyone would write first, station by station on the grid.
fn plain(heights: &[f64], points: &[Point]) -> f64 {
    let (front, rear) = (dilated(heights, WHEELS.front_radius_mm), dilated(heights, WHEELS.rear_radius_mm));
    let between = |heights: &[f64], s: f64| {
        let at = s / STEP_MM;
        let i = at.floor().max(0.0) as usize;
        let (low, high) = (heights[i.min(CORNERS - 1)], heights[(i + 1).min(CORNERS - 1)]);
        low + (at - i as f64) * (high - low)
    };
    let higher = WHEELS.front_radius_mm - WHEELS.rear_radius_mm;
    let level = libm::asin(higher / WHEELS.wheelbase_mm);
    let mut least = f64::INFINITY;
    for (i, front_z) in front.iter().enumerate().skip(520) {
        let s = STEP_MM * i as f64;
        let mut behind = s - WHEELS.wheelbase_mm;
        for _ in 0..4 {
            let rise = front_z - between(&rear, behind);
            behind = s - (WHEELS.wheelbase_mm.powi(2) - rise * rise).sqrt();
        }
        let turn = libm::atan2(front_z - between(&rear, behind), s - behind) - level;
        let (sin, cos) = (libm::sin(turn), libm::cos(turn));
        for point in points {
            let up = point.z_mm - WHEELS.front_radius_mm;
            let over = s + point.x_mm * cos - up * sin;
            if over >= 0.0 && over <= STEP_MM * (CORNERS - 1) as f64 {
                least = least.min(front_z + point.x_mm * sin + up * cos - between(heights, over));
            }
        }
    }
    least
}

/// Highest of all circles round the ground, offset by offset.
fn dilated(heights: &[f64], radius: f64) -> Vec<f64> {
    let reach = (radius / STEP_MM).floor() as usize;
    let mut out = vec![f64::NEG_INFINITY; heights.len()];
    for offset in 0..=2 * reach {
        let beside = (offset as f64 - reach as f64) * STEP_MM;
        let above = (radius * radius - beside * beside).sqrt();
        let (from, to) = if offset >= reach { (0, offset - reach) } else { (reach - offset, 0) };
        for (out, z) in out[from..].iter_mut().zip(&heights[to..]) {
            *out = out.max(z + above);
        }
    }
    out
}
