//! Carrying standard uncertainties through a formula: to first order, or by drawing.
//!
//! # Source
//! JCGM 100:2008 (GUM): combined standard uncertainty 5.1.2 (uncorrelated inputs), sensitivities by differences of ± u
//! 5.1.3 note 2, rectangular distribution 4.3.7, effective degrees of freedom G.4.1, coverage factor G.3.4.
//! JCGM 101:2008 (Supplement 1): mean and standard uncertainty of draws 7.6, coverage intervals 7.7.

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
/// Where a formula bends within ± u of its inputs, the first order falls short: draw from the inputs instead, see [`Drawn`].
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

/// What draws of a formula's result show. The draws come from outside, since chance does.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawn {
    /// Mean.
    pub value: f64,
    /// Standard deviation.
    pub u: f64,
    /// In rising order.
    sorted: Vec<f64>,
}

impl Drawn {
    /// Of at least two draws, all finite; none otherwise.
    pub fn of(mut draws: Vec<f64>) -> Option<Self> {
        if draws.len() < 2 || draws.iter().any(|draw| !draw.is_finite()) {
            return None;
        }
        let count = draws.len() as f64;
        let value = draws.iter().sum::<f64>() / count;
        let squares: f64 = draws.iter().map(|draw| (draw - value) * (draw - value)).sum();
        draws.sort_unstable_by(f64::total_cmp);
        Some(Self { value, u: (squares / (count - 1.0)).sqrt(), sorted: draws })
    }

    /// The interval that leaves equally many draws below and above; `probability` within 0 to 1.
    pub fn symmetric_interval(&self, probability: f64) -> (f64, f64) {
        let inside = self.inside(probability);
        let from = (self.sorted.len() - 1 - inside) / 2;
        (self.sorted[from], self.sorted[from + inside])
    }

    /// The shortest interval that holds that part of the draws; `probability` within 0 to 1.
    pub fn shortest_interval(&self, probability: f64) -> (f64, f64) {
        let inside = self.inside(probability);
        let ends = self.sorted.iter().zip(&self.sorted[inside..]);
        let shortest = ends.min_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
        shortest.map_or((self.value, self.value), |(from, to)| (*from, *to))
    }

    /// How many places the ends of an interval lie apart, less than the number of draws.
    fn inside(&self, probability: f64) -> usize {
        let part = if probability.is_nan() { 0.0 } else { probability.clamp(0.0, 1.0) };
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "between 0 and the number of draws"
        )]
        let inside = (part * self.sorted.len() as f64).round() as usize;
        inside.min(self.sorted.len() - 1)
    }
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
    fn draws_are_summed_up_by_hand() {
        let drawn = Drawn::of(vec![3.0, 1.0, 2.0, 10.0]).unwrap();
        // Mean 4; squares 1 + 9 + 4 + 36 = 50 over 3.
        assert!(drawn.value == 4.0 && (drawn.u - (50.0_f64 / 3.0).sqrt()).abs() < 1e-15);
        assert_eq!(drawn.shortest_interval(0.5), (1.0, 3.0));
        assert_eq!(drawn.symmetric_interval(1.0), (1.0, 10.0));
        assert_eq!(Drawn::of(vec![1.0, f64::NAN]), None);
        assert_eq!(Drawn::of(vec![1.0]), None);
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
