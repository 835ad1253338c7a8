//! One gap in one state of the wheel, with the wheel that is on the car and with another.
//!
//! At rest the outer edge moves by half the change of width less the change of offset, the inner by half plus the change; what is ahead,
//! behind and above moves by the change of the free radius. Full bump is both wheels up, with what a track bar shifts the axle. Full lock sweeps the
//! tire about the kingpin, see [`super::outline`]; where the gap at bump or lock was measured, only the change is reckoned.

use super::outline::Outline;
use super::wheel::WheelSize;
use crate::car::{Gap, GapPlace, GapSide, Steer};
use crate::uncertainty::{Quantity, propagate};
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
}

impl WheelState {
    /// All, in the order they are told.
    pub const ALL: [Self; 3] = [Self::AtRest, Self::FullBump, Self::FullLock];

    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::AtRest => "at rest",
            Self::FullBump => "full bump",
            Self::FullLock => "full lock",
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
    /// Reckoned as if the tire were as long everywhere as at the wheel centre: it is this much or more.
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
/// The tire's shape from above, and a kingpin taken as upright, mm [common practice, no source].
const LOCK_U_MM: f64 = 4.0;
/// The same where only the change from the present wheel is reckoned, mm [common practice, no source].
const LOCK_CHANGE_U_MM: f64 = 2.0;
/// Rounding of the tread's edge, parts of the section height [common practice, no source].
const SHOULDER: f64 = 1.0 / 3.0;
/// How finely the steered angle is gone through, degrees.
const STEP_DEG: f64 = 1.0;

/// What decides a gap, as numbers: gap, width now, width then, radius now, radius then, move outboard, kingpin.
type Sizes = [f64; 7];

pub(super) fn found(place: GapPlace, gap: &Gap, state: WheelState, around: &Around<'_>) -> Option<Found> {
    let read = Quantity::new(gap.at_rest_mm, gap.u_mm.unwrap_or(GAP_U_MM));
    match state {
        WheelState::AtRest => Some(at_rest(place, read, around)),
        WheelState::FullBump => at_bump(place, gap, read, around),
        WheelState::FullLock => at_lock(place, gap, read, around),
    }
}

fn at_rest(place: GapPlace, read: Quantity, around: &Around<'_>) -> Found {
    let up = if place.side() == GapSide::Over { around.spring_rise } else { Quantity::exact(0.0) };
    let now = Quantity::new(read.value + up.value, read.u.hypot(up.u));
    let then = lost(place, around).map(|lost| Quantity::new(now.value - lost.value, now.u.hypot(lost.u)));
    Found { now, then, basis: GapBasis::Measured, from_deg: None }
}

/// What the other wheel takes of the gap, mm; `None` without another wheel, or where an offset is not known.
fn lost(place: GapPlace, around: &Around<'_>) -> Option<Quantity> {
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

fn at_bump(place: GapPlace, gap: &Gap, read: Quantity, around: &Around<'_>) -> Option<Found> {
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

fn at_lock(place: GapPlace, gap: &Gap, read: Quantity, around: &Around<'_>) -> Option<Found> {
    if place.side() == GapSide::Over {
        return None;
    }
    let now = around.now;
    let Some((steer, kingpin)) = around.steer else {
        // Without a kingpin what was measured with this wheel still stands.
        let measured = Quantity::new(gap.at_lock_mm?, read.u);
        return Some(Found { now: measured, then: None, basis: GapBasis::Measured, from_deg: None });
    };
    // The places are the body's: they came down with it.
    let over_mm = gap.height_mm.map(|height| height + around.spring_rise.value - now.loaded_radius.value);
    let heights = now.section_height_mm();
    let outline = |sizes: &Sizes, other: bool| {
        let [_, w0, w1, r0, r1, out, kingpin] = *sizes;
        let (width, radius, out, height) = if other {
            // The rim is where it was: what the tire is larger by, its section is higher by.
            let rim = around.other.map_or(0.0, |other| other.rim_diameter_mm / 2.0);
            (w1, r1, kingpin + out, (r1 - rim).max(10.0))
        } else {
            (w0, r0, kingpin, heights)
        };
        Outline::at_height(radius, width, SHOULDER * height, out, over_mm.unwrap_or(0.0))
    };
    let swept = |sizes: &Sizes, other: bool, steered_deg: f64| {
        Some(least(place, gap.along_mm, sizes, &outline(sizes, false)?, &outline(sizes, other)?, steered_deg))
    };
    let angles = sweep(steer);
    let swing = |sizes: &Sizes, other: bool| -> Option<f64> {
        angles.iter().filter_map(|angle| swept(sizes, other, *angle)).reduce(f64::min)
    };
    let (other_width, other_radius) =
        around.other.map_or((now.section_width, now.free_radius), |other| (other.section_width, other.free_radius));
    let out = match around.other.map(|other| Some((now.offset?, other.offset?))) {
        None => Some(Quantity::exact(0.0)),
        Some(both) => both.map(|(from, to)| Quantity::new(from.value - to.value, from.u.hypot(to.u))),
    };
    let sizes: [Quantity; 7] = [
        read,
        now.section_width,
        other_width,
        now.free_radius,
        other_radius,
        out.unwrap_or(Quantity::exact(0.0)),
        kingpin,
    ];
    let values = sizes.map(|size| size.value);
    swing(&values, false)?;
    let carried = |formula: &dyn Fn(Sizes) -> f64, more_u: f64| {
        let carried = propagate(sizes, formula);
        Quantity::new(carried.value, carried.u.hypot(more_u))
    };
    let of = |sizes: Sizes, other: bool| swing(&sizes, other).unwrap_or(gap.at_rest_mm);
    let measured = gap.at_lock_mm.map(|mm| Quantity::new(mm, read.u));
    let reckoned = carried(&|sizes| of(sizes, false), LOCK_U_MM);
    let then = around.other.filter(|_| out.is_some()).map(|_| match measured {
        Some(measured) => {
            let change = carried(&|sizes| of(sizes, true) - of(sizes, false), LOCK_CHANGE_U_MM);
            Quantity::new(measured.value + change.value, measured.u.hypot(change.u))
        }
        None => carried(&|sizes| of(sizes, true), LOCK_U_MM),
    });
    let told = then.unwrap_or(measured.unwrap_or(reckoned));
    let off = told.value - of(values, then.is_some());
    let touching = |angle: f64| swept(&values, then.is_some(), angle).is_some_and(|gap| gap + off < 0.0);
    let from_deg = (told.value < 0.0).then(|| first_touch(&angles, touching)).flatten();
    let basis = match (measured, over_mm, gap.along_mm) {
        (Some(_), ..) => GapBasis::Measured,
        (None, None, None) if place.side() != GapSide::Along => GapBasis::AtLeast,
        _ => GapBasis::Reckoned,
    };
    Some(Found { now: measured.unwrap_or(reckoned), then, basis, from_deg })
}

/// The gap at a steered angle: the place stays where the present wheel left a gap to it.
fn least(
    place: GapPlace,
    along_mm: Option<f64>,
    sizes: &Sizes,
    present: &Outline,
    tire: &Outline,
    steered_deg: f64,
) -> f64 {
    let [gap, ..] = *sizes;
    let length = sizes[3];
    match (place, place.side(), along_mm) {
        (_, GapSide::Outboard, None) => {
            present.out_mm + present.half_width_mm + gap - tire.reach_mm(steered_deg, [0.0, 1.0])
        }
        (_, GapSide::Inboard, None) => {
            -tire.reach_mm(steered_deg, [0.0, -1.0]) - (present.out_mm - present.half_width_mm - gap)
        }
        (_, GapSide::Outboard, Some(x)) => {
            tire.distance_mm(steered_deg, [x, present.out_mm + present.half_width_mm + gap])
        }
        (_, GapSide::Inboard, Some(x)) => {
            tire.distance_mm(steered_deg, [x, present.out_mm - present.half_width_mm - gap])
        }
        (GapPlace::Behind, ..) => length + gap - tire.reach_mm(steered_deg, [-1.0, 0.0]),
        _ => length + gap - tire.reach_mm(steered_deg, [1.0, 0.0]),
    }
}

/// Steered angles from straight ahead to both locks: inner wheel of the turn positive.
fn sweep(steer: &Steer) -> Vec<f64> {
    let mut angles = vec![0.0];
    for (lock, sign) in [(steer.lock_inner_deg, 1.0), (steer.lock_outer_deg.unwrap_or(steer.lock_inner_deg), -1.0)] {
        let mut angle = STEP_DEG;
        while angle < lock {
            angles.push(sign * angle);
            angle += STEP_DEG;
        }
        angles.push(sign * lock);
    }
    angles
}

/// The smallest steered angle at which it touches, and the lock on that side, degrees without sign.
fn first_touch(angles: &[f64], touching: impl Fn(f64) -> bool) -> Option<[f64; 2]> {
    let first = angles.iter().copied().filter(|angle| touching(*angle)).min_by(|a, b| a.abs().total_cmp(&b.abs()))?;
    let lock = angles
        .iter()
        .filter(|angle| first == 0.0 || angle.signum() == first.signum())
        .fold(0.0_f64, |a, b| a.max(b.abs()));
    let (mut clear, mut touch) = ((first.abs() - STEP_DEG).max(0.0), first.abs());
    for _ in 0..8 {
        let middle = f64::midpoint(clear, touch);
        if touching(middle.copysign(first)) { touch = middle } else { clear = middle }
    }
    Some([touch, lock])
}
