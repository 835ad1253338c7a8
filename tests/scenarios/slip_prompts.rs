//! What is asked at the moment of taking, against the last snapshot on the same floor: an inch is asked about, and clean readings
//! are seldom asked about. Two snapshots of one simulated car, the second taken reading by reading through the app.

use crate::simulator::{Car, Ground, Noise, Work, measure, seeded};
use rand::Rng;
use serde_json::{Value, json};
use std::cell::Cell;
use trueground_app::{Garage, Now, dispatch};
use trueground_core::capture::CarFile;
use uuid::Uuid;

const WORK: Work = Work {
    passes: 2,
    level_under_marks: false,
    both_facings: false,
    bounces: 1,
    rounds: 2,
    gauge: false,
    roll_share_u: None,
};

/// A garage in memory, asked by verb.
struct App {
    garage: Garage,
    ids: Cell<u128>,
}

impl App {
    fn ask(&mut self, verb: &str, request: Value) -> Value {
        let fresh_id = || {
            self.ids.set(self.ids.get() + 1);
            Uuid::from_u128(self.ids.get())
        };
        let now = Now { utc_ms: 1_934_500_000_000, offset_minutes: 120, fresh_id: &fresh_id };
        dispatch(&mut self.garage, verb, request, &now).expect("carried out")
    }

    /// The car with its first snapshot, and a walk begun on the same floor.
    fn begun(file: &CarFile) -> (Self, Value) {
        let garage = Garage::in_memory().expect("a garage");
        let mut app = Self { garage, ids: Cell::new(0x0190_0000_0000_7000_8000_0000_0000_0000) };
        let text = serde_json::to_string(file).expect("a file");
        let garage = app.ask("import_file", json!({"name": "simulated.json", "text": text}));
        let car = app.ask("open_car", json!({"car": garage["cars"][0]["car"]}));
        let form = json!({
            "car": car["car"], "floor": car["floors"][0]["floor"], "facing": "A", "kinds": ["fender_lip", "frame_rail"],
            "hubs": false, "rounds": 2, "bounces": 1, "angle_gauge": false, "tape": "mm",
            "pressures": {"FL": "", "FR": "", "RL": "", "RR": ""},
        });
        let walk = app.ask("begin_snapshot", form);
        (app, walk)
    }

    /// Takes the readings of the snapshot in the order of the walk; which of them raised a question.
    fn take(&mut self, walk: &Value, file: &CarFile) -> Vec<(String, u32)> {
        let mut asked = Vec::new();
        for (number, step) in walk["steps"].as_array().expect("steps").iter().enumerate() {
            let (point, round) =
                (step["ref"].as_str().expect("a mark"), step["round"].as_u64().expect("a round") as u32);
            let mut readings = file.snapshots[0].bounces[0].readings.iter();
            let reading = readings.find(|reading| reading.point == point && reading.repeat == round).expect("read");
            let request = json!({
                "snapshot": walk["snapshot"], "step": number, "text": reading.text, "request_id": format!("{number}"),
            });
            let view = self.ask("take_reading", request);
            if !view["differs"].is_null() {
                asked.push((point.to_owned(), round));
            }
        }
        asked
    }
}

/// One car: whether its clean second snapshot raised a question, and whether one about the corner where an inch slipped in.
fn once(seed: u64) -> (bool, bool) {
    let mut rng = seeded(40_000 + seed);
    let car = Car::random(&mut rng);
    let twist = rng.random_range(-40.0..40.0);
    let ground = Ground::random(&mut rng, twist);
    let first = measure(&mut rng, &car, &ground, &Noise::usual(), &WORK).file;
    let second = measure(&mut rng, &car, &ground, &Noise::usual(), &WORK).file;
    let (mut app, walk) = App::begun(&first);
    let alarm = !app.take(&walk, &second).is_empty();

    let mut slipped = second;
    let reading = rng.random_range(0..16);
    let sign = if rng.random_bool(0.5) { 1.0 } else { -1.0 };
    let wrong = &mut slipped.snapshots[0].bounces[0].readings[reading];
    wrong.value_mm += sign * 25.4;
    wrong.text = format!("{:.0}", wrong.value_mm);
    let point = wrong.point.clone();
    let (mut app, walk) = App::begun(&first);
    let asked = app.take(&walk, &slipped);
    (alarm, asked.iter().any(|(mark, _)| *mark == point))
}

#[test]
fn an_inch_is_asked_about_at_once_and_clean_readings_seldom() {
    const CARS: u64 = 100;
    let workers = std::thread::available_parallelism().map_or(2, |cores| cores.get() as u64);
    let found: Vec<(bool, bool)> = std::thread::scope(|scope| {
        let part = |first: u64| (first..CARS).step_by(workers as usize).map(once).collect::<Vec<_>>();
        let parts: Vec<_> = (0..workers).map(|first| scope.spawn(move || part(first))).collect();
        parts.into_iter().flat_map(|part| part.join().expect("a worker that ends")).collect()
    });
    let count = CARS as usize;
    let alarms = found.iter().filter(|(alarm, _)| *alarm).count();
    let asked = found.iter().filter(|(_, asked)| *asked).count();
    assert!(asked * 100 >= 95 * count, "{asked} of {count} inches asked about");
    assert!(alarms * 100 <= 5 * count, "{alarms} of {count} clean walks raised a question");
}
