//! A surface plate from step-by-step tilt readings: every line has an unknown tilt of its own, the two diagonals make the
//! datum, the sides hang on their ends. One adjustment of all six lines, solved by the dense kernel.

use crate::Check;
use nalgebra::DMatrix;
use serde::Deserialize;
use std::collections::{BTreeMap, HashMap};
use trueground_core::least_squares::fit;

#[derive(Deserialize)]
struct Data {
    lines: BTreeMap<String, Line>,
    line_ends: BTreeMap<String, String>,
    overall: Overall,
}

#[derive(Deserialize)]
struct Line {
    readings_arcsec: Vec<f64>,
    heights_from_datum_arcsec: Vec<f64>,
}

#[derive(Deserialize)]
struct Overall {
    lowest_datum_height_arcsec: f64,
    largest_base_plane_height_arcsec: f64,
    published_flatness_in: f64,
}

/// Names the stations of a line; its ends and the middle of a diagonal are shared.
fn stations(name: &str, ends: &str, count: usize) -> Vec<String> {
    let (from, to) = ends.split_once(" to ").unwrap();
    (0..count)
        .map(|i| match i {
            0 => from.to_owned(),
            _ if i + 1 == count => to.to_owned(),
            _ if name.ends_with("diag") && 2 * i + 1 == count => "middle".to_owned(),
            _ => format!("{name} {i}"),
        })
        .collect()
}

pub(crate) fn moody(check: &mut Check) {
    let data: Data = check.json();
    let lines: Vec<(&String, &Line, Vec<String>)> = data
        .lines
        .iter()
        .map(|(name, line)| (name, line, stations(name, &data.line_ends[name], line.readings_arcsec.len() + 1)))
        .collect();
    check.same("lines", lines.len(), 6);
    let mut column: HashMap<&str, usize> = HashMap::new();
    for station in lines.iter().flat_map(|(_, _, stations)| stations) {
        let next = column.len();
        column.entry(station).or_insert(next);
    }
    // One tilt a line behind the stations.
    let unknowns = column.len() + lines.len();
    let mut rows: Vec<(Vec<(usize, f64)>, f64)> = Vec::new();
    for (number, (_, line, stations)) in lines.iter().enumerate() {
        for (step, reading) in line.readings_arcsec.iter().enumerate() {
            let (from, to) = (column[stations[step].as_str()], column[stations[step + 1].as_str()]);
            rows.push((vec![(to, 1.0), (from, -1.0), (column.len() + number, 1.0)], *reading));
        }
    }
    // The datum plane: both ends of a diagonal equally high, the middle at zero.
    rows.push((vec![(column["NW"], 1.0), (column["SE"], -1.0)], 0.0));
    rows.push((vec![(column["NE"], 1.0), (column["SW"], -1.0)], 0.0));
    rows.push((vec![(column["middle"], 1.0)], 0.0));
    let mut design = DMatrix::zeros(rows.len(), unknowns);
    for (i, (row, _)) in rows.iter().enumerate() {
        for (j, a) in row {
            design[(i, *j)] = *a;
        }
    }
    let observed: Vec<f64> = rows.iter().map(|(_, reading)| *reading).collect();
    let fit = fit(&design, &observed, &vec![1.0; rows.len()]).unwrap();
    check.same("degrees of freedom", fit.degrees_of_freedom, 0);

    let height = |station: &str| fit.parameters[column[station]];
    for (name, line, stations) in &lines {
        check.same(name, stations.len(), line.heights_from_datum_arcsec.len());
        for (station, published) in stations.iter().zip(&line.heights_from_datum_arcsec) {
            check.near(station, height(station), *published, "height_arcsec");
        }
    }
    let heights = || column.keys().map(|station| height(station));
    let lowest = heights().fold(f64::MAX, f64::min);
    check.near("lowest", lowest, data.overall.lowest_datum_height_arcsec, "height_arcsec");
    let range = heights().fold(f64::MIN, f64::max) - lowest;
    check.near("largest over the base plane", range, data.overall.largest_base_plane_height_arcsec, "height_arcsec");
    // Moody takes 0.000005 for the arc second.
    check.near("flatness", range * 4.0 * 5e-6, data.overall.published_flatness_in, "flatness_in");
}
