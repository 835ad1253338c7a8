//! The four tapes: each reads its own bare number, prints in its own division, and is written down with it.

use crate::phone::{Phone, pickup, snapshot};
use serde_json::{Value, json};

fn begun(phone: &mut Phone, tape: &str) -> (Value, Value) {
    let car = phone.ask("add_car", pickup());
    let mut form = snapshot(&car, &Value::Null, json!(["frame_rail"]), 1, 1);
    form["hubs"] = json!(false);
    form["tape"] = json!(tape);
    let walk = phone.ask("begin_snapshot", form);
    (car, walk)
}

/// 15 15/32 in = 495/32 · 25.4 = 392.90625 mm; 39.3 cm = 393 mm; 15 7/16 in = 247/16 · 25.4 = 392.1125 mm.
#[test]
fn a_bare_number_is_the_tapes_and_prints_as_the_tape_is_divided() {
    for (tape, text, mm, printed, other) in [
        ("in", "15 7/16", 392.1125, "15 7/16", "392 mm"),
        ("in32", "15 15/32", 392.906_25, "15 15/32", "393 mm"),
        ("mm", "393", 393.0, "393", "15 1/2 in"),
        ("cm", "39.3", 393.0, "39.3", "15 1/2 in"),
        ("cm", "39,3", 393.0, "39.3", "15 1/2 in"),
        ("in32", "39.3 cm", 393.0, "15 15/32", "393 mm"),
    ] {
        let mut phone = Phone::new();
        let (_, walk) = begun(&mut phone, tape);
        let read = phone.ask("read_length", json!({"text": text, "tape": tape}));
        assert_eq!(read["other"], other, "{tape} {text}");
        let walk = phone.take(&walk, text);
        let step = &walk["steps"][0];
        assert_eq!((&step["text"], &step["printed"]), (&json!(text), &json!(printed)), "{tape}");
        assert!((step["value"].as_f64().unwrap() - mm).abs() < 1e-9, "{tape}: {}", step["value"]);
        assert_eq!(walk["tape"], tape);
    }
}

#[test]
fn a_coarser_tape_is_written_down_with_the_car_and_a_finer_one_is_not() {
    // pickup() was measured in mm.
    for (tape, unit, den) in [("in", "in", json!(16)), ("in32", "mm", Value::Null), ("cm", "mm", Value::Null)] {
        let mut phone = Phone::new();
        let (car, _) = begun(&mut phone, tape);
        let exported = phone.ask("export_car", json!({"car": car["car"]}));
        let file: Value = serde_json::from_str(exported["text"].as_str().unwrap()).unwrap();
        let written = &file["instrument"]["tape"];
        assert_eq!((&written["unit"], &written["den"]), (&json!(unit), &den), "{tape}");
    }
}
