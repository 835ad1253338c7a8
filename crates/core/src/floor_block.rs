//! A floor taken apart for the eye: how high each spot stands, the tilt that does no harm, and the twist that does.
//!
//! Only the staff readings on the four spots are used here; the adjustment in [`crate::capture`]'s solver uses everything.

use crate::capture::{Pass, Survey};

/// A levelled floor, all by spot in the order S1 to S4 (under front left, front right, rear left, rear right of facing A).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FloorShape {
    /// Over the mean of the four, mm.
    pub elevation_mm: [f64; 4],
    /// Standard uncertainty of each, k = 1, mm.
    pub elevation_u_mm: f64,
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
    /// The twist alone: a quarter of it at each spot, by turns up and down, mm.
    pub twist_part_mm: [f64; 4],
}

/// Whether a later pass says the same as the first, where both have readings.
#[derive(Clone, Debug, PartialEq)]
pub struct PassAgreement {
    /// Places of the spots in both, 0 to 3.
    pub spots: Vec<usize>,
    /// Largest departure from the mean difference of the two planes, mm, and the spot it is at.
    pub worst_mm: f64,
    /// Place of that spot, 0 to 3.
    pub worst_spot: usize,
    /// Standard uncertainty of such a departure, k = 1, mm.
    pub u_mm: f64,
}

const SPOTS: [&str; 4] = ["S1", "S2", "S3", "S4"];

/// The staff readings of a pass on the four spots, mm; struck ones left out, the last of several counts.
pub fn spots(pass: &Pass) -> [Option<f64>; 4] {
    SPOTS.map(|spot| {
        let mut readings = pass.readings.iter().filter(|reading| reading.point == spot && reading.struck.is_none());
        readings.next_back().map(|reading| reading.value_mm)
    })
}

/// The shape of a floor, from the passes that have all four spots; `None` where there is no such pass.
///
/// # Inputs
/// `size_mm`: wheelbase, front track, rear track the spots were marked out for, above 0.
/// # Source
/// Elevation = mean of the pass's four − staff reading, averaged over passes; by the law of propagation (JCGM 100:2008,
/// 5.1.2) u of an elevation is u·√(3/4)/√passes and of the twist 2u/√passes.
pub fn shape(survey: &Survey, size_mm: [f64; 3]) -> Option<FloorShape> {
    let complete: Vec<[f64; 4]> = survey
        .passes
        .iter()
        .filter_map(|pass| {
            let [Some(a), Some(b), Some(c), Some(d)] = spots(pass) else { return None };
            Some([a, b, c, d])
        })
        .collect();
    if complete.is_empty() {
        return None;
    }
    let passes = complete.len() as f64;
    let mut elevation = [0.0; 4];
    for pass in &complete {
        let mean = pass.iter().sum::<f64>() / 4.0;
        for (sum, staff) in elevation.iter_mut().zip(pass) {
            *sum += (mean - staff) / passes;
        }
    }
    let [front_left, front_right, rear_left, rear_right] = elevation;
    let twist = front_left - front_right - rear_left + rear_right;
    let quarter = [twist / 4.0, -twist / 4.0, -twist / 4.0, twist / 4.0];
    let tilt: [f64; 4] = std::array::from_fn(|spot| elevation[spot] - quarter[spot]);
    let [wheelbase, track_front, track_rear] = size_mm;
    let along = (tilt[2] + tilt[3] - tilt[0] - tilt[1]) / 2.0 / wheelbase;
    let across = f64::midpoint((tilt[0] - tilt[1]) / track_front, (tilt[2] - tilt[3]) / track_rear);
    Some(FloorShape {
        elevation_mm: elevation,
        elevation_u_mm: survey.staff_u_mm * 0.75_f64.sqrt() / passes.sqrt(),
        above_lowest_mm: above_lowest(elevation),
        twist_mm: twist,
        twist_u_mm: 2.0 * survey.staff_u_mm / passes.sqrt(),
        tilt_mm: above_lowest(tilt),
        tilt_percent: 100.0 * (along * along + across * across).sqrt(),
        twist_part_mm: quarter,
    })
}

/// How two passes agree; their planes may differ by any constant. `None` with fewer than two spots in both.
pub fn agreement(first: &Pass, later: &Pass, staff_u_mm: f64) -> Option<PassAgreement> {
    let (first, later) = (spots(first), spots(later));
    let differences: Vec<(usize, f64)> = (0..4).filter_map(|spot| Some((spot, later[spot]? - first[spot]?))).collect();
    if differences.len() < 2 {
        return None;
    }
    let n = differences.len() as f64;
    let mean = differences.iter().map(|(_, difference)| difference).sum::<f64>() / n;
    let off = |(_, difference): &&(usize, f64)| (difference - mean).abs();
    let worst = differences.iter().max_by(|a, b| off(a).total_cmp(&off(b)))?;
    Some(PassAgreement {
        spots: differences.iter().map(|(spot, _)| *spot).collect(),
        worst_mm: off(&worst),
        worst_spot: worst.0,
        // Each is a difference of two readings, less the mean of n such.
        u_mm: staff_u_mm * (2.0 * (1.0 - 1.0 / n)).sqrt(),
    })
}

fn above_lowest(heights: [f64; 4]) -> [f64; 4] {
    let lowest = heights.iter().copied().fold(f64::INFINITY, f64::min);
    heights.map(|height| height - lowest)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::capture::StaffReading;
    use serde_json::Map;

    fn pass(pass_no: u32, staff: &[(&str, f64)]) -> Pass {
        let reading = |(point, value_mm): &(&str, f64)| StaffReading {
            point: (*point).to_owned(),
            text: String::new(),
            unit: "mm".to_owned(),
            value_mm: *value_mm,
            struck: None,
            extra: Map::new(),
        };
        let mut pass: Pass = serde_json::from_value(serde_json::json!({"pass_no": pass_no, "readings": []})).unwrap();
        pass.readings = staff.iter().map(reading).collect();
        pass
    }

    fn survey(passes: Vec<Pass>) -> Survey {
        Survey { method: String::new(), staff_u_mm: 1.0, passes, straightedge: Vec::new(), extra: Map::new() }
    }

    /// Worked by hand: the floor of the check in the trade's own formula, e = 10, −12, 40, 34 less its mean 18, w = 16.
    #[test]
    fn a_twisted_sloping_floor_comes_apart_into_tilt_and_twist() {
        let staff = [("S1", 990.0), ("S2", 1012.0), ("S3", 960.0), ("S4", 966.0)];
        let moved: Vec<_> = staff.iter().map(|(spot, mm)| (*spot, mm + 137.0)).collect();
        let shape = shape(&survey(vec![pass(1, &staff), pass(2, &moved)]), [2600.0, 1400.0, 1400.0]).unwrap();
        assert_eq!(shape.elevation_mm, [-8.0, -30.0, 22.0, 16.0]);
        assert_eq!(shape.above_lowest_mm, [22.0, 0.0, 52.0, 46.0]);
        assert_eq!((shape.twist_mm, shape.twist_part_mm), (16.0, [4.0, -4.0, -4.0, 4.0]));
        // Tilt −12, −26, 26, 12: along 38/2600, across 14/1400.
        assert_eq!(shape.tilt_mm, [14.0, 0.0, 52.0, 38.0]);
        assert!((shape.tilt_percent - 100.0 * (0.014_615_384_615_f64.powi(2) + 0.01_f64.powi(2)).sqrt()).abs() < 1e-8);
        // The brief's own figure: 2 × 0.8 / √2 is 1.1 mm; here u 1.0.
        assert!((shape.twist_u_mm - 2.0_f64.sqrt()).abs() < 1e-12);
        assert!((shape.elevation_u_mm - 0.612_372_435_7).abs() < 1e-9);
    }

    #[test]
    fn a_pass_without_a_spot_does_not_count_and_a_struck_reading_is_not_read() {
        let mut first = pass(1, &[("S1", 900.0), ("S2", 900.0), ("S3", 900.0), ("S4", 950.0), ("S4", 900.0)]);
        first.readings[3].struck = Some(crate::capture::Struck { reason: "wrong spot".to_owned(), at: None });
        let flat = shape(&survey(vec![first, pass(2, &[("S1", 700.0)])]), [2600.0, 1400.0, 1400.0]).unwrap();
        assert_eq!((flat.elevation_mm, flat.twist_u_mm), ([0.0; 4], 2.0));
        assert_eq!(shape(&survey(vec![pass(1, &[("S1", 1.0)])]), [1.0; 3]), None);
    }

    #[test]
    fn passes_are_compared_without_the_height_of_their_planes() {
        let first = pass(1, &[("S1", 918.0), ("S2", 952.0), ("S3", 863.0), ("S4", 865.0)]);
        let later = pass(2, &[("S1", 1018.0), ("S2", 1053.0), ("S3", 963.0)]);
        let agreement = agreement(&first, &later, 1.0).unwrap();
        assert_eq!((agreement.spots, agreement.worst_spot), (vec![0, 1, 2], 1));
        // Differences 100, 101, 100: spot 2 stands 2/3 off their mean.
        assert!((agreement.worst_mm - 2.0 / 3.0).abs() < 1e-9);
        assert!((agreement.u_mm - (4.0_f64 / 3.0).sqrt()).abs() < 1e-12);
    }
}
