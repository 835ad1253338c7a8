//! One gap in one state of the wheel, with the wheel that is on the car and with another.
//!
//! At rest the outer edge moves by half the change of width less the change of offset, the inner by half plus the change; what is ahead,
//! behind and above moves by the change of the free radius. Full bump is both wheels up, with what a track bar shifts the axle. Full lock sweeps the
//! tire about the kingpin, see [`super::lock`]; both together are a bound, see [`super::together`]; where the gap at bump or lock was measured, only the change is reckoned.

use super::lock::at_lock;
use super::together::at_lock_and_bump;
use super::wheel::WheelSize;
use crate::car::{Gap, GapPlace, GapSide, Steer};
use crate::uncertainty::Quantity;
use serde::{Deserialize, Serialize};

/// State of the wheel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum WheelState {
    /// Standing, straight ahead.
    AtRest,
    /// At the top of its travel.
    FullBump,
    /// Anywhere from lock to lock.
    FullLock,
    /// Anywhere from lock to lock, at the top of its travel.
    FullLockAndBump,
}

impl WheelState {
    /// All, in the order they are told.
    pub const ALL: [Self; 4] = [Self::AtRest, Self::FullBump, Self::FullLock, Self::FullLockAndBump];

    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::AtRest => "at rest",
            Self::FullBump => "full bump",
            Self::FullLock => "full lock",
            Self::FullLockAndBump => "full lock and bump",
        }
    }
}

/// How a gap came to be known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum GapBasis {
    /// Measured in this state; for another wheel, the change is reckoned.
    Measured,
    /// Reckoned from the gap at rest.
    Reckoned,
    /// Reckoned as if the tire were as long everywhere as at the wheel centre, and what stands beside it straight up: it is this much
    /// or more.
    AtLeast,
}

/// What a gap is worked out from.
#[derive(Clone, Debug)]
pub(super) struct Around<'a> {
    /// The wheel on the car.
    pub(super) now: &'a WheelSize,
    /// Another in its place.
    pub(super) other: Option<&'a WheelSize>,
    /// How far it steers, and its kingpin inboard of the tire's middle at hub height, mm.
    pub(super) steer: Option<(&'a Steer, Quantity)>,
    /// Travel up to the solid stop, mm.
    pub(super) bump: Option<Quantity>,
    /// What the axle shifts at full bump toward this wheel's outside, mm.
    pub(super) shift_out_mm: f64,
    /// How far the body rose off the axle since the gaps were measured, mm.
    pub(super) spring_rise: Quantity,
}

/// A gap in a state.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Found {
    pub(super) now: Quantity,
    pub(super) then: Option<Quantity>,
    pub(super) basis: GapBasis,
    /// The steered angle from which the other wheel (or this one) has no gap left, degrees, and the lock it belongs to.
    pub(super) from_deg: Option<[f64; 2]>,
}

/// A tape, a stack of feelers or a ball of clay in a gap, mm [common practice, no source].
const GAP_U_MM: f64 = 1.5;
/// A wheel at the top of its travel that was only reckoned to be there, mm [common practice, no source].
const BUMP_U_MM: f64 = 2.0;

pub(super) fn found(place: GapPlace, gap: &Gap, state: WheelState, around: &Around<'_>) -> Option<Found> {
    let read = Quantity::new(gap.at_rest_mm, gap.u_mm.unwrap_or(GAP_U_MM));
    match state {
        WheelState::AtRest => Some(at_rest(place, read, around)),
        WheelState::FullBump => at_bump(place, gap, read, around),
        WheelState::FullLock => at_lock(place, gap, read, around),
        WheelState::FullLockAndBump => at_lock_and_bump(place, gap, read, around),
    }
}

fn at_rest(place: GapPlace, read: Quantity, around: &Around<'_>) -> Found {
    let up = if place.side() == GapSide::Over { around.spring_rise } else { Quantity::exact(0.0) };
    let now = Quantity::new(read.value + up.value, read.u.hypot(up.u));
    let then = lost(place, around).map(|lost| Quantity::new(now.value - lost.value, now.u.hypot(lost.u)));
    Found { now, then, basis: GapBasis::Measured, from_deg: None }
}

/// What the other wheel takes of the gap, mm; `None` without another wheel, or where an offset is not known.
pub(super) fn lost(place: GapPlace, around: &Around<'_>) -> Option<Quantity> {
    let (now, other) = (around.now, around.other?);
    let wider = |sign: f64| {
        let (from, to) = (now.offset?, other.offset?);
        let (w0, w1) = (now.section_width, other.section_width);
        let value = (w1.value - w0.value) / 2.0 + sign * (to.value - from.value);
        Some(Quantity::new(value, (w0.u.hypot(w1.u) / 2.0).hypot(from.u.hypot(to.u))))
    };
    match place.side() {
        GapSide::Outboard => wider(-1.0),
        GapSide::Inboard => wider(1.0),
        GapSide::Along | GapSide::Over => {
            let (r0, r1) = (now.free_radius, other.free_radius);
            Some(Quantity::new(r1.value - r0.value, r0.u.hypot(r1.u)))
        }
    }
}

pub(super) fn at_bump(place: GapPlace, gap: &Gap, read: Quantity, around: &Around<'_>) -> Option<Found> {
    let (now, basis) = if let Some(at_bump) = gap.at_bump_mm {
        (Quantity::new(at_bump, read.u), GapBasis::Measured)
    } else {
        let bump = around.bump?;
        let less = match place.side() {
            // What the body rose off the axle is travel and gap alike, and so drops out.
            GapSide::Over => Quantity::new(bump.value, bump.u),
            GapSide::Outboard => Quantity::exact(around.shift_out_mm),
            GapSide::Inboard => Quantity::exact(-around.shift_out_mm),
            GapSide::Along => Quantity::exact(0.0),
        };
        (Quantity::new(read.value - less.value, read.u.hypot(less.u).hypot(BUMP_U_MM)), GapBasis::Reckoned)
    };
    let then = lost(place, around).map(|lost| Quantity::new(now.value - lost.value, now.u.hypot(lost.u)));
    Some(Found { now, then, basis, from_deg: None })
}
