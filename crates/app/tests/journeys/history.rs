//! The history of a car: work kept, changed, withdrawn and brought back; the line of time; measuring like last year.

use crate::phone::{Phone, pickup, snapshot};
use crate::photos::{base64, png};
use serde_json::{Value, json};
use trueground_store::Stamp;

const COUPE: &str = include_str!("../../../../sample-data/settling-coupe.json");

fn coupe(phone: &mut Phone) -> Value {
    let garage = phone.ask("import_file", json!({"name": "coupe.json", "text": COUPE}));
    garage["cars"][0]["car"].clone()
}

fn history(phone: &mut Phone, car: &Value, only: Value, after: usize) -> Value {
    phone.ask("open_history", json!({"car": car, "only": only, "after": after}))
}

fn entries(view: &Value) -> &Vec<Value> {
    view["entries"].as_array().expect("entries")
}

fn form(car: &Value, kind: &str, date: &str) -> Value {
    json!({"car": car, "event": null, "kind": kind, "end": null, "date": date, "odometer": "", "what": "", "note": "",
        "resets_settling": null})
}

fn keep(phone: &mut Phone, form: Value, request: &str) -> Value {
    phone.ask("keep_event", json!({"form": form, "request_id": request}))
}

#[test]
fn the_line_of_time_of_the_settling_coupe() {
    let mut phone = Phone::new();
    let car = coupe(&mut phone);
    let view = history(&mut phone, &car, json!([]), 0);
    // One snapshot before the work, nine after it, and the work.
    assert_eq!((view["total"].as_u64(), entries(&view).len()), (Some(11), 11));
    let parts: Vec<&str> = entries(&view).iter().filter_map(|entry| entry["part"].as_str()).collect();
    assert_eq!(parts[9..], ["work", "snapshot"], "the work stands between the first two snapshots");
    assert_eq!(entries(&view)[9]["mark"], "settles_anew");
    let marks: Vec<&str> = entries(&view)[..9].iter().rev().filter_map(|entry| entry["mark"].as_str()).collect();
    let mut expected = ["measured"; 9];
    // Day 21 with a full tank, day 56 on soft rear tires.
    (expected[4], expected[7]) = ("other_load", "other_load");
    assert_eq!(marks, expected);
    assert_eq!(entries(&view)[10]["step"], Value::Null, "nothing lies before the first");
    // The simulated truth: lips 629.3/603.6 before and 611.4/572.5 after, so 17.9 and 31.1 lower; 2u is a few mm.
    let step = &entries(&view)[8]["step"];
    let size = |figure: usize| {
        step["figures"][figure]["size"].as_str().expect("a size").trim_end_matches(" mm").parse::<f64>().expect("mm")
    };
    assert!((size(0) - 17.9).abs() < 4.0 && (size(1) - 31.1).abs() < 4.0, "{step}");
    for (figure, words) in ["Front", "Rear"].into_iter().enumerate() {
        let figure = &step["figures"][figure];
        assert_eq!(
            (figure["words"].as_str(), figure["way"].as_str(), figure["verdict"].as_str()),
            (Some(words), Some("lower"), Some("changed"))
        );
    }
    let full_tank = &entries(&view)[4]["step"]["unequal"];
    assert!(full_tank.to_string().contains("Load was"), "{full_tank}");
    assert_eq!(view["last_year"], Value::Null);
}

#[test]
fn a_target_stands_on_the_day_it_was_kept() {
    let mut phone = Phone::new();
    let mut file: Value = serde_json::from_str(COUPE).expect("JSON");
    file["targets"] =
        json!([{"id": "t", "label": "Show height", "heights_mm": {"lip.FL": 600.0}, "since": "2031-06-01"}]);
    let garage = phone.ask("import_file", json!({"name": "coupe.json", "text": file.to_string()}));
    let view = history(&mut phone, &garage["cars"][0]["car"], json!(["target"]), 0);
    assert_eq!(
        (view["total"].as_u64(), entries(&view)[0]["title"].as_str()),
        (Some(1), Some("Target kept: Show height"))
    );
    assert_eq!((&entries(&view)[0]["day"], &entries(&view)[0]["mark"]), (&json!("1 June 2031"), &json!("target")));
}

#[test]
fn work_is_kept_changed_withdrawn_and_brought_back_across_restarts() {
    let mut phone = Phone::new();
    phone.restless = true;
    let car = phone.ask("add_car", pickup())["car"].clone();
    let mut leaves = form(&car, "leaves_out", "2031-04-12");
    (leaves["end"], leaves["odometer"]) = (json!("rear"), json!("61240"));
    leaves["note"] = json!("two of eight");
    let view = keep(&mut phone, leaves.clone(), "one");
    let entry = &entries(&view)[0];
    assert_eq!(entry["title"], "Leaves out, rear");
    assert_eq!(entry["lines"], json!(["two of eight", "61,240 km", "Springs settle anew from here."]));
    assert_eq!((&entry["mark"], &entry["event"]["can_undo"]), (&json!("settles_anew"), &json!(false)));
    assert_eq!(entries(&keep(&mut phone, leaves, "one")).len(), 1, "asked twice, kept once");

    let mut changed = entry["event"]["form"].clone();
    assert_eq!(changed["what"], "", "the kind's own words are not typed");
    (changed["odometer"], changed["resets_settling"]) = (json!("61.244"), json!(false));
    let refused = phone.refused("keep_event", json!({"form": changed, "request_id": "two"}));
    assert_eq!((refused.fields[0].field.as_str(), &refused.fields[0].proposals[0][..]), ("odometer", "61244"));
    changed["odometer"] = json!("61244");
    let view = keep(&mut phone, changed, "two");
    let entry = &entries(&view)[0];
    assert_eq!(entry["mark"], "work");
    let said = entry["event"]["changes"][0].as_str().expect("a change");
    assert!(
        said.ends_with("61,240 km \u{2192} 61,244 km; springs settle anew \u{2192} springs go on settling."),
        "{said}"
    );

    let event = entry["event"]["event"].clone();
    let about = |request: &str| json!({"car": car, "event": event, "request_id": request});
    let view = phone.ask("withdraw_event", about("three"));
    assert_eq!(
        (&entries(&view)[0]["withdrawn"], view["total"].as_u64()),
        (&json!(true), Some(1)),
        "it stays in the book"
    );
    let exported = phone.ask("export_car", json!({"car": car}));
    let file: Value = serde_json::from_str(exported["text"].as_str().expect("a file")).expect("JSON");
    assert_eq!(
        (&file["events"], file["event_changes"].as_array().map(Vec::len)),
        (&Value::Null, Some(3)),
        "but does not count"
    );
    let view = phone.ask("bring_back_event", about("four"));
    assert_eq!(entries(&view)[0]["withdrawn"], false);
    let view = phone.ask("bring_back_event", about("five"));
    assert_eq!(entries(&view)[0]["lines"][1], "61,240 km", "and the change is undone by the next one");
}

#[test]
fn a_form_says_everything_that_is_wrong_and_keeps_nothing() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup())["car"].clone();
    let mut wrong = form(&car, "", "2031-04-31");
    wrong["odometer"] = json!("far");
    let refused = phone.refused("keep_event", json!({"form": wrong, "request_id": "one"}));
    let fields: Vec<&str> = refused.fields.iter().map(|field| field.field.as_str()).collect();
    assert_eq!(fields, ["kind", "date", "odometer", "what"]);
    let empty = phone.refused("keep_event", json!({"form": form(&car, "note", "2031-04-12"), "request_id": "two"}));
    assert_eq!(empty.sentence, "The note is empty.");
    assert_eq!(history(&mut phone, &car, json!([]), 0)["total"], 0);
    let late = phone.refused("keep_event", json!({"form": form(&car, "tires", "2031-05-12"), "request_id": "three"}));
    assert_eq!(late.fields[0].field, "date", "what has not come yet was not done");
}

#[test]
fn the_printed_history_has_every_entry_and_strikes_what_was_withdrawn() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup())["car"].clone();
    for number in 0..45 {
        let mut note = form(&car, "note", "2031-04-12");
        note["note"] = json!(format!("<b>note {number}</b>"));
        keep(&mut phone, note, &format!("note {number}"));
    }
    let newest = entries(&history(&mut phone, &car, json!([]), 0))[0]["event"]["event"].clone();
    phone.ask("withdraw_event", json!({"car": car, "event": newest, "request_id": "off"}));
    let printed = phone.ask("print_history", json!({"car": car}));
    assert_eq!(printed["file_name"], "pickup-history-2031-04-15.html");
    let html = printed["html"].as_str().expect("a page");
    for number in 0..45 {
        assert!(
            html.contains(&format!("&lt;b&gt;note {number}&lt;/b&gt;")),
            "note {number}, with its brackets as typed"
        );
    }
    assert_eq!(html.matches("<s>").count(), 1);
    assert!(!html.contains("<script") && !html.contains("http"), "it stands alone");
}

#[test]
fn work_that_can_hurt_says_so_and_says_what_it_does() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup())["car"].clone();
    let view = history(&mut phone, &car, json!([]), 0);
    let choice = |kind: &str| {
        let found = view["kinds"].as_array().expect("kinds").iter().find(|choice| choice["kind"] == kind);
        found.unwrap_or_else(|| panic!("{kind} is offered")).clone()
    };
    for (kind, words) in [
        ("leaves_out", "Clamped leaves hold energy"),
        ("coils", "Never heat"),
        ("frame_work", "qualified person"),
        ("torque_check", "Never put any part of you under a car held by a jack"),
        ("other_springs", "brake lines"),
    ] {
        assert!(choice(kind)["caution"].as_str().expect("words").contains(words), "{kind}");
    }
    assert_eq!(choice("note")["caution"], "");
    assert_eq!(
        (&choice("eyes_reversed")["resets_settling"], &choice("tires")["resets_settling"]),
        (&json!(true), &json!(false))
    );
}

#[test]
fn body_remounted_stands_in_the_history_and_the_next_snapshot_cannot_be_compared() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    for _ in 0..2 {
        let mut form = snapshot(&car, &Value::Null, json!(["fender_lip"]), 1, 1);
        form["hubs"] = json!(false);
        let mut walk = phone.ask("begin_snapshot", form);
        for text in ["700", "702", "690", "691"] {
            walk = phone.take(&walk, text);
        }
        phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
        phone.days_later(3);
        phone.ask("body_remounted", json!({"car": car["car"]}));
        phone.days_later(3);
    }
    let view = history(&mut phone, &car["car"], json!([]), 0);
    let titles: Vec<&str> = entries(&view).iter().filter_map(|entry| entry["part"].as_str()).collect();
    assert_eq!(titles, ["work", "snapshot", "work", "snapshot"]);
    let why = entries(&view)[1]["step"]["why"].as_str().expect("a reason");
    assert_eq!(
        why,
        "The body was remounted on 18 Apr 2031: its points lie elsewhere since. Frame rails could be compared."
    );
    assert!(entries(&view)[1]["words"].as_str().expect("words").contains("cannot be compared"), "as text too");
}

#[test]
fn a_long_history_comes_in_stretches_that_leave_nothing_out() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup())["car"].clone();
    for number in 0..95 {
        let mut note = form(&car, "note", "2031-04-12");
        note["note"] = json!(format!("note {number}"));
        keep(&mut phone, note, &format!("note {number}"));
    }
    keep(&mut phone, form(&car, "tires", "2031-04-13"), "tires");
    let mut seen = Vec::new();
    loop {
        let view = history(&mut phone, &car, json!(["note"]), seen.len());
        assert_eq!(view["total"], 95);
        if entries(&view).is_empty() {
            break;
        }
        seen.extend(entries(&view).iter().map(|entry| entry["lines"][0].clone()));
    }
    let expected: Vec<Value> = (0..95).rev().map(|number| json!(format!("note {number}"))).collect();
    assert_eq!(seen, expected, "newest first");
    assert_eq!(
        history(&mut phone, &car, json!([]), 0)["parts"][0],
        json!({"part": "work", "words": "Work", "count": 1})
    );
}

#[test]
fn photos_stand_at_their_snapshot_and_one_taken_off_does_not() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let walk = phone.ask("begin_snapshot", snapshot(&car, &Value::Null, json!(["frame_rail"]), 1, 1));
    for side in ["left", "rear"] {
        let data = base64(&png(40, 30, side.as_bytes()));
        phone.ask("add_photo", json!({"snapshot": walk["snapshot"], "side": side, "data": data}));
    }
    let shown = |phone: &mut Phone| {
        let view = history(phone, &car["car"], json!([]), 0);
        entries(&view)[0]["photos"].as_array().expect("photos").clone()
    };
    let photos = shown(&mut phone);
    let alts: Vec<&str> = photos.iter().filter_map(|photo| photo["alt"].as_str()).collect();
    assert_eq!(alts, ["Rear of the car, 15 Apr 2031.", "Left side of the car, 15 Apr 2031."], "in walking order");
    phone.ask("take_off_photo", json!({"photo": photos[0]["photo"]}));
    assert_eq!(shown(&mut phone), photos[1..]);
}

/// Ten years of weekly snapshots, lips only: more than are worked out together.
#[test]
fn ten_years_of_weeks_are_all_compared_a_stretch_at_a_time() {
    let mut file: Value = serde_json::from_str(COUPE).expect("JSON");
    // 3 April 2021.
    let day = |week: u64| Stamp {
        utc_ms: 1_617_408_000_000 + i64::try_from(week).expect("few") * 7 * 86_400_000,
        offset_minutes: 0,
    };
    let reading =
        |place: &str, mm: u64| json!({"ref": place, "repeat": 1, "text": mm.to_string(), "unit": "mm", "value_mm": mm});
    file["events"] = json!([]);
    file["snapshots"] = (0..520_u64)
        .map(|week| {
            let readings = [("FL", 610), ("FR", 612), ("RL", 570), ("RR", 571)].map(|(corner, mm)| reading(&format!("lip.{corner}"), mm + week % 3));
            json!({"id": format!("w{week}"), "date": day(week).date(), "floor": file["floors"][0]["id"], "bounces": [{"bounce_id": format!("w{week}"), "readings": readings}]})
        })
        .collect();
    let mut phone = Phone::new();
    let garage = phone.ask("import_file", json!({"name": "weeks.json", "text": file.to_string()}));
    let car = garage["cars"][0]["car"].clone();
    let mut all = Vec::new();
    loop {
        let view = history(&mut phone, &car, json!(["snapshot"]), all.len());
        if entries(&view).is_empty() {
            break;
        }
        all.extend(entries(&view).clone());
    }
    assert_eq!(all.len(), 520);
    let (first, later) = all.split_last().expect("many");
    assert_eq!(first["step"], Value::Null);
    for entry in later {
        let figures = entry["step"]["figures"].as_array().map_or(0, Vec::len);
        assert_eq!((figures, &entry["step"]["why"]), (3, &Value::Null), "{}", entry["day"]);
        assert_ne!(entry["title"], "Finished.", "{} is worked out", entry["day"]);
    }
}

#[test]
fn same_as_last_year_fills_the_form_claims_nothing_and_says_what_changed_since() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let mut then = snapshot(&car, &Value::Null, json!(["frame_rail"]), 1, 1);
    (then["label"], then["hubs"]) = (json!("nose to the gate"), json!(false));
    then["pressures"] = json!({"FL": "205", "FR": "205", "RL": "215", "RR": "215"});
    let mut walk = phone.ask("begin_snapshot", then);
    for text in ["400", "404", "436", "436"] {
        walk = phone.take(&walk, text);
    }
    phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    let none = phone.refused("measure_again", json!({"car": car["car"], "snapshot": null}));
    assert_eq!(none.code, "none_last_year", "the one of today is not last year's");

    phone.days_later(200);
    let mut other = snapshot(&car, &Value::Null, json!(["fender_lip"]), 1, 1);
    other["hubs"] = json!(false);
    let mut walk_2 = phone.ask("begin_snapshot", other);
    for text in ["700", "702", "690", "691"] {
        walk_2 = phone.take(&walk_2, text);
    }
    phone.ask("finish_snapshot", json!({"snapshot": walk_2["snapshot"]}));
    keep(&mut phone, form(&car["car"], "tires", "2031-09-01"), "tires");
    phone.days_later(164);
    let view = history(&mut phone, &car["car"], json!([]), 0);
    assert_eq!(view["last_year"]["snapshot"], walk["snapshot"]);
    let again = phone.ask("measure_again", json!({"car": car["car"], "snapshot": null}));
    assert_eq!(again["words"], "15 Apr 2031, 364 days ago");
    assert_eq!((&again["form"]["kinds"], &again["form"]["pressures"]["RL"]), (&json!(["frame_rail"]), &json!("215")));
    assert_eq!(again["since"], json!(["Other tires on 1 Sept 2031."]));
    assert_eq!(again["then"]["lines"][4]["words"], "205 kPa front, 215 rear, cold");
    // Nothing confirmed: nothing is claimed.
    let mut form = again["form"].clone();
    form["confirmed"] = json!([]);
    let begun = phone.ask("begin_snapshot", form);
    let condition = phone.ask("open_condition", json!({"snapshot": begun["snapshot"]}));
    assert_eq!(condition["form"]["confirmed"], json!([]));
    let unfinished = phone.refused("measure_again", json!({"car": car["car"], "snapshot": begun["snapshot"]}));
    assert_eq!(unfinished.code, "cannot_be_like_it");
}
