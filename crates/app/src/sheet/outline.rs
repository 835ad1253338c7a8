//! The car's outline from above, as the interface draws it: half outlines in thousandths of the wheelbase, mirrored.

use std::fmt::Write as _;
use trueground_core::car::Outline;

/// A place in the picture, px.
pub(super) type Place = (f64, f64);

/// Half outline from nose to tail: distance behind the front axle, distance from the centre line. Corners stand alone.
const fn half(outline: Outline) -> &'static [&'static [Place]] {
    match outline {
        Outline::Roadster => &[
            &[(-36.0, 0.0), (-36.0, 88.0)],
            &[(-36.0, 88.0), (-24.0, 103.0), (40.0, 118.0), (354.0, 184.0)],
            &[
                (354.0, 184.0),
                (480.0, 226.0),
                (600.0, 246.0),
                (680.0, 248.0),
                (800.0, 246.0),
                (966.0, 229.0),
                (1080.0, 196.0),
                (1160.0, 140.0),
                (1192.0, 66.0),
                (1197.0, 0.0),
            ],
        ],
        Outline::Coupe => &[&[
            (-288.0, 0.0),
            (-284.0, 110.0),
            (-262.0, 200.0),
            (-200.0, 262.0),
            (-110.0, 296.0),
            (0.0, 303.0),
            (300.0, 306.0),
            (700.0, 308.0),
            (1000.0, 308.0),
            (1160.0, 296.0),
            (1262.0, 258.0),
            (1316.0, 170.0),
            (1333.0, 0.0),
        ]],
        Outline::Sedan => &[&[
            (-268.0, 0.0),
            (-264.0, 120.0),
            (-244.0, 212.0),
            (-180.0, 272.0),
            (-90.0, 298.0),
            (0.0, 302.0),
            (300.0, 306.0),
            (700.0, 308.0),
            (1000.0, 306.0),
            (1120.0, 292.0),
            (1200.0, 252.0),
            (1246.0, 160.0),
            (1262.0, 0.0),
        ]],
        Outline::Pickup => &[&[
            (-149.0, 0.0),
            (-147.0, 140.0),
            (-126.0, 222.0),
            (-70.0, 262.0),
            (0.0, 280.0),
            (150.0, 296.0),
            (500.0, 306.0),
            (900.0, 306.0),
            (1100.0, 302.0),
            (1214.0, 286.0),
            (1258.0, 236.0),
            (1274.0, 140.0),
            (1277.0, 0.0),
        ]],
        Outline::BareFrame => &[
            &[(-170.0, 0.0), (-170.0, 132.0)],
            &[(-170.0, 132.0), (0.0, 140.0), (300.0, 150.0), (900.0, 190.0), (1230.0, 196.0)],
            &[(1230.0, 196.0), (1230.0, 0.0)],
        ],
    }
}

/// How far the outline reaches before the front axle and behind it, thousandths of the wheelbase.
pub(super) fn reach(outline: Outline) -> (f64, f64) {
    let along = || half(outline).iter().flat_map(|run| run.iter()).map(|(s, _)| *s);
    (-along().fold(0.0, f64::min), along().fold(0.0, f64::max))
}

/// The closed outline as an SVG path; `place` puts thousandths of the wheelbase into the picture.
pub(super) fn path(outline: Outline, place: impl Fn(Place) -> Place) -> String {
    let mut out = String::new();
    for side in [1.0, -1.0] {
        for (nth, run) in half(outline).iter().enumerate() {
            let places: Vec<Place> = run.iter().map(|(s, y)| place((*s, y * side))).collect();
            if nth == 0 {
                let _ = write!(out, "M{}", at(places[0]));
            }
            through(&places, &mut out);
        }
    }
    out
}

/// "12.3,45.6"
pub(super) fn at((x, y): Place) -> String {
    format!("{:.1},{:.1}", x + 0.0, y + 0.0)
}

/// Centripetal Catmull-Rom curve through `places`, as Bézier pieces after the first place.
pub(super) fn through(places: &[Place], out: &mut String) {
    let distance = |a: Place, b: Place| (a.0 - b.0).hypot(a.1 - b.1);
    let mixed = |parts: [(Place, f64); 3], over: f64| {
        let sum = |pick: fn(Place) -> f64| parts.iter().map(|(p, weight)| pick(*p) * weight).sum::<f64>() / over;
        (sum(|p| p.0), sum(|p| p.1))
    };
    for i in 1..places.len() {
        let (a, b) = (places[i - 1], places[i]);
        let (before, after) = (places[i.saturating_sub(2)], places[(i + 1).min(places.len() - 1)]);
        let (d0, d1, d2) = (distance(before, a), distance(a, b), distance(b, after));
        // Control points of the curve with knots at the square roots of the distances.
        let control = |far: Place, near: Place, other: Place, d: f64| {
            if d <= 0.0 {
                return near;
            }
            let root = (d * d1).sqrt();
            mixed([(near, 2.0 * d + 3.0 * root + d1), (far, -d1), (other, d)], 3.0 * (d + root))
        };
        let (c1, c2) = (control(before, a, b, d0), control(after, b, a, d2));
        let _ = write!(out, "C{} {} {}", at(c1), at(c2), at(b));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_outline_begins_and_ends_on_the_centre_line_and_its_runs_meet() {
        use Outline::{BareFrame, Coupe, Pickup, Roadster, Sedan};
        for outline in [Roadster, Coupe, Sedan, Pickup, BareFrame] {
            let runs = half(outline);
            assert_eq!((runs[0][0].1, runs[runs.len() - 1].last().map(|end| end.1)), (0.0, Some(0.0)));
            for pair in runs.windows(2) {
                assert_eq!(pair[0].last(), pair[1].first());
            }
            assert!(!path(outline, |place| place).contains("NaN"));
        }
    }

    #[test]
    fn a_curve_through_places_on_a_line_stays_on_it() {
        let mut out = String::new();
        through(&[(0.0, 0.0), (1.0, 1.0), (4.0, 4.0)], &mut out);
        for pair in out.split(['C', ' ']).filter(|pair| !pair.is_empty()) {
            let (x, y) = pair.split_once(',').expect("two numbers");
            assert_eq!(x, y, "{out}");
        }
    }
}
