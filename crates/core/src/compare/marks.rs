//! Which mark of a kind two stances are held against each other at, and where one has taken the place of another, that it has.

use super::unequal::Unequal;
use crate::car::{PointKind, RefPoint, Vehicle};
use crate::corner::Corner;
use crate::stance::SnapshotStance;
use crate::target::Target;
use crate::wording::listed;

/// What tells heights of points.
#[derive(Clone, Copy)]
pub(super) enum Told<'a> {
    /// A snapshot, or a forecast that sets out from it: lines rest on the marks that are in use.
    Snapshot(&'a SnapshotStance),
    /// A target: it says what it says of any mark.
    Target(&'a Target),
}

impl Told<'_> {
    fn of(self, point: &RefPoint) -> bool {
        match self {
            Self::Snapshot(stance) => stance.heights.contains_key(&point.id),
            Self::Target(target) => target.heights_mm.contains_key(&point.id),
        }
    }
}

/// The mark of a kind at a corner that both speak of: that of a snapshot before that of a target. `None` where there is none, or where
/// two snapshots rest on different ones.
pub(super) fn common<'v>(
    vehicle: &'v Vehicle,
    kind: PointKind,
    corner: Corner,
    this: Told<'_>,
    other: Told<'_>,
) -> Option<&'v RefPoint> {
    let own = |told: Told<'_>| vehicle.mark_at(kind, corner, |point| told.of(point));
    match (this, other) {
        (Told::Snapshot(_), Told::Snapshot(_)) => own(this).filter(|mark| own(other) == Some(*mark)),
        (Told::Snapshot(_), target @ Told::Target(_)) => own(this).or_else(|| own(target)),
        (target @ Told::Target(_), Told::Snapshot(_)) => own(other).or_else(|| own(target)),
        (Told::Target(_), Told::Target(_)) => {
            let both = vehicle.mark_at(kind, corner, |point| this.of(point) && other.of(point));
            both.or_else(|| own(this)).or_else(|| own(other))
        }
    }
}

/// Corners at which the two speak of different marks of one kind. What they say there is no difference of heights.
pub(super) fn other_marks(vehicle: &Vehicle, earlier: Told<'_>, later: Told<'_>) -> Option<Unequal> {
    let own = |told: Told<'_>, kind, corner| vehicle.mark_at(kind, corner, |point| told.of(point));
    let of_kind = |kind: PointKind| {
        let differ = |corner: &Corner| {
            let (then, now) = (own(earlier, kind, *corner), own(later, kind, *corner));
            // A target may name several marks of a corner.
            let named = |target: Told<'_>, mark| matches!(target, Told::Target(_)) && target.of(mark);
            then.zip(now).is_some_and(|(then, now)| then != now && !named(earlier, now) && !named(later, then))
        };
        let corners: Vec<&str> = Corner::ALL.into_iter().filter(differ).map(Corner::words).collect();
        let places = if corners.len() == 4 { "all four corners".to_owned() } else { listed(&corners) };
        (!corners.is_empty()).then(|| format!("{} ({places})", kind.words()))
    };
    let kinds: Vec<String> = PointKind::ALL.into_iter().filter_map(of_kind).collect();
    let kinds: Vec<&str> = kinds.iter().map(String::as_str).collect();
    let of_target = [earlier, later].into_iter().any(|told| matches!(told, Told::Target(_)));
    (!kinds.is_empty()).then(|| Unequal {
        what: "marks",
        sentence: if of_target {
            format!("The target names other marks than were read: {}. Nothing is compared there.", listed(&kinds))
        } else {
            format!("Other marks were read then than now: {}. Nothing is compared there.", listed(&kinds))
        },
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::capture::CarFile;
    use crate::compare::{Comparison, Load, Stance, compare};
    use crate::level::{Options, Solution, solve};
    use crate::trend::{Model, settle_car};
    use serde_json::{Value, json};

    /// Lips that are no longer read at the corners named, and others 30 mm further down in their place; a level floor.
    fn car(replaced: &[Corner], snapshots: &[(&str, [f64; 4], &str)]) -> (CarFile, Solution) {
        let mark = |corner: Corner, end: &str, retired: bool| {
            let (x, y) =
                (if corner.is_front() { 0.0 } else { -2_600.0 }, if corner.is_left() { 700.0 } else { -700.0 });
            json!({"id": format!("lip.{corner}{end}"), "corner": corner.code(), "kind": "fender_lip", "x_mm": x, "y_mm": y, "retired": retired})
        };
        let old = Corner::ALL.into_iter().map(|corner| mark(corner, "", replaced.contains(&corner)));
        let marks: Vec<Value> = old.chain(replaced.iter().map(|corner| mark(*corner, ".2", false))).collect();
        let spots: Vec<Value> = (1..=4)
            .map(|spot| json!({"point": format!("S{spot}"), "text": "900", "unit": "mm", "value_mm": 900.0}))
            .collect();
        let read = |(day, (id, heights, end)): (usize, &(&str, [f64; 4], &str))| {
            let readings: Vec<Value> = Corner::ALL
                .into_iter()
                .zip(heights)
                .map(|(corner, mm)| {
                    let end = if replaced.contains(&corner) { end } else { "" };
                    json!({"ref": format!("lip.{corner}{end}"), "repeat": 1, "text": format!("{mm}"), "unit": "mm", "value_mm": mm})
                })
                .collect();
            json!({"id": id, "date": format!("2031-05-{:02}", day + 1), "floor": "f", "bounces": [{"bounce_id": format!("{id}1"), "readings": readings}]})
        };
        let file: CarFile = serde_json::from_value(json!({
            "vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400, "ref_points": marks},
            "snapshots": snapshots.iter().enumerate().map(read).collect::<Vec<_>>(),
            "floors": [{"id": "f", "label": "Shop", "survey": {"passes": [{"pass_no": 1, "readings": spots}]}}],
        }))
        .expect("well-formed");
        let solution = solve(&file, &Options::default()).expect("can be worked out");
        (file, solution)
    }

    fn of(car: &(CarFile, Solution), this: Stance<'_>, other: Stance<'_>) -> Comparison {
        compare(&car.0, &car.1, this, other, Load::Nominal).expect("can be compared")
    }

    fn marks(comparison: &Comparison) -> Option<&str> {
        comparison.unequal.iter().find(|unequal| unequal.what == "marks").map(|unequal| unequal.sentence.as_str())
    }

    const OLD: [f64; 4] = [620.0, 622.0, 580.0, 582.0];
    const NEW: [f64; 4] = [590.0, 592.0, 550.0, 552.0];
    /// Front 8 mm lower than NEW, rear as it was.
    const LOWER: [f64; 4] = [582.0, 584.0, 550.0, 552.0];

    /// By hand: (582 + 584)/2 − (590 + 592)/2 = −8 in front, 0 behind.
    #[test]
    fn the_mark_in_use_is_compared_where_an_old_one_stands_before_it() {
        let car = car(&Corner::ALL, &[("a", OLD, ""), ("b", NEW, ".2"), ("c", LOWER, ".2"), ("d", OLD, "")]);
        let lower = of(&car, Stance::Measured("c"), Stance::Measured("b"));
        let means = &lower.means["fender_lip"];
        assert!((means.front.value.expect("told") + 8.0).abs() < 0.01, "{:?}", means.front);
        assert!(means.rear.value.expect("told").abs() < 0.01, "{:?}", means.rear);
        assert!(lower.rake.contains_key("fender_lip") && lower.lean.contains_key("fender_lip"));
        assert_eq!(marks(&lower), None);
        let settling = settle_car(&car.0, &car.1, Model::Best).expect("can be followed");
        let days: Vec<&str> = settling[0].heights.iter().map(|height| height.snapshot.as_str()).collect();
        assert_eq!(days, ["a", "d"], "a line of settling does not step from one mark to another");
        let old = of(&car, Stance::Measured("d"), Stance::Measured("a"));
        assert!(old.means["fender_lip"].front.value.expect("told").abs() < 0.01, "two of the old mark");
    }

    #[test]
    fn snapshots_of_other_marks_are_unlike_and_no_difference_is_made_up() {
        let all = car(&Corner::ALL, &[("a", OLD, ""), ("b", NEW, ".2")]);
        let refused = compare(&all.0, &all.1, Stance::Measured("b"), Stance::Measured("a"), Load::Nominal);
        let message = refused.expect_err("nothing in common").message().to_owned();
        assert!(
            message.ends_with(
                "Other marks were read then than now: fender lip (all four corners). Nothing is compared there."
            ),
            "{message}"
        );
        let one = car(&[Corner::FL], &[("a", OLD, ""), ("b", [590.0, 622.0, 580.0, 575.0], ".2")]);
        let comparison = of(&one, Stance::Measured("b"), Stance::Measured("a"));
        assert_eq!(
            marks(&comparison),
            Some("Other marks were read then than now: fender lip (front left). Nothing is compared there.")
        );
        assert!(comparison.means.is_empty() && comparison.rake.is_empty() && comparison.twist.is_empty());
        let told: Vec<&str> = comparison.differences.keys().map(String::as_str).collect();
        assert_eq!(told, ["lip.FR", "lip.RL", "lip.RR"]);
        assert!((comparison.differences["lip.RR"].value.expect("told") + 7.0).abs() < 0.01);
    }

    /// By hand: front mean 591 against 600 wanted is 9 below; a target of the old marks says nothing of the new ones.
    #[test]
    fn a_target_is_held_against_the_mark_that_was_read() {
        let car = car(&Corner::ALL, &[("b", NEW, ".2")]);
        let target = |end: &str| -> Target {
            let heights = Corner::ALL.map(|corner| (format!("lip.{corner}{end}"), json!(600.0)));
            serde_json::from_value(json!({"heights_mm": serde_json::Map::from_iter(heights), "tolerance_mm": 3.0}))
                .expect("a target")
        };
        let wanted = target(".2");
        let off = of(&car, Stance::Measured("b"), Stance::Target(&wanted));
        assert!((off.means["fender_lip"].front.value.expect("told") + 9.0).abs() < 0.01);
        let old = target("");
        let refused = compare(&car.0, &car.1, Stance::Measured("b"), Stance::Target(&old), Load::Nominal);
        let message = refused.expect_err("nothing in common").message().to_owned();
        assert!(message.contains("The target names other marks than were read: fender lip"), "{message}");
    }
}
