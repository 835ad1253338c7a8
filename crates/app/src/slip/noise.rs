//! How much two readings of one mark may differ without anything being wrong.

use crate::car_form;
use crate::wire::{StepKind, TapeUnit};
use trueground_core::capture::Instrument;

/// Standard uncertainty of one gauge reading, deg [common practice, no source].
const GAUGE_U_DEG: f64 = 0.07;
/// What load, tires, temperature and the place of the wheels do to a corner between two snapshots of the same load, mm, k = 1
/// [common practice, no source].
const CHANGE_U_MM: f64 = 3.0;
/// The same for the difference between left and right.
const UNEVEN_CHANGE_U_MM: f64 = 2.0;
/// The same, where another load is said to be aboard.
const LOAD_CHANGE_U_MM: f64 = 10.0;
/// A question is asked beyond this many standard uncertainties: once in a thousand where all is well [normal law, two-sided].
pub(super) const ASKED_BEYOND: f64 = 3.3;

/// Standard uncertainties of the tape in hand, mm.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Noise {
    /// One reading with its rounding.
    pub(super) reading_mm: f64,
    /// One bounce.
    pub(super) bounce_mm: f64,
}

impl Noise {
    pub(crate) fn of(instrument: &Instrument, tape: TapeUnit) -> Self {
        let in_hand = Instrument { tape: car_form::tape(tape), ..instrument.clone() };
        Self { reading_mm: in_hand.reading_u_mm(), bounce_mm: in_hand.bounce_repeat_u_mm }
    }

    /// u of the difference of two readings in one bounce, mm or deg.
    pub(super) fn repeat(self, kind: StepKind) -> f64 {
        let one = if kind == StepKind::Gauge { GAUGE_U_DEG } else { self.reading_mm };
        std::f64::consts::SQRT_2 * one
    }

    /// u of the difference of two readings in two bounces, mm.
    pub(super) fn bounce(self) -> f64 {
        std::f64::consts::SQRT_2 * self.reading_mm.hypot(self.bounce_mm)
    }

    /// u of the change of a corner since another snapshot, mm.
    pub(super) fn change(self, same_load: bool) -> f64 {
        self.bounce().hypot(if same_load { CHANGE_U_MM } else { LOAD_CHANGE_U_MM })
    }

    /// u of the change of left against right since another snapshot, mm.
    pub(super) fn uneven_change(self) -> f64 {
        (std::f64::consts::SQRT_2 * self.bounce()).hypot(UNEVEN_CHANGE_U_MM)
    }
}
