//! Four bars in a plane: where coupler and rocker stand for an angle of the crank.
//!
//! # Source
//! Norton, *Design of Machinery*, example 4-1 (from memory; the values are recomputed): the vector loop closes where the circles of
//! coupler and rocker cross, on one side (open) or the other (crossed).

use super::PlaneLink;
use crate::units::Angle;

/// Lengths of the four bars, mm; the ground bar lies along x from the crank's pivot to the rocker's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bars {
    /// Between the two fixed pivots.
    pub ground: f64,
    /// The bar that is turned.
    pub crank: f64,
    /// Between the ends of crank and rocker.
    pub coupler: f64,
    /// From the other fixed pivot.
    pub rocker: f64,
}

/// Angles of coupler and rocker, degrees from the ground bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CouplerRocker {
    /// From the crank's end to the rocker's.
    pub coupler_deg: f64,
    /// From its fixed pivot to its end.
    pub rocker_deg: f64,
}

impl Bars {
    /// The open and the crossed closing for an angle of the crank; `None` where the bars do not reach.
    pub fn closings(&self, crank_deg: f64) -> Option<[CouplerRocker; 2]> {
        let crank = Angle::deg(crank_deg);
        let end = [self.crank * crank.cos(), self.crank * crank.sin()];
        let both = circles(end, self.coupler, [self.ground, 0.0], self.rocker)?;
        Some(both.map(|met| CouplerRocker {
            coupler_deg: Angle::atan2(met[1] - end[1], met[0] - end[0]).to_deg(),
            rocker_deg: Angle::atan2(met[1], met[0] - self.ground).to_deg(),
        }))
    }
}

/// Where two circles cross: left of the way from a to b, and right of it.
pub(super) fn circles(a: [f64; 2], radius_a: f64, b: [f64; 2], radius_b: f64) -> Option<[[f64; 2]; 2]> {
    let (across, up) = (b[0] - a[0], b[1] - a[1]);
    let square = across * across + up * up;
    let along = (square + radius_a * radius_a - radius_b * radius_b) / (2.0 * square);
    let beside = radius_a * radius_a / square - along * along;
    if !(beside >= 0.0 && square > 0.0) {
        return None;
    }
    let beside = beside.sqrt();
    let at = |side: f64| [a[0] + along * across - side * up, a[1] + along * up + side * across];
    Some([at(beside), at(-beside)])
}

/// An axle between two links, in the side view.
pub(super) struct FourBar {
    lower: f64,
    upper: f64,
    coupler: f64,
    /// The upper axle end lies left of the way from the lower axle end to the upper frame pivot.
    left: bool,
    frame: [[f64; 2]; 2],
    axle: [[f64; 2]; 2],
}

impl FourBar {
    pub(super) fn of(lower: &PlaneLink, upper: &PlaneLink) -> Self {
        let length = |a: [f64; 2], b: [f64; 2]| (b[0] - a[0]).hypot(b[1] - a[1]);
        let way = [upper.frame[0] - lower.axle[0], upper.frame[1] - lower.axle[1]];
        let end = [upper.axle[0] - lower.axle[0], upper.axle[1] - lower.axle[1]];
        Self {
            lower: length(lower.frame, lower.axle),
            upper: length(upper.frame, upper.axle),
            coupler: length(lower.axle, upper.axle),
            left: way[0] * end[1] - way[1] * end[0] >= 0.0,
            frame: [lower.frame, upper.frame],
            axle: [lower.axle, upper.axle],
        }
    }

    /// Turn and shift of the axle with the lower link turned by that much.
    fn turned(&self, link: &PlaneLink, by: Angle) -> Option<(Angle, [f64; 2])> {
        let start = Angle::atan2(link.axle[1] - link.frame[1], link.axle[0] - link.frame[0]);
        let now = Angle::rad(start.to_rad() + by.to_rad());
        let end = [self.frame[0][0] + self.lower * now.cos(), self.frame[0][1] + self.lower * now.sin()];
        let [left, right] = circles(end, self.coupler, self.frame[1], self.upper)?;
        let other = if self.left { left } else { right };
        let angle = |a: [f64; 2], b: [f64; 2]| Angle::atan2(b[1] - a[1], b[0] - a[0]).to_rad();
        let turn = angle(end, other) - angle(self.axle[0], self.axle[1]);
        let turn = turn - std::f64::consts::TAU * (turn / std::f64::consts::TAU).round();
        Some((Angle::rad(turn), [end[0] - self.axle[0][0], end[1] - self.axle[0][1]]))
    }

    /// The same once the hub has risen by the travel: the turn of the lower link nearest to none, by halving.
    pub(super) fn risen(&self, link: &PlaneLink, hub: [f64; 2], travel: f64) -> Option<(Angle, [f64; 2])> {
        let rise = |by: f64| {
            let (turn, shift) = self.turned(link, Angle::rad(by))?;
            let (x, z) = (hub[0] - self.axle[0][0], hub[1] - self.axle[0][1]);
            Some(shift[1] + x * turn.sin() + z * turn.cos() - z)
        };
        // Upward is the way in which a little turn lifts the hub.
        let way = if rise(1e-4)? * travel >= 0.0 { 1.0 } else { -1.0 };
        let (mut near, step) = (0.0, 0.01);
        while (rise(way * (near + step))? - travel) * travel < 0.0 {
            near += step;
            if near > 1.5 {
                return None;
            }
        }
        let mut far = near + step;
        for _ in 0..60 {
            let middle = f64::midpoint(near, far);
            if (rise(way * middle)? - travel) * travel < 0.0 { near = middle } else { far = middle }
        }
        self.turned(link, Angle::rad(way * far))
    }
}
