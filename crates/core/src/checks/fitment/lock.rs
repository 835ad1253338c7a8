//! A gap anywhere from lock to lock: the tire's cut at the height of the place, turned about the kingpin.

use super::gaps::{Around, Found, GapBasis};
use super::outline::Outline;
use crate::car::{Gap, GapPlace, GapSide, Steer};
use crate::uncertainty::{Quantity, propagate};

/// The tire's shape from above, and a kingpin taken as upright, mm [common practice, no source].
pub(super) const LOCK_U_MM: f64 = 4.0;
/// The same where only the change from the present wheel is reckoned, mm [common practice, no source].
pub(super) const LOCK_CHANGE_U_MM: f64 = 2.0;
/// Rounding of the tread's edge, parts of the section height [common practice, no source].
const SHOULDER: f64 = 1.0 / 3.0;
/// How finely the steered angle is gone through, degrees.
const STEP_DEG: f64 = 1.0;

/// What decides a gap, as numbers: gap, width now, width then, radius now, radius then, move outboard, kingpin.
pub(super) type Sizes = [f64; 7];

/// A tire that swings past a place.
pub(super) struct Swing<'a> {
    place: GapPlace,
    along_mm: Option<f64>,
    around: &'a Around<'a>,
    /// Of its cut over the wheel centre, mm.
    over_mm: f64,
    kingpin: Quantity,
    angles: Vec<f64>,
}

impl<'a> Swing<'a> {
    /// `None` for a wheel that does not steer, or whose kingpin is not known.
    pub(super) fn of(place: GapPlace, gap: &Gap, around: &'a Around<'a>, over_mm: f64) -> Option<Self> {
        let (steer, kingpin) = around.steer?;
        Some(Self { place, along_mm: gap.along_mm, around, over_mm, kingpin, angles: sweep(steer) })
    }

    fn outline(&self, sizes: &Sizes, other: bool) -> Option<Outline> {
        let [_, w0, w1, r0, r1, out, kingpin] = *sizes;
        let (width, radius, out, height) = if other {
            // The rim is where it was: what the tire is larger by, its section is higher by.
            let rim = self.around.other.map_or(0.0, |other| other.rim_diameter_mm / 2.0);
            (w1, r1, kingpin + out, (r1 - rim).max(10.0))
        } else {
            (w0, r0, kingpin, self.around.now.section_height_mm())
        };
        Outline::at_height(radius, width, SHOULDER * height, out, self.over_mm)
    }

    fn swept(&self, sizes: &Sizes, other: bool, steered_deg: f64) -> Option<f64> {
        let (present, tire) = (self.outline(sizes, false)?, self.outline(sizes, other)?);
        Some(least(self.place, self.along_mm, sizes, &present, &tire, steered_deg))
    }

    /// The least gap from lock to lock, mm; `None` where the tire is not at that height.
    pub(super) fn least(&self, sizes: &Sizes, other: bool) -> Option<f64> {
        self.angles.iter().filter_map(|angle| self.swept(sizes, other, *angle)).reduce(f64::min)
    }

    /// True where another wheel is asked about, and where it stands sideways is known.
    pub(super) fn tells_other(&self) -> bool {
        self.around.other.is_some_and(|other| self.around.now.offset.is_some() && other.offset.is_some())
    }

    /// What decides it, the gap with the present wheel straight ahead being `gap`.
    pub(super) fn sizes(&self, gap: Quantity) -> [Quantity; 7] {
        let now = self.around.now;
        let other = self.around.other.unwrap_or(now);
        let out = now.offset.zip(other.offset).map_or(Quantity::exact(0.0), |(from, to)| {
            let u = if self.around.other.is_some() { from.u.hypot(to.u) } else { 0.0 };
            Quantity::new(from.value - to.value, u)
        });
        [gap, now.section_width, other.section_width, now.free_radius, other.free_radius, out, self.kingpin]
    }
}

/// A sum of sizes, with what the sum itself is off by.
pub(super) fn carried(sizes: [Quantity; 7], formula: &dyn Fn(Sizes) -> f64, more_u: f64) -> Quantity {
    let carried = propagate(sizes, formula);
    Quantity::new(carried.value, carried.u.hypot(more_u))
}

/// Height of a place over the wheel centre as the car stands, mm: the places are the body's and came down with it.
pub(super) fn over_mm(gap: &Gap, around: &Around<'_>) -> Option<f64> {
    gap.height_mm.map(|height| height + around.spring_rise.value - around.now.loaded_radius.value)
}

pub(super) fn at_lock(place: GapPlace, gap: &Gap, read: Quantity, around: &Around<'_>) -> Option<Found> {
    if place.side() == GapSide::Over {
        return None;
    }
    let over = over_mm(gap, around);
    let Some(swing) = Swing::of(place, gap, around, over.unwrap_or(0.0)) else {
        // Without a kingpin what was measured with this wheel still stands.
        let measured = Quantity::new(gap.at_lock_mm?, read.u);
        return Some(Found { now: measured, then: None, basis: GapBasis::Measured, from_deg: None });
    };
    let sizes = swing.sizes(read);
    let values = sizes.map(|size| size.value);
    swing.least(&values, false)?;
    let of = |sizes: Sizes, other: bool| swing.least(&sizes, other).unwrap_or(gap.at_rest_mm);
    let measured = gap.at_lock_mm.map(|mm| Quantity::new(mm, read.u));
    let reckoned = carried(sizes, &|sizes| of(sizes, false), LOCK_U_MM);
    let then = swing.tells_other().then(|| match measured {
        Some(measured) => {
            let change = carried(sizes, &|sizes| of(sizes, true) - of(sizes, false), LOCK_CHANGE_U_MM);
            Quantity::new(measured.value + change.value, measured.u.hypot(change.u))
        }
        None => carried(sizes, &|sizes| of(sizes, true), LOCK_U_MM),
    });
    let told = then.unwrap_or(measured.unwrap_or(reckoned));
    let off = told.value - of(values, then.is_some());
    let touching = |angle: f64| swing.swept(&values, then.is_some(), angle).is_some_and(|gap| gap + off < 0.0);
    let from_deg = (told.value < 0.0).then(|| first_touch(&swing.angles, touching)).flatten();
    let basis = match (measured, over, gap.along_mm) {
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
