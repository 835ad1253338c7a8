//! Approach, departure and breakover angles, the published crest of low-clearance vehicles, and the shapes of speed humps.

use crate::Check;
use serde::Deserialize;
use serde_json::Value;
use std::collections::BTreeMap;
use trueground_core::checks::ramp::angles::angles;
use trueground_core::checks::ramp::{HumpShape, Ramp, Shape, Wheels, drive};

/// Wheels that hardly have a size, what the formulas for points of contact suppose: for the angles, and the smallest that is driven.
const POINT_MM: f64 = 1e-4;
const SMALLEST_MM: f64 = 1.0;
const MM_PER_FOOT: f64 = 304.8;
const MM_PER_INCH: f64 = 25.4;

pub(crate) fn approach_breakover(check: &mut Check) {
    #[derive(Deserialize)]
    struct Data {
        approach: Vec<Approach>,
        breakover: Vec<Breakover>,
        published_ramp_result: Value,
    }
    #[derive(Deserialize)]
    struct Approach {
        x_ahead_of_wheel_centre: f64,
        height: f64,
        #[serde(rename = "R")]
        radius: f64,
        angle_deg: f64,
        point_contact_angle_deg: f64,
    }
    #[derive(Deserialize)]
    struct Breakover {
        wheelbase: f64,
        #[serde(rename = "R")]
        radius: f64,
        x_behind_front_axle: f64,
        height: f64,
        angle_deg: f64,
        point_contact_deg: f64,
    }
    let wheels =
        |wheelbase_mm: f64, radius: f64| Wheels { wheelbase_mm, front_radius_mm: radius, rear_radius_mm: radius };
    let data: Data = check.json();
    for (i, row) in data.approach.iter().enumerate() {
        let base = 2600.0;
        for (radius, expected, tolerance) in
            [(row.radius, row.angle_deg, "deg"), (POINT_MM, row.point_contact_angle_deg, "point_contact_deg")]
        {
            // The same point ahead of the front tire and behind the rear one.
            let points = [("nose", row.x_ahead_of_wheel_centre), ("tail", -base - row.x_ahead_of_wheel_centre)];
            let found = angles(&wheels(base, radius), points.into_iter().map(|(name, x)| (name, [x, row.height])));
            check.near(&format!("approach {i}"), found.approach.unwrap().deg, expected, tolerance);
            check.near(&format!("departure {i}"), found.departure.unwrap().deg, expected, tolerance);
        }
    }
    for (i, row) in data.breakover.iter().enumerate() {
        let at = |height: f64| ("pan", [-row.x_behind_front_axle, height]);
        let round = angles(&wheels(row.wheelbase, row.radius), [at(row.height)].into_iter()).breakover.unwrap().deg;
        check.near(&format!("breakover {i}"), round, row.angle_deg, "deg");
        let sharp = angles(&wheels(row.wheelbase, POINT_MM), [at(row.height)].into_iter()).breakover.unwrap().deg;
        check.near(&format!("breakover on points {i}"), sharp, row.point_contact_deg, "point_contact_deg");
    }
    crest(check, &data.published_ramp_result);
}

/// The grade change at which a point midway touches a crest of two equal grades, by driving over crests until it does.
fn crest(check: &mut Check, published: &Value) {
    let wheelbase = published["vehicle"]["wheelbase_ft"].as_f64().unwrap() * MM_PER_FOOT;
    let clearance = published["vehicle"]["clearance_in"].as_f64().unwrap() * MM_PER_INCH;
    let touches = |change: f64| {
        let rise = 20_000.0 * change / 2.0;
        let text = format!(
            r#"{{"wheelbase_mm": {wheelbase}, "front_radius_mm": {SMALLEST_MM}, "rear_radius_mm": {SMALLEST_MM}, "allowance_mm": 0, "step_mm": 5,
            "points": [{{"id": "mid", "x_mm": {}, "z_mm": {clearance}}}], "profile": [[0, 0], [20000, {rise}], [40000, 0]]}}"#,
            -wheelbase / 2.0
        );
        !drive(&Ramp::read(&text).unwrap()).unwrap().touches.is_empty()
    };
    let (mut clears, mut hits) = (0.01, 0.2);
    for _ in 0..30 {
        let middle = f64::midpoint(clears, hits);
        if touches(middle) { hits = middle } else { clears = middle }
    }
    let expected = published["recomputed"]["single_grade_change_pct"].as_f64().unwrap() / 100.0;
    check.relative("crest of two grades", hits, expected, "grade_change_relative");
}

pub(crate) fn road_profiles(check: &mut Check) {
    #[derive(Deserialize)]
    struct Data {
        hump_3p7m_0p1m: Vec<BTreeMap<String, f64>>,
        hump_12ft_3in_in_inches: Vec<BTreeMap<String, f64>>,
        arc_radius: ArcRadius,
    }
    /// Of the circular humps, m and inches.
    #[derive(Deserialize)]
    struct ArcRadius {
        #[serde(rename = "L3p7_H0p1")]
        metres: f64,
        #[serde(rename = "L12ft_3in")]
        inches: f64,
    }
    let shapes =
        [("circular", HumpShape::Circular), ("parabolic", HumpShape::Parabolic), ("sinusoidal", HumpShape::Sinusoidal)];
    let data: Data = check.json();
    for (rows, unit_mm, tolerance, radius) in [
        (&data.hump_3p7m_0p1m, 1000.0, "hump_m", data.arc_radius.metres),
        (&data.hump_12ft_3in_in_inches, MM_PER_INCH, "hump_in", data.arc_radius.inches),
    ] {
        let length = rows.last().unwrap()["x"] * unit_mm;
        let high = rows.iter().map(|row| row["circular"]).fold(0.0, f64::max) * unit_mm;
        let arc = Shape::Hump { length_mm: length, height_mm: high, flat_mm: 0.0, shape: HumpShape::Circular };
        let ground = arc.ground(5_000.0);
        // The circle through its foot, a tenth of it and its crown, which are corners of what is drawn.
        let [a, b, c] = [0.0, 0.1, 0.5].map(|part| {
            let x = part * length;
            [x, ground.height(5_000.0 + x, &mut 0).unwrap()]
        });
        check.relative(&format!("arc of {length} mm"), circle_radius(a, b, c) / unit_mm, radius, "arc_relative");
        for (name, shape) in shapes {
            let height = rows.iter().map(|row| row[name]).fold(0.0, f64::max) * unit_mm;
            let hump = Shape::Hump { length_mm: length, height_mm: height, flat_mm: 0.0, shape };
            let ground = hump.ground(5_000.0);
            for row in rows {
                // The printed places are corners of the drawn hump too, so that the ground itself is compared.
                let x = row["x"] * unit_mm;
                let ours = ground.height(5_000.0 + x, &mut 0).unwrap() / unit_mm;
                check.near(&format!("{name} at {x}"), ours, row[name], tolerance);
            }
        }
    }
}

/// Radius of the circle through three points: the product of the sides over four times the area.
fn circle_radius(a: [f64; 2], b: [f64; 2], c: [f64; 2]) -> f64 {
    let side = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
    let twice_area = ((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])).abs();
    side(a, b) * side(b, c) * side(c, a) / (2.0 * twice_area)
}
