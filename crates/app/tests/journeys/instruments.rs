//! Tapes and gauges of the garage: added, changed, chosen for a snapshot, and what they do to its result.

use crate::phone::{Phone, pickup, snapshot};
use serde_json::{Value, json};

fn tape(label: &str, more: &Value) -> Value {
    let mut form = json!({"kind": "tape", "label": label, "step": "mm", "read_from": "end"});
    for (key, value) in more.as_object().unwrap() {
        form[key] = value.clone();
    }
    form
}

fn gauge(more: &Value) -> Value {
    let mut form = tape("Gauge", more);
    form["kind"] = json!("angle_gauge");
    form
}

/// A walk of the rails, one round, one bounce, with that tape, at that many kilometres: each its own stance.
fn walked(phone: &mut Phone, car: &Value, own_tape: &Value, texts: [&str; 4], odometer: &str) -> (Value, Value) {
    let mut form = snapshot(car, &Value::Null, json!(["frame_rail"]), 1, 1);
    form["hubs"] = json!(false);
    form["own_tape"] = own_tape.clone();
    form["odometer"] = json!(odometer);
    let mut walk = phone.ask("begin_snapshot", form);
    for text in texts {
        walk = phone.take(&walk, text);
    }
    let after = phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    (walk, after)
}

fn front_mean(phone: &mut Phone, snapshot: &Value) -> f64 {
    let result = phone.ask("see_result", json!({"snapshot": snapshot}));
    result["line"]["front_mean_mm"]["value"].as_f64().unwrap_or_else(|| panic!("{result:#}"))
}

#[test]
fn a_tape_read_from_its_one_inch_mark_keeps_what_was_typed_and_gives_an_inch_less() {
    let mut phone = Phone::new();
    phone.restless = true;
    let car = phone.ask("add_car", pickup());
    let kept = phone.ask(
        "keep_instrument",
        tape("Burnt tape", &json!({"step": "sixteenths", "read_from": "mark", "mark": "1", "class": "II"})),
    );
    let row = &kept["tapes"][0];
    assert_eq!((&row["label"], &row["what"]), (&json!("Burnt tape"), &json!("inches in sixteenths, class II")));
    assert_eq!(
        row["state"],
        "Read from its 1 in mark: that much is taken off. Not checked: heights carry ±1 mm more, differences none."
    );

    let (plain, _) = walked(&mut phone, &car, &Value::Null, ["400", "404", "432", "436"], "1");
    // 441/16 in and so on: the same heights and an inch more, within half a sixteenth.
    let texts = ["16 3/4", "16 29/32", "18", "18 5/32"];
    let (burnt, car) = walked(&mut phone, &car, &kept["kept"], texts, "2");
    assert_eq!((&burnt["tape"], &burnt["steps"][0]["text"]), (&json!("in"), &json!("16 3/4")));
    let typed_mm = (16.75 + 16.906_25) / 2.0 * 25.4;
    let plain_mean = front_mean(&mut phone, &plain["snapshot"]);
    let burnt_mean = front_mean(&mut phone, &burnt["snapshot"]);
    assert!((burnt_mean - plain_mean - (typed_mm - 25.4 - 402.0)).abs() < 0.1, "{burnt_mean} after {plain_mean}");
    assert_eq!(car["begin"]["own_tape"], kept["kept"], "same as last time");
}

#[test]
fn a_later_check_moves_no_snapshot_that_was_read_before() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let first = phone.ask("keep_instrument", tape("Shop tape", &json!({})))["kept"].clone();
    let (walk, _) = walked(&mut phone, &car, &first, ["400", "404", "432", "436"], "1");
    let before = front_mean(&mut phone, &walk["snapshot"]);
    let change =
        tape("Shop tape", &json!({"instrument": first, "check_read": "503", "check_true": "500", "check_band": "1"}));
    let list = phone.ask("keep_instrument", change.clone());
    assert_eq!(list["tapes"].as_array().unwrap().len(), 1, "the earlier entry is replaced in the list");
    assert_eq!(list["tapes"][0]["state"], "Checked 15 Apr 2031: says 3 mm too much, ±1.");
    assert_ne!(list["kept"], first);
    assert!((front_mean(&mut phone, &walk["snapshot"]) - before).abs() < 1e-9);
    assert_eq!(phone.refused("keep_instrument", change).code, "not_found", "what was replaced is not changed again");

    let page = phone.ask("open_car", json!({"car": car["car"]}));
    assert_eq!(page["begin"]["own_tape"], list["kept"], "last time's tape, as it is known now");
    let (again, _) = walked(&mut phone, &car, &list["kept"], ["400", "404", "432", "436"], "2");
    // The newer entry's 3 mm; what the two snapshots share of the car's roll share moves tenths.
    let after = front_mean(&mut phone, &again["snapshot"]);
    assert!((before - after - 3.0).abs() < 0.3, "{before} then {after}");
}

#[test]
fn a_car_takes_its_tapes_along_and_they_merge_by_id() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    phone.ask("keep_instrument", tape("Not used", &json!({})));
    let used = phone.ask("keep_instrument", tape("Used", &json!({"hook": "1.5", "hook_band": "0.4"})))["kept"].clone();
    let (walk, _) = walked(&mut phone, &car, &used, ["400", "404", "432", "436"], "1");
    let mean = front_mean(&mut phone, &walk["snapshot"]);
    let exported = phone.ask("export_car", json!({"car": car["car"]}));
    let file: Value = serde_json::from_str(exported["text"].as_str().unwrap()).unwrap();
    let entries = file["instruments"].as_array().unwrap();
    assert_eq!((entries.len(), &entries[0]["id"], &entries[0]["label"]), (1, &used, &json!("Used")));
    assert_eq!(entries[0]["hook_mm"], json!({"value": 1.5, "u": 0.2}));

    let garage = phone.ask("import_file", json!({"name": "same.json", "text": exported["text"]}));
    assert_eq!(garage["notices"], json!([]), "reading its own file in changes nothing");
    let mut other = Phone::new();
    other.ask("import_file", json!({"name": "other.json", "text": exported["text"]}));
    let list = other.ask("open_instruments", json!({}));
    assert_eq!((list["tapes"].as_array().unwrap().len(), &list["tapes"][0]["instrument"]), (1, &used));
    assert!((front_mean(&mut other, &walk["snapshot"]) - mean).abs() < 1e-9);
    let again = other.ask("export_car", json!({"car": car["car"]}));
    assert_eq!(serde_json::from_str::<Value>(again["text"].as_str().unwrap()).unwrap(), file);
}

#[test]
fn a_gauge_says_its_zero_and_a_tape_put_away_is_not_offered() {
    let mut phone = Phone::new();
    let form = gauge(&json!({"gauge_step": "0.1", "check_straight": "0.9", "check_reversed": "-0.5"}));
    let list = phone.ask("keep_instrument", form);
    // Half of 0.9 − 0.5; ±2·√((0.07² + 0.1²/12)/2) = ±0.107.
    assert_eq!(list["gauges"][0]["state"], "Turned end for end 15 Apr 2031: shows 0.20° too much, ±0.11°.");
    let list = phone.ask("put_away_instrument", json!({"instrument": list["kept"]}));
    assert_eq!(list["gauges"], json!([]));
    let car = phone.ask("add_car", pickup());
    let mut form = snapshot(&car, &Value::Null, json!(["frame_rail"]), 1, 1);
    form["own_tape"] = json!("nobody's");
    assert_eq!(phone.refused("begin_snapshot", form).code, "not_found");
}

#[test]
fn a_reading_before_the_mark_or_past_the_end_is_refused_and_another_tape_may_take_one() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let burnt = phone
        .ask("keep_instrument", tape("Burnt", &json!({"read_from": "mark", "mark": "100", "length": "410"})))["kept"]
        .clone();
    let other = phone.ask("keep_instrument", tape("Other", &json!({})))["kept"].clone();
    let mut form = snapshot(&car, &Value::Null, json!(["frame_rail"]), 1, 1);
    form["own_tape"] = burnt;
    let walk = phone.ask("begin_snapshot", form);
    let take = |text: &str, with: Option<&Value>| {
        let mut request = json!({"snapshot": walk["snapshot"], "step": 0, "text": text, "request_id": text});
        if let Some(with) = with {
            request["instrument"] = with.clone();
        }
        request
    };
    let problem = phone.refused("take_reading", take("99", None));
    assert_eq!((problem.fields[0].field.as_str(), problem.fields[0].typed.as_str()), ("text", "99"));
    assert!(problem.sentence.contains("before the mark at 100 mm"), "{problem:?}");
    assert!(phone.refused("take_reading", take("411", None)).sentence.contains("past the end of the tape, 410 mm"));
    let walk = phone.ask("take_reading", take("411", Some(&other)));
    assert_eq!(walk["read"], 1);
}

/// Every field of the form, with what no field means.
#[test]
fn nonsense_in_any_field_stands_beside_it_and_nothing_is_kept() {
    let mut phone = Phone::new();
    let check = json!({"check_read": "501", "check_true": "500"});
    let hostile = ["NaN", "1e999", "-", "\u{202e}12", "23 5/12", "99999999999999999999", "ell", "\0", "12 apples"];
    let rows: &[(&str, Value)] = &[
        ("length", json!({})),
        ("mark", json!({"read_from": "mark"})),
        ("hook", json!({})),
        ("hook_band", json!({})),
        ("check_read", check.clone()),
        ("check_true", check.clone()),
        ("check_band", check.clone()),
    ];
    for (field, with) in rows {
        for text in hostile {
            let mut form = tape("Tape", with);
            form[*field] = json!(text);
            let problem = phone.refused("keep_instrument", form);
            let named = problem.fields.iter().find(|problem| problem.field == *field);
            let named = named.unwrap_or_else(|| panic!("{field} {text:?}: {problem:?}"));
            assert_eq!(named.typed, text, "{field}");
        }
    }
    for field in ["gauge_step", "gauge_band", "check_straight", "check_reversed"] {
        for text in hostile {
            let mut form = gauge(&json!({"gauge_step": "0.1", "check_straight": "1", "check_reversed": "1"}));
            form[field] = json!(text);
            let problem = phone.refused("keep_instrument", form);
            assert!(
                problem.fields.iter().any(|problem| problem.field == field && problem.typed == text),
                "{field} {text:?}: {problem:?}"
            );
        }
    }
    let refused = |phone: &mut Phone, form: Value, field: &str| {
        let problem = phone.refused("keep_instrument", form);
        assert!(problem.fields.iter().any(|problem| problem.field == field), "{field}: {problem:?}");
    };
    refused(&mut phone, tape("", &json!({})), "label");
    refused(&mut phone, tape(&"x".repeat(61), &json!({})), "label");
    refused(&mut phone, tape("Tape", &json!({"read_from": "mark"})), "mark");
    refused(&mut phone, tape("Tape", &json!({"read_from": "mark", "mark": "600", "length": "500"})), "mark");
    refused(&mut phone, tape("Tape", &json!({"hook": "25.4"})), "hook");
    refused(&mut phone, tape("Tape", &json!({"hook": "1", "hook_band": "0"})), "hook_band");
    refused(&mut phone, tape("Tape", &json!({"check_read": "525.4", "check_true": "500"})), "check_read");
    refused(&mut phone, tape("Tape", &json!({"check_read": "501"})), "check_true");
    refused(
        &mut phone,
        tape("Tape", &json!({"check_read": "501", "check_true": "500", "check_date": "2031-02-30"})),
        "check_date",
    );
    refused(
        &mut phone,
        tape("Tape", &json!({"check_read": "501", "check_true": "500", "check_date": "soon"})),
        "check_date",
    );
    refused(
        &mut phone,
        tape("Tape", &json!({"check_read": "501", "check_true": "500", "check_against": "y".repeat(70)})),
        "check_against",
    );
    refused(&mut phone, gauge(&json!({"gauge_step": "0"})), "gauge_step");
    refused(
        &mut phone,
        gauge(&json!({"gauge_step": "0.1", "check_straight": "20", "check_reversed": "20"})),
        "check_reversed",
    );
    refused(&mut phone, gauge(&json!({"gauge_step": "0.1", "check_straight": "2"})), "check_reversed");
    let list = phone.ask("open_instruments", json!({}));
    assert_eq!((&list["tapes"], &list["gauges"]), (&json!([]), &json!([])));
}
