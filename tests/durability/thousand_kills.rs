//! SIGKILL at 1,000 random moments while somebody reads, half types, undoes, strikes, skips, levels floors, reads a driveway under a
//! string, corrects, photographs, enters and withdraws work, draws up, keeps and puts away plans, keeps parts, and fills in forms, on two
//! cars in one garage.

use crate::child::folder;
use crate::model::{Lines, Model, Names, seen};
use rand::rngs::StdRng;
use rand::{Rng, SeedableRng};
use serde_json::{Value, json};
use std::cell::Cell;
use std::collections::BTreeMap;
use std::fs;
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};
use trueground_app::{Garage, Now, dispatch};
use uuid::Uuid;

const KILLS: usize = 1000;
/// Kills side by side, each in a garage of its own; most of the time all wait for the disk.
const LANES: usize = 4;

#[test]
fn a_thousand_kills_lose_nothing_that_was_acknowledged() {
    let began = Instant::now();
    let folder = folder();

    let (first, cars) = two_cars(&folder.path().join("begun"));
    let lanes: Vec<Tally> = std::thread::scope(|scope| {
        let lanes: Vec<_> = (0..LANES)
            .map(|lane| {
                let (folder, first, cars) = (folder.path(), &first, &cars);
                scope.spawn(move || kill_over_and_over(folder, lane, first, cars))
            })
            .collect();
        lanes.into_iter().map(|lane| lane.join().unwrap()).collect()
    });
    let sum = |of: fn(&Tally) -> usize| lanes.iter().map(of).sum::<usize>();
    let (acknowledged, unsaid) = (sum(|lane| lane.acknowledged), sum(|lane| lane.unsaid));
    let mut acts: BTreeMap<&str, usize> = BTreeMap::new();
    for (verb, count) in lanes.iter().flat_map(|lane| &lane.acts) {
        *acts.entry(verb).or_default() += count;
    }
    println!(
        "{KILLS} kills in {:.0} s: {acknowledged} acts acknowledged, all there; {unsaid} more were there that had not been. {acts:?}",
        began.elapsed().as_secs_f64()
    );
    assert!(acknowledged > KILLS, "only {acknowledged} acts in {KILLS} lives: the kills came too early");
    assert!(acts.len() >= 15 && acts.values().all(|count| *count > 0), "every kind of act was cut short: {acts:?}");
}

/// What came of one lane.
#[derive(Default)]
struct Tally {
    acknowledged: usize,
    unsaid: usize,
    /// Verbs that were acknowledged.
    acts: BTreeMap<String, usize>,
}

fn kill_over_and_over(folder: &Path, lane: usize, first: &str, cars: &[Names; 2]) -> Tally {
    // Seeded: the delays are the same each time, the moments they hit are the machine's.
    let mut chance = StdRng::seed_from_u64(0x7472_7565 + lane as u64);
    let mut tally = Tally::default();
    let mut model = Model::begun(first);
    let mut garage = fresh(folder, lane, 0);
    for kill in 0..KILLS / LANES {
        let mut child = Command::new(env!("CARGO_BIN_EXE_walk-the-car"))
            .args([garage.as_os_str(), (kill + 1).to_string().as_ref()])
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap());
        let mut said = String::new();
        // Every tenth life ends while the garage is being opened or soon after; the others somewhere in their first acts, however
        // slow the machine is.
        if kill % 10 != 9 {
            let acts = chance.random_range(0..5);
            while said.matches("ack ").count() < acts && lines.read_line(&mut said).unwrap() > 0 {}
        }
        sleep(Duration::from_micros(chance.random_range(0..20_000)));
        child.kill().unwrap();
        lines.read_to_string(&mut said).unwrap();
        child.wait().unwrap();
        assert!(!said.contains("refused"), "lane {lane}, kill {kill}: {said}");

        let mut tried = None;
        for line in said.lines() {
            if let Some(act) = line.strip_prefix("try ") {
                tried = serde_json::from_str::<Value>(act).ok();
            } else if let Some(at) = line.strip_prefix("ack ") {
                let act = tried.take().unwrap();
                model.act(&act, Some(&serde_json::from_str(at).unwrap()));
                tally.acknowledged += 1;
                *tally.acts.entry(act["verb"].as_str().unwrap().to_owned()).or_default() += 1;
            }
        }
        let found = seen(&garage, cars);
        if differ(&model.lines(), &found).is_some() {
            let mut with = model.clone();
            let Some(act) = &tried else {
                panic!("lane {lane}, kill {kill}: {}", differ(&model.lines(), &found).unwrap())
            };
            with.act(act, None);
            if let Some(difference) = differ(&with.lines(), &found) {
                panic!("lane {lane}, kill {kill}, after {act}: {difference}\nor {:?}", differ(&model.lines(), &found));
            }
            model = with;
            tally.unsaid += 1;
        }
        model.look(&found);
        if said.ends_with("end\n") {
            model = Model::begun(first);
            garage = fresh(folder, lane, kill + 1);
        }
    }
    tally
}

/// What must be there and is not, or is there and must not; where nothing is known of a walk's place, none is asked.
fn differ(must: &Lines, found: &Lines) -> Option<String> {
    let missing: Vec<_> = must.iter().filter(|(name, text)| found.get(*name) != Some(text)).collect();
    let place = |name: &str| name.ends_with(" at") || name.ends_with(" draft");
    let extra: Vec<_> = found.iter().filter(|(name, _)| !must.contains_key(*name) && !place(name)).collect();
    (!missing.is_empty() || !extra.is_empty()).then(|| {
        let instead: Vec<_> = missing.iter().map(|(name, _)| found.get(*name)).collect();
        format!("missing {missing:?}, there is {instead:?}; extra {extra:?}")
    })
}

/// A copy of the garage with two begun walks.
fn fresh(folder: &Path, lane: usize, number: usize) -> PathBuf {
    let place = folder.join(format!("lane-{lane}-{number}"));
    fs::create_dir(&place).unwrap();
    fs::copy(folder.join("begun").join("garage.db"), place.join("garage.db")).unwrap();
    place.join("garage.db")
}

/// Makes a garage of two cars, each with a finished snapshot, a floor of its own and a walk just begun; the car used last, and the
/// names of both cars' things.
pub(crate) fn two_cars(folder: &Path) -> (String, [Names; 2]) {
    fs::create_dir(folder).unwrap();
    let ids = Cell::new(0x0190_0000_0000_7000_8000_0000_0000_0000_u128);
    let fresh_id = || {
        ids.set(ids.get() + 1);
        Uuid::from_u128(ids.get())
    };
    let now = Now { utc_ms: 1_934_000_000_000, offset_minutes: 60, fresh_id: &fresh_id };
    let mut garage = Garage::open(&folder.join("garage.db"), &now).unwrap();
    let mut ask = |verb: &str, request: Value| dispatch(&mut garage, verb, request, &now).unwrap();
    let text = |of: &Value| of.as_str().unwrap().to_owned();
    let driveway = json!({ "label": "home", "kind": "driveway", "way": "string", "tape": "mm", "slope": "0" });
    ask("keep_ground", driveway);
    let mut last = String::new();
    let cars = ["Killed pickup", "Killed roadster"].map(|label| {
        let tire = json!({ "marking": "6.00-16", "pressure": "210", "measured_diameter": "" });
        let points = |kind: &str, behind: &str, apart: &str| {
            json!({ "kind": kind, "front_behind_axle": behind, "front_apart": apart, "rear_ahead_of_axle": behind,
                "rear_apart": apart, "what": "" })
        };
        let car = ask(
            "add_car",
            json!({
                "label": label, "outline": "pickup", "tape": "mm", "wheelbase": "2665", "track_front": "1392",
                "track_rear": "1418", "nominal_load": "half tank",
                "points": [points("fender_lip", "0", "1582"), points("frame_rail", "320", "700")],
                "tires": { "FL": tire, "FR": tire, "RL": tire, "RR": tire }
            }),
        )["car"]
            .clone();
        let [floor, edges] = [("Drive", "water_level"), ("Yard", "straightedge")].map(|(floor, levelling)| {
            ask("add_floor", json!({ "car": car, "label": floor, "levelling": levelling, "tape": "mm" }))
        });
        let walk = |rounds: u32, bounces: u32, gauge: bool| {
            json!({
                "car": car, "floor": floor["floor"], "facing": "A", "kinds": ["fender_lip"], "hubs": true,
                "rounds": rounds, "bounces": bounces, "angle_gauge": gauge, "tape": "mm",
                "pressures": { "FL": "210", "FR": "210", "RL": "210", "RR": "210" }
            })
        };
        let earlier = ask("begin_snapshot", walk(1, 1, false));
        let (steps, finished) = (earlier["steps"].as_array().unwrap().len(), text(&earlier["snapshot"]));
        for step in 0..steps {
            let taken = json!({ "snapshot": finished, "step": step, "text": (640 + step).to_string(), "insist": true,
                "request_id": format!("{label} {step}") });
            ask("take_reading", taken);
        }
        ask("finish_snapshot", json!({ "snapshot": finished }));
        let begun = ask("begin_snapshot", walk(2, 2, true));
        ask("open_car", json!({ "car": car }));
        last = text(&car);
        Names { walk: text(&begun["snapshot"]), finished, floors: [&floor, &edges].map(|of| text(&of["floor"])) }
    });
    (last, cars)
}
