//! Engine speed against a worked example and the formula of the handbooks.

use crate::Check;
use serde::Deserialize;
use trueground_core::checks::gearing::{Gearing, work_out};

const MM_PER_INCH: f64 = 25.4;
const KM_PER_MILE: f64 = 1.609_344;

fn rpm(mph: f64, ratio: f64, diameter_in: f64) -> f64 {
    let (speed, diameter) = (mph * KM_PER_MILE, diameter_in * MM_PER_INCH);
    let text = format!(
        r#"{{"axle_ratio": {ratio}, "gears": {{"top": 1}}, "tire": {{"rolling_diameter_mm": {diameter}}}, "speeds_kmh": [{speed}]}}"#
    );
    work_out(&Gearing::read(&text).unwrap()).table[0].rpm
}

pub(crate) fn rpm_from_speed(check: &mut Check) {
    #[derive(Deserialize)]
    struct Data {
        cases: Vec<Case>,
        computed: Vec<Row>,
    }
    #[derive(Deserialize)]
    struct Case {
        id: String,
        given: Given,
        published: Turns,
        recomputed: Recomputed,
    }
    #[derive(Deserialize)]
    struct Given {
        mph: f64,
        diameter_in: f64,
        ratio: f64,
    }
    #[derive(Deserialize)]
    struct Recomputed {
        constant: f64,
        engine_rpm: f64,
        wheel_rpm: f64,
    }
    #[derive(Deserialize)]
    struct Turns {
        engine_rpm: f64,
        wheel_rpm: f64,
    }
    #[derive(Deserialize)]
    struct Row {
        #[serde(flatten)]
        given: Given,
        rpm: f64,
    }
    let data: Data = check.json();
    for case in data.cases {
        let Given { mph, diameter_in, ratio } = case.given;
        let ours = rpm(mph, ratio, diameter_in);
        // Turns a mile of a rigid circle of one inch: 60 miles an hour are one a minute.
        check.near(&case.id, rpm(60.0, 1.0, diameter_in) * diameter_in, case.recomputed.constant, "constant");
        check.near(&case.id, ours, case.recomputed.engine_rpm, "rpm");
        check.near(&case.id, rpm(mph, 1.0, diameter_in), case.recomputed.wheel_rpm, "rpm");
        check.relative(&case.id, ours, case.published.engine_rpm, "published_relative");
        check.relative(&case.id, rpm(mph, 1.0, diameter_in), case.published.wheel_rpm, "published_relative");
    }
    for row in data.computed {
        let ours = rpm(row.given.mph, row.given.ratio, row.given.diameter_in);
        check.near(&format!("{} mph", row.given.mph), ours, row.rpm, "rpm");
    }
}
