//! Curves that are not linear in their parameters: the NIST data sets, from both published starts.

use crate::Check;
use serde::Deserialize;
use trueground_core::curve_fit::{Curve, Observed, fit};

#[derive(Deserialize)]
struct Nist {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    name: String,
    parameters: Vec<Certified>,
    residual_sum_of_squares: f64,
    dof: usize,
    data: Vec<[f64; 2]>,
}

#[derive(Deserialize)]
struct Certified {
    name: String,
    start1: f64,
    start2: f64,
    value: f64,
    std_error: f64,
}

/// A model by the name of its data set.
struct Model(&'static str);

impl Model {
    fn named(name: &str) -> Self {
        let known =
            ["Misra1a", "Misra1c", "DanWood", "Chwirut2", "Rat42", "MGH09", "Thurber", "Kirby2", "Lanczos3", "Gauss1"];
        Self(known.into_iter().find(|known| *known == name).unwrap_or_else(|| panic!("no model {name}")))
    }
}

impl Curve for Model {
    fn value(&self, b: &[f64], x: f64) -> f64 {
        let exp = libm::exp;
        match self.0 {
            "Misra1a" => b[0] * (1.0 - exp(-b[1] * x)),
            "Misra1c" => b[0] * (1.0 - 1.0 / (1.0 + 2.0 * b[1] * x).sqrt()),
            "DanWood" => b[0] * libm::pow(x, b[1]),
            "Chwirut2" => exp(-b[0] * x) / (b[1] + b[2] * x),
            "Rat42" => b[0] / (1.0 + exp(b[1] - b[2] * x)),
            "MGH09" => b[0] * (x * x + x * b[1]) / (x * x + x * b[2] + b[3]),
            "Thurber" => (b[0] + x * (b[1] + x * (b[2] + x * b[3]))) / (1.0 + x * (b[4] + x * (b[5] + x * b[6]))),
            "Kirby2" => (b[0] + x * (b[1] + x * b[2])) / (1.0 + x * (b[3] + x * b[4])),
            "Lanczos3" => b[0] * exp(-b[1] * x) + b[2] * exp(-b[3] * x) + b[4] * exp(-b[5] * x),
            _ => {
                let bell = |size: f64, middle: f64, width: f64| size * exp(-((x - middle) / width).powi(2));
                b[0] * exp(-b[1] * x) + bell(b[2], b[3], b[4]) + bell(b[5], b[6], b[7])
            }
        }
    }

    /// By differences of the fourth order: these models are the test's, and their slopes are none of ours.
    fn slopes(&self, b: &[f64], x: f64, slopes: &mut [f64]) {
        let mut moved = b.to_vec();
        for (i, slope) in slopes.iter_mut().enumerate() {
            let step = 1e-3 * b[i].abs().max(1e-9);
            let mut at = |steps: f64| {
                moved[i] = b[i] + steps * step;
                let value = self.value(&moved, x);
                moved[i] = b[i];
                value
            };
            *slope = (at(-2.0) - 8.0 * at(-1.0) + 8.0 * at(1.0) - at(2.0)) / (12.0 * step);
        }
    }
}

pub(crate) fn nist(check: &mut Check) {
    let data: Nist = check.json();
    check.same("data sets", data.cases.len(), 10);
    for case in &data.cases {
        let tolerance = |of: &str| {
            if case.name == "Lanczos3" { format!("Lanczos3_{of}") } else { of.to_owned() }
        };
        let points: Vec<Observed> = case.data.iter().map(|[y, x]| Observed { x: *x, y: *y, u: 1.0 }).collect();
        let starts: [Vec<f64>; 2] = [
            case.parameters.iter().map(|parameter| parameter.start1).collect(),
            case.parameters.iter().map(|parameter| parameter.start2).collect(),
        ];
        for (number, start) in starts.iter().enumerate() {
            let name = format!("{} from start {}", case.name, number + 1);
            let ours = fit(&Model::named(&case.name), &points, start).unwrap_or_else(|e| panic!("{name}: {e}"));
            check.same(&name, ours.degrees_of_freedom, case.dof);
            let squares = ours.sum_weighted_squares;
            check.relative(
                &format!("{name}, squares"),
                squares,
                case.residual_sum_of_squares,
                &tolerance("squares_relative"),
            );
            let sd = ours.variance_factor().unwrap().sqrt();
            for (i, certified) in case.parameters.iter().enumerate() {
                let what = format!("{name}, {}", certified.name);
                check.relative(&what, ours.parameters[i], certified.value, &tolerance("relative"));
                let (what, u) = (format!("{what}, standard error"), ours.u(i) * sd);
                check.relative(&what, u, certified.std_error, &tolerance("std_error_relative"));
            }
        }
    }
}
