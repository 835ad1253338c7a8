//! A booking sheet: backsight, intermediate and foresight readings reduced to heights, and the misclosure shared.

use crate::Check;
use serde::Deserialize;
use trueground_core::network::{FixedPoint, Network, Setup, Staff, adjust};

#[derive(Deserialize)]
struct Data {
    cases: Vec<Sheet>,
}

#[derive(Deserialize)]
struct Sheet {
    start_height: f64,
    end_height: f64,
    readings: Vec<Line>,
    result: Published,
}

#[derive(Deserialize)]
struct Line {
    point: String,
    bs: Option<f64>,
    is_: Option<f64>,
    fs: Option<f64>,
}

#[derive(Deserialize)]
struct Published {
    hpc: Vec<f64>,
    initial_rl: Vec<f64>,
    misclosure: f64,
    correction_mm: Vec<f64>,
}

pub(crate) fn reduction(check: &mut Check) {
    for sheet in &check.json::<Data>().cases {
        let last = sheet.readings.last().unwrap();
        let start =
            FixedPoint { point: sheet.readings[0].point.clone(), value_mm: sheet.start_height * 1000.0, u_mm: None };
        let mut network = Network { fixed: vec![start], setups: setups(&sheet.readings), ..Network::default() };
        check.same("set-ups", network.setups.len(), sheet.result.hpc.len());

        let open = adjust(&network).unwrap();
        for (line, rl) in sheet.readings.iter().zip(&sheet.result.initial_rl) {
            check.near(&line.point, open.elevation(&line.point).unwrap().value, rl * 1000.0, "height_mm");
        }
        for (setup, plane) in network.setups.iter().zip(&sheet.result.hpc) {
            let first = &setup.readings[0];
            let ours = open.elevation(&first.point).unwrap().value + first.staff_mm;
            check.near(&setup.id, ours, plane * 1000.0, "height_mm");
        }
        let closing = open.elevation(&last.point).unwrap().value - sheet.end_height * 1000.0;
        check.near("misclosure", closing, sheet.result.misclosure * 1000.0, "height_mm");

        let end = FixedPoint { point: last.point.clone(), value_mm: sheet.end_height * 1000.0, u_mm: None };
        network.fixed.push(end);
        let closed = adjust(&network).unwrap();
        for (i, line) in sheet.readings.iter().enumerate().filter(|(_, line)| line.fs.is_some()) {
            let moved = closed.elevation(&line.point).unwrap().value - open.elevation(&line.point).unwrap().value;
            check.near(&format!("{} shared", line.point), moved, sheet.result.correction_mm[i], "shared_mm");
        }
        check.same("degrees of freedom", closed.degrees_of_freedom, 1);
    }
}

/// A backsight opens a set-up, a foresight closes it.
fn setups(lines: &[Line]) -> Vec<Setup> {
    let mut setups: Vec<Setup> = Vec::new();
    for line in lines {
        let staff = |metres: f64| Staff { point: line.point.clone(), staff_mm: metres * 1000.0, u_mm: 1.0 };
        if let Some(sight) = line.is_.or(line.fs) {
            setups.last_mut().unwrap().readings.push(staff(sight));
        }
        if let Some(back) = line.bs {
            setups.push(Setup { id: format!("set-up {}", setups.len() + 1), readings: vec![staff(back)] });
        }
    }
    setups
}
