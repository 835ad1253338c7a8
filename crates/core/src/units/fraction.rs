//! An exact number as it stands on a tape: a whole and a fraction.

use serde::Serialize;
use std::fmt;

/// A number that is not negative, as a reduced fraction: 23 5/8 is 189/8, 13.7 is 137/10.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
pub struct Fraction {
    numerator: u64,
    denominator: u64,
}

impl Fraction {
    /// `numerator / denominator`, reduced.
    ///
    /// # Panics
    /// With a denominator of zero.
    pub fn new(numerator: u64, denominator: u64) -> Self {
        assert!(denominator > 0, "a fraction over zero");
        let common = greatest_common_divisor(numerator, denominator);
        Self { numerator: numerator / common, denominator: denominator / common }
    }

    /// Above the line, reduced.
    pub fn numerator(self) -> u64 {
        self.numerator
    }

    /// Below the line, reduced; never zero.
    pub fn denominator(self) -> u64 {
        self.denominator
    }

    /// As a double, rounded once.
    pub fn to_f64(self) -> f64 {
        self.numerator as f64 / self.denominator as f64
    }
}

impl fmt::Display for Fraction {
    /// On binary divisions down to 1/64 as a tape reads, `23 5/8`; any other as a decimal.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (whole, rest) = (self.numerator / self.denominator, self.numerator % self.denominator);
        match (whole, rest) {
            (_, 0) => write!(f, "{whole}"),
            _ if !(self.denominator.is_power_of_two() && self.denominator <= 64) => write!(f, "{}", self.to_f64()),
            (0, _) => write!(f, "{rest}/{}", self.denominator),
            _ => write!(f, "{whole} {rest}/{}", self.denominator),
        }
    }
}

fn greatest_common_divisor(a: u64, b: u64) -> u64 {
    if b == 0 { a.max(1) } else { greatest_common_divisor(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_are_reduced_and_print_as_on_a_tape() {
        assert_eq!(Fraction::new(378, 16).to_string(), "23 5/8");
        assert_eq!(Fraction::new(10, 16).to_string(), "5/8");
        assert_eq!(Fraction::new(137, 10).to_string(), "13.7");
        assert_eq!(Fraction::new(0, 16), Fraction::new(0, 1));
    }
}
