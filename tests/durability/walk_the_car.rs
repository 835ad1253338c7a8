//! A child process that does what a person does with two cars, act after act at random, until it is killed.
//!
//! `walk-the-car GARAGE SEED`: says `open`; then before each act `try {"verb", "request"}`, and once the garage has answered
//! `ack {"at", "draft"}`: where the walk is and what is half typed there, as the person would see it. A photo is named by its number in
//! place of its bytes. At the end of both walks it says `end`.
//!
//! `walk-the-car GARAGE SEED BYTES`: adds photos of this size and does nothing else.

mod letters;
mod picture;
mod planning;

use letters::base64;
use picture::{USUAL, picture};
use serde_json::{Value, json};
use std::cell::Cell;
use std::io::{Write, stdout};
use std::path::Path;
use std::process::ExitCode;
use trueground_app::wire::Problem;
use trueground_app::{Garage, Now, dispatch};
use uuid::Uuid;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().collect();
    let (Some(garage), Some(seed)) = (arguments.get(1), arguments.get(2).and_then(|seed| seed.parse().ok())) else {
        say("usage: walk-the-car GARAGE SEED");
        return ExitCode::from(2);
    };
    let size = arguments.get(3).and_then(|size| size.parse().ok());
    match Person::new(Path::new(garage), seed).and_then(|mut person| person.live(size)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(problem) => {
            say(&format!("refused {}: {} {}", problem.code, problem.sentence, problem.hint));
            ExitCode::from(1)
        }
    }
}

struct Person {
    garage: Garage,
    /// Seed of this life; no two lives of a garage have the same.
    seed: u64,
    chance: u64,
    ids: Cell<u128>,
    acts: u64,
    /// Bytes.
    photo_size: usize,
    car: Value,
    walk: Value,
}

impl Person {
    fn new(path: &Path, seed: u64) -> Result<Self, Problem> {
        let ids = Cell::new(u128::from(seed) << 64);
        let mut garage = Garage::open(path, &moment(&|| next(&ids)))?;
        say("open");
        let cars = dispatch(&mut garage, "open_garage", json!({}), &moment(&|| next(&ids)))?["cars"].take();
        let mut person = Self {
            garage,
            seed,
            chance: seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1,
            ids,
            acts: 0,
            photo_size: USUAL,
            car: Value::Null,
            walk: Value::Null,
        };
        person.use_car(&cars[0]["car"])?;
        Ok(person)
    }

    fn live(&mut self, photos_only: Option<usize>) -> Result<(), Problem> {
        self.photo_size = photos_only.unwrap_or(USUAL);
        loop {
            if photos_only.is_some() {
                self.photograph()?;
                continue;
            }
            let of = if self.walk_is_over() { 100 } else { self.chance(100) };
            match of {
                0..35 => self.take()?,
                35..52 => self.half_type()?,
                52..58 => self.undo()?,
                58..61 => self.put_back()?,
                61..64 => self.strike()?,
                64..66 => self.skip()?,
                66..70 => self.plan_on_it()?,
                70..74 => self.read_ground()?,
                74..77 => self.read_floor()?,
                77..80 => self.undo_floor()?,
                80..84 => self.correct()?,
                84..90 => self.photograph()?,
                90..94 => self.fill_in()?,
                94..97 => self.work_on_it()?,
                _ => {
                    if !self.go_to_the_other_car()? {
                        say("end");
                        return Ok(());
                    }
                }
            }
        }
    }

    /// Xorshift (Marsaglia 2003), from 0 to below `below`.
    fn chance(&mut self, below: u64) -> u64 {
        self.chance ^= self.chance << 13;
        self.chance ^= self.chance >> 7;
        self.chance ^= self.chance << 17;
        self.chance % below
    }

    fn ask(&mut self, verb: &str, request: Value) -> Result<Value, Problem> {
        dispatch(&mut self.garage, verb, request, &moment(&|| next(&self.ids)))
    }

    /// An act: said, done, and only then said to be done.
    fn act(&mut self, verb: &str, request: Value) -> Result<Value, Problem> {
        self.say_and_do(verb, request, Value::Null)
    }

    /// `known`: what is said of it beside the request.
    fn say_and_do(&mut self, verb: &str, request: Value, known: Value) -> Result<Value, Problem> {
        say(&format!("try {}", json!({ "verb": verb, "request": request, "known": known })));
        let mut sent = request.clone();
        if let Some(number) = request["data"].as_u64() {
            sent["data"] = base64(&picture(number, self.photo_size)).into();
        }
        let reply = self.ask(verb, sent)?;
        if reply["steps"].is_array() {
            self.walk = reply.clone();
        } else if verb == "keep_draft" {
            self.walk["at"] = request["step"].clone();
            self.walk["draft"] = request["text"].clone();
        }
        say(&format!("ack {}", json!({ "at": self.walk["at"], "draft": self.walk["draft"] })));
        Ok(reply)
    }

    /// A number that comes once in a garage.
    fn number(&mut self) -> u64 {
        self.acts += 1;
        self.seed * 1000 + self.acts
    }

    fn use_car(&mut self, car: &Value) -> Result<(), Problem> {
        // The walk the reply belongs to is only known with it.
        self.walk = Value::Null;
        self.car = self.act("open_car", json!({ "car": car }))?;
        self.walk = self.ask("open_walk", json!({ "snapshot": self.car["unfinished"] }))?;
        Ok(())
    }

    fn walk_is_over(&self) -> bool {
        self.walk["steps"]
            .as_array()
            .is_none_or(|steps| self.walk["at"].as_u64().is_none_or(|at| at >= steps.len() as u64))
    }

    /// False where its walk is over too.
    fn go_to_the_other_car(&mut self) -> Result<bool, Problem> {
        let was_over = self.walk_is_over();
        let cars = self.ask("open_garage", json!({}))?["cars"].take();
        self.use_car(&cars[1]["car"])?;
        Ok(!(was_over && self.walk_is_over()))
    }

    fn here(&self) -> Value {
        json!({ "snapshot": self.walk["snapshot"] })
    }

    fn at(&self) -> &Value {
        &self.walk["steps"][self.walk["at"].as_u64().unwrap_or_default() as usize]
    }

    fn take(&mut self) -> Result<(), Problem> {
        let step = self.at();
        if !step["text"].is_null() {
            return self.half_type();
        }
        let hundredths = self.chance(100);
        // Repeats lie within a millimetre, so that nothing is asked about them.
        let text = match self.at()["kind"].as_str() {
            Some("gauge") => format!("1.{hundredths:02}"),
            Some("hub") => format!("340.{hundredths:02}"),
            _ => format!("640.{hundredths:02}"),
        };
        let request_id = format!("take {}", self.number());
        let mut request = self.here();
        request["step"] = self.walk["at"].clone();
        request["text"] = text.into();
        request["insist"] = true.into();
        request["request_id"] = request_id.into();
        self.act("take_reading", request).map(drop)
    }

    fn half_type(&mut self) -> Result<(), Problem> {
        let mut request = self.here();
        request["step"] = self.walk["at"].clone();
        request["text"] = format!("{} 1/", self.number()).into();
        self.act("keep_draft", request).map(drop)
    }

    fn undo(&mut self) -> Result<(), Problem> {
        if self.walk["can_undo"] != true {
            return self.take();
        }
        self.act("undo_reading", self.here()).map(drop)
    }

    fn put_back(&mut self) -> Result<(), Problem> {
        if self.walk["taken_back"].is_null() {
            return self.undo();
        }
        self.act("put_back", self.here()).map(drop)
    }

    fn strike(&mut self) -> Result<(), Problem> {
        let steps = self.walk["steps"].as_array().cloned().unwrap_or_default();
        let read: Vec<usize> = (0..steps.len()).filter(|at| !steps[*at]["text"].is_null()).collect();
        if read.is_empty() {
            return self.take();
        }
        let at = read[self.chance(read.len() as u64) as usize];
        let mut request = self.here();
        request["step"] = at.into();
        request["reason"] = format!("wrong edge {}", self.number()).into();
        self.act("strike_reading", request).map(drop)
    }

    fn skip(&mut self) -> Result<(), Problem> {
        if !self.at()["text"].is_null() {
            return self.take();
        }
        let mut request = self.here();
        request["step"] = self.walk["at"].clone();
        self.act("skip_step", request).map(drop)
    }

    fn read_floor(&mut self) -> Result<(), Problem> {
        let floor = self.floor()?;
        let next = &floor["next"];
        if next.is_null() {
            return self.act("add_pass", json!({ "floor": floor["floor"] })).map(drop);
        }
        let number = self.number();
        let mut request = json!({
            "floor": floor["floor"], "pass_no": next["pass_no"], "request_id": format!("floor {number}")
        });
        if floor["levelling"] == "straightedge" {
            let stations =
                floor["groups"].as_array().into_iter().flatten().filter_map(|group| group["stations"].as_array());
            let here = stations.flatten().find(|of| of["point"] == next["point"] && of["reversed"] == next["reversed"]);
            request["line"] = here.map(|station| station["line"].clone()).unwrap_or_default();
            request["reversed"] = next["reversed"].clone();
            request["text"] = format!("0.{number:06}").into();
            request["insist"] = true.into();
            return self.act("take_straightedge", request).map(drop);
        }
        request["point"] = next["point"].clone();
        request["tape"] = "mm".into();
        request["text"] = format!("1203.{number:06}").into();
        self.act("take_floor_reading", request).map(drop)
    }

    fn undo_floor(&mut self) -> Result<(), Problem> {
        let floor = self.floor()?;
        if floor["read"] != true {
            return self.read_floor();
        }
        let back = !floor["taken_back"].is_null() && self.chance(2) == 0;
        let verb = if back { "put_back_floor_reading" } else { "undo_floor_reading" };
        self.act(verb, json!({ "floor": floor["floor"] })).map(drop)
    }

    /// One of the car's two floors.
    fn floor(&mut self) -> Result<Value, Problem> {
        let which = self.chance(2) as usize;
        let floor = self.car["floors"][which]["floor"].clone();
        self.ask("open_floor", json!({ "floor": floor }))
    }

    fn correct(&mut self) -> Result<(), Problem> {
        let finished = self.car["snapshots"].as_array().and_then(|all| all.iter().find(|row| row["finished"] == true));
        let snapshot = finished.map(|row| row["snapshot"].clone()).unwrap_or_default();
        let book = self.ask("open_book", json!({ "snapshot": snapshot }))?;
        let readings = book["readings"].as_array().cloned().unwrap_or_default();
        let number = self.number();
        let at = self.chance(readings.len().max(1) as u64) as usize;
        let request = json!({
            "snapshot": snapshot, "reading": readings[at]["reading"], "change": "value",
            "text": format!("{}.{:06}", 640 + at, number % 1_000_000), "reason": format!("misread {number}"),
            "request_id": format!("correct {number}")
        });
        self.act("correct_reading", request).map(drop)
    }

    fn photograph(&mut self) -> Result<(), Problem> {
        let side = ["front", "right", "rear", "left"][self.chance(4) as usize];
        let mut request = self.here();
        request["side"] = side.into();
        request["data"] = self.number().into();
        self.act("add_photo", request).map(drop)
    }

    /// Work on the car is entered, withdrawn, or brought back.
    fn work_on_it(&mut self) -> Result<(), Problem> {
        let car = self.car["car"].clone();
        let number = self.number();
        let history = self.ask("open_history", json!({ "car": car, "only": ["work"], "after": 0 }))?;
        let entries = history["entries"].as_array().cloned().unwrap_or_default();
        let events: Vec<&Value> = entries.iter().filter(|entry| !entry["event"].is_null()).collect();
        if !events.is_empty() && self.chance(3) == 0 {
            let entry = events[self.chance(events.len() as u64) as usize];
            let verb = if entry["withdrawn"] == true { "bring_back_event" } else { "withdraw_event" };
            let event = entry["event"]["event"].clone();
            let request = json!({ "car": car, "event": event, "request_id": format!("event {number}") });
            return self.act(verb, request).map(drop);
        }
        let form = json!({
            "car": car, "event": null, "kind": "torque_check", "end": null, "date": "2031-04-15", "odometer": "",
            "what": format!("nuts {number}"), "note": "", "resets_settling": null
        });
        self.act("keep_event", json!({ "form": form, "request_id": format!("event {number}") })).map(drop)
    }

    fn fill_in(&mut self) -> Result<(), Problem> {
        let name = ["begin", "car"][self.chance(2) as usize];
        let text = match self.chance(5) {
            0 => Value::Null,
            _ => json!({ "label": format!("half {}", self.number()) }).to_string().into(),
        };
        self.act("keep_form", json!({ "name": name, "text": text })).map(drop)
    }
}

fn next(ids: &Cell<u128>) -> Uuid {
    ids.set(ids.get() + 1);
    Uuid::from_u128(ids.get())
}

fn moment(fresh_id: &dyn Fn() -> Uuid) -> Now<'_> {
    Now { utc_ms: 1_934_000_000_000, offset_minutes: 60, fresh_id }
}

/// One write a line, so that a reader sees whole lines only.
fn say(line: &str) {
    let mut out = stdout().lock();
    // A reader that is gone is no reason to stop.
    let _unheard = out.write_all(format!("{line}\n").as_bytes()).and_then(|()| out.flush());
}
