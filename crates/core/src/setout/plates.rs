//! Plates under wheels: one that takes a floor's twist out, four that make it level.

use crate::corner::Corner;
use crate::floor_block::FloorShape;

/// Plates that would even a floor out, with standard uncertainties (k = 1).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plates {
    /// Thickness of one plate that takes all twist out, mm, 0 or more.
    pub one_mm: f64,
    /// Its standard uncertainty, mm.
    pub one_u_mm: f64,
    /// The two spots under either of which that plate would lie (facing A's corners); never both.
    pub one_under: [Corner; 2],
    /// True where the twist is beyond its own ±2u: below it no plate is worth it.
    pub worth_it: bool,
    /// Thickness of four plates that make the spots level, mm, S1 to S4; the highest spot has 0. Absent where one direction of
    /// the floor was not read.
    pub level_mm: Option<[f64; 4]>,
    /// Their standard uncertainties, mm.
    pub level_u_mm: [f64; 4],
}

/// The plates of a floor.
///
/// # Source
/// A plate raises its spot, so the twist w = S1 − S2 − S3 + S4 falls by the thickness under S2 or S3 and grows under S1 or S4:
/// thickness |w| under a low corner of the twist leaves none. Four plates: the highest spot less each. u by the law of
/// propagation (JCGM 100:2008, 5.2.2) with the covariance of the spots.
pub fn plates(shape: &FloorShape) -> Plates {
    let elevation = shape.elevation_mm;
    let highest = (0..4).max_by(|a, b| elevation[*a].total_cmp(&elevation[*b])).unwrap_or_default();
    let covariance = &shape.covariance_mm2;
    let whole = shape.along_read && shape.across_read;
    Plates {
        one_mm: shape.twist_mm.abs(),
        one_u_mm: shape.twist_u_mm,
        one_under: if shape.twist_mm > 0.0 { [Corner::FR, Corner::RL] } else { [Corner::FL, Corner::RR] },
        worth_it: shape.twist_mm.abs() > 2.0 * shape.twist_u_mm,
        level_mm: whole.then(|| elevation.map(|mm| elevation[highest] - mm)),
        level_u_mm: std::array::from_fn(|spot| {
            let variance = covariance[spot][spot] + covariance[highest][highest] - 2.0 * covariance[spot][highest];
            variance.max(0.0).sqrt()
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::capture::Survey;
    use crate::floor_block::shape;
    use serde_json::json;

    fn levelled(staff: [f64; 4]) -> FloorShape {
        let readings: Vec<_> =
            (1..).zip(staff).map(|(n, mm)| json!({"point": format!("S{n}"), "value_mm": mm})).collect();
        let survey: Survey =
            serde_json::from_value(json!({"passes": [{"pass_no": 1, "readings": readings}]})).expect("a survey");
        shape(&survey, [2600.0, 1400.0, 1400.0]).expect("all four spots are read")
    }

    /// The trade's own check: elevations 10, −12, 40, 34, so w = 16: 16 mm under FR or RL, or four plates 30, 52, 0, 6.
    #[test]
    fn the_check_values_of_a_twisted_drive() {
        let plates = plates(&levelled([990.0, 1012.0, 960.0, 966.0]));
        assert!((plates.one_mm - 16.0).abs() < 1e-3 && plates.worth_it);
        assert_eq!(plates.one_under, [Corner::FR, Corner::RL]);
        for (found, wanted) in plates.level_mm.expect("all four are read").iter().zip([30.0, 52.0, 0.0, 6.0]) {
            assert!((found - wanted).abs() < 1e-3, "{found}, wanted {wanted}");
        }
        // One pass of 1 mm readings: the twist is the sum of four, a plate the difference of two; the highest needs none.
        assert!((plates.one_u_mm - 2.0).abs() < 1e-3);
        assert!((plates.level_u_mm[0] - 2.0_f64.sqrt()).abs() < 1e-3 && plates.level_u_mm[2] == 0.0);
    }

    #[test]
    fn the_other_way_round_the_plate_lies_under_the_other_diagonal_and_takes_the_twist_out() {
        let mut staff = [1010.0, 988.0, 1040.0, 1034.0];
        let before = plates(&levelled(staff));
        assert_eq!((before.one_under, before.worth_it), ([Corner::FL, Corner::RR], true));
        // A plate under a spot shortens the staff reading on it.
        staff[before.one_under[1].index()] -= before.one_mm;
        let after = plates(&levelled(staff));
        assert!(after.one_mm < 1e-3 && !after.worth_it);
    }

    #[test]
    fn a_twist_below_its_own_doubt_needs_no_plate() {
        assert!(!plates(&levelled([1000.0, 1000.0, 1000.0, 1003.0])).worth_it);
        assert!(plates(&levelled([1000.0, 1000.0, 1000.0, 1005.0])).worth_it);
    }
}
