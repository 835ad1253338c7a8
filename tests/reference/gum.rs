//! The examples of the GUM and of its Supplement 1 that first-order propagation and least squares cover.

use crate::Check;
use nalgebra::DMatrix;
use rand::SeedableRng;
use rand::rngs::StdRng;
use rand_distr::{Distribution, Normal, Uniform};
use serde_json::Value;
use trueground_core::least_squares::fit;
use trueground_core::uncertainty::{Drawn, Quantity, coverage_factor, effective_degrees_of_freedom, propagate};

pub(crate) fn examples(check: &mut Check) {
    let data: Value = check.json();
    let case = |id: &str| data["cases"].as_array().unwrap().iter().find(|case| case["id"] == id).unwrap().clone();
    gauge_block(check, &case("GUM_H1"));
    thermometer(check, &case("GUM_H3"));
    sums(check, &case("S1_9_2_2_normal"), &case("S1_9_2_3_rectangular"));
    mass(check, &case("S1_9_3_mass"));
    draws(check, &case("S1_9_2_2_normal"), &case("S1_9_2_3_rectangular"), &case("S1_9_3_mass"));
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is not a number"))
}

/// H.1: length of an end gauge, nm.
fn gauge_block(check: &mut Check, case: &Value) {
    let input = |name: &str| {
        let given = &case["inputs"][name];
        let value = number(&given["value"]);
        match (given.get("u"), given.get("halfwidth_rectangular"), given.get("halfwidth_arcsine")) {
            (Some(u), _, _) => Quantity::new(value, number(u)),
            (_, Some(half), _) => Quantity::rectangular(value, number(half)),
            // H.1.3.4: an arcsine distribution of half-width a has variance a²/2.
            (_, _, Some(half)) => Quantity::new(value, number(half) / 2_f64.sqrt()),
            _ => panic!("{name}"),
        }
    };
    let names = ["ls", "d0", "d1_random", "d2_systematic", "alphaS", "dAlpha", "dTheta", "theta_bar", "Delta"];
    let result = propagate(names.map(input), |[ls, d0, d1, d2, alpha, d_alpha, d_theta, theta, delta]| {
        ls + (d0 + d1 + d2) - ls * (d_alpha * (theta + delta) + alpha * d_theta)
    });
    let (published, again) = (&case["published"], &case["recomputed"]);
    check.near("H.1 length", result.value, number(&published["l_nm"]), "published_half_digit");
    check.near("H.1 u", result.u, number(&published["u_c_nm"]), "published_half_digit");
    check.relative("H.1 u", result.u, number(&again["u_c_nm"]), "recomputed_relative");
    let d = (result.parts[1].powi(2) + result.parts[2].powi(2) + result.parts[3].powi(2)).sqrt();
    for (what, ours, name) in [
        ("H.1 part of the standard", result.parts[0], "ls"),
        ("H.1 part of the difference", d, "d"),
        ("H.1 part of the expansion", result.parts[5], "d_alpha"),
        ("H.1 part of the temperature", result.parts[6], "d_theta"),
    ] {
        check.relative(what, ours.abs(), number(&again["components_nm"][name]), "recomputed_relative");
    }
    // Table H.1: degrees of freedom of the standard 18, the difference 25.6, the expansion 50, the temperature 2.
    let d_parts = [1, 2, 3].map(|i| (result.parts[i], number(&case["inputs"][names[i]]["dof"])));
    let freedom_d = effective_degrees_of_freedom(&d_parts);
    let parts = [(result.parts[0], 18.0), (d, freedom_d), (result.parts[5], 50.0), (result.parts[6], 2.0)];
    let freedom = effective_degrees_of_freedom(&parts);
    check.same("H.1 effective degrees of freedom", freedom.floor(), number(&published["effective_dof"]));
    let k = coverage_factor(0.99, freedom).unwrap();
    check.near("H.1 k for 99 %", k, number(&published["k99"]), "k");
    // H.1.6 multiplies the printed 2.92 by the printed 32 nm.
    check.near("H.1 U for 99 %", k * result.u.round(), number(&published["U99_nm"]), "published_half_digit");
}

/// H.3: a line through eleven corrections of a thermometer.
fn thermometer(check: &mut Check, case: &Value) {
    let column = |name: &str| case["data"][name].as_array().unwrap().iter().map(number).collect::<Vec<f64>>();
    let (t, b) = (column("t_C"), column("b_C"));
    let design = DMatrix::from_fn(t.len(), 2, |i, j| if j == 0 { 1.0 } else { t[i] - 20.0 });
    let line = fit(&design, &b, &vec![1.0; b.len()]).unwrap();
    let s = line.variance_factor().unwrap().sqrt();
    let at_30 = line.parameters[0] + 10.0 * line.parameters[1];
    let r = line.covariance(0, 1) / (line.u(0) * line.u(1));
    for (name, ours, half_digit) in [
        ("y1", line.parameters[0], 5e-5),
        ("u_y1", line.u(0) * s, 5e-5),
        ("y2", line.parameters[1], 5e-6),
        ("u_y2", line.u(1) * s, 5e-6),
        ("r_y1_y2", r, 5e-3),
        ("residual_sd", s, 5e-5),
        ("b_at_30", at_30, 5e-5),
        ("u_b_at_30", line.u_of(&[1.0, 10.0]) * s, 5e-5),
    ] {
        check.within(&format!("H.3 {name}"), ours, number(&case["published"][name]), half_digit);
        let again = &case["recomputed"][if name == "r_y1_y2" { "r" } else { name }];
        check.relative(&format!("H.3 {name}"), ours, number(again), "recomputed_line_relative");
    }
    check.same("H.3 degrees of freedom", line.degrees_of_freedom as f64, number(&case["published"]["dof"]));
}

/// Supplement 1, 9.2: a sum of four equal quantities; the first order gives ± 1.96 u whatever their distribution.
fn sums(check: &mut Check, normal: &Value, rectangular: &Value) {
    for (case, input, interval) in [
        (normal, Quantity::new(0.0, 1.0), "interval95"),
        (rectangular, Quantity::rectangular(0.0, 3_f64.sqrt()), "gum_framework_interval95"),
    ] {
        let sum = propagate([input; 4], |x| x.iter().sum());
        check.within("9.2 u", sum.u, number(&case["published"]["u"]), 1e-12);
        let end = coverage_factor(0.95, f64::INFINITY).unwrap() * sum.u;
        check.near("9.2 interval", end, number(&case["published"][interval][1]), "k");
    }
}

/// Draws of a formula: half a million from a fixed seed, so that every run sees the same.
fn drawn(mut draw: impl FnMut(&mut StdRng) -> f64) -> Drawn {
    let mut chance = StdRng::seed_from_u64(101);
    Drawn::of((0..500_000).map(|_| draw(&mut chance)).collect()).unwrap()
}

/// Half of the symmetric 95 % interval.
fn half_width(drawn: &Drawn) -> f64 {
    let (from, to) = drawn.symmetric_interval(0.95);
    (to - from) / 2.0
}

/// Supplement 1, 9.2 and 9.3 by drawing.
fn draws(check: &mut Check, normal: &Value, rectangular: &Value, mass: &Value) {
    let unit = Normal::new(0.0, 1.0).unwrap();
    let sum = drawn(|chance| (0..4).map(|_| unit.sample(chance)).sum());
    check.near("9.2.2 u drawn", sum.u, number(&normal["published"]["u"]), "drawn");
    check.near(
        "9.2.2 interval drawn",
        sum.symmetric_interval(0.95).1,
        number(&normal["published"]["interval95"][1]),
        "drawn",
    );

    let flat = Uniform::new(-(3_f64.sqrt()), 3_f64.sqrt()).unwrap();
    let sum = drawn(|chance| (0..4).map(|_| flat.sample(chance)).sum());
    check.near("9.2.3 u drawn", sum.u, number(&rectangular["published"]["u"]), "drawn");
    check.near("9.2.3 interval drawn", half_width(&sum), number(&rectangular["exact_quantile"]), "drawn");

    let (reference, extra) = (Normal::new(100_000.0, 0.050).unwrap(), Normal::new(1.234, 0.020).unwrap());
    let between = |from: f64, to: f64| Uniform::new(from, to).unwrap();
    let (air, rho_w, rho_r) = (between(1.1, 1.3), between(7000.0, 9000.0), between(7950.0, 8050.0));
    let dm = drawn(|c| {
        let buoyancy = (air.sample(c) - 1.2) * (1.0 / rho_w.sample(c) - 1.0 / rho_r.sample(c));
        (reference.sample(c) + extra.sample(c)) * (1.0 + buoyancy) - 100_000.0
    });
    check.near("9.3 u drawn", dm.u, number(&mass["published"]["mcm_u"]), "drawn_mass");
    check.near("9.3 mean drawn", dm.value, number(&mass["recomputed_4e6_draws"]["mean"]), "drawn_mass");
    let (from, to) = dm.shortest_interval(0.95);
    check.near(
        "9.3 shortest interval from",
        from,
        number(&mass["recomputed_4e6_draws"]["shortest95"][0]),
        "drawn_shortest",
    );
    check.near(
        "9.3 shortest interval to",
        to,
        number(&mass["recomputed_4e6_draws"]["shortest95"][1]),
        "drawn_shortest",
    );
}

/// Supplement 1, 9.3: calibration of a mass. The published first-order u is 0.0539 mg; the true one is 0.0754, as the
/// supplement shows: where a formula bends, the first order falls short.
fn mass(check: &mut Check, case: &Value) {
    let inputs = [
        Quantity::new(100_000.0, 0.050),
        Quantity::new(1.234, 0.020),
        Quantity::rectangular(1.2, 0.1),
        Quantity::rectangular(8000.0, 1000.0),
        Quantity::rectangular(8000.0, 50.0),
    ];
    let result = propagate(inputs, |[reference, extra, air, rho_w, rho_r]| {
        (reference + extra) * (1.0 + (air - 1.2) * (1.0 / rho_w - 1.0 / rho_r)) - 100_000.0
    });
    check.within("9.3 first-order u", result.u, number(&case["published"]["gum_first_order_u"]), 5e-5);
}
