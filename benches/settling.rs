//! Ten years of weekly snapshots, seen through the Settling tab, against the same car's last result. The drawing's own time is
//! printed by `npm run bench` in `ui`.

use criterion::Criterion;
use serde_json::{Value, json};
use trueground_app::{Garage, Now, dispatch};
use trueground_benches::{Ratio, criterion, print};
use trueground_core::capture::day_after;
use uuid::Uuid;

const GROUP: &str = "ten years of weekly snapshots";
const FIRST: &str = "the Settling tab, first time";
const AGAIN: &str = "the Settling tab, again";
const YARDSTICK: &str = "the last result";
const WEEKS: i64 = 520;

fn main() {
    let fresh_id = || Uuid::nil();
    let now = Now { utc_ms: 2_300_000_000_000, offset_minutes: 0, fresh_id: &fresh_id };
    let mut garage = Garage::in_memory().expect("a garage");
    let file = json!({"name": "coupe.json", "text": ten_years().to_string()});
    let listed = dispatch(&mut garage, "import_file", file, &now).expect("a car is read in");
    let car = listed["cars"][0]["car"].clone();
    let page = dispatch(&mut garage, "open_car", json!({"car": car}), &now).expect("its page opens");
    let last = page["snapshots"][0]["snapshot"].clone();
    let view = dispatch(&mut garage, "see_settling", json!({"car": car}), &now).expect("it is worked out");
    assert!(view["days"].as_array().is_some_and(|days| days.len() >= 390), "{}", view["counted"]);

    let mut criterion: Criterion = criterion();
    let mut group = criterion.benchmark_group(GROUP);
    // Asking for another law and back works the settling out anew, on the same levelled snapshots.
    let mut exponential = false;
    group.bench_function(FIRST, |turn| {
        turn.iter(|| {
            exponential = !exponential;
            let model = if exponential { "exponential" } else { "best" };
            dispatch(&mut garage, "see_settling", json!({"car": car, "model": model}), &now).expect("it is worked out")
        });
    });
    group.bench_function(AGAIN, |turn| {
        turn.iter(|| dispatch(&mut garage, "see_settling", json!({"car": car}), &now).expect("it is there"));
    });
    group.bench_function(YARDSTICK, |turn| {
        turn.iter(|| dispatch(&mut garage, "see_result", json!({"snapshot": last}), &now).expect("it is there"));
    });
    group.finish();
    print(Ratio { group: GROUP, job: FIRST, yardstick: YARDSTICK, goal: "printed only" });
    print(Ratio { group: GROUP, job: AGAIN, yardstick: YARDSTICK, goal: "printed only" });
    criterion.final_summary();
}

/// The sample coupe, its last snapshot taken again every week, with a millimetre to and fro.
fn ten_years() -> Value {
    let mut file: Value =
        serde_json::from_str(include_str!("../sample-data/settling-coupe.json")).expect("sample data");
    let snapshots = file["snapshots"].as_array_mut().expect("a list");
    let last = snapshots.last().expect("one at least").clone();
    for week in 1..=WEEKS {
        let mut next = last.clone();
        (next["id"], next["label"]) = (json!(format!("week {week}")), json!(""));
        next["date"] = json!(day_after("2031-07-12", 7 * week).expect("a day"));
        next["odometer_km"] = json!(49_505 + 60 * week);
        for bounce in next["bounces"].as_array_mut().expect("a list") {
            bounce["bounce_id"] = json!(format!("{}, week {week}", bounce["bounce_id"]));
            for reading in bounce["readings"].as_array_mut().expect("a list") {
                let mm = reading["value_mm"].as_f64().expect("a height") + (week % 3) as f64 - 1.0;
                (reading["value_mm"], reading["text"]) = (json!(mm), json!(format!("{mm}")));
            }
        }
        snapshots.push(next);
    }
    file
}
