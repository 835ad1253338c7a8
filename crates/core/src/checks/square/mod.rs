//! Square and aligned: wheelbases, diagonals, toe, camber and caster, each with its ±.
//!
//! Toe is rear minus front of the tires at the height of the wheel centres, positive = toe-in. A gauge counts from the plumb line, so what
//! the floor leans is taken out: a left wheel on a floor that is higher on the left leans inward by as much, a car whose rear stands
//! higher has its kingpins so much farther forward. Caster from a swing: (camber out − camber in)/(2·sin of the steered angle).

mod input;
mod wheels;

use super::at_stance::AtStance;
use super::finding::{Finding, Verdict, mm};
use crate::car::{Square, Toe};
use crate::corner::Corner;
use crate::uncertainty::Quantity;
use crate::units::Angle;
use crate::wording::shown;
use serde::Serialize;

const CHECK: &str = "square";
const CUSTOM: &str = "common practice, no source";
/// A tape from wheel centre to wheel centre, or over a frame by two people, mm [common practice, no source].
const TAPE_U_MM: f64 = 1.5;
/// Across the treads at scribed lines, mm [common practice, no source].
const TOE_U_MM: f64 = 0.5;
/// Left against right, mm [common practice, no source].
const SIDES_MM: f64 = 6.0;
/// Of a beam axle, mm [common practice, no source].
const TOE_MM: [f64; 2] = [1.5, 3.0];
/// From mark to mark of one tire where nobody says, mm [common practice, no source].
const TIRE_MM: f64 = 680.0;

/// What the answer of the bench sum is.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Squareness {
    /// In the order of the file.
    pub findings: Vec<Finding>,
}

/// The findings of one measuring; `tires_mm` are the front and the rear tires' diameters, where toe has no marks of its own.
pub fn work_out(square: &Square, tires_mm: [Option<f64>; 2]) -> Squareness {
    let mut findings = Vec::new();
    findings.extend(wheelbases(square));
    findings.extend(diagonals(square));
    for (toe, name, tire) in
        [(&square.toe_front, "front toe", tires_mm[0]), (&square.toe_rear, "rear toe", tires_mm[1])]
    {
        findings.extend(toe.as_ref().into_iter().flat_map(|toe| toe_of(toe, name, tire)));
    }
    findings.extend(wheels::camber(square));
    findings.extend(wheels::caster(square));
    Squareness { findings }
}

pub(super) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    let Some(square) = &car.vehicle.square else { return Vec::new() };
    let tire = |corner| car.vehicle.tires.as_ref().map(|tires| tires.at(corner).free_diameter_mm);
    work_out(square, [tire(Corner::FL), tire(Corner::RL)]).findings
}

fn finding(what: &str, value: Quantity, unit: &'static str, sentence: String) -> Finding {
    Finding {
        check: CHECK,
        what: what.to_owned(),
        value: value.value,
        u: value.u,
        unit,
        limit: None,
        source: "no limit".to_owned(),
        verdict: None,
        sentence,
    }
}

/// A difference that should be nought, on either side.
fn even(what: &str, value: Quantity, unit: &'static str, limit: f64, sentence: String) -> Finding {
    let size = Quantity::new(value.value.abs(), value.u);
    Finding {
        limit: Some(if value.value < 0.0 { -limit } else { limit }),
        source: CUSTOM.to_owned(),
        verdict: Some(Verdict::below(size, limit, Verdict::Within, Verdict::Outside)),
        ..finding(what, value, unit, sentence)
    }
}

/// A number that has a usual range.
fn usual(what: &str, value: Quantity, unit: &'static str, [low, high]: [f64; 2], sentence: String) -> Finding {
    let nearer = if value.value < f64::midpoint(low, high) { low } else { high };
    let verdict = if nearer == low {
        Verdict::above(value, low, Verdict::Within, Verdict::Outside)
    } else {
        Verdict::below(value, high, Verdict::Within, Verdict::Outside)
    };
    Finding {
        limit: Some(nearer),
        source: CUSTOM.to_owned(),
        verdict: Some(verdict),
        ..finding(what, value, unit, sentence)
    }
}

fn wheelbases(square: &Square) -> Option<Finding> {
    let (left, right) = (square.wheelbase_left_mm?, square.wheelbase_right_mm?);
    let longer = Quantity::new(left - right, 2.0_f64.sqrt() * TAPE_U_MM);
    let side = if longer.value < 0.0 { "right" } else { "left" };
    let says = if mm(longer.value) == "0 mm" {
        format!("Both sides have a wheelbase of {}.", mm(left))
    } else {
        format!("The wheelbase is {} longer on the {side}.", mm(longer.value.abs()))
    };
    Some(even("wheelbase, left and right", longer, "mm", SIDES_MM, says))
}

fn diagonals(square: &Square) -> impl Iterator<Item = Finding> {
    square.diagonals.iter().map(|pair| {
        let (one, other) = (pair.left_front_to_right_rear_mm, pair.right_front_to_left_rear_mm);
        let apart = Quantity::new(one - other, 2.0_f64.sqrt() * TAPE_U_MM);
        let size = mm(apart.value.abs());
        let ahead = pair.apart_mm.map_or_else(String::new, |along| {
            // d₁² − d₂² = 4·(along)·(ahead) for rails at any spacing.
            let ahead = (one - other) * (one + other) / (4.0 * along);
            let side = if ahead < 0.0 { "right" } else { "left" };
            if mm(ahead) == "0 mm" {
                String::new()
            } else {
                format!(": the {side} side stands {} ahead", mm(ahead.abs()))
            }
        });
        let says = format!("The diagonals of {} differ by {size}{ahead}.", shown(&pair.label));
        even(&format!("diagonals, {}", shown(&pair.label)), apart, "mm", SIDES_MM, says)
    })
}

fn toe_of(toe: &Toe, name: &str, tire_mm: Option<f64>) -> [Finding; 2] {
    let value = Quantity::new(toe.rear_mm - toe.front_mm, 2.0_f64.sqrt() * TOE_U_MM);
    let apart = toe.apart_mm.or(tire_mm).unwrap_or(TIRE_MM);
    let (deg, u) = (Angle::atan(value.value / apart).to_deg(), (value.u / apart).to_degrees());
    let way = if value.value < 0.0 { "out" } else { "in" };
    let words = format!("The {name} is {:.1} mm {way}", value.value.abs());
    let in_mm = if name.starts_with("front") {
        usual(name, value, "mm", TOE_MM, format!("{words}; 1.5 to 3 mm in are usual for a beam axle."))
    } else {
        finding(name, value, "mm", format!("{words}; a rear beam axle has what its housing has."))
    };
    let both = format!("That is {:.2}° {way} between the two wheels.", deg.abs());
    [in_mm, finding(&format!("{name}, angle"), Quantity::new(deg, u), "deg", both)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::car::{CasterReading, Diagonals, FloorSlope};
    use serde_json::Map;

    fn value(square: &Square, what: &str) -> Finding {
        let found = work_out(square, [Some(680.0), None]).findings;
        found.iter().find(|one| one.what == what).unwrap_or_else(|| panic!("no {what} in {found:?}")).clone()
    }

    #[test]
    fn a_sheared_frame_has_one_rail_ahead_by_hand() {
        // A frame 2400 by 800 whose left rail was pushed 10 mm ahead: √(2410² + 800²) and √(2390² + 800²).
        let pair = Diagonals {
            label: "rails".to_owned(),
            left_front_to_right_rear_mm: 2_410.0_f64.hypot(800.0),
            right_front_to_left_rear_mm: 2_390.0_f64.hypot(800.0),
            apart_mm: Some(2_400.0),
            extra: Map::new(),
        };
        let square = Square { diagonals: vec![pair], ..Square::default() };
        let found = value(&square, "diagonals, rails");
        assert!(found.sentence.ends_with("the left side stands 10 mm ahead."), "{}", found.sentence);
        // 18.97 mm apart, ±4: far outside of 6.
        assert_eq!(found.verdict, Some(Verdict::Outside));
    }

    #[test]
    fn toe_is_rear_minus_front() {
        let toe = Toe { front_mm: 1_400.0, rear_mm: 1_402.5, apart_mm: None, extra: Map::new() };
        let square = Square { toe_front: Some(toe), ..Square::default() };
        assert_eq!(value(&square, "front toe").value, 2.5);
        // atan(2.5/680) = 0.2106°.
        assert!((value(&square, "front toe, angle").value - 0.210_64).abs() < 1e-4);
        // ±1.4 of 2.5 between 1.5 and 3: nearer to a bound than its doubt.
        assert_eq!(value(&square, "front toe").verdict, Some(Verdict::CantTell));
    }

    #[test]
    fn the_floors_lean_is_taken_out() {
        // A floor 1° higher on the left tips both wheels to the right: the left one inward, the right one outward. Both really stand upright.
        let floor = FloorSlope {
            rear_higher_deg: 2.0,
            left_higher_front_deg: 1.0,
            left_higher_rear_deg: 0.0,
            u_deg: Some(0.05),
            extra: Map::new(),
        };
        let square = Square {
            camber_deg: [(Corner::FL, -1.0), (Corner::FR, 1.0)].into(),
            caster: [
                (Corner::FL, CasterReading { gauge_deg: Some(4.5), ..CasterReading::default() }),
                // sin 20° = 0.34202: (1.2 + 1.878)/(0.68404) = 4.4997.
                (
                    Corner::FR,
                    CasterReading {
                        steered_deg: Some(20.0),
                        camber_out_deg: Some(1.2),
                        camber_in_deg: Some(-1.878),
                        ..CasterReading::default()
                    },
                ),
            ]
            .into(),
            floor: Some(floor),
            ..Square::default()
        };
        assert_eq!((value(&square, "FL camber").value, value(&square, "FR camber").value), (0.0, 0.0));
        assert_eq!(value(&square, "front camber, left and right").verdict, Some(Verdict::Within));
        // The rear 2° higher took 2° off the gauge.
        assert_eq!(value(&square, "FL caster").value, 6.5);
        assert!((value(&square, "FR caster").value - 6.4997).abs() < 1e-3);
    }

    #[test]
    fn on_a_floor_that_nobody_levelled_camber_cannot_be_told_even() {
        let square = Square { camber_deg: [(Corner::FL, 0.0), (Corner::FR, 0.0)].into(), ..Square::default() };
        assert_eq!(value(&square, "front camber, left and right").verdict, Some(Verdict::CantTell));
    }

    #[test]
    fn wheelbases_say_which_side_is_longer() {
        let square =
            Square { wheelbase_left_mm: Some(2_668.0), wheelbase_right_mm: Some(2_655.0), ..Square::default() };
        let found = value(&square, "wheelbase, left and right");
        assert_eq!((found.value, found.limit, found.verdict), (13.0, Some(6.0), Some(Verdict::Outside)));
        assert_eq!(found.sentence, "The wheelbase is 13 mm longer on the left.");
    }
}
