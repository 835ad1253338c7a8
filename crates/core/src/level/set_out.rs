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
        let (x_mm, y_mm) = self.model.place(number);
        let place = self.model.on_floor(placement.floor, (x_mm, y_mm), placement.turned);
        reading.add(1.0, &self.model.carried(x, placement, (x_mm, y_mm)));
        reading.add(-1.0, &self.model.elevation(x, placement.floor, place));
        if self.model.floors[placement.floor].bump_at(place).is_none() {
            variance += BUMP_U_MM * BUMP_U_MM;
        }
        let reading = reading.merged();
        let u = (self.adjusted.solved.variance(&reading.slopes).max(0.0) + variance).sqrt();
        if u > LIMIT_MM {
            return Some(Figure { value: None, u: None, known: Known::Undetermined, band_if: None });
        }
        Some(Figure { value: Some(reading.value), u: Some(u), known: Known::Measured, band_if: None })
    }
}
