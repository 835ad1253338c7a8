//! An angle, and the only door to trigonometry.

use std::ops::{Add, Neg, Sub};

/// An angle, kept in radians. Trigonometry goes through this type and `libm`, so that degrees never reach a sine and every
/// device computes the same digits.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Angle {
    rad: f64,
}

impl Angle {
    /// From degrees.
    pub fn deg(deg: f64) -> Self {
        Self { rad: deg * (std::f64::consts::PI / 180.0) }
    }

    /// From radians.
    pub const fn rad(rad: f64) -> Self {
        Self { rad }
    }

    /// The angle whose tangent is `y / x`, in the right quadrant.
    pub fn atan2(y: f64, x: f64) -> Self {
        Self { rad: libm::atan2(y, x) }
    }

    /// The angle whose tangent is `slope`, within ±90 deg.
    pub fn atan(slope: f64) -> Self {
        Self { rad: libm::atan(slope) }
    }

    /// The angle whose sine is `ratio`; `None` outside -1 to 1.
    pub fn asin(ratio: f64) -> Option<Self> {
        (-1.0..=1.0).contains(&ratio).then(|| Self { rad: libm::asin(ratio) })
    }

    /// The angle whose cosine is `ratio`; `None` outside -1 to 1.
    pub fn acos(ratio: f64) -> Option<Self> {
        (-1.0..=1.0).contains(&ratio).then(|| Self { rad: libm::acos(ratio) })
    }

    /// In degrees.
    pub fn to_deg(self) -> f64 {
        self.rad * (180.0 / std::f64::consts::PI)
    }

    /// In radians.
    pub const fn to_rad(self) -> f64 {
        self.rad
    }

    /// Sine.
    pub fn sin(self) -> f64 {
        libm::sin(self.rad)
    }

    /// Cosine.
    pub fn cos(self) -> f64 {
        libm::cos(self.rad)
    }

    /// Tangent: rise over run.
    pub fn tan(self) -> f64 {
        libm::tan(self.rad)
    }
}

impl Neg for Angle {
    type Output = Self;
    fn neg(self) -> Self {
        Self { rad: -self.rad }
    }
}

impl Add for Angle {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { rad: self.rad + other.rad }
    }
}

impl Sub for Angle {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self { rad: self.rad - other.rad }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slope_of_one_in_two_is_twenty_six_degrees_thirty_four_minutes() {
        // Table value 26° 33' 54.18".
        assert!((Angle::atan2(1.0, 2.0).to_deg() - (26.0 + 33.0 / 60.0 + 54.18 / 3600.0)).abs() < 2e-6);
        assert!((Angle::deg(30.0).sin() - 0.5).abs() < 1e-15);
        assert_eq!(Angle::asin(1.5), None);
    }
}
