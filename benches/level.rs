//! The level solve of a full measuring day, with covariance, doubt and next reading, against a bare QR of its size.

use std::hint::black_box;

use criterion::Criterion;
use nalgebra::DMatrix;
use serde_json::{Value, json};
use trueground_benches::{Ratio, criterion, print};
use trueground_core::capture::CarFile;
use trueground_core::level::{Options, solve};

const GROUP: &str = "12 points, 4 bounces, 2 facings";
const JOB: &str = "level solve";
const YARDSTICK: &str = "nalgebra QR";
const BOUNCES: usize = 4;
const FACINGS: [&str; 2] = ["A", "B"];
const KINDS: [(&str, &str, f64); 3] =
    [("lip", "fender_lip", 790.0), ("rail", "frame_rail", 350.0), ("seam", "body_seam", 600.0)];
const CORNERS: [(&str, f64, f64); 4] =
    [("FL", 0.0, 1.0), ("FR", 0.0, -1.0), ("RL", -2600.0, 1.0), ("RR", -2600.0, -1.0)];

fn main() {
    let file: CarFile = serde_json::from_value(day()).expect("an exchange file");
    let (rows, columns) = size();
    // Any full matrix of the size will do: the time of a QR does not depend on what stands in it.
    let matrix =
        DMatrix::from_fn(rows, columns, |i, j| f64::from(u8::from(i == j)) + ((i * 31 + j * 17) % 97) as f64 / 97.0);

    let mut criterion: Criterion = criterion();
    let mut group = criterion.benchmark_group(GROUP);
    group.bench_function(JOB, |turn| turn.iter(|| solve(black_box(&file), &Options::default()).expect("it adjusts")));
    group.bench_function(YARDSTICK, |turn| turn.iter(|| black_box(&matrix).clone().qr()));
    group.finish();
    print(Ratio { group: GROUP, job: JOB, yardstick: YARDSTICK, goal: "≤ 4 ×, ≤ 1.5 ms" });
    criterion.final_summary();
}

/// Rows and columns of the adjustment as `engine`'s model has it: readings and one row a prior; unknowns.
const fn size() -> (usize, usize) {
    let points = KINDS.len() * CORNERS.len();
    let (bounces, placements) = (BOUNCES * FACINGS.len(), 4 * FACINGS.len());
    let (floor, local_bumps, shared) = (4 + 2, points * FACINGS.len(), 7);
    let unknowns = points + 3 * bounces + placements + floor + local_bumps + shared;
    // The heights themselves have no prior.
    (points * bounces + unknowns - points, unknowns)
}

/// An exchange file of one day: the car read both ways round.
fn day() -> Value {
    let points = || KINDS.iter().flat_map(|kind| CORNERS.iter().map(move |corner| (kind, corner)));
    let ref_points: Vec<Value> = points()
        .map(|((short, kind, half), (corner, x_mm, side))| {
            json!({ "id": format!("{short}.{corner}"), "corner": corner, "kind": kind, "x_mm": x_mm, "y_mm": side * half })
        })
        .collect();
    let snapshots: Vec<Value> = FACINGS
        .iter()
        .map(|facing| {
            let bounces: Vec<Value> = (0..BOUNCES)
                .map(|bounce| {
                    let readings: Vec<Value> = points()
                        .enumerate()
                        .map(|(n, ((short, ..), (corner, ..)))| {
                            // Plausible heights with a millimetre of noise, so that no reading is doubtful.
 let mm = 300 + (n * 37) % 400 + (n * 7 + bounce * 5) % 3;
                            json!({ "ref": format!("{short}.{corner}"), "repeat": 1, "text": mm.to_string(), "unit": "mm",
                                "value_mm": mm })
                        })
                        .collect();
                    json!({ "bounce_id": format!("b{bounce}"), "readings": readings })
                })
                .collect();
            json!({ "id": format!("facing {facing}"), "date": "2031-04-12", "facing": facing, "floor": "drive",
                "bounces": bounces })
        })
        .collect();
    json!({
        "vehicle": { "label": "Bench car", "wheelbase_mm": 2600.0, "track_front_mm": 1400.0, "track_rear_mm": 1400.0,
            "ref_points": ref_points },
        "floors": [{ "id": "drive", "label": "Drive", "survey": null }],
        "snapshots": snapshots,
    })
}
