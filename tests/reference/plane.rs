//! Planes through points: vertical and orthogonal.

use crate::Check;
use serde::Deserialize;
use trueground_core::plane::{floor_plane, space_plane};

#[derive(Deserialize)]
struct Data {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    name: String,
    points: Vec<[f64; 3]>,
    orthogonal: Orthogonal,
    vertical: Vertical,
}

#[derive(Deserialize)]
struct Orthogonal {
    centroid: [f64; 3],
    unit_normal: [f64; 3],
    rms: f64,
    sum_sq: f64,
    max_dev: f64,
    min_dev: f64,
    range: f64,
}

#[derive(Deserialize)]
struct Vertical {
    a_b_c: [f64; 3],
    se: [f64; 3],
    residual_sd: f64,
    residuals: Vec<f64>,
}

pub(crate) fn fits(check: &mut Check) {
    for case in &check.json::<Data>().cases {
        let what = |part: &str| format!("{} {part}", case.name);
        let ours = space_plane(&case.points).unwrap();
        for i in 0..3 {
            check.near(&what("centroid"), ours.centroid[i], case.orthogonal.centroid[i], "absolute");
            check.near(&what("normal"), ours.normal[i], case.orthogonal.unit_normal[i], "absolute");
        }
        let sum_sq: f64 = ours.distances.iter().map(|d| d * d).sum();
        let most = ours.distances.iter().fold(f64::MIN, |a, b| a.max(*b));
        let least = ours.distances.iter().fold(f64::MAX, |a, b| a.min(*b));
        check.relative(&what("sum of squares"), sum_sq, case.orthogonal.sum_sq, "relative");
        check.relative(&what("rms"), (sum_sq / case.points.len() as f64).sqrt(), case.orthogonal.rms, "relative");
        check.near(&what("largest"), most, case.orthogonal.max_dev, "absolute");
        check.near(&what("least"), least, case.orthogonal.min_dev, "absolute");
        check.near(&what("range"), most - least, case.orthogonal.range, "absolute");

        let ours = floor_plane(&case.points, 1.0).unwrap();
        let sd = ours.fit.variance_factor().unwrap().sqrt();
        check.relative(&what("residual sd"), sd, case.vertical.residual_sd, "relative");
        for (i, parameter) in [ours.height, ours.slope_x, ours.slope_y].into_iter().enumerate() {
            check.near(&what("parameter"), parameter, case.vertical.a_b_c[i], "absolute");
            // The published standard errors come from the residuals, ours from the stated u of 1.
            check.relative(&what("standard error"), ours.fit.u(i) * sd, case.vertical.se[i], "relative");
        }
        // Published: point less plane.
        for (v, published) in ours.fit.residuals.iter().zip(&case.vertical.residuals) {
            check.near(&what("residual"), -v, *published, "absolute");
        }
    }
}
