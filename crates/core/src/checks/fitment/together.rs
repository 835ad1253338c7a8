//! Full lock and full bump together: what was measured of either alone bounds it.
//!
//! With the wheel up something else stands beside the tire than at rest, and how high it goes nobody measured. So the gap that there is at
//! full bump, straight ahead, is taken as a wall that goes straight up, and the tire swings past it as long and as wide as at its
//! wheel centre: the true gap is that much or more. Where the gap at lock was measured, only the change from that is reckoned. The edges of
//! an opening come together upward: of them nothing is told unless they were measured with the wheel up. Over the tread a steered
//! tire is nowhere higher than one straight ahead.

use super::gaps::{Around, Found, GapBasis, at_bump};
use super::lock::{LOCK_CHANGE_U_MM, LOCK_U_MM, Sizes, Swing, carried, over_mm};
use crate::car::{Gap, GapPlace, GapSide};
use crate::uncertainty::Quantity;

pub(super) fn at_lock_and_bump(place: GapPlace, gap: &Gap, read: Quantity, around: &Around<'_>) -> Option<Found> {
    let bound = |now, then| Some(Found { now, then, basis: GapBasis::AtLeast, from_deg: None });
    let straight = at_bump(place, gap, read, around)?;
    let widest = Swing::of(place, gap, around, 0.0)?;
    match place.side() {
        GapSide::Over => return bound(straight.now, straight.then),
        GapSide::Along if gap.at_bump_mm.is_none() => return None,
        _ => {}
    }
    let up = straight.now;
    let swept = |sizes: &Sizes, other| widest.least(sizes, other).unwrap_or(up.value);
    let Some(measured) = gap.at_lock_mm else {
        let of = |other: bool| carried(widest.sizes(up), &|sizes| swept(&sizes, other), LOCK_U_MM);
        return bound(of(false), widest.tells_other().then(|| of(true)));
    };
    let at_rest = Swing::of(place, gap, around, over_mm(gap, around).unwrap_or(0.0))?;
    let from_rest = up.value - read.value;
    let of = |other: bool| {
        let change = |sizes: Sizes| {
            let [gap, rest @ ..] = sizes;
            let [w0, w1, r0, r1, out, pin] = rest;
            let up = [gap + from_rest, w0, w1, r0, r1, out, pin];
            swept(&up, other) - at_rest.least(&sizes, false).unwrap_or(gap)
        };
        // Three readings: at lock, at bump and at rest.
        let change = carried(widest.sizes(read), &change, LOCK_CHANGE_U_MM.hypot(up.u).hypot(read.u));
        Quantity::new(measured + change.value, change.u.hypot(read.u))
    };
    bound(of(false), widest.tells_other().then(|| of(true)))
}
