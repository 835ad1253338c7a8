//! Floors worked by hand: levelled, by straightedge, and passes that do not agree.

use super::*;
use crate::capture::StaffReading;
use crate::car::Vehicle;
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
    near(shape.elevation_mm, [-8.0, -30.0, 22.0, 16.0]);
    near(shape.above_lowest_mm, [22.0, 0.0, 52.0, 46.0]);
    near([shape.twist_mm, 0.0, 0.0, 0.0], [16.0, 0.0, 0.0, 0.0]);
    near(shape.twist_part_mm, [4.0, -4.0, -4.0, 4.0]);
    // Tilt −12, −26, 26, 12: along 38/2600, across 14/1400.
    near(shape.tilt_mm, [14.0, 0.0, 52.0, 38.0]);
    assert!((shape.tilt_percent - 100.0 * (0.014_615_384_615_f64.powi(2) + 0.01_f64.powi(2)).sqrt()).abs() < 1e-4);
    // The brief's own figure: 2 × 0.8 / √2 is 1.1 mm; here u 1.0.
    assert!((shape.twist_u_mm - 2.0_f64.sqrt()).abs() < 1e-4);
    assert!((shape.elevation_u_mm[0] - 0.612_372_435_7).abs() < 1e-4);
    // Half a sum of four with u 1/√2 over 2600 along and 1400 across, weighted by the slopes themselves.
    let (along, across) = (0.014_615_384_615_f64, 0.01_f64);
    let u = ((along / 2600.0).powi(2) + (across / 1400.0).powi(2)).sqrt() / along.hypot(across) / 2.0_f64.sqrt();
    assert!((shape.tilt_u_percent - 100.0 * u).abs() < 1e-4);
    assert!(shape.along_read && shape.across_read && shape.gauge_zero_deg.is_none());
}

#[test]
fn a_pass_without_a_spot_does_not_count_and_a_struck_reading_is_not_read() {
    let mut first = pass(1, &[("S1", 900.0), ("S2", 900.0), ("S3", 900.0), ("S4", 950.0), ("S4", 900.0)]);
    first.readings[3].struck = Some(crate::capture::Struck { reason: "wrong spot".to_owned(), at: None });
    let flat = shape(&survey(vec![first, pass(2, &[("S1", 700.0)])]), [2600.0, 1400.0, 1400.0]).unwrap();
    near(flat.elevation_mm, [0.0; 4]);
    assert!((flat.twist_u_mm - 2.0).abs() < 1e-4);
    assert_eq!(shape(&survey(vec![pass(1, &[("S1", 1.0)])]), [1.0; 3]), None);
}

#[test]
fn passes_are_compared_without_the_height_of_their_planes() {
    let first = pass(1, &[("S1", 918.0), ("S2", 952.0), ("S3", 863.0), ("S4", 865.0)]);
    let later = pass(2, &[("S1", 1018.0), ("S2", 1053.0), ("S3", 963.0)]);
    let agreement = agreement(&first, &later, 1.0).unwrap();
    assert_eq!((agreement.spots, agreement.worst_spot), (vec![0, 1, 2], 1));
    // Differences 100, 101, 100: spot 2 moved 1 mm against the other two; u² = 2 + 2/2.
    assert!((agreement.worst_mm - 1.0).abs() < 1e-9);
    assert!((agreement.u_mm - 3.0_f64.sqrt()).abs() < 1e-12);
}

#[test]
fn a_third_pass_tells_which_of_two_is_off() {
    let staff = |slip: f64| [("S1", 918.0), ("S2", 952.0), ("S3", 863.0 + slip), ("S4", 865.0)];
    let two = survey(vec![pass(1, &staff(9.0)), pass(2, &staff(0.0))]);
    let odd = least_agreeing(&two).unwrap();
    assert_eq!((odd.pass, odd.told, odd.agreement.worst_spot), (1, false, 2));
    assert!((odd.agreement.worst_mm - 9.0).abs() < 1e-9);
    let three = survey(vec![pass(1, &staff(9.0)), pass(2, &staff(0.0)), pass(3, &staff(0.5))]);
    let odd = least_agreeing(&three).unwrap();
    assert_eq!((odd.pass, odd.told, odd.agreement.worst_spot), (0, true, 2));
    assert_eq!(least_agreeing(&survey(vec![pass(1, &staff(0.0))])), None);
}

fn edge(from: &str, to: &str, angle_deg: f64, reversed: bool) -> crate::capture::StraightedgeReading {
    serde_json::from_value(serde_json::json!({
        "from": from, "to": to, "angle_deg": angle_deg, "reversed": reversed
    }))
    .unwrap()
}

/// By hand: 20 mm over 1400 mm is 0.8185°, −4 mm is −0.1637°; the gauge shows 0.3° too much when straight.
#[test]
fn a_straightedge_across_both_axles_tells_the_twist_and_nothing_along() {
    let mut across = survey(Vec::new());
    for (from, to, deg) in [("S1", "S2", 0.818_458_f64), ("S3", "S4", -0.163_702)] {
        across.straightedge.push(edge(from, to, deg + 0.3, false));
        across.straightedge.push(edge(from, to, deg - 0.3, true));
    }
    let found = shape(&across, [2600.0, 1400.0, 1400.0]).unwrap();
    assert!((found.twist_mm - 24.0).abs() < 0.01, "{}", found.twist_mm);
    assert!(found.across_read && !found.along_read);
    // Front and rear stand at one height: 10, −10, −2, 2 over their mean.
    near(found.elevation_mm.map(|mm| mm.round()), [10.0, -10.0, -2.0, 2.0]);
    let (zero, zero_u) = found.gauge_zero_deg.unwrap();
    // Four readings of 0.1° and the prior of 0.2°: 0.3 · 0.04/(0.04 + 0.0025).
    assert!((zero - 0.3 * 0.04 / 0.0425).abs() < 1e-3 && zero_u < 0.05, "{zero} {zero_u}");
    // One line is 2.443 mm a reading; two readings a line, two lines.
    assert!((found.twist_u_mm - 2.443).abs() < 0.01, "{}", found.twist_u_mm);
    across.straightedge.truncate(2);
    assert_eq!(shape(&across, [2600.0, 1400.0, 1400.0]), None, "one axle says nothing of the twist");
}

#[test]
fn lines_along_the_sides_tell_front_from_rear_and_a_struck_one_says_nothing() {
    let mut lines = survey(Vec::new());
    let deg = |mm: f64, long: f64| libm::atan(mm / long).to_degrees();
    // Elevations 0, 10, 40, 46: twist −4.
    for (from, to, mm, long) in [
        ("S1", "S2", -10.0, 1400.0),
        ("S3", "S4", -6.0, 1400.0),
        ("S1", "S3", -40.0, 2600.0),
        ("S2", "S4", -36.0, 2600.0),
    ] {
        for reversed in [false, true] {
            lines.straightedge.push(edge(from, to, deg(mm, long), reversed));
        }
    }
    let mut slip = edge("S1", "S2", 9.0, false);
    slip.struck = Some(crate::capture::Struck { reason: "misread".to_owned(), at: None });
    lines.straightedge.push(slip);
    let found = shape(&lines, [2600.0, 1400.0, 1400.0]).unwrap();
    assert!(found.along_read && found.across_read);
    near(found.above_lowest_mm, [0.0, 10.0, 40.0, 46.0]);
}

/// By hand: 2785 − 2665 and half of 1420 − 1400; 0.7·√(2(1 − exp(−d²/180000))).
#[test]
fn a_longer_car_stands_behind_the_spots() {
    let footprint = Footprint { wheelbase_mm: 2665.0, track_front_mm: 1400.0, track_rear_mm: 1400.0 };
    let vehicle: Vehicle = serde_json::from_value(serde_json::json!({
        "label": "x", "ref_points": [], "wheelbase_mm": 2785, "track_front_mm": 1400, "track_rear_mm": 1420
    }))
    .unwrap();
    let beside = beside_spots(&footprint, &vehicle);
    assert_eq!((beside.rear_behind_mm, beside.front_outside_mm, beside.rear_outside_mm), (120.0, 0.0, 10.0));
    assert!(beside.front_u_mm.abs() < 1e-12 && (beside.rear_u_mm - 0.2755).abs() < 1e-3, "{}", beside.rear_u_mm);
}

fn near(found: [f64; 4], wanted: [f64; 4]) {
    for (found, wanted) in found.iter().zip(wanted) {
        assert!((found - wanted).abs() < 1e-3, "{found}, wanted {wanted}");
    }
}

/// Half the difference of the two ways round; a line read one way says nothing.
#[test]
fn straight_and_turned_give_the_gauges_zero() {
    let mut lines = survey(Vec::new());
    lines.straightedge = vec![edge("S1", "S2", 1.1, false), edge("S1", "S2", 0.5, true), edge("S3", "S4", 0.2, false)];
    let zeros = gauge_zeros(&lines);
    let [(from, to, zero, u)] = &zeros[..] else { panic!("one line was read both ways: {zeros:?}") };
    assert_eq!((from.as_str(), to.as_str()), ("S1", "S2"));
    assert!((zero - 0.3).abs() < 1e-12 && (u - 0.1 / 2.0_f64.sqrt()).abs() < 1e-12);
}
