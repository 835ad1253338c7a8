//! Half-typed text belongs to its step: it waits there when the step is skipped or left, also across a restart.

use crate::phone::{Phone, pickup, snapshot};
use serde_json::{Value, json};

struct Walking {
    phone: Phone,
    walk: Value,
}

impl Walking {
    fn begun() -> Self {
        let mut phone = Phone::new();
        phone.restless = true;
        let car = phone.ask("add_car", pickup());
        let mut form = snapshot(&car, &Value::Null, json!(["frame_rail"]), 1, 1);
        form["hubs"] = json!(false);
        let walk = phone.ask("begin_snapshot", form);
        Self { phone, walk }
    }

    fn ask(&mut self, verb: &str, mut request: Value) -> Value {
        request["snapshot"] = self.walk["snapshot"].clone();
        self.phone.ask(verb, request)
    }

    fn half_type(&mut self, text: &str) {
        let step = self.walk["at"].clone();
        self.ask("keep_draft", json!({"step": step, "text": text}));
    }

    fn does(&mut self, verb: &str, request: Value) -> (u64, String) {
        self.walk = self.ask(verb, request);
        (self.walk["at"].as_u64().unwrap(), self.walk["draft"].as_str().unwrap().to_owned())
    }

    fn take(&mut self, text: &str) -> (u64, String) {
        self.walk = self.phone.take(&self.walk, text);
        self.does("open_walk", json!({}))
    }
}

fn at(step: u64, draft: &str) -> (u64, String) {
    (step, draft.to_owned())
}

#[test]
fn a_skipped_step_keeps_what_was_half_typed() {
    let mut walking = Walking::begun();
    walking.half_type("40");
    assert_eq!(walking.does("skip_step", json!({"step": 0})), at(1, ""));
    assert_eq!(walking.take("404"), at(2, ""));
    assert_eq!(walking.does("go_to_step", json!({"step": 0})), at(0, "40"));
    assert_eq!(walking.does("open_walk", json!({})), at(0, "40"));
    assert_eq!(walking.take("400"), at(2, ""), "taken: nothing waits any more");
    assert_eq!(walking.does("undo_reading", json!({})), at(0, ""));
}

#[test]
fn every_step_that_is_left_keeps_its_own() {
    let mut walking = Walking::begun();
    walking.half_type("40");
    assert_eq!(walking.does("go_to_step", json!({"step": 2})), at(2, ""));
    walking.half_type("43");
    assert_eq!(walking.does("go_to_step", json!({"step": 0})), at(0, "40"));
    assert_eq!(walking.take("400"), at(1, ""));
    assert_eq!(walking.take("404"), at(2, "43"), "the next step is the one that was half typed");
    assert_eq!(walking.does("undo_reading", json!({})), at(1, ""));
    assert_eq!(walking.take("404"), at(2, "43"));
}

#[test]
fn what_was_erased_stays_erased() {
    let mut walking = Walking::begun();
    walking.half_type("40");
    walking.does("skip_step", json!({"step": 0}));
    walking.does("go_to_step", json!({"step": 0}));
    walking.half_type("");
    assert_eq!(walking.does("open_walk", json!({})), at(0, ""));
    walking.does("go_to_step", json!({"step": 1}));
    assert_eq!(walking.does("go_to_step", json!({"step": 0})), at(0, ""));
}
