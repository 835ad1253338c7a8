//! Ratios to a yardstick measured in the same run: machines differ and disks stall, a ratio stays.

pub mod peer;

use std::fs;
use std::path::PathBuf;
use std::time::Duration;

use criterion::Criterion;

/// One job, its yardstick, and how many times the yardstick it may take.
#[derive(Debug, Clone, Copy)]
pub struct Ratio<'a> {
    /// Group of both in criterion.
    pub group: &'a str,
    /// Our job.
    pub job: &'a str,
    /// What it is measured against.
    pub yardstick: &'a str,
    /// Goal in words: "≤ 4 ×, ≤ 1.5 ms".
    pub goal: &'a str,
}

/// Criterion set for one machine that others use too: fewer samples than its defaults, enough for a ratio.
pub fn criterion() -> Criterion {
    Criterion::default()
        .sample_size(30)
        .warm_up_time(Duration::from_millis(500))
        .measurement_time(Duration::from_secs(3))
        .without_plots()
        .configure_from_args()
}

/// One line with both times, their ratio and the goal, from what criterion has just written.
#[expect(clippy::print_stdout, reason = "the line is what a benchmark is run for")]
pub fn print(ratio: Ratio<'_>) {
    let (Some(job), Some(yardstick)) = (median(ratio.group, ratio.job), median(ratio.group, ratio.yardstick)) else {
        return; // one of the two was left out on the command line
    };
    println!(
        "ratio  {}: {} {} against {} {}: {:.2} ×   (goal {})",
        ratio.group,
        ratio.job,
        milliseconds(job),
        ratio.yardstick,
        milliseconds(yardstick),
        job / yardstick,
        ratio.goal
    );
}

/// Milliseconds with three figures.
pub fn milliseconds(nanoseconds: f64) -> String {
    let ms = nanoseconds / 1e6;
    let decimals = if ms >= 100.0 {
        0
    } else if ms >= 10.0 {
        1
    } else if ms >= 1.0 {
        2
    } else {
        4
    };
    format!("{ms:.decimals$} ms")
}

/// Median time of one turn, nanoseconds; none where it was left out on the command line.
pub fn median(group: &str, name: &str) -> Option<f64> {
    let target = std::env::var_os("CARGO_TARGET_DIR")
        .map_or_else(|| PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../target")), PathBuf::from);
    let text = fs::read_to_string(target.join("criterion").join(group).join(name).join("new/estimates.json")).ok()?;
    let estimates: serde_json::Value = serde_json::from_str(&text).ok()?;
    estimates["median"]["point_estimate"].as_f64()
}
