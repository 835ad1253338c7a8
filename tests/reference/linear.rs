//! Linear least squares: the NIST data sets, and the stack loss data with its leverages.

use crate::Check;
use nalgebra::DMatrix;
use serde::Deserialize;
use trueground_core::least_squares::fit;

#[derive(Deserialize)]
struct Nist {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    name: String,
    model: String,
    parameters: Vec<Certified>,
    residual_sd: f64,
    anova: Anova,
    columns: Vec<String>,
    data: Vec<Vec<f64>>,
}

#[derive(Deserialize)]
struct Certified {
    name: String,
    value: f64,
    std_error: f64,
}

#[derive(Deserialize)]
struct Anova {
    residual_dof: usize,
    residual_ss: f64,
}

pub(crate) fn nist(check: &mut Check) {
    let data: Nist = check.json();
    check.same("data sets", data.cases.len(), 7);
    for case in &data.cases {
        let tolerance = match case.name.as_str() {
            "Longley" => "Longley_relative",
            "Filip" => "Filip_relative",
            name if name.starts_with("Wampler") => "Wampler_relative",
            _ => "easy_relative",
        };
        let polynomial = case.model.contains("**");
        let without_constant = case.parameters[0].name == "B1";
        let first_power = usize::from(without_constant);
        let design = DMatrix::from_fn(case.data.len(), case.parameters.len(), |i, j| {
            let x = &case.data[i];
            match j + first_power {
                0 => 1.0,
                // A power by multiplication: x.powi() of the platform may differ in the last digit.
                power if polynomial => (0..power).fold(1.0, |product, _| product * x[1]),
                column => x[column],
            }
        });
        assert!(polynomial || case.columns.len() == case.parameters.len() + usize::from(without_constant));
        let y: Vec<f64> = case.data.iter().map(|row| row[0]).collect();
        let ours = fit(&design, &y, &vec![1.0; y.len()]).unwrap_or_else(|e| panic!("{}: {e}", case.name));
        let sd = ours.variance_factor().unwrap().sqrt();
        check.same(&case.name, ours.degrees_of_freedom, case.anova.residual_dof);
        let exact = case.residual_sd == 0.0;
        for (i, certified) in case.parameters.iter().enumerate() {
            let what = format!("{} {}", case.name, certified.name);
            check.relative(&what, ours.parameters[i], certified.value, tolerance);
            let (what, u) = (format!("{what} standard error"), ours.u(i) * sd);
            if exact {
                check.near(&what, u, certified.std_error, "absolute");
            } else {
                check.relative(&what, u, certified.std_error, tolerance);
            }
        }
        if exact {
            check.near(&case.name, sd, case.residual_sd, "absolute");
        } else {
            check.relative(&format!("{} residual sd", case.name), sd, case.residual_sd, tolerance);
            check.relative(
                &format!("{} squares", case.name),
                ours.sum_weighted_squares,
                case.anova.residual_ss,
                tolerance,
            );
        }
    }
}

#[derive(Deserialize)]
struct Outliers {
    cases: Vec<serde_json::Value>,
}

#[derive(Deserialize)]
struct StackLoss {
    data: Vec<[f64; 4]>,
    recomputed: Recomputed,
}

#[derive(Deserialize)]
struct Recomputed {
    params: Vec<f64>,
    se: Vec<f64>,
    residual_sd: f64,
    leverage: Vec<f64>,
    internally_studentized: Vec<f64>,
    externally_studentized: Vec<f64>,
}

pub(crate) fn stack_loss(check: &mut Check) {
    let case = check.json::<Outliers>().cases.into_iter().find(|case| case["id"] == "stackloss").unwrap();
    let StackLoss { data, recomputed } = serde_json::from_value(case).unwrap();
    let design = DMatrix::from_fn(data.len(), 4, |i, j| if j == 0 { 1.0 } else { data[i][j] });
    let y: Vec<f64> = data.iter().map(|row| row[0]).collect();
    let ours = fit(&design, &y, &vec![1.0; y.len()]).unwrap();
    let sd = ours.variance_factor().unwrap().sqrt();
    check.relative("residual sd", sd, recomputed.residual_sd, "relative");
    for i in 0..4 {
        check.relative("parameter", ours.parameters[i], recomputed.params[i], "relative");
        check.relative("standard error", ours.u(i) * sd, recomputed.se[i], "relative");
    }
    let freedom = ours.degrees_of_freedom as f64;
    for i in 0..data.len() {
        check.relative("leverage", ours.leverage[i], recomputed.leverage[i], "relative");
        // Published: observed less fitted.
        let inner = -ours.standardised(i, sd).unwrap();
        check.relative("internally studentized", inner, recomputed.internally_studentized[i], "relative");
        let outer = inner * ((freedom - 1.0) / (freedom - inner * inner)).sqrt();
        check.relative("externally studentized", outer, recomputed.externally_studentized[i], "relative");
        if i == 20 {
            check.near("externally studentized, observation 21", outer, -3.33, "published");
        }
    }
}
