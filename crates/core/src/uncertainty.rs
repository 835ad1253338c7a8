//! Carrying standard uncertainties through a formula.
//!
//! # Source
//! JCGM 100:2008 (GUM): combined standard uncertainty 5.1.2 (uncorrelated inputs), sensitivities by differences of ± u
//! 5.1.3 note 2, rectangular and arcsine distributions 4.3.7 and H.1.3.4, effective degrees of freedom G.4.1, coverage
//! factor G.3.4.

use statrs::distribution::{ContinuousCDF, Normal, StudentsT};

/// A quantity with its standard uncertainty (k = 1), in one unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// The value.
    pub value: f64,
    /// Standard uncertainty; zero where it is exact.
    pub u: f64,
}

impl Quantity {
    /// Value and standard uncertainty.
    pub const fn new(value: f64, u: f64) -> Self {
        Self { value, u }
    }

    /// Exactly known.
    pub const fn exact(value: f64) -> Self {
        Self { value, u: 0.0 }
    }

    /// Anywhere within `half_width` of the value, equally likely.
    pub fn rectangular(value: f64, half_width: f64) -> Self {
        Self { value, u: half_width / 3_f64.sqrt() }
    }
}

/// A formula's result.
#[derive(Debug, Clone, PartialEq)]
pub struct Propagated {
    /// The formula at the inputs' values.
    pub value: f64,
    /// Combined standard uncertainty, first order.
    pub u: f64,
    /// Each input's part with its sign, |∂f/∂x| · u: the root of the sum of their squares is `u`.
    pub parts: Vec<f64>,
}

/// Carries uncorrelated `inputs` through `formula`, to first order.
///
/// # Not covered
/// Where a formula bends within ± u of its inputs, the first order falls short.
pub fn propagate<const N: usize>(inputs: [Quantity; N], formula: impl Fn([f64; N]) -> f64) -> Propagated {
    let at = inputs.map(|input| input.value);
    let parts: Vec<f64> = (0..N)
        .map(|i| {
            let moved = |by: f64| {
                let mut x = at;
                x[i] += by;
                formula(x)
            };
            (moved(inputs[i].u) - moved(-inputs[i].u)) / 2.0
        })
        .collect();
    let u = parts.iter().map(|part| part * part).sum::<f64>().sqrt();
    Propagated { value: formula(at), u, parts }
}

/// Effective degrees of freedom of a combined uncertainty, from `(part, degrees of freedom)` of each input; infinite
/// where no part has a finite number.
pub fn effective_degrees_of_freedom(parts: &[(f64, f64)]) -> f64 {
    let variance: f64 = parts.iter().map(|(part, _)| part * part).sum();
    let fourth: f64 = parts.iter().map(|(part, freedom)| part.powi(4) / freedom).sum();
    if fourth > 0.0 { variance * variance / fourth } else { f64::INFINITY }
}

/// Factor k for which ± k · u holds the value with `probability`, at these degrees of freedom (cut to a whole number, as
/// G.4.1 says); none for a probability outside 0 to 1 or fewer than 1 degree of freedom.
pub fn coverage_factor(probability: f64, degrees_of_freedom: f64) -> Option<f64> {
    if !(0.0..1.0).contains(&probability) || degrees_of_freedom.is_nan() || degrees_of_freedom < 1.0 {
        return None;
    }
    let one_sided = f64::midpoint(1.0, probability);
    // From here on the t distribution is the normal one to four digits.
    if degrees_of_freedom > 1e5 {
        return Some(Normal::new(0.0, 1.0).ok()?.inverse_cdf(one_sided));
    }
    Some(StudentsT::new(0.0, 1.0, degrees_of_freedom.floor()).ok()?.inverse_cdf(one_sided))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_product_by_hand() {
        // 20 ± 0.2 times 3 ± 0.04: parts 0.6 and 0.8, together 1.
        let product = propagate([Quantity::new(20.0, 0.2), Quantity::new(3.0, 0.04)], |[a, b]| a * b);
        assert!((product.u - 1.0).abs() < 1e-12 && product.value == 60.0);
        assert!((product.parts[0] - 0.6).abs() < 1e-12);
        assert_eq!(propagate([Quantity::exact(2.0)], |[a]| a * a).u, 0.0);
    }

    #[test]
    fn coverage_factors_are_those_of_the_gums_table_g_2() {
        for (probability, freedom, k) in
            [(0.95, 4.0, 2.78), (0.95, 10.9, 2.23), (0.99, 16.0, 2.92), (0.95, f64::INFINITY, 1.96)]
        {
            assert!((coverage_factor(probability, freedom).unwrap() - k).abs() < 0.005, "{freedom}");
        }
        assert_eq!(coverage_factor(1.5, 4.0), None);
        assert_eq!(coverage_factor(0.95, f64::NAN), None);
    }
}
