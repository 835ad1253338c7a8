//! A frame that is bent at a cut: all that lies beyond it turns about it, and the rest stays the straight line that it was.
//!
//! A point beyond turns up by (its distance from the cut) × sin(wedge). Over the axle that is as much as the frame came down there, so
//! that the cross-member stays on its axle.

use super::effect::End;
use crate::uncertainty::Quantity;

/// Cuts that are told apart; what is cut beyond them is taken together with the last.
const MOST: usize = 6;

/// One cut.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Bend {
    /// Which end of the car lies beyond it.
    end: End,
    /// Ahead of the front axle, mm.
    at_x_mm: f64,
    /// From the cut to the axle beyond it, mm.
    arm_mm: f64,
    /// How far that end turns up, degrees.
    up: Quantity,
}

/// Every cut of a frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bends([Option<Bend>; MOST]);

impl Bends {
    /// A straight frame.
    pub const NONE: Self = Self([None; MOST]);

    /// One cut, with the end beyond it turned up by `up` degrees.
    pub(super) fn at(end: End, arm_mm: f64, wheelbase_mm: f64, up: Quantity) -> Self {
        let at_x_mm = if end == End::Front { -arm_mm } else { arm_mm - wheelbase_mm };
        let mut bends = Self::NONE;
        bends.0[0] = Some(Bend { end, at_x_mm, arm_mm, up });
        bends
    }

    pub(super) fn plus(&self, other: &Self) -> Self {
        let mut both = *self;
        for bend in other.0.iter().flatten() {
            match both.0.iter_mut().find(|free| free.is_none()) {
                Some(free) => *free = Some(*bend),
                None => {
                    if let Some(Some(last)) = both.0.last_mut() {
                        last.up = Quantity::new(last.up.value + bend.up.value, last.up.u.hypot(bend.up.u));
                    }
                }
            }
        }
        both
    }

    /// True where nothing is cut.
    pub fn is_none(&self) -> bool {
        self.0[0].is_none()
    }

    /// How much more than the straight frame a place rises, mm.
    pub fn rise_mm(&self, x_mm: f64) -> Quantity {
        self.sum(|bend| bend.rise_mm(bend.beyond_mm(x_mm).max(0.0)))
    }

    /// The same over an axle.
    pub(super) fn over_axle_mm(&self, end: End) -> f64 {
        self.sum(|bend| bend.rise_mm(if bend.end == end { bend.arm_mm } else { 0.0 })).value
    }

    /// How much more nose-up than the straight frame a place stands, degrees.
    pub fn nose_up_deg(&self, x_mm: f64) -> Quantity {
        self.sum(|bend| match (bend.beyond_mm(x_mm) > 0.0, bend.end) {
            (false, _) => Quantity::exact(0.0),
            (true, End::Front) => bend.up,
            (true, End::Rear) => Quantity::new(-bend.up.value, bend.up.u),
        })
    }

    /// Where it is cut, ahead of the front axle, mm.
    pub fn places_mm(&self) -> impl Iterator<Item = f64> {
        self.0.iter().flatten().map(|bend| bend.at_x_mm)
    }

    fn sum(&self, of: impl Fn(&Bend) -> Quantity) -> Quantity {
        let sum = |all: Quantity, one: Quantity| Quantity::new(all.value + one.value, all.u.hypot(one.u));
        self.0.iter().flatten().map(of).fold(Quantity::exact(0.0), sum)
    }
}

impl Bend {
    /// How far a place lies beyond the cut, mm; below 0 before it.
    fn beyond_mm(&self, x_mm: f64) -> f64 {
        if self.end == End::Front { x_mm - self.at_x_mm } else { self.at_x_mm - x_mm }
    }

    fn rise_mm(&self, beyond_mm: f64) -> Quantity {
        let (up, u) = (self.up.value.to_radians(), self.up.u.to_radians());
        Quantity::new(beyond_mm * libm::sin(up), beyond_mm * libm::cos(up) * u)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn beyond_a_cut_a_place_rises_by_its_distance_times_the_sine() {
        let up = |deg: f64| Quantity::new(deg, 0.0);
        let bends = Bends::at(End::Front, 600.0, 2_600.0, up(5.0)).plus(&Bends::at(End::Rear, 500.0, 2_600.0, up(2.0)));
        // sin 5° = 0.0871557, sin 2° = 0.0348995; the cuts lie at −600 and −2100.
        for (x, rise, nose_up) in [
            (500.0, 1_100.0 * 0.087_155_7, 5.0),
            (0.0, 52.293_4, 5.0),
            (-600.0, 0.0, 0.0),
            (-1_300.0, 0.0, 0.0),
            (-2_600.0, 500.0 * 0.034_899_5, -2.0),
            (-3_000.0, 900.0 * 0.034_899_5, -2.0),
        ] {
            assert!((bends.rise_mm(x).value - rise).abs() < 1e-3, "{x}");
            assert_eq!(bends.nose_up_deg(x).value, nose_up, "{x}");
        }
        assert_eq!(bends.places_mm().collect::<Vec<_>>(), [-600.0, -2_100.0]);
    }
}
