//! Levelling networks: heights, their uncertainty, redundancy and standardised residuals.
//!
//! The sources scale standard deviations and standardised residuals by the a posteriori factor where the data says so; ours
//! are a priori, and are converted here.

use crate::Check;
use nalgebra::{DMatrix, Matrix2, Vector2};
use serde::Deserialize;
use std::collections::BTreeMap;
use trueground_core::least_squares::fit;
use trueground_core::network::{Datum, Difference, FixedPoint, Network, adjust};

#[derive(Deserialize)]
struct Data {
    cases: Vec<Net>,
}

#[derive(Deserialize)]
struct Net {
    name: String,
    fixed_heights_m: BTreeMap<String, f64>,
    given_heights_m: Option<BTreeMap<String, f64>>,
    given_heights_cov_mm2: Option<[[f64; 2]; 2]>,
    approximate_heights_m: Option<BTreeMap<String, f64>>,
    #[serde(default)]
    datum_points: Vec<String>,
    sigma0_apriori_mm: f64,
    observations: Vec<Rise>,
    result: Published,
}

#[derive(Deserialize)]
struct Rise {
    from: String,
    to: String,
    dh_m: f64,
    stdev_mm: f64,
}

#[derive(Deserialize)]
struct Published {
    adjusted_heights_m: BTreeMap<String, f64>,
    height_stdev_mm: BTreeMap<String, f64>,
    dof: usize,
    pvv: f64,
    sigma0_aposteriori_mm: f64,
    stdevs_scaled_with: String,
    observations: Vec<PublishedRow>,
}

#[derive(Deserialize)]
struct PublishedRow {
    residual_mm: f64,
    std_residual: Option<f64>,
    redundancy_number: f64,
}

/// Ours, in the same order and units.
struct Ours {
    heights_mm: BTreeMap<String, f64>,
    u_mm: BTreeMap<String, f64>,
    rows: Vec<(f64, f64, Option<f64>)>,
    dof: usize,
    weighted_squares: f64,
}

pub(crate) fn networks(check: &mut Check) {
    let data: Data = check.json();
    check.same("number of nets", data.cases.len(), 8);
    for net in &data.cases {
        let ours =
            if net.given_heights_cov_mm2.is_some() { with_correlated_heights(net) } else { with_the_network(net) };
        let published = &net.result;
        let what = |part: &str| format!("{} {part}", net.name);
        let a_posteriori = published.sigma0_aposteriori_mm / net.sigma0_apriori_mm;
        let scale = if published.stdevs_scaled_with == "sigma0 aposteriori" { a_posteriori } else { 1.0 };
        check.same(&what("degrees of freedom"), ours.dof, published.dof);
        let squares = ours.weighted_squares * net.sigma0_apriori_mm.powi(2);
        check.relative(&what("weighted squares"), squares, published.pvv, "weighted_squares_relative");
        for (point, height_m) in &published.adjusted_heights_m {
            check.near(&what(point), ours.heights_mm[point], height_m * 1000.0, "height_mm");
        }
        for (point, stdev_mm) in &published.height_stdev_mm {
            check.relative(&what(&format!("u of {point}")), ours.u_mm[point] * scale, *stdev_mm, "stdev_relative");
        }
        check.same(&what("rows"), ours.rows.len(), published.observations.len());
        for (i, (ours, published)) in ours.rows.iter().zip(&published.observations).enumerate() {
            let (residual, redundancy, standardised) = *ours;
            check.near(&what(&format!("residual {i}")), residual, published.residual_mm, "residual_mm");
            check.near(&what(&format!("redundancy {i}")), redundancy, published.redundancy_number, "redundancy");
            match published.std_residual {
                Some(w) => {
                    let ours = standardised.map_or(f64::NAN, |w| w.abs() / scale);
                    check.near(&what(&format!("standardised {i}")), ours, w, "standardised");
                }
                None => check.same(&what(&format!("standardised {i}")), standardised, None),
            }
        }
    }
}

fn with_the_network(net: &Net) -> Ours {
    let fixed = net.fixed_heights_m.iter();
    let network = Network {
        fixed: fixed.map(|(point, m)| FixedPoint { point: point.clone(), value_mm: m * 1000.0, u_mm: None }).collect(),
        datum_points: net.datum_points.clone(),
        differences: net
            .observations
            .iter()
            .map(|o| Difference { from: o.from.clone(), to: o.to.clone(), rise_mm: o.dh_m * 1000.0, u_mm: o.stdev_mm })
            .collect(),
        setups: Vec::new(),
    };
    let adjusted = adjust(&network).unwrap_or_else(|e| panic!("{}: {e}", net.name));
    // A free net: the published datum keeps the mean of the approximate heights of the datum points, ours keeps zero.
    let mean_mm = match &net.approximate_heights_m {
        Some(heights) => {
            net.datum_points.iter().map(|p| heights[p] * 1000.0).sum::<f64>() / net.datum_points.len() as f64
        }
        None => 0.0,
    };
    assert_eq!(adjusted.datum == Datum::DatumPoints, net.approximate_heights_m.is_some());
    Ours {
        heights_mm: adjusted.elevations.iter().map(|(point, e)| (point.clone(), e.value + mean_mm)).collect(),
        u_mm: adjusted.elevations.iter().map(|(point, e)| (point.clone(), e.u)).collect(),
        rows: adjusted.residuals.iter().map(|row| (row.residual_mm, row.redundancy, row.standardised)).collect(),
        dof: adjusted.degrees_of_freedom,
        weighted_squares: adjusted.sum_weighted_squares,
    }
}

/// Two given heights with a covariance: our nets take a u for each, so this one goes through the dense kernel, with the
/// pair turned into two uncorrelated rows by the inverse Cholesky factor of its covariance.
fn with_correlated_heights(net: &Net) -> Ours {
    let given = net.given_heights_m.as_ref().unwrap();
    let cov = net.given_heights_cov_mm2.unwrap();
    let whiten = Matrix2::from_fn(|i, j| cov[i][j]).cholesky().unwrap().l().try_inverse().unwrap();
    let points: Vec<&String> = net.result.adjusted_heights_m.keys().collect();
    let column = |name: &str| points.iter().position(|p| *p == name).unwrap();
    // Corrections to approximate heights keep the digits of heights of 100 m.
    let approximate: Vec<f64> = points.iter().map(|p| (net.result.adjusted_heights_m[*p] * 1000.0).round()).collect();
    let rows = net.observations.len() + 2;
    let mut design = DMatrix::zeros(rows, points.len());
    let (mut observed, mut u) = (vec![0.0; rows], vec![1.0; rows]);
    for (i, o) in net.observations.iter().enumerate() {
        let (from, to) = (column(&o.from), column(&o.to));
        design[(i, to)] = 1.0;
        design[(i, from)] = -1.0;
        observed[i] = o.dh_m * 1000.0 - (approximate[to] - approximate[from]);
        u[i] = o.stdev_mm;
    }
    let given: Vec<(usize, f64)> =
        given.iter().map(|(p, m)| (column(p), m * 1000.0 - approximate[column(p)])).collect();
    let turned = whiten * Vector2::new(given[0].1, given[1].1);
    for i in 0..2 {
        for (j, (column, _)) in given.iter().enumerate() {
            design[(net.observations.len() + i, *column)] = whiten[(i, j)];
        }
        observed[net.observations.len() + i] = turned[i];
    }
    let fit = fit(&design, &observed, &u).unwrap();
    let named =
        |value: &dyn Fn(usize) -> f64| points.iter().enumerate().map(|(i, p)| ((*p).clone(), value(i))).collect();
    Ours {
        heights_mm: named(&|i| approximate[i] + fit.parameters[i]),
        u_mm: named(&|i| fit.u(i)),
        rows: (0..net.observations.len())
            .map(|i| (fit.residuals[i], 1.0 - fit.leverage[i], fit.standardised(i, u[i])))
            .collect(),
        dof: fit.degrees_of_freedom,
        weighted_squares: fit.sum_weighted_squares,
    }
}
