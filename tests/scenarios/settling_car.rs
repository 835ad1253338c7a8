//! Cars that settle, read by tape: what a person could type of one whose truth is a function of days and kilometres.

use rand::Rng;
use rand_distr::{Distribution, Normal};
use serde_json::{Value, json};
use trueground_core::capture::CarFile;
use trueground_core::level::{Options, solve};
use trueground_core::trend::{End, LineSettling, Model, settle_car};

/// The days on which builders are told to measure, then every two weeks.
pub(crate) const DAYS: [u64; 14] = [0, 3, 7, 14, 21, 30, 42, 56, 70, 84, 98, 112, 126, 140];

/// Height of an end by day and kilometres.
pub(crate) type Truth<'t> = &'t dyn Fn(End, f64, f64) -> f64;

/// One car, measured on some days with so many kilometres on the clock, from day 0 on; two bounces, one round.
pub(crate) fn car(rng: &mut impl Rng, days: &[u64], km: &[f64], truth: Truth<'_>) -> CarFile {
    let normal = |u: f64| Normal::new(0.0, u).expect("a spread");
    let (tape, friction) = (normal(1.2), normal(0.95 * 1.5));
    let (zero, roll) = (normal(0.5).sample(rng), normal(0.55e-3 * 1.5));
    let offsets: [f64; 4] = std::array::from_fn(|_| normal(3.0).sample(rng));
    let day_0 = date(0);
    let snapshots: Vec<Value> = days
        .iter()
        .zip(km)
        .enumerate()
        .map(|(number, (day, km))| {
            let bounces: Vec<Value> = (0..2)
                .map(|bounce| {
                    let (front, rear, lean) = (friction.sample(rng), friction.sample(rng), roll.sample(rng));
                    let corners = [
                        ("FL", End::Front, front, 700.0),
                        ("FR", End::Front, front, -700.0),
                        ("RL", End::Rear, rear, 700.0),
                        ("RR", End::Rear, rear, -700.0),
                    ];
                    let readings: Vec<Value> = corners
                        .iter()
                        .enumerate()
                        .map(|(at, (corner, end, off, y))| {
                            let side = if at % 2 == 0 { offsets[at] } else { -offsets[at - 1] };
                            let height = truth(*end, *day as f64, *km) + side + off + y * lean + zero;
                            let mm = (height + tape.sample(rng)).round();
                            json!({"ref": format!("lip.{corner}"), "repeat": 1, "text": format!("{mm}"), "unit": "mm", "value_mm": mm})
                        })
                        .collect();
                    json!({"bounce_id": format!("{number}.{bounce}"), "readings": readings})
                })
                .collect();
            json!({"id": format!("s{number}"), "date": date(*day), "odometer_km": 1_000.0 + km.round(), "bounces": bounces})
        })
        .collect();
    let points: Vec<Value> = [("FL", 0, 700), ("FR", 0, -700), ("RL", -2600, 700), ("RR", -2600, -700)]
        .iter()
        .map(|(corner, x, y)| json!({"id": format!("lip.{corner}"), "corner": corner, "kind": "fender_lip", "x_mm": x, "y_mm": y}))
        .collect();
    let file = json!({
        "vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400, "ref_points": points},
        "instrument": {"tape": {"unit": "mm", "step_mm": 1.0}, "tape_reading_u_mm": 1.2, "bounce_repeat_u_mm": 1.5},
        "snapshots": snapshots,
        "events": [{"date": day_0, "odometer_km": 1_000, "what": "leaves out", "resets_settling": true}],
    });
    serde_json::from_value(file).expect("a car")
}

/// So many days after 1 January 2031, at most to the end of the next year.
pub(crate) fn date(day: u64) -> String {
    let (year, mut day) = if day < 365 { (2031, day) } else { (2032, day - 365) };
    let february = if year == 2032 { 29 } else { 28 };
    for (month, length) in [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31].into_iter().enumerate() {
        if day < length {
            return format!("{year}-{:02}-{:02}", month + 1, day + 1);
        }
        day -= length;
    }
    panic!("too far ahead")
}

/// With work on the car besides: kind, day, and what the file says of it.
pub(crate) fn with_events(file: CarFile, events: &[(&str, u64)]) -> CarFile {
    let mut value = serde_json::to_value(file).expect("writable");
    for (kind, day) in events {
        let event = json!({"date": date(*day), "what": kind, "kind": kind, "resets_settling": false});
        value["events"].as_array_mut().expect("events").push(event);
    }
    serde_json::from_value(value).expect("a car")
}

/// Every line of a car, by the law that its heights ask for.
pub(crate) fn settled(file: &CarFile) -> Vec<LineSettling> {
    let solution = solve(file, &Options::default()).expect("adjustable");
    settle_car(file, &solution, Model::Best).expect("laws")
}
