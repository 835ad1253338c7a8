//! What a garage must hold after a person's acts, worked out from the acts alone, and what it does hold, asked of it.

use crate::picture::{USUAL, picture};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use trueground_app::{Garage, Now, dispatch};
use trueground_store::{Standing, Store};
use uuid::Uuid;

/// What is there, one line each: `walk step 3` is `640.50`.
pub(crate) type Lines = BTreeMap<String, String>;

const MOMENT: Now<'static> = Now { utc_ms: 1_934_000_000_000, offset_minutes: 60, fresh_id: &Uuid::nil };

/// Names of one car's things.
#[derive(Clone, Debug, Default)]
pub(crate) struct Names {
    pub(crate) walk: String,
    pub(crate) finished: String,
    pub(crate) floors: [String; 2],
}

/// Everything done so far to two cars.
#[derive(Clone, Debug, Default)]
pub(crate) struct Model {
    /// The car that was used last.
    first: String,
    walks: BTreeMap<String, Walk>,
    /// Readings of a floor, in the order they were taken, and those taken back.
    floors: BTreeMap<String, (Vec<String>, Vec<String>)>,
    corrections: BTreeMap<String, Vec<(String, String, String)>>,
    photos: Lines,
    forms: Lines,
    /// Work in its words, with its car.
    events: BTreeSet<String>,
    /// Entries of work that do not count.
    withdrawn: BTreeSet<String>,
    /// Plans and parts in their words, with their car; plans that were put away are said to be.
    planned: Lines,
    /// Stations under a string by their height, mm, in the order they were read, and those taken back.
    stations: (Vec<String>, Vec<String>),
}

#[derive(Clone, Debug, Default)]
struct Walk {
    done: Vec<Event>,
    undone: Vec<Event>,
    /// Where the walk is and what is half typed, as the person saw it last; absent while the answer to an act never came.
    place: Option<(String, String)>,
}

#[derive(Clone, Debug)]
enum Event {
    Take(u64, String),
    Strike(u64, String),
    Skip(u64),
}

impl Model {
    /// Nothing done yet: this car is first, and both walks are as they were begun.
    pub(crate) fn begun(first: &str) -> Self {
        Self { first: first.to_owned(), ..Self::default() }
    }

    /// What an act does. `seen` is where the walk is since, absent where the answer never came.
    pub(crate) fn act(&mut self, act: &Value, seen: Option<&Value>) {
        let request = &act["request"];
        let text = |name: &str| request[name].as_str().unwrap_or_default().to_owned();
        let step = request["step"].as_u64().unwrap_or_default();
        let floor = self.floors.entry(text("floor")).or_default();
        let walk = self.walks.entry(text("snapshot")).or_default();
        let mut walks_on = true;
        match act["verb"].as_str().unwrap() {
            "take_reading" => walk.event(Event::Take(step, text("text"))),
            "strike_reading" => walk.event(Event::Strike(step, text("reason"))),
            "skip_step" => walk.event(Event::Skip(step)),
            "undo_reading" => walk.undone.extend(walk.done.pop()),
            "put_back" => walk.done.extend(walk.undone.pop()),
            "keep_draft" => walk.place = Some((step.to_string(), text("text"))),
            other => {
                walks_on = false;
                match other {
                    "open_car" => self.first = text("car"),
                    "take_floor_reading" | "take_straightedge" => {
                        floor.0.push(text("text"));
                        floor.1.clear();
                    }
                    "undo_floor_reading" => floor.1.extend(floor.0.pop()),
                    "put_back_floor_reading" => floor.0.extend(floor.1.pop()),
                    "add_pass" => {}
                    "correct_reading" => {
                        let made = (text("reading"), text("text"), text("reason"));
                        self.corrections.entry(text("snapshot")).or_default().push(made);
                    }
                    "add_photo" => {
                        let place = format!("{} photo {}", text("snapshot"), text("side"));
                        self.photos.insert(place, request["data"].to_string());
                    }
                    "keep_event" => {
                        let form = &request["form"];
                        self.events.insert(format!(
                            "{} {}",
                            form["car"].as_str().unwrap(),
                            form["what"].as_str().unwrap()
                        ));
                    }
                    "withdraw_event" => drop(self.withdrawn.insert(text("event"))),
                    "bring_back_event" => drop(self.withdrawn.remove(&text("event"))),
                    "keep_plan" => {
                        self.planned.insert(format!("plan {} {}", text("car"), text("label")), "kept".to_owned());
                    }
                    "keep_part" => {
                        self.planned.insert(format!("part {} {}", text("car"), text("label")), "kept".to_owned());
                    }
                    "mark_plan" => {
                        let called = act["known"]["called"].as_str().unwrap();
                        self.planned.insert(format!("plan {} {called}", text("car")), "put away".to_owned());
                    }
                    "take_station" => {
                        self.stations.0.push(height(text("down").parse().unwrap()));
                        self.stations.1.clear();
                    }
                    "undo_station" => self.stations.1.extend(self.stations.0.pop()),
                    "put_back_station" => self.stations.0.extend(self.stations.1.pop()),
                    "keep_form" if request["text"].is_null() => drop(self.forms.remove(&text("name"))),
                    "keep_form" => drop(self.forms.insert(text("name"), text("text"))),
                    unknown => panic!("the model does not know {unknown}"),
                }
            }
        }
        if walks_on && act["verb"] != "keep_draft" {
            walk.place = seen.map(|seen| (seen["at"].to_string(), seen["draft"].as_str().unwrap().to_owned()));
        }
    }

    /// What must be there.
    pub(crate) fn lines(&self) -> Lines {
        let mut lines = Lines::from([("first".to_owned(), self.first.clone())]);
        for (name, walk) in &self.walks {
            walk.say(name, &mut lines);
        }
        for (name, (readings, _)) in &self.floors {
            lines.extend(readings.iter().map(|text| (format!("{name} {text}"), "read".to_owned())));
        }
        for (name, corrections) in &self.corrections {
            for (number, (reading, text, reason)) in corrections.iter().enumerate() {
                lines.insert(format!("{name} correction {number}"), reason.clone());
                lines.insert(format!("{name} reading {reading}"), text.clone());
            }
        }
        lines.extend(self.events.iter().map(|work| (format!("work {work}"), "entered".to_owned())));
        lines.extend(self.withdrawn.iter().map(|event| (format!("event {event}"), "withdrawn".to_owned())));
        lines.extend(self.planned.clone());
        lines.extend(self.stations.0.iter().map(|down| (format!("station {down}"), "read".to_owned())));
        lines.extend(self.photos.clone());
        lines.extend(self.forms.iter().map(|(name, text)| (format!("form {name}"), text.clone())));
        lines
    }

    /// Takes what was seen for what the answer would have said.
    pub(crate) fn look(&mut self, seen: &Lines) {
        for (name, walk) in &mut self.walks {
            let line = |what: &str| seen.get(&format!("{name} {what}")).cloned();
            if walk.place.is_none()
                && let (Some(at), Some(draft)) = (line("at"), line("draft"))
            {
                walk.place = Some((at, draft));
            }
        }
    }
}

/// A height under a string, to be told apart from any other.
fn height(down_mm: f64) -> String {
    format!("{down_mm:.6}")
}

impl Walk {
    fn event(&mut self, event: Event) {
        self.undone.clear();
        self.done.push(event);
    }

    fn say(&self, name: &str, lines: &mut Lines) {
        let (mut read, mut skipped) = (BTreeMap::new(), BTreeSet::new());
        for event in &self.done {
            match event {
                Event::Take(step, text) => {
                    read.insert(step, text);
                    skipped.remove(step);
                }
                Event::Strike(step, reason) => {
                    lines.insert(format!("{name} struck {reason}"), format!("{step} {}", read.remove(step).unwrap()));
                }
                Event::Skip(step) => drop(skipped.insert(*step)),
            }
        }
        lines.extend(read.into_iter().map(|(step, text)| (format!("{name} step {step}"), text.clone())));
        lines.extend(skipped.into_iter().map(|step| (format!("{name} skipped {step}"), "yes".to_owned())));
        if let Some((at, draft)) = &self.place {
            lines.insert(format!("{name} at"), at.clone());
            lines.insert(format!("{name} draft"), draft.clone());
        }
    }
}

/// What is there, asked of the garage as the window asks it; every row as it was written, and every picture whole.
pub(crate) fn seen(path: &Path, cars: &[Names; 2]) -> Lines {
    let mut garage = Garage::open(path, &MOMENT).unwrap();
    let mut ask = |verb: &str, request: Value| {
        dispatch(&mut garage, verb, request, &MOMENT).unwrap_or_else(|problem| panic!("{verb}: {problem}"))
    };
    let list = |of: &Value| of.as_array().unwrap().clone();
    let text = |of: &Value| of.as_str().unwrap_or_default().to_owned();
    let all = ask("open_garage", json!({}));
    assert_eq!(all["notices"], json!([]), "nothing had to be set aside");
    let mut lines = Lines::from([("first".to_owned(), text(&all["cars"][0]["car"]))]);
    for (name, form) in ask("kept_forms", json!({}))["forms"].as_object().unwrap() {
        lines.insert(format!("form {name}"), text(form));
    }
    for ground in list(&ask("open_grounds", json!({}))["rows"]) {
        for station in list(&ask("open_ground", json!({ "ground": ground["ground"] }))["stations"]) {
            lines.insert(format!("station {}", height(station["down_mm"].as_f64().unwrap())), "read".to_owned());
        }
    }
    for car in list(&all["cars"]) {
        let plans = ask("open_plans", json!({ "car": car["car"] }));
        for (rows, what, how) in [("rows", "plan", "kept"), ("put_away", "plan", "put away"), ("parts", "part", "kept")]
        {
            for row in list(&plans[rows]) {
                lines.insert(format!("{what} {} {}", text(&car["car"]), text(&row["label"])), how.to_owned());
            }
        }
    }
    for Names { walk, finished, floors } in cars {
        let view = ask("open_walk", json!({ "snapshot": walk }));
        for (at, step) in list(&view["steps"]).iter().enumerate() {
            if !step["text"].is_null() {
                lines.insert(format!("{walk} step {at}"), text(&step["text"]));
            }
            if step["skipped"] == true && step["text"].is_null() {
                lines.insert(format!("{walk} skipped {at}"), "yes".to_owned());
            }
        }
        for struck in list(&view["struck"]) {
            lines.insert(format!("{walk} struck {}", text(&struck["reason"])), struck["step"].to_string());
        }
        lines.insert(format!("{walk} at"), view["at"].to_string());
        lines.insert(format!("{walk} draft"), text(&view["draft"]));
        for floor in floors {
            let book = list(&ask("open_floor", json!({ "floor": floor }))["book"]);
            for row in book.iter().flat_map(|pass| list(&pass["rows"])).filter(|row| row["struck"].is_null()) {
                lines.insert(format!("{floor} {}", text(&row["text"])), "read".to_owned());
            }
        }
        let book = ask("open_book", json!({ "snapshot": finished }));
        let corrections = list(&book["corrections"]);
        for (number, made) in corrections.iter().enumerate() {
            lines.insert(format!("{finished} correction {number}"), text(&made["reason"]));
        }
        for reading in list(&book["readings"]).iter().filter(|reading| reading["corrected"] != json!([])) {
            lines.insert(format!("{finished} reading {}", text(&reading["reading"])), text(&reading["text"]));
        }
    }
    drop(garage);
    let store = Store::open(path).unwrap();
    for car in all["cars"].as_array().unwrap() {
        let (events, damaged) = store.car_events(text(&car["car"]).parse().unwrap()).unwrap();
        assert_eq!(damaged, Vec::<String>::new(), "work");
        for record in events {
            lines.insert(format!("work {} {}", text(&car["car"]), record.event.what), "entered".to_owned());
            if !record.counts {
                lines.insert(format!("event {}", record.id), "withdrawn".to_owned());
            }
        }
    }
    assert_eq!(store.check().unwrap(), Vec::<String>::new(), "integrity");
    for Names { walk, .. } in cars {
        for reading in store.snapshot(walk.parse().unwrap()).unwrap().readings {
            // As typed; the screen shows it rounded.
            if let Standing::Struck { reason, .. } = &reading.standing {
                lines
                    .entry(format!("{walk} struck {reason}"))
                    .and_modify(|of| *of += &format!(" {}", reading.taken.text));
            }
        }
        let photos = store.photos(walk.parse().unwrap()).unwrap();
        assert_eq!(photos.damaged, Vec::<String>::new());
        for photo in &photos.all {
            let bytes = store.picture(photo).unwrap();
            let number = u64::from_be_bytes(bytes[41..49].try_into().unwrap());
            assert!(bytes == picture(number, USUAL), "photo {number} is whole");
            let side = serde_json::to_value(photo.side).unwrap();
            lines.insert(format!("{walk} photo {}", side.as_str().unwrap()), number.to_string());
        }
    }
    lines
}
