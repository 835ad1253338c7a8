//! Readings with two tapes are held against each other without what each tape is known to say too much. Sums made by hand.

use crate::phone::{Phone, pickup, snapshot};
use serde_json::{Value, json};

struct Yard {
    phone: Phone,
    car: Value,
    floor: Value,
    /// In mm, read from its mark at 25.4 mm.
    burnt: Value,
}

impl Yard {
    fn new() -> Self {
        let mut phone = Phone::new();
        let car = phone.ask("add_car", pickup());
        let form =
            json!({"car": car["car"], "label": "Yard", "levelling": "not_levelled", "flat_to": "", "tape": "mm"});
        let floor = phone.ask("add_floor", form)["floor"].clone();
        let form =
            json!({"kind": "tape", "label": "Burnt tape", "step": "half_mm", "read_from": "mark", "mark": "25.4"});
        let burnt = phone.ask("keep_instrument", form)["kept"].clone();
        Self { phone, car, floor, burnt }
    }

    fn begin(&mut self, own_tape: &Value, rounds: u32) -> Value {
        let mut form = snapshot(&self.car, &self.floor, json!(["frame_rail"]), rounds, 1);
        form["hubs"] = json!(false);
        form["own_tape"] = own_tape.clone();
        self.phone.ask("begin_snapshot", form)
    }

    /// A finished snapshot of four rails that asked nothing.
    fn finished(&mut self, own_tape: &Value, texts: [&str; 4]) {
        let walk = self.quiet(own_tape, texts);
        self.phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    }

    fn quiet(&mut self, own_tape: &Value, texts: [&str; 4]) -> Value {
        let mut walk = self.begin(own_tape, 1);
        for text in texts {
            walk = self.phone.take(&walk, text);
            assert_eq!((&walk["differs"], &walk["note"]), (&Value::Null, &json!("")), "{text}");
        }
        walk
    }

    fn take_with(&mut self, walk: &Value, step: usize, text: &str, tape: &Value) -> Value {
        let request = format!("with {step} {text}");
        let snapshot = &walk["snapshot"];
        self.phone.ask(
            "take_reading",
            json!({"snapshot": snapshot, "step": step, "text": text, "instrument": tape, "request_id": request}),
        )
    }
}

/// 400 + 25.4 = 425.4 and so on, read to the half millimetre.
const BURNT: [&str; 4] = ["425.5", "429.5", "461.5", "475.5"];
const PLAIN: [&str; 4] = ["400", "404", "436", "450"];

#[test]
fn a_tape_declared_to_be_read_from_its_one_inch_mark_is_no_change_since_the_last_snapshot() {
    let mut yard = Yard::new();
    let burnt = yard.burnt.clone();
    yard.finished(&Value::Null, PLAIN);
    yard.finished(&burnt, BURNT);
    yard.quiet(&Value::Null, PLAIN);
}

#[test]
fn an_inch_too_much_on_a_tape_of_which_nothing_is_said_is_asked_about() {
    let mut yard = Yard::new();
    yard.finished(&Value::Null, PLAIN);
    let walk = yard.begin(&Value::Null, 1);
    let walk = yard.phone.take(&walk, BURNT[0]);
    assert_eq!(walk["differs"]["from"], "last_snapshot");
    assert_eq!(walk["differs"]["printed"], json!(["400", "425.5"]));
}

#[test]
fn a_slip_with_the_declared_tape_is_asked_about_in_its_own_numbers() {
    let mut yard = Yard::new();
    let burnt = yard.burnt.clone();
    yard.finished(&Value::Null, PLAIN);
    let walk = yard.begin(&burnt, 1);
    // An inch more again: 400 + 25.4 + 25.4 = 450.8.
    let walk = yard.phone.take(&walk, "451");
    assert_eq!(walk["differs"]["sentence"], "An inch more than on 15 Apr 2031. Read it once more?");
    assert_eq!(walk["differs"]["printed"], json!(["425.4", "451"]), "what this tape would have said, and said");
}

#[test]
fn a_repeat_with_the_other_tape_is_no_slip_and_one_that_is_says_by_how_much() {
    let mut yard = Yard::new();
    let burnt = yard.burnt.clone();
    let mut walk = yard.begin(&Value::Null, 2);
    for text in PLAIN {
        walk = yard.phone.take(&walk, text);
    }
    walk = yard.take_with(&walk, 4, "425.5", &burnt);
    assert_eq!(walk["differs"], Value::Null);
    assert_eq!((&walk["steps"][4]["text"], &walk["steps"][4]["printed"]), (&json!("425.5"), &json!("425.5")));
    // 440 − 25.4 = 414.6, which is 10.6 more than 404.
    walk = yard.take_with(&walk, 5, "440", &burnt);
    assert_eq!(walk["differs"]["sentence"], "These two differ by 11 mm. Read it once more?");
    assert_eq!(walk["differs"]["printed"], json!(["429.4", "440"]));
}

#[test]
fn what_is_read_between_the_lines_is_printed_as_it_was_read() {
    for (tape, text, printed) in [
        ("mm", "403.5", "403.5"),
        ("mm", "403", "403"),
        ("mm", "15 7/16 in", "392"),
        ("cm", "40.35", "40.35"),
        ("in", "15 15/32", "15 15/32"),
        ("in", "15.5", "15 1/2"),
    ] {
        let mut phone = Phone::new();
        let car = phone.ask("add_car", pickup());
        let mut form = snapshot(&car, &Value::Null, json!(["frame_rail"]), 1, 1);
        form["tape"] = json!(tape);
        let walk = phone.ask("begin_snapshot", form);
        let walk = phone.take(&walk, text);
        assert_eq!(walk["steps"][0]["printed"], printed, "{tape} {text}");
    }
}
