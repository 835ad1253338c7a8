//! A value with its slopes: what an observation equation needs, without partial derivatives written by hand.
//!
//! Forward differentiation to first order. A jet carries the value of an expression at the present estimate of the
//! unknowns and its derivative by each unknown that it contains, so that an equation reads like the one in the book and
//! its design-matrix row cannot disagree with it.

/// Value and slopes of an expression at the present estimate.
#[derive(Clone, Debug, Default)]
pub(crate) struct Jet {
    /// The value.
    pub(crate) value: f64,
    /// Unknown and derivative; an unknown may stand more than once until [`Jet::merged`].
    pub(crate) slopes: Vec<(usize, f64)>,
}

impl Jet {
    /// The unknown with number `unknown`, at `value`.
    pub(crate) fn unknown(unknown: usize, value: f64) -> Self {
        Self { value, slopes: vec![(unknown, 1.0)] }
    }

    /// Adds `factor · other` in place.
    pub(crate) fn add(&mut self, factor: f64, other: &Self) {
        self.value += factor * other.value;
        self.slopes.extend(other.slopes.iter().map(|&(unknown, slope)| (unknown, factor * slope)));
    }

    /// Adds `factor ·` one unknown in place.
    pub(crate) fn add_unknown(&mut self, factor: f64, unknown: usize, x: &[f64]) {
        self.value += factor * x[unknown];
        self.slopes.push((unknown, factor));
    }

    /// `self + factor · other`.
    pub(crate) fn plus(mut self, factor: f64, other: &Self) -> Self {
        self.add(factor, other);
        self
    }

    /// `factor · self`.
    pub(crate) fn times(mut self, factor: f64) -> Self {
        self.value *= factor;
        for (_, slope) in &mut self.slopes {
            *slope *= factor;
        }
        self
    }

    /// `self + number`.
    pub(crate) fn shifted(mut self, number: f64) -> Self {
        self.value += number;
        self
    }

    /// The product of two expressions.
    pub(crate) fn product(&self, other: &Self) -> Self {
        let mut product = self.clone().times(other.value);
        product.slopes.extend(other.slopes.iter().map(|&(unknown, slope)| (unknown, self.value * slope)));
        product.value = self.value * other.value;
        product
    }

    /// Arc tangent, in degrees.
    pub(crate) fn atan_deg(self) -> Self {
        let degrees = 1.0_f64.to_degrees();
        let value = libm::atan(self.value) * degrees;
        let slope = degrees / (1.0 + self.value * self.value);
        Self { value, slopes: self.times(slope).slopes }
    }

    /// Each unknown once, in rising order.
    pub(crate) fn merged(mut self) -> Self {
        self.slopes.sort_unstable_by_key(|&(unknown, _)| unknown);
        self.slopes.dedup_by(|later, earlier| {
            let same = later.0 == earlier.0;
            if same {
                earlier.1 += later.1;
            }
            same
        });
        self.slopes.retain(|&(_, slope)| slope != 0.0);
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Second road: central differences of the same expression.
    #[test]
    fn slopes_agree_with_differences() {
        let expression = |x: f64, y: f64| {
            let (jet_x, jet_y) = (Jet::unknown(0, x), Jet::unknown(1, y));
            jet_x.product(&jet_y).plus(3.0, &jet_x).shifted(0.2).times(0.1).atan_deg().merged()
        };
        let (x, y, step) = (0.7, -1.3, 1e-6);
        let jet = expression(x, y);
        let by_x = (expression(x + step, y).value - expression(x - step, y).value) / (2.0 * step);
        let by_y = (expression(x, y + step).value - expression(x, y - step).value) / (2.0 * step);
        assert_eq!(jet.slopes.len(), 2);
        assert!((jet.slopes[0].1 - by_x).abs() < 1e-7 && (jet.slopes[1].1 - by_y).abs() < 1e-7, "{jet:?}");
        let angle = libm::atan(0.1 * (x * y + 3.0 * x + 0.2)).to_degrees();
        assert!((jet.value - angle).abs() < 1e-12);
    }
}
