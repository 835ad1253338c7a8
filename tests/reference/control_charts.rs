//! Control charts: limits of single readings from their moving ranges, and the mean that fades.

use crate::Check;
use serde::Deserialize;
use trueground_core::trend::{Ewma, Individuals};

#[derive(Deserialize)]
struct Charts {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    id: String,
    data: Vec<f64>,
    #[serde(rename = "lambda_")]
    weight: Option<f64>,
    target: Option<f64>,
    s: Option<f64>,
    published: serde_json::Value,
    recomputed: serde_json::Value,
}

fn number(of: &serde_json::Value, key: &str) -> f64 {
    of[key].as_f64().unwrap_or_else(|| panic!("no {key}"))
}

fn numbers(of: &serde_json::Value, key: &str) -> Vec<f64> {
    of[key].as_array().unwrap().iter().map(|value| value.as_f64().unwrap()).collect()
}

pub(crate) fn charts(check: &mut Check) {
    let charts: Charts = check.json();
    check.same("cases", charts.cases.len(), 3);
    for case in &charts.cases {
        match case.id.as_str() {
            "NIST_individuals_flowrate" => flow_rates(check, case),
            "Pyzdek_individuals" => table_9_4(check, case),
            "NIST_EWMA" => fading(check, case),
            other => panic!("no check of {other}"),
        }
    }
}

fn flow_rates(check: &mut Check, case: &Case) {
    let ours = Individuals::of(&case.data).unwrap();
    let (printed, again) = (&case.published, &case.recomputed);
    check.near("mean", ours.mean, number(printed, "mean"), "printed_mean");
    check.near("mean moving range", ours.mean_moving_range, number(printed, "mean_moving_range"), "printed_mean");
    let limits = ours.limits(Individuals::PER_RANGE);
    check.near("upper limit", limits.upper, number(printed, "ucl"), "printed_limits");
    check.near("lower limit", limits.lower, number(printed, "lcl"), "printed_limits");
    // Quoted beside the case: the upper limit of the moving ranges.
    check.near("limit of the ranges", ours.range_limit(), 6.1347, "printed_range_limit");
    check.near("mean moving range again", ours.mean_moving_range, number(again, "mean_moving_range"), "recomputed");
    check.near("upper limit by d2", limits.upper, number(again, "ucl_d2_1p128"), "recomputed");
    check.near("lower limit by d2", limits.lower, number(again, "lcl_d2_1p128"), "recomputed");
    let rounded = ours.limits(2.66);
    check.near("upper limit by 2.66", rounded.upper, number(again, "ucl_k_2p66"), "recomputed");
    check.near("lower limit by 2.66", rounded.lower, number(again, "lcl_k_2p66"), "recomputed");
    // The handbook: the process is in control.
    check.same("readings out", case.data.iter().filter(|value| limits.is_beyond(**value)).count(), 0);
}

fn table_9_4(check: &mut Check, case: &Case) {
    let ours = Individuals::of(&case.data).unwrap();
    check.same("moving ranges", ours.moving_ranges.clone(), numbers(&case.published, "moving_ranges"));
    let limits = ours.limits(number(&case.published, "constant"));
    for (what, ours) in [
        ("mean", ours.mean),
        ("mean_moving_range", ours.mean_moving_range),
        ("ucl", limits.upper),
        ("lcl", limits.lower),
    ] {
        check.near(what, ours, number(&case.recomputed, what), "recomputed");
    }
}

fn fading(check: &mut Check, case: &Case) {
    let (weight, target, s) = (case.weight.unwrap(), case.target.unwrap(), case.s.unwrap());
    let ewma = Ewma { weight };
    let ours = ewma.means(target, &case.data);
    let (printed, again) = (numbers(&case.published, "ewma"), numbers(&case.recomputed, "ewma"));
    check.same("fading means", (ours.len(), again.len()), (printed.len(), ours.len()));
    for (number, ours) in ours.iter().enumerate() {
        check.near(&format!("fading mean {number}"), *ours, printed[number], "printed_ewma");
        check.near(&format!("fading mean {number} again"), *ours, again[number], "recomputed_ewma");
    }
    let limits = ewma.limits(target, s, 3.0);
    check.near("upper limit", limits.upper, number(&case.published, "ucl"), "printed_ewma_limits");
    check.near("lower limit", limits.lower, number(&case.published, "lcl"), "cut");
    check.near("upper limit again", limits.upper, number(&case.recomputed, "ucl"), "recomputed");
    check.near("lower limit again", limits.lower, number(&case.recomputed, "lcl"), "recomputed");
    // The handbook: no signal.
    check.same("means out", ours.iter().filter(|mean| limits.is_beyond(**mean)).count(), 0);
}
