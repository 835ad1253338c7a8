//! Two snapshots of an invented car: every reason why they cannot be compared, and a change worked out by hand.

use super::*;
use crate::compare::Verdict;
use crate::corner::Corner;
use crate::level::{Options, solve};
use serde_json::{Value, json};

/// Four marks of a kind, read at these heights.
fn readings(stem: &str, heights: [f64; 4]) -> Value {
    let each = Corner::ALL.into_iter().zip(heights).filter(|(_, mm)| *mm > 0.0);
    each.map(|(corner, mm)| json!({"ref": format!("{stem}.{corner}"), "repeat": 1, "text": format!("{mm}"), "unit": "mm", "value_mm": mm}))
        .collect()
}

fn snapshot(id: &str, date: &str, stem: &str, heights: [f64; 4]) -> Value {
    json!({"id": id, "date": date, "floor": "f", "bounces": [{"bounce_id": format!("{id}1"), "readings": readings(stem, heights)}]})
}

fn file(snapshots: Vec<Value>, events: Value) -> CarFile {
    let marks = [("lip", "fender_lip", 0.0), ("rail", "frame_rail", 300.0)].into_iter().flat_map(|(stem, kind, in_by)| {
        Corner::ALL.into_iter().map(move |corner| {
            let (x, left) = (if corner.is_front() { -in_by } else { in_by - 2_600.0 }, if corner.is_left() { 1.0 } else { -1.0 });
            json!({"id": format!("{stem}.{corner}"), "corner": corner.code(), "kind": kind, "x_mm": x, "y_mm": left * (700.0 - in_by)})
        })
    });
    let staffs: Vec<Value> = [900.0, 902.0, 905.0, 901.0]
        .into_iter()
        .zip(1..)
        .map(|(mm, spot)| json!({"point": format!("S{spot}"), "text": format!("{mm}"), "unit": "mm", "value_mm": mm}))
        .collect();
    let car = json!({"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400, "ref_points": marks.collect::<Vec<_>>()});
    serde_json::from_value(json!({"vehicle": car, "snapshots": snapshots, "events": events,
        "floors": [{"id": "f", "label": "Shop", "survey": {"passes": [{"pass_no": 1, "readings": staffs}]}}]}))
    .expect("well-formed")
}

fn between(file: &CarFile) -> Neighbours {
    let mut part = file.clone();
    part.snapshots.retain(|snapshot| !snapshot.extra.contains_key("unfinished"));
    let solution = solve(&part, &Options::default()).expect("can be worked out");
    let time = in_time(file);
    neighbours(file, &solution, &time[0].id, &time[1].id).expect("both are there")
}

fn why(file: &CarFile) -> (Why, String) {
    let found = between(file);
    assert_eq!(found.changed, None);
    found.incomparable.map(|reason| (reason.why, reason.sentence)).expect("a reason")
}

const HIGH: [f64; 4] = [620.0, 621.0, 580.0, 582.0];
/// Front 12 mm lower, rear as it was.
const LOW: [f64; 4] = [608.0, 609.0, 580.0, 582.0];

fn two() -> Vec<Value> {
    vec![snapshot("b", "2031-05-10", "lip", LOW), snapshot("a", "2031-05-03", "lip", HIGH)]
}

/// By hand: front mean 620.5 to 608.5 is 12 lower; rear the same; over 2600 mm 12 mm are atan(12/2600) = 0.264 deg.
#[test]
fn what_changed_is_later_less_earlier_whatever_the_order_of_entry() {
    let found = between(&file(two(), json!([])));
    assert_eq!((found.earlier.as_str(), found.later.as_str()), ("a", "b"));
    let changed = found.changed.expect("can be compared");
    let (front, rear, rake) =
        (changed.front.expect("front"), changed.rear.expect("rear"), changed.rake_deg.expect("rake"));
    assert!((front.value.expect("told") + 12.0).abs() < 0.01, "{front:?}");
    assert!(rear.value.expect("told").abs() < 0.01, "{rear:?}");
    assert!((rake.value.expect("told") - 0.264).abs() < 0.002, "{rake:?}");
    assert_eq!((front.verdict, rear.verdict), (Verdict::Changed, Verdict::Same));
    assert_eq!(found.unequal, []);
}

#[test]
fn each_reason_is_told_in_words() {
    let with = |change: &dyn Fn(&mut Vec<Value>)| {
        let mut snapshots = two();
        change(&mut snapshots);
        file(snapshots, json!([]))
    };
    let unfinished = with(&|all| all[0]["unfinished"] = json!({}));
    assert_eq!(why(&unfinished).0, Why::Unfinished);
    let mock_up = with(&|all| all[1]["standing"] = json!("mock_up"));
    assert_eq!(why(&mock_up), (Why::MockUp, "The one before it is a mock-up on rated stands.".to_owned()));
    let other = with(&|all| all[0] = snapshot("b", "2031-05-10", "rail", [300.0; 4]));
    assert_eq!(why(&other), (Why::AnotherKind, "Another kind of point: frame rail now, fender lip before.".to_owned()));
    let corners = with(&|all| {
        all[0] = snapshot("b", "2031-05-10", "lip", [600.0, 0.0, 0.0, 0.0]);
        all[1] = snapshot("a", "2031-05-03", "lip", [0.0, 0.0, 580.0, 581.0]);
    });
    assert_eq!(
        why(&corners),
        (Why::NoCommonPoint, "Both have the fender lip, but no corner was read in both.".to_owned())
    );
    let nothing = with(&|all| all[0] = snapshot("b", "2031-05-10", "hub", [330.0; 4]));
    assert_eq!(why(&nothing), (Why::NoCommonPoint, "In this one no point of the car was read.".to_owned()));
}

#[test]
fn another_mark_of_the_same_corner_is_a_reason_and_names_the_kind() {
    let mut changed =
        file(vec![snapshot("b", "2031-05-10", "lip2", LOW), snapshot("a", "2031-05-03", "lip", HIGH)], json!([]));
    for mark in changed.vehicle.ref_points.clone().into_iter().filter(|mark| mark.kind == PointKind::FenderLip) {
        let id = mark.id.replace("lip.", "lip2.");
        changed.vehicle.ref_points.push(crate::car::RefPoint { id, ..mark });
    }
    changed
        .vehicle
        .ref_points
        .iter_mut()
        .filter(|mark| mark.id.starts_with("lip."))
        .for_each(|mark| mark.retired = true);
    let sentence = "Other marks of the fender lip were read in the one before it.";
    assert_eq!(why(&changed), (Why::MarksAnew, sentence.to_owned()));
}

#[test]
fn work_between_the_two_ends_what_can_be_compared() {
    let event = |kind: &str, date: &str, km: Option<f64>| json!([{"date": date, "what": kind, "kind": kind, "odometer_km": km}]);
    let remounted = file(two(), event("body_remounted", "2031-05-05", None));
    let sentence =
        "The body was remounted on 5 May 2031: its points lie elsewhere since. Frame rails could be compared.";
    assert_eq!(why(&remounted), (Why::BodyRemounted, sentence.to_owned()));
    let painted = file(two(), event("marks_anew", "2031-05-10", None));
    assert_eq!(why(&painted).0, Why::MarksAnew);
    let rails = vec![snapshot("b", "2031-05-10", "rail", [300.0; 4]), snapshot("a", "2031-05-03", "rail", [310.0; 4])];
    assert!(between(&file(rails, event("body_remounted", "2031-05-05", None))).changed.is_some());
    for (date, between_them) in
        [("2031-05-02", false), ("2031-05-03", false), ("2031-05-11", false), ("2031-05-04", true)]
    {
        let found = between(&file(two(), event("marks_anew", date, None)));
        assert_eq!(found.incomparable.is_some(), between_them, "{date}");
    }
    let mut clocks = two();
    (clocks[0]["odometer_km"], clocks[1]["odometer_km"]) = (json!(48_300.0), json!(48_200.0));
    let after_it = file(clocks, event("marks_anew", "2031-05-03", Some(48_210.0)));
    assert!(between(&after_it).incomparable.is_some(), "the same day, ten kilometres later");
}

#[test]
fn a_corner_that_both_have_is_compared_where_front_and_rear_cannot_be() {
    let snapshots = vec![
        snapshot("b", "2031-05-10", "lip", [608.0, 0.0, 0.0, 0.0]),
        snapshot("a", "2031-05-03", "lip", [620.0, 0.0, 0.0, 0.0]),
    ];
    let changed = between(&file(snapshots, json!([]))).changed.expect("can be compared");
    assert_eq!((changed.front, changed.rear, changed.points.len()), (None, None, 1));
    let (id, difference) = &changed.points[0];
    assert_eq!(id, "lip.FL");
    assert!((difference.value.expect("told") + 12.0).abs() < 0.01);
}

#[test]
fn an_unlevelled_floor_and_another_load_are_said_beside_the_numbers() {
    let mut snapshots = two();
    snapshots[0]["floor"] = Value::Null;
    snapshots[0]["load_change_from_nominal"] =
        json!([{"label": "tools aboard", "mass_kg": 40.0, "x_mm": -2600.0, "y_mm": 0.0}]);
    let found = between(&file(snapshots, json!([])));
    let said: Vec<&str> = found.unequal.iter().map(|each| each.what).collect();
    assert_eq!(said, ["floor_not_levelled", "load"]);
    assert!(found.changed.expect("front and rear are told all the same").front.is_some());
}
