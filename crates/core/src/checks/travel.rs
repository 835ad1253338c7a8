//! Travel: what an axle has left upward and downward, and what its shackle, shock, hose and track bar do at both ends of it.
//!
//! A gap changes 1:1 with the spring and not at all with the tires. A track bar's end goes on a circle: for a level bar travel²/(2·length).
//! A leaf keeps its length as its arc flattens: length = chord + 8·arch²/(3·chord), so the eyes move apart by (16·arch/(3·chord))·travel.

use super::at_stance::AtStance;
use super::finding::{Finding, Verdict, mm};
use crate::car::{AxleTravel, Shackle, Shock, Side, TrackBar};
use crate::uncertainty::Quantity;
use crate::units::Angle;

const CHECK: &str = "travel";
const CUSTOM: &str = "common practice, no source";
/// Bump travel that is usual at least, mm [common practice, no source].
const LEAST_MM: f64 = 60.0;
/// One gap or length under a car by rule, mm [common practice, no source].
const READ_U_MM: f64 = 2.0;
/// Between these a shackle neither turns over nor pulls straight, degrees from upright [common practice, no source].
const SHACKLE_DEG: [f64; 2] = [5.0, 80.0];
/// An angle gauge on a shackle, and a leaf taken as a flat arc, degrees [common practice, no source].
const SHACKLE_U_DEG: f64 = 2.0;

/// How far the axle end of a bar moves toward its frame end as the axle goes up by so much, mm.
///
/// # Not covered
/// Farther than the bar reaches, it is taken to stand upright.
pub fn track_bar_shift_mm(bar: &TrackBar, up_mm: f64) -> f64 {
    let across = |rise: f64| (bar.length_mm * bar.length_mm - rise * rise).max(0.0).sqrt();
    let rise = bar.rise_mm.unwrap_or(0.0);
    across(rise) - across(rise + up_mm)
}

/// Angle of a shackle from upright with the axle up by so much, degrees; `None` where it has come to its end: pulled straight or turned over.
pub fn shackle_deg(shackle: &Shackle, up_mm: f64) -> Option<f64> {
    // The chord for a leaf of that length whose arch has become smaller by the travel.
    let leaf = |chord: f64, arch: f64| chord + 8.0 * arch * arch / (3.0 * chord);
    let (chord, arch) = (shackle.spring_length_mm, shackle.arch_mm - up_mm);
    let length = leaf(chord, shackle.arch_mm);
    let square = length * length - 32.0 * arch * arch / 3.0;
    let new = f64::midpoint(length, (square >= 0.0).then(|| square.sqrt())?);
    let apart = (new - chord) / if shackle.both_ends { 2.0 } else { 1.0 };
    let sine = Angle::deg(shackle.angle_deg).sin() + apart / shackle.length_mm;
    Angle::asin(sine).map(Angle::to_deg)
}

/// Length of a shock with the axle up by so much, mm.
pub fn shock_length_mm(shock: &Shock, up_mm: f64) -> f64 {
    let lean = Angle::deg(shock.lean_deg.unwrap_or(0.0));
    (shock.length_mm * lean.sin()).hypot(shock.length_mm * lean.cos() - up_mm)
}

/// Both axles, as far as measured.
pub(super) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    let Some(travel) = &car.vehicle.travel else { return Vec::new() };
    let axles = [("front", 0.0, 0, &travel.front), ("rear", -car.vehicle.wheelbase_mm, 1, &travel.rear)];
    let of = |(name, x_mm, axle, travel): (&'static str, f64, usize, &AxleTravel)| {
        Axle { name, opened: opened(car, x_mm, axle, None), travel, car, x_mm, axle }.findings()
    };
    axles.into_iter().flat_map(of).collect()
}

/// What the spring opened since a part was measured, mm.
fn opened(car: &AtStance<'_>, x_mm: f64, axle: usize, measured_in: Option<&str>) -> Quantity {
    let since = car.since(measured_in);
    let (body, wheels) = (car.frame_rise(&since, [x_mm, 0.0]), car.axle_parts_rise_since(axle, &since));
    // A notch or a step over the axle gives room besides.
    let besides = car.changed.travel_mm[axle];
    Quantity::new(body.value - wheels.value + besides.value, body.u.hypot(wheels.u).hypot(besides.u))
}

struct Axle<'a> {
    name: &'static str,
    /// Since the first snapshot, which gaps count from.
    opened: Quantity,
    travel: &'a AxleTravel,
    car: &'a AtStance<'a>,
    x_mm: f64,
    axle: usize,
}

impl Axle<'_> {
    fn findings(&self) -> Vec<Finding> {
        let mut findings = Vec::new();
        let (travel, axle, opened) = (self.travel, self.name, self.opened.value);
        if let Some(gap) = travel.frame_gap_mm {
            let left = self.left(gap);
            findings.push(self.mm(
                "axle to frame",
                left,
                Some(LEAST_MM),
                CUSTOM,
                Some(Verdict::above(left, LEAST_MM, Verdict::Within, Verdict::Outside)),
                format!("{} between the {axle} axle and the frame; {LEAST_MM} mm are usual at least.", mm(left.value)),
            ));
        }
        if let Some(gap) = travel.stop_gap_mm {
            let left = self.left(gap);
            findings.push(self.mm(
                "bump stop",
                left,
                Some(0.0),
                "measured on the car",
                Some(Verdict::clearing(left, 0.0)),
                format!("The {axle} axle has {} to its bump stop.", mm(left.value)),
            ));
        }
        if let (Some(frame), Some(stop)) = (travel.frame_gap_mm, travel.stop_gap_mm) {
            let gives = travel.stop_gives_mm.unwrap_or(0.0);
            let left = Quantity::new(frame - stop - gives, 2.0_f64.sqrt() * READ_U_MM);
            findings.push(self.mm(
                "axle to frame, full bump",
                left,
                Some(0.0),
                "the stop solid",
                Some(Verdict::clearing(left, 0.0)),
                format!("With its stop solid the {axle} axle has {} left to the frame.", mm(left.value)),
            ));
        }
        let bump = travel.bump_mm().map(|bump| (bump + opened).max(0.0));
        let droop = travel.droop_mm.map(|droop| (droop - opened).max(0.0));
        let ends = [("at rest", Some(0.0)), ("full bump", bump), ("full droop", droop.map(|droop| -droop))];
        for (state, up) in ends {
            let Some(up) = up else { continue };
            findings.extend(travel.shackle.as_ref().map(|shackle| self.shackle(shackle, state, up)));
            if state != "at rest" {
                findings.extend(travel.shock.as_ref().map(|shock| self.shock(shock, state, up)));
                findings.extend(travel.track_bar.as_ref().map(|bar| self.track_bar(bar, state, up)));
            }
        }
        if let (Some(hose), Some(droop)) = (&travel.hose, droop) {
            let opened = self.opened_since(hose.measured_in.as_deref());
            let left = Quantity::new(
                hose.length_mm - hose.span_mm - opened.value.max(0.0) - droop,
                READ_U_MM.hypot(READ_U_MM).hypot(opened.u),
            );
            findings.push(self.mm(
                "brake hose, full droop",
                left,
                Some(0.0),
                "the hose as if it ran straight down, the worst there is",
                Some(Verdict::clearing(left, 0.0)),
                format!("At full droop the {axle} brake hose has {} of its length left.", mm(left.value)),
            ));
        }
        findings
    }

    /// A gap at this stance, mm.
    fn left(&self, gap_mm: f64) -> Quantity {
        Quantity::new(gap_mm + self.opened.value, READ_U_MM.hypot(self.opened.u))
    }

    fn opened_since(&self, measured_in: Option<&str>) -> Quantity {
        opened(self.car, self.x_mm, self.axle, measured_in)
    }

    fn shackle(&self, shackle: &Shackle, state: &str, up_mm: f64) -> Finding {
        let up_mm = up_mm - self.opened_since(shackle.measured_in.as_deref()).value;
        let [low, high] = SHACKLE_DEG;
        let (value, words) = match shackle_deg(shackle, up_mm) {
            Some(deg) => (deg, format!("stands {deg:.0}° from upright")),
            // Where it has no place any more it is past the end that the spring pushes it to.
            None => (90.0, "is pulled straight".to_owned()),
        };
        let at = Quantity::new(value, SHACKLE_U_DEG);
        let nearer = if value < f64::midpoint(low, high) { low } else { high };
        let verdict = if nearer == low {
            Verdict::above(at, low, Verdict::Within, Verdict::Outside)
        } else {
            Verdict::below(at, high, Verdict::Within, Verdict::Outside)
        };
        Finding {
            unit: "deg",
            ..self.mm(
                &format!("shackle, {state}"),
                at,
                Some(nearer),
                CUSTOM,
                Some(verdict),
                format!("The {} shackle {words}, {state}; {low:.0} to {high:.0}° are usual.", self.name),
            )
        }
    }

    fn shock(&self, shock: &Shock, state: &str, up_mm: f64) -> Finding {
        let opened = self.opened_since(shock.measured_in.as_deref());
        let length = shock_length_mm(shock, up_mm - opened.value);
        let (left, way) = if up_mm > 0.0 {
            (length - shock.shortest_mm, "to push in")
        } else {
            (shock.longest_mm - length, "to pull out")
        };
        let left = Quantity::new(left, READ_U_MM.hypot(READ_U_MM).hypot(opened.u));
        self.mm(
            &format!("shock, {state}"),
            left,
            Some(0.0),
            "its own length pushed in and pulled out",
            Some(Verdict::clearing(left, 0.0)),
            format!("The {} shock has {} left {way}, {state}.", self.name, mm(left.value)),
        )
    }

    fn track_bar(&self, bar: &TrackBar, state: &str, up_mm: f64) -> Finding {
        // What the spring opened let the axle end down against the frame.
        let bar = TrackBar { rise_mm: Some(bar.rise_mm.unwrap_or(0.0) - self.opened.value), ..bar.clone() };
        let shift = track_bar_shift_mm(&bar, up_mm);
        let u = |by: f64| {
            let moved = TrackBar { rise_mm: bar.rise_mm.map(|rise| rise + by), ..bar.clone() };
            track_bar_shift_mm(&moved, up_mm) - shift
        };
        let toward = match (bar.frame_end, shift < 0.0) {
            (Side::Left, false) | (Side::Right, true) => "left",
            _ => "right",
        };
        let value = Quantity::new(shift, u(READ_U_MM.hypot(self.opened.u)).abs());
        self.mm(
            &format!("track bar, {state}"),
            value,
            None,
            "the exact circle of its end",
            None,
            format!("The track bar shifts the {} axle {} to the {toward}, {state}.", self.name, mm(shift.abs())),
        )
    }

    fn mm(
        &self,
        what: &str,
        value: Quantity,
        limit: Option<f64>,
        source: &str,
        verdict: Option<Verdict>,
        sentence: String,
    ) -> Finding {
        Finding {
            check: CHECK,
            what: format!("{}, {what}", self.name),
            value: value.value,
            u: value.u,
            unit: "mm",
            limit,
            source: source.to_owned(),
            verdict,
            sentence,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Map;

    #[test]
    fn a_level_bar_shifts_by_the_square_of_the_travel() {
        let bar = |length_mm: f64, rise_mm: f64| TrackBar {
            length_mm,
            rise_mm: Some(rise_mm),
            frame_end: Side::Left,
            extra: Map::new(),
        };
        // 80²/(2·800) = 4.0; exactly 800 − √(800² − 80²) = 4.0100.
        assert!((track_bar_shift_mm(&bar(800.0, 0.0), 80.0) - 4.010_050_6).abs() < 1e-6);
        assert_eq!(track_bar_shift_mm(&bar(800.0, 0.0), -80.0), track_bar_shift_mm(&bar(800.0, 0.0), 80.0));
        // Its axle end 40 low: it goes through level and is as far again at +80.
        assert!(track_bar_shift_mm(&bar(800.0, -40.0), 80.0).abs() < 1e-9);
        // 3-4-5: from 300 to 400 over a bar of 500 the end moves from 400 to 300.
        assert!((track_bar_shift_mm(&bar(500.0, 300.0), 100.0) - 100.0).abs() < 1e-9);
        assert!(track_bar_shift_mm(&bar(500.0, 0.0), 9_999.0) == 500.0, "no farther than its own length");
    }

    #[test]
    fn a_flattening_leaf_pushes_its_shackle_out() {
        let shackle = Shackle {
            length_mm: 75.0,
            angle_deg: 45.0,
            spring_length_mm: 900.0,
            arch_mm: 60.0,
            both_ends: true,
            measured_in: None,
            extra: Map::new(),
        };
        assert!(shackle_deg(&shackle, 0.0).is_some_and(|deg| (deg - 45.0).abs() < 1e-9));
        // Flat: the chord is the leaf, 900 + 8·60²/2700 = 910.667; each shackle moves by 5.333: asin(0.70711 + 0.07111) = 51.10°.
        assert!(shackle_deg(&shackle, 60.0).is_some_and(|deg| (deg - 51.096).abs() < 0.01));
        // As far past flat it comes back to where it was: 60 mm of reverse arch.
        assert!(shackle_deg(&shackle, 120.0).is_some_and(|deg| (deg - 45.0).abs() < 1e-9));
        let near_its_end = Shackle { angle_deg: 85.0, ..shackle };
        assert_eq!(shackle_deg(&near_its_end, 60.0), None, "pulled straight");
    }

    #[test]
    fn a_leaning_shock_gets_shorter_by_less_than_the_travel() {
        let shock = |lean: f64| Shock {
            length_mm: 400.0,
            shortest_mm: 300.0,
            longest_mm: 480.0,
            lean_deg: Some(lean),
            measured_in: None,
            extra: Map::new(),
        };
        assert_eq!(shock_length_mm(&shock(0.0), 70.0), 330.0);
        // 36.87°: 240 across, 320 up; up 140 leaves 180: 300.
        let lean = Angle::asin(0.6).map_or(0.0, Angle::to_deg);
        assert!((shock_length_mm(&shock(lean), 140.0) - 300.0).abs() < 1e-9);
    }
}
