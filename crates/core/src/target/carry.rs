//! A target carried over to another car: heights by kind of point and corner, and what could not be carried over.

use super::{End, Limit, Made, Target, run_mm};
use crate::car::{PointKind, RefPoint, Vehicle};
use crate::wording::{listed, shown};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What stays as it is where the other car's marks lie farther apart or nearer together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export, rename = "TargetKeep"))]
#[serde(rename_all = "snake_case")]
pub enum Keep {
    /// The heights; the rake changes with the distance of the marks.
    #[default]
    Heights,
    /// The front heights and the rake; the rear heights follow.
    Rake,
}

/// A target as another car has it.
#[derive(Clone, Debug, PartialEq)]
pub struct Carried {
    /// Without a name; heights in whole tenths where they had to be worked out.
    pub target: Target,
    /// What was not carried over, whole sentences.
    pub left_out: Vec<String>,
}

/// Carries a target over from the car it was made for. A point's counterpart is the point of the same kind at the same corner; where
/// there are several, the one of the same name.
pub fn carry(target: &Target, from: &Vehicle, to: &Vehicle, keep: Keep) -> Carried {
    let mut left_out = Vec::new();
    let counterpart = |id: &str| -> Option<&RefPoint> {
        let old = from.ref_points.iter().find(|point| point.id == id);
        let alike = |point: &&RefPoint| match old {
            Some(old) => !point.retired && (point.kind, point.corner) == (old.kind, old.corner),
            None => point.id == id,
        };
        let own_name = to.ref_points.iter().filter(alike).find(|point| point.id == id);
        own_name.or_else(|| to.ref_points.iter().find(alike))
    };
    let mut missing = Vec::new();
    let mut heights_mm = BTreeMap::new();
    let mut tolerances_mm = BTreeMap::new();
    for (id, height) in &target.heights_mm {
        let Some(point) = counterpart(id) else {
            missing.push(shown(id));
            continue;
        };
        if heights_mm.contains_key(&point.id) {
            missing.push(shown(id));
            continue;
        }
        let moved = match keep {
            Keep::Heights => None,
            Keep::Rake if point.corner.is_front() => None,
            Keep::Rake => moved_mm(target, from, to, point.kind),
        };
        let height = moved.map_or(*height, |moved| ((height + moved) * 10.0).round() / 10.0);
        heights_mm.insert(point.id.clone(), height);
        if let Some(tolerance) = target.tolerances_mm.get(id) {
            tolerances_mm.insert(point.id.clone(), *tolerance);
        }
    }
    let limits = target.limits.iter().filter_map(|limit| {
        let mut points: Vec<String> = Vec::new();
        for id in &limit.points {
            match counterpart(id) {
                Some(point) if points.contains(&point.id) => {}
                Some(point) => points.push(point.id.clone()),
                None => missing.push(shown(id)),
            }
        }
        (!points.is_empty()).then(|| Limit { points, ..limit.clone() })
    });
    let limits: Vec<Limit> = limits.collect();
    missing.sort();
    missing.dedup();
    if !missing.is_empty() {
        let (has, points) = if missing.len() == 1 { ("no point", "is") } else { ("no points", "are") };
        left_out.push(format!("{} has {has} like {}, which {points} left out.", shown(&to.label), listed(&missing)));
    }
    if let Some(tires) = &target.tires {
        left_out.push(format!("It was meant with tires {} and {}.", shown(&tires.front), shown(&tires.rear)));
    }
    // A stated rake belongs to heights that now say another one.
    let rake_deg = target.rake_deg.filter(|_| keep == Keep::Rake || target.heights_mm.is_empty());
    if target.rake_deg.is_some() && rake_deg.is_none() {
        left_out.push("The heights are kept, so the rake is that of this car\u{2019}s own marks.".to_owned());
    }
    let target = Target {
        id: String::new(),
        heights_mm,
        tolerances_mm,
        limits,
        rake_deg,
        made: Some(Made::Car { car: from.label.clone(), target: target.label.clone() }),
        since: None,
        replaces: None,
        ..target.clone()
    };
    Carried { target, left_out }
}

/// How much more a kind's rear marks rise over its front ones on the other car at the same rake, mm.
fn moved_mm(target: &Target, from: &Vehicle, to: &Vehicle, kind: PointKind) -> Option<f64> {
    let (before, after) = (run_mm(from, kind)?, run_mm(to, kind)?);
    let rise = target.mean_mm(from, kind, End::Rear)? - target.mean_mm(from, kind, End::Front)?;
    Some(rise / before * (after - before))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn car(label: &str, rear_x: f64, kinds: &[(&str, &str)]) -> Vehicle {
        let mut points: Vec<Value> = Vec::new();
        for (stem, kind) in kinds {
            for (corner, x, y) in
                [("FL", 0.0, 400.0), ("FR", 0.0, -400.0), ("RL", rear_x, 400.0), ("RR", rear_x, -400.0)]
            {
                points.push(
                    json!({"id": format!("{stem}.{corner}"), "corner": corner, "kind": kind, "x_mm": x, "y_mm": y}),
                );
            }
        }
        serde_json::from_value(
            json!({"label": label, "wheelbase_mm": -rear_x, "track_front_mm": 1400, "track_rear_mm": 1400,
            "ref_points": points}),
        )
        .expect("a vehicle")
    }

    fn wanted() -> Target {
        serde_json::from_value(json!({"label": "low", "heights_mm": {"rail.FL": 246, "rail.FR": 246, "rail.RL": 326, "rail.RR": 328,
            "lip.FL": 600}, "tolerances_mm": {"rail.FL": 3}, "limits": [{"points": ["rail.FL", "lip.FL"], "lowest_mm": 110}],
            "rake_deg": 2.29}))
        .expect("a target")
    }

    #[test]
    fn heights_go_by_kind_and_corner_and_what_has_no_counterpart_is_named() {
        let from = car("old", -2000.0, &[("rail", "frame_rail"), ("lip", "fender_lip")]);
        let to = car("new", -2600.0, &[("frame", "frame_rail")]);
        let carried = carry(&wanted(), &from, &to, Keep::Heights);
        assert_eq!(carried.target.heights_mm["frame.RR"], 328.0);
        assert_eq!(carried.target.tolerances_mm["frame.FL"], 3.0);
        assert_eq!(carried.target.limits[0].points, ["frame.FL"]);
        assert_eq!(carried.target.rake_deg, None);
        assert_eq!(carried.left_out[0], "new has no point like lip.FL, which is left out.");
        assert_eq!(carried.target.made, Some(Made::Car { car: "old".to_owned(), target: "low".to_owned() }));
    }

    /// Rails rise 81 mm in the mean over 2000 mm; over 2600 mm at the same rake 105.3: the rear goes up by 24.3, both sides alike.
    #[test]
    fn the_rake_kept_moves_the_rear_by_the_marks_distance() {
        let kinds = [("rail", "frame_rail"), ("lip", "fender_lip")];
        let (from, to) = (car("old", -2000.0, &kinds), car("new", -2600.0, &kinds));
        let carried = carry(&wanted(), &from, &to, Keep::Rake).target;
        let heights = ["rail.FL", "rail.FR", "rail.RL", "rail.RR", "lip.FL"].map(|id| carried.heights_mm[id]);
        assert_eq!(heights, [246.0, 246.0, 350.3, 352.3, 600.0]);
        assert_eq!(carried.rake_deg, Some(2.29));
        let (before, after) = (
            wanted().mean_mm(&from, PointKind::FrameRail, End::Rear),
            carried.mean_mm(&to, PointKind::FrameRail, End::Rear),
        );
        assert_eq!((before, after), (Some(327.0), Some(351.3)));
    }
}
