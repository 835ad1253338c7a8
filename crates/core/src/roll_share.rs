//! How a car shares a floor's twist between its axles, worked out from its springs.
//!
//! Per axle the springs, their base and a bar work in series with the tires: 1/K = 1/(½·k·B² + bar) + 1/(½·k_t·t²), and the
//! front's share is K_f/(K_f + K_r) (Gillespie, Fundamentals of Vehicle Dynamics, from general knowledge; `docs/method.md`).

use crate::car::{AxleSprings, RideRate, Vehicle};

/// A tire's vertical rate, N/mm, and its relative standard uncertainty: 180 to 260 N/mm is usual [common practice, no source].
const TIRE: (f64, f64) = (220.0, 0.1);
/// How well a spring base is known, mm [common practice, no source].
const BASE_U_MM: f64 = 10.0;
/// What the formula leaves out, such as a frame that gives: on the share itself [common practice, no source].
const MODEL_U: f64 = 0.05;
const MM_PER_M: f64 = 1000.0;

/// One axle against lean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RollStiffness {
    /// Springs, bar and tires in series, N·m for each degree.
    pub nm_per_deg: f64,
    /// Relative standard uncertainty.
    pub rel_u: f64,
}

/// The front axle's part of a floor's cross slope that the body follows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RollShare {
    /// 0 to 1.
    pub value: f64,
    /// Standard uncertainty.
    pub u: f64,
    /// The front axle.
    pub front: RollStiffness,
    /// The rear axle.
    pub rear: RollStiffness,
}

/// The share, where a rate and the spring base of both axles are known.
pub fn from_springs(vehicle: &Vehicle) -> Option<RollShare> {
    let springs = vehicle.suspension.as_ref()?;
    let front = axle(&springs.front, vehicle.track_front_mm)?;
    let rear = axle(&springs.rear, vehicle.track_rear_mm)?;
    let value = front.nm_per_deg / (front.nm_per_deg + rear.nm_per_deg);
    let u = MODEL_U.hypot(value * (1.0 - value) * front.rel_u.hypot(rear.rel_u));
    Some(RollShare { value, u, front, rear })
}

fn axle(springs: &AxleSprings, track_mm: f64) -> Option<RollStiffness> {
    let base_mm = springs.spring_base_mm?;
    let rate = springs.side_rate_n_per_mm.or_else(|| one_side(springs.axle_ride_rate_n_per_mm?))?;
    // N·mm/rad.
    let coil = 0.5 * rate.value * base_mm * base_mm;
    let bar = springs.bar_nm_per_deg.map_or(0.0, |bar| bar.value * MM_PER_M * 1.0_f64.to_degrees());
    let bar_u = springs.bar_nm_per_deg.map_or(0.0, |bar| bar.rel_u) * bar;
    let tire = 0.5 * TIRE.0 * track_mm * track_mm;
    let sprung = coil + bar;
    let both = sprung * tire / (sprung + tire);
    // d ln K = (K/sprung)·d ln sprung + (K/tire)·d ln tire.
    let coil_u = coil * rate.rel_u.hypot(2.0 * BASE_U_MM / base_mm);
    let rel_u = (both / sprung * coil_u.hypot(bar_u) / sprung).hypot(both / tire * TIRE.1);
    let found = RollStiffness { nm_per_deg: both / MM_PER_M * 1.0_f64.to_radians(), rel_u };
    (found.nm_per_deg.is_finite() && rel_u.is_finite()).then_some(found)
}

/// One side's spring from the axle's ride rate K = 2·k·k_t/(k + k_t); none where the tires alone are softer than that.
fn one_side(axle: RideRate) -> Option<RideRate> {
    let tire = TIRE.0;
    (axle.value < 2.0 * tire).then(|| RideRate { value: axle.value * tire / (2.0 * tire - axle.value), ..axle })
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn share(front: serde_json::Value, rear: serde_json::Value) -> Option<RollShare> {
        let vehicle = json!({"label": "x", "wheelbase_mm": 2665, "track_front_mm": 1392, "track_rear_mm": 1418,
            "suspension": {"front": front, "rear": rear}});
        from_springs(&serde_json::from_value(vehicle).expect("a vehicle"))
    }

    /// By hand, N·mm/rad: front ½·25·770² = 7,411,250 and tires ½·220·1392² = 213,143,040 in series 7,162,214; rear
    /// ½·28·985² = 13,583,150 and ½·220·1418² = 221,179,640 in series 12,797,223; share 7,162,214/19,959,437 = 0.3588.
    /// In N·m/deg: 7,162,214/1000·π/180 = 125.0 and 223.4.
    #[test]
    fn a_narrow_transverse_front_spring_takes_the_smaller_part() {
        let rate = |value: f64| json!({"value": value, "rel_u": 0.1});
        let found = share(
            json!({"spring_base_mm": 770, "side_rate_n_per_mm": rate(25.0)}),
            json!({"spring_base_mm": 985, "side_rate_n_per_mm": rate(28.0)}),
        )
        .expect("known");
        assert!((found.value - 0.3588).abs() < 5e-5, "{found:?}");
        assert!((found.front.nm_per_deg - 125.0).abs() < 0.05 && (found.rear.nm_per_deg - 223.4).abs() < 0.05);
        // Relative: front 0.1 and 20/770 = 0.026 give 0.1033, less by the tires' part 0.9664 = 0.0998, and the tires
        // 0.0336·0.1 beside it: 0.0999; rear 0.1020·0.9421 = 0.0961 and 0.0579·0.1: 0.0963. 0.2301·0.1387 = 0.0319, with 0.05: 0.0593.
        assert!((found.u - 0.0593).abs() < 1e-4, "{found:?}");
    }

    /// A bar of 100 N·m/deg is 100·1000·57.29578 = 5,729,578 N·mm/rad: front 13,140,828 and the tires 12,377,700 in series;
    /// 12,377,700/25,174,923 = 0.4917.
    #[test]
    fn a_bar_adds_to_its_axle() {
        let rate = |value: f64| json!({"value": value, "rel_u": 0.1});
        let front = json!({"spring_base_mm": 770, "side_rate_n_per_mm": rate(25.0), "bar_nm_per_deg": rate(100.0)});
        let rear = json!({"spring_base_mm": 985, "side_rate_n_per_mm": rate(28.0)});
        let found = share(front, rear).expect("known");
        assert!((found.value - 0.4917).abs() < 5e-5, "{found:?}");
    }

    /// Ride rate 44.9 N/mm with 220 N/mm tires: 44.898·220/(440 − 44.898) = 25.0 a side.
    #[test]
    fn a_ride_rate_says_the_same_as_the_spring_behind_it() {
        let side = one_side(RideRate { value: 44.898, rel_u: 0.1 }).expect("softer than the tires");
        assert!((side.value - 25.0).abs() < 1e-3, "{side:?}");
        assert_eq!(one_side(RideRate { value: 440.0, rel_u: 0.1 }), None);
        assert_eq!(share(json!({"spring_base_mm": 770}), json!({})), None);
    }
}
