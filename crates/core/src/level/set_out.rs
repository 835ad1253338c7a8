//! The inverse of levelling: what the tape would read on a floor if the car stood as wanted.

use super::Solution;
use super::jet::Jet;
use super::prior::BUMP_U_MM;
use crate::stance::{Figure, Known};

/// Standard uncertainty above which a reading set out is no help, mm.
const LIMIT_MM: f64 = 10.0;

/// The level height that is wanted of a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WantedHeight<'s> {
    /// This one, mm.
    Typed(f64),
    /// As it was in a snapshot, at nominal load and pressures.
    As(&'s str),
}

impl Solution {
    /// What the tape must read at a point where snapshot `at` stands: h = H − E + D. The zero of the tape, friction and load are
    /// taken as nothing.
    ///
    /// `None` where there is no such snapshot or point, or the point was not read in the snapshot that is named.
    pub fn set_out(&self, at: &str, point: &str, height: WantedHeight<'_>) -> Option<Figure> {
        let stands = self.number(at)?;
        let placement = &self.model.placements[stands];
        let place = self.model.place(self.model.point(point)?);
        self.over_floor(at, point, height, &self.model.carried(&self.adjusted.x, placement, place))
    }

    /// How high a rated stand must hold a point of a body that no spring carries, so that the body is level over the floor's highest
    /// spot: H − E + E of that spot.
    ///
    /// `None` as for [`Solution::set_out`].
    pub fn stand(&self, at: &str, point: &str, height: WantedHeight<'_>) -> Option<Figure> {
        let (_, highest) = self.highest_spot(at)?;
        self.over_floor(at, point, height, &highest)
    }

    /// How much lower than the highest spot each one lies, S1 to S4, mm.
    pub fn below_highest(&self, at: &str) -> Option<[Figure; 4]> {
        let (spots, highest) = self.highest_spot(at)?;
        Some(spots.map(|spot| self.as_read(&highest.clone().plus(-1.0, &spot), 0.0)))
    }

    /// The elevations of the four spots, and that of the highest.
    fn highest_spot(&self, at: &str) -> Option<([Jet; 4], Jet)> {
        let floor = self.model.placements[self.number(at)?].floor;
        let footprint = &self.model.floors[floor].footprint;
        let spots = std::array::from_fn(|spot| self.model.warp(&self.adjusted.x, floor, footprint.spot(spot)));
        let highest = spots.iter().max_by(|a: &&Jet, b| a.value.total_cmp(&b.value))?.clone();
        Some((spots, highest))
    }

    /// From the floor straight below a point up to it: H − E and what the body is moved by.
    fn over_floor(&self, at: &str, point: &str, height: WantedHeight<'_>, moved: &Jet) -> Option<Figure> {
        let (stands, number) = (self.number(at)?, self.model.point(point)?);
        let (placement, x) = (&self.model.placements[stands], &self.adjusted.x);
        let mut variance = 0.0;
        let mut reading = match height {
            WantedHeight::Typed(value) => Jet { value, slopes: Vec::new() },
            WantedHeight::As(snapshot) => {
                let from = self.number(snapshot)?;
                let (wanted, _) = self.find(from, &format!("heights.{point}"))?;
                let correction = self.to_nominal(from);
                variance += correction.variance(wanted.nominal);
                wanted.jet.shifted(correction.shift(wanted.nominal))
            }
        };
        let place = self.model.on_floor(placement.floor, self.model.place(number), placement.turned);
        reading.add(1.0, moved);
        reading.add(-1.0, &self.model.elevation(x, placement.floor, place));
        if self.model.floors[placement.floor].bump_at(place).is_none() {
            variance += BUMP_U_MM * BUMP_U_MM;
        }
        Some(self.as_read(&reading, variance))
    }

    fn as_read(&self, sum: &Jet, variance: f64) -> Figure {
        let sum = sum.clone().merged();
        let u = (self.adjusted.solved.variance(&sum.slopes).max(0.0) + variance).sqrt();
        if u > LIMIT_MM {
            return Figure { value: None, u: None, known: Known::Undetermined, band_if: None };
        }
        Figure { value: Some(sum.value), u: Some(u), known: Known::Measured, band_if: None }
    }
}
