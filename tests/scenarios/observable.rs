//! What each mix of readings can tell: the table of `docs/method.md`, row by row, on a floor with 36 mm of twist.
//!
//! The classes (measured, assumed, undetermined) are what the geometry says; the uncertainties in millimetres are those of an
//! independent derivation for another car of the kind, so they are held to half as much and twice as much.

use crate::simulator::{Car, Ground, Noise, Work, measure, seeded};
use serde_json::{Value, json};
use trueground_core::capture::CarFile;
use trueground_core::level::{Options, solve};
use trueground_core::stance::Figure;
use trueground_core::stance::Known::{self, Assumed, Measured, Undetermined};

/// Roll share known to 0.06, nobody levelled anything.
const HEIGHTS: Work = Work {
    passes: 0,
    level_under_marks: false,
    both_facings: false,
    bounces: 2,
    rounds: 2,
    gauge: false,
    roll_share_u: Some(0.06),
};

fn file(work: &Work) -> CarFile {
    let mut rng = seeded(77);
    let car = Car::random(&mut rng);
    let ground = Ground::random(&mut rng, 36.0);
    measure(&mut rng, &car, &ground, &Noise::usual(), work).file
}

/// The file with one more statement or reading in it.
fn with(work: &Work, pointer: &str, value: Value) -> CarFile {
    let mut json = serde_json::to_value(file(work)).expect("a file");
    let (parent, key) = pointer.rsplit_once('/').expect("a pointer");
    json.pointer_mut(parent).expect("a place")[key] = value;
    serde_json::from_value(json).expect("a file")
}

/// Means and rake, lean, front left corner, car twist: how each is known, and its u by the other derivation.
fn check(what: &str, file: &CarFile, lean: (Known, f64), corner: (Known, f64), twist: (Known, f64)) {
    let stance = solve(file, &Options::default()).expect("adjustable").snapshots.remove(0);
    let line = &stance.lines["fender_lip"];
    for figure in [line.front_mean_mm, line.rear_mean_mm, line.rake_mm, line.rake_deg] {
        assert_eq!(figure.known, Measured, "{what}: means and rake");
    }
    let hold = |name: &str, figure: Figure, (known, u): (Known, f64)| {
        assert_eq!(figure.known, known, "{what}: {name}, {figure:?}");
        match (known, figure.u) {
            (Undetermined, None) => assert!(figure.value.is_none()),
            (_, Some(own)) => assert!(own > u / 2.0 && own < u * 2.0, "{what}: {name} has u {own}, expected about {u}"),
            _ => panic!("{what}: {name} has no u"),
        }
    };
    hold("lean", line.lean_mm, lean);
    hold("corner", stance.heights["lip.FL"], corner);
    hold("twist", line.twist_mm, twist);
}

#[test]
fn every_mix_of_readings_tells_what_it_can_and_no_more() {
    let none = (Undetermined, 0.0);
    let turned = Work { both_facings: true, ..HEIGHTS };
    let survey = Work { passes: 2, ..HEIGHTS };
    check("four heights", &file(&HEIGHTS), (Measured, 6.0), none, none);
    check("turned end for end", &file(&turned), (Assumed, 2.8), none, none);
    let gauge = Work { gauge: true, ..turned.clone() };
    check("gauge on both rails, both facings", &file(&gauge), (Assumed, 2.8), (Assumed, 3.5), (Assumed, 12.0));
    check("four spots levelled", &file(&survey), (Assumed, 3.0), (Measured, 2.0), (Measured, 2.9));
    let vague = Work { roll_share_u: Some(0.15), ..survey };
    check("levelled, roll share vague", &file(&vague), (Assumed, 6.8), (Assumed, 3.6), (Measured, 2.9));

    let edges = json!([{"from": "S1", "to": "S2", "angle_deg": 1.4}, {"from": "S1", "to": "S2", "angle_deg": 1.4, "reversed": true},
        {"from": "S3", "to": "S4", "angle_deg": 0.0}, {"from": "S3", "to": "S4", "angle_deg": 0.0, "reversed": true}]);
    let edges = with(&HEIGHTS, "/floors/0/survey", json!({"straightedge": edges}));
    check("gauge across each axle's spots", &edges, (Assumed, 3.0), (Measured, 2.4), (Measured, 4.8));

    let square = json!({"fender_lip": {"value": 0.0, "u": 2.0}});
    let known = with(&HEIGHTS, "/vehicle/known_twist_mm", square.clone());
    check("car twist known from before", &known, (Measured, 6.0), (Assumed, 3.3), (Assumed, 2.0));
    let known = with(&turned, "/vehicle/known_twist_mm", square);
    check("the same, turned", &known, (Assumed, 2.8), (Assumed, 1.7), (Assumed, 2.0));
    let flat = with(&HEIGHTS, "/floors/0/flat_to_mm", json!(5.0));
    check("flat to about 5 mm", &flat, (Measured, 6.0), (Assumed, 4.6), (Assumed, 10.0));
}

/// The car's own points and the floor under them from one level plane: the floor's twist comes out without its spots.
#[test]
fn the_cars_points_from_a_level_plane_tell_the_corners() {
    let mut simulated = serde_json::to_value(file(&Work { passes: 2, ..HEIGHTS })).expect("a file");
    let levelled: CarFile = serde_json::from_value(simulated.clone()).expect("a file");
    let stance = &solve(&levelled, &Options::default()).expect("adjustable").snapshots[0];
    // What a plane 900 mm over the datum would read on the car as it stood: from the levelled solution, rounded as a rule is.
    let height = |point: &str| {
        let readings = levelled.snapshots[0].bounces[1].readings.iter().filter(|reading| reading.point == point);
        let tape: Vec<f64> = readings.map(|reading| reading.value_mm).collect();
        tape.iter().sum::<f64>() / tape.len() as f64
    };
    let floor = &stance.floor;
    let elevation = floor.elevation_mm;
    let (front, rear) = (elevation.FL.value.zip(elevation.FR.value), elevation.RL.value.zip(elevation.RR.value));
    let ((fl, fr), (rl, rr)) = front.zip(rear).expect("levelled");
    let vehicle = &levelled.vehicle;
    let floor_under = |point: &str| {
        let at = vehicle.ref_points.iter().find(|p| p.id == point).expect("a point");
        let sigma = -at.x_mm / vehicle.wheelbase_mm;
        let across = |left: f64, right: f64, track: f64| (left + right) / 2.0 + at.y_mm * (left - right) / track;
        (1.0 - sigma) * across(fl, fr, vehicle.track_front_mm) + sigma * across(rl, rr, vehicle.track_rear_mm)
    };
    let readings: Vec<Value> = stance
        .heights
        .keys()
        .map(|id| json!({"point": id, "value_mm": (1900.0 - height(id) - floor_under(id)).round()}))
        .collect();
    simulated["floors"][0]["survey"] = Value::Null;
    simulated["snapshots"][0]["plane_on_car"] = json!([{"pass_no": 1, "staff_u_mm": 0.8, "readings": readings}]);
    let file: CarFile = serde_json::from_value(simulated).expect("a file");
    let told = &solve(&file, &Options::default()).expect("adjustable").snapshots[0];
    for (id, figure) in &told.heights {
        assert_eq!(figure.known, Measured, "{id}");
        let (value, u) = (figure.value.expect("a value"), figure.u.expect("a u"));
        let by_survey = stance.heights[id].value.expect("a value");
        assert!((value - by_survey).abs() < 2.0 * u, "{id}: {value} ± {u} by the plane, {by_survey} by the survey");
    }
}

/// One end read: its mean and its difference, and an honest gap for what takes the other end too.
#[test]
fn two_lips_give_their_mean() {
    let mut file = file(&Work { passes: 2, ..HEIGHTS });
    for bounce in &mut file.snapshots[0].bounces {
        bounce.readings.retain(|reading| reading.point == "lip.FL" || reading.point == "lip.FR");
    }
    let stance = solve(&file, &Options::default()).expect("adjustable").snapshots.remove(0);
    let line = &stance.lines["fender_lip"];
    // On this much twist the roll share is most of what the difference leans on.
    assert_eq!((line.front_mean_mm.known, line.front_left_minus_right_mm.known), (Measured, Assumed));
    for missing in [line.rear_mean_mm, line.rake_mm, line.rake_deg, line.twist_mm, line.lean_mm] {
        assert_eq!((missing.known, missing.value), (Undetermined, None));
    }
    assert!(!stance.lines.contains_key("frame_rail"));
}
