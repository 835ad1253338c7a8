//! A floor taken apart for the eye: how high each spot stands, the tilt that does no harm, and the twist that does.
//!
//! What was read at the four spots is used, from a level plane or under a straightedge; the adjustment of the whole car
//! ([`crate::level`]) uses everything.

use crate::capture::{Footprint, Pass, STRAIGHTEDGE_U_DEG, Survey};
use crate::least_squares::{NormalEquations, NormalSolution};

mod agreement;
mod beside;

pub use agreement::*;
pub use beside::*;

/// A levelled floor, all by spot in the order S1 to S4 (under front left, front right, rear left, rear right of facing A).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FloorShape {
    /// Over the mean of the four, mm.
    pub elevation_mm: [f64; 4],
    /// Standard uncertainty of each, k = 1, mm.
    pub elevation_u_mm: [f64; 4],
    /// Their covariance, mm².
    pub covariance_mm2: [[f64; 4]; 4],
    /// Above the lowest spot, mm.
    pub above_lowest_mm: [f64; 4],
    /// S1 − S2 − S3 + S4, mm.
    pub twist_mm: f64,
    /// Standard uncertainty of the twist, k = 1, mm.
    pub twist_u_mm: f64,
    /// Without the twist, above its lowest spot, mm.
    pub tilt_mm: [f64; 4],
    /// Steepest slope of that, per cent.
    pub tilt_percent: f64,
    /// Its standard uncertainty, k = 1, per cent.
    pub tilt_u_percent: f64,
    /// The twist alone: a quarter of it at each spot, by turns up and down, mm.
    pub twist_part_mm: [f64; 4],
    /// False where nothing tells front from rear: their means are then put at one height.
    pub along_read: bool,
    /// False where nothing tells left from right: their means are then put at one height.
    pub across_read: bool,
    /// What the gauge shows on level ground, deg, with u; absent without a straightedge.
    pub gauge_zero_deg: Option<(f64, f64)>,
}

const SPOTS: [&str; 4] = ["S1", "S2", "S3", "S4"];

/// The staff readings of a pass on the four spots, mm; struck ones left out, the last of several counts.
pub fn spots(pass: &Pass) -> [Option<f64>; 4] {
    SPOTS.map(|spot| {
        let mut readings = pass.readings.iter().filter(|reading| reading.point == spot && reading.struck.is_none());
        readings.next_back().map(|reading| reading.value_mm)
    })
}

/// So wide that no result leans on it, mm.
const LOOSE_MM: f64 = 500.0;
/// What an angle gauge may show on level ground, deg; common practice, no source.
const GAUGE_ZERO_U_DEG: f64 = 0.2;
/// A direction counts as read, and a twist as known, where its u is below this, mm.
const KNOWN_U_MM: f64 = 20.0;
/// Column of the gauge's zero, behind the four spots; the planes of the passes follow it.
const ZERO: usize = 4;
const TWIST: [f64; 4] = [1.0, -1.0, -1.0, 1.0];
const ALONG: [f64; 4] = [-0.5, -0.5, 0.5, 0.5];
const ACROSS: [f64; 4] = [0.5, -0.5, 0.5, -0.5];

/// The shape of a floor from every reading at its spots that is not struck; `None` where they leave its twist open.
///
/// # Inputs
/// `size_mm`: wheelbase, front track, rear track the spots were marked out for, above 0.
/// # Source
/// Least squares (JCGM 100:2008, 5.2.2, for the u): a staff reading is its pass's plane less the spot; a straightedge d long
/// that shows the angle a says from − to = d·tan(a ± zero). With p whole passes: elevation = mean of the four − staff, its u
/// staff u·√(3/4)/√p, that of the twist 2·staff u/√p.
pub fn shape(survey: &Survey, size_mm: [f64; 3]) -> Option<FloorShape> {
    let [wheelbase_mm, track_front_mm, track_rear_mm] = size_mm;
    let (solution, edges) = adjusted(survey, Footprint { wheelbase_mm, track_front_mm, track_rear_mm })?;
    let value = |weights: [f64; 4]| weights.iter().zip(&solution.parameters).map(|(w, mm)| w * mm).sum::<f64>();
    let u = |weights: [f64; 4]| solution.u_of(&row(weights));
    if u(TWIST) > KNOWN_U_MM {
        return None;
    }
    let over_mean = |spot: usize| -> [f64; 4] { std::array::from_fn(|other| if other == spot { 0.75 } else { -0.25 }) };
    let elevation: [f64; 4] = std::array::from_fn(|spot| value(over_mean(spot)));
    let whitened: [_; 4] = std::array::from_fn(|spot| solution.whitened(&row(over_mean(spot))));
    let twist = value(TWIST);
    let quarter = TWIST.map(|sign| sign * twist / 4.0);
    let tilt: [f64; 4] = std::array::from_fn(|spot| elevation[spot] - quarter[spot]);
    let slope_along = ALONG.map(|weight| weight / wheelbase_mm);
    let slope_across = std::array::from_fn(|spot| ACROSS[spot] / if spot < 2 { track_front_mm } else { track_rear_mm });
    let of = |weights: [f64; 4]| weights.iter().zip(tilt).map(|(w, mm)| w * mm).sum::<f64>();
    let (along, across) = (of(slope_along), of(slope_across));
    let steepest = along.hypot(across);
    let downhill: [f64; 4] = std::array::from_fn(|spot| {
        (along * slope_along[spot] + across * slope_across[spot]) / steepest.max(f64::MIN_POSITIVE)
    });
    let flat_u = u(slope_along).max(u(slope_across));
    Some(FloorShape {
        elevation_mm: elevation,
        elevation_u_mm: std::array::from_fn(|spot| whitened[spot].norm()),
        covariance_mm2: std::array::from_fn(|i| std::array::from_fn(|j| whitened[i].dot(&whitened[j]))),
        above_lowest_mm: above_lowest(elevation),
        twist_mm: twist,
        twist_u_mm: u(TWIST),
        tilt_mm: above_lowest(tilt),
        tilt_percent: 100.0 * steepest,
        tilt_u_percent: 100.0 * if steepest > 1e-9 { u(downhill) } else { flat_u },
        twist_part_mm: quarter,
        along_read: u(ALONG) < KNOWN_U_MM,
        across_read: u(ACROSS) < KNOWN_U_MM,
        gauge_zero_deg: edges.then(|| (solution.parameters[ZERO], solution.u_of(&[(ZERO, 1.0)]))),
    })
}

/// The spots' heights, the gauge's zero and the passes' planes; whether a straightedge was read.
fn adjusted(survey: &Survey, footprint: Footprint) -> Option<(NormalSolution, bool)> {
    let mut equations = NormalEquations::new(ZERO + 1 + survey.passes.len());
    equations.add(&row([0.25; 4]), 0.0, 1.0);
    for loose in [TWIST, ALONG, ACROSS] {
        equations.add(&row(loose), 0.0, LOOSE_MM);
    }
    equations.add(&[(ZERO, 1.0)], 0.0, GAUGE_ZERO_U_DEG);
    for (plane, pass) in (ZERO + 1..).zip(&survey.passes) {
        let staffs = spots(pass);
        let read: Vec<f64> = staffs.iter().flatten().copied().collect();
        let about = if read.is_empty() { 0.0 } else { read.iter().sum::<f64>() / read.len() as f64 };
        equations.add(&[(plane, 1.0)], about, LOOSE_MM);
        for (spot, staff) in staffs.iter().enumerate() {
            if let Some(staff) = staff {
                let u = pass.staff_u_mm.unwrap_or(survey.staff_u_mm);
                equations.add(&[(spot, -1.0), (plane, 1.0)], *staff, u);
            }
        }
    }
    let mut edges = false;
    for edge in survey.straightedge.iter().filter(|edge| edge.struck.is_none()) {
        let number = |name: &str| SPOTS.iter().position(|spot| *spot == name);
        let (Some(from), Some(to)) = (number(&edge.from), number(&edge.to)) else { continue };
        let ((x, y), (x_to, y_to)) = (footprint.spot(from), footprint.spot(to));
        let angle = edge.angle_deg.to_radians();
        let (long, flat) = ((x - x_to).hypot(y - y_to), libm::cos(angle));
        // A degree at this slope, as height of one end over the other.
        let mm_a_degree = (long / (flat * flat)).to_radians();
        let zero = if edge.reversed { -mm_a_degree } else { mm_a_degree };
        let u = mm_a_degree * edge.u_deg.unwrap_or(STRAIGHTEDGE_U_DEG);
        equations.add(&[(from, 1.0), (to, -1.0), (ZERO, zero)], long * libm::tan(angle), u);
        edges = true;
    }
    Some((equations.solve()?, edges))
}

fn row(weights: [f64; 4]) -> [(usize, f64); 4] {
    std::array::from_fn(|spot| (spot, weights[spot]))
}

fn above_lowest(heights: [f64; 4]) -> [f64; 4] {
    let lowest = heights.iter().copied().fold(f64::INFINITY, f64::min);
    heights.map(|height| height - lowest)
}

#[cfg(test)]
mod tests;
