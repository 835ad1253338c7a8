//! A booking sheet filled with a pencil is entered afterwards: its own time, cell by cell, in the order of the paper.

use crate::phone::{Phone, pickup, snapshot};
use serde_json::{Value, json};

/// The clock of these tests stands at 15 Apr 2031, 08:13 and some seconds.
fn form(car: &Value, date: &str, time: &str) -> Value {
    let mut form = snapshot(car, &Value::Null, json!(["fender_lip", "frame_rail"]), 2, 1);
    (form["from_sheet"], form["date"], form["time"]) = (json!(true), json!(date), json!(time));
    form
}

fn begun(phone: &mut Phone) -> Value {
    let car = phone.ask("add_car", pickup());
    phone.ask("begin_snapshot", form(&car, "12 Apr 2031", "9:30"))
}

fn cell(walk: &Value, step: usize, text: &str, request: &str) -> Value {
    json!({"snapshot": walk["snapshot"], "step": step, "text": text, "request_id": request})
}

/// Rows of a printed bounce: number and words.
fn printed(page: &str) -> Vec<(u64, String)> {
    let table = page.split("<section class=\"bounce").nth(1).unwrap().split("</table>").next().unwrap();
    let row = |row: &str| {
        let number = row.split("<td class=\"number\">").nth(1)?.split('<').next()?.parse().ok()?;
        Some((number, row.split("<th scope=\"row\">").nth(1)?.split('<').next()?.to_lowercase()))
    };
    table.split("<tr>").filter_map(row).collect()
}

#[test]
fn the_page_has_the_rows_of_the_paper_in_its_order() {
    let mut phone = Phone::new();
    let walk = begun(&mut phone);
    let paper = phone.ask("blank_sheet", json!({"car": walk["car"]}));
    let paper = printed(
        paper
            .as_object()
            .unwrap()
            .values()
            .find_map(|text| text.as_str().filter(|text| text.contains("<html")))
            .unwrap(),
    );
    let rows: Vec<(u64, String)> = walk["sheet"]["rows"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| (row["number"].as_u64().unwrap(), row["words"].as_str().unwrap().to_lowercase()))
        .collect();
    assert_eq!(rows, paper);
    assert_eq!(rows.len(), 12, "two points and the hub at four corners");
    // Two rounds: the second cell of a row lies a whole round further on.
    assert_eq!(walk["sheet"]["rows"][4]["steps"], json!([4, 16]));
}

#[test]
fn a_sheet_is_entered_with_its_own_time_over_any_number_of_restarts() {
    let mut phone = Phone::new();
    phone.restless = true;
    let mut walk = begun(&mut phone);
    assert_eq!(walk["sheet"]["read_at"], "12 Apr 2031, 09:30");
    assert_eq!(walk["date"], "2031-04-12");
    for (step, text) in ["640", "400", "330", "644", "404", "331"].iter().enumerate() {
        walk = phone.ask("enter_reading", cell(&walk, step, text, &format!("cell {step}")));
    }
    // Asked for twice, stored once; changed: the old one is taken back and stays in the book; emptied: not read.
    walk = phone.ask("enter_reading", cell(&walk, 5, "331", "cell 5"));
    assert_eq!(walk["read"], 6);
    walk = phone.ask("enter_reading", cell(&walk, 1, "402", "changed"));
    assert_eq!((&walk["steps"][1]["text"], &walk["read"]), (&json!("402"), &json!(6)));
    walk = phone.ask("enter_reading", cell(&walk, 5, " ", "emptied"));
    assert_eq!((&walk["steps"][5]["text"], &walk["read"]), (&Value::Null, &json!(5)));
    walk = phone.ask("put_back", json!({"snapshot": walk["snapshot"]}));
    assert_eq!(walk["steps"][5]["text"], "331");
    // One step back after the other, and again.
    for (cell, stands) in [(5, Value::Null), (1, Value::Null)] {
        walk = phone.ask("undo_reading", json!({"snapshot": walk["snapshot"]}));
        assert_eq!(walk["steps"][cell]["text"], stands);
    }
    for (cell, stands) in [(1, "402"), (5, "331")] {
        walk = phone.ask("put_back", json!({"snapshot": walk["snapshot"]}));
        assert_eq!(walk["steps"][cell]["text"], stands);
    }

    let opened = phone.ask("open_walk", json!({"snapshot": walk["snapshot"]}));
    assert_eq!(opened["sheet"], walk["sheet"], "it is known that it comes from a sheet");
    phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    let file = phone.ask("export_car", json!({"car": walk["car"]}));
    let file: Value = serde_json::from_str(file["text"].as_str().unwrap()).unwrap();
    assert_eq!(file["snapshots"][0]["date"], "2031-04-12");
    let readings = file["snapshots"][0]["bounces"][0]["readings"].as_array().unwrap();
    assert_eq!(readings.len(), 7, "the changed one is kept");
    for reading in readings {
        assert_eq!(reading["taken_at"], "2031-04-12T09:30:00+02:00");
        assert!(reading["entered_at"].as_str().unwrap().starts_with("2031-04-15T08:13"), "{reading}");
    }
    let taken_back: Vec<_> = readings.iter().filter(|reading| reading["struck"]["reason"] == "taken back").collect();
    assert_eq!((taken_back.len(), &taken_back[0]["text"]), (1, &json!("400")));

    let mut other = Phone::new();
    let text = file.to_string();
    let garage = other.ask("import_file", json!({"name": "car.json", "text": text}));
    let again = other.ask("export_car", json!({"car": garage["cars"][0]["car"]}));
    let again: Value = serde_json::from_str(again["text"].as_str().unwrap()).unwrap();
    assert_eq!(again["snapshots"][0]["bounces"], file["snapshots"][0]["bounces"], "through the file and back");
}

#[test]
fn hostile_text_in_any_cell_stores_nothing_and_leaves_what_stood_there() {
    let mut phone = Phone::new();
    let mut walk = begun(&mut phone);
    let count = walk["steps"].as_array().unwrap().len();
    for step in 0..count {
        walk = phone.ask("enter_reading", cell(&walk, step, "400", &format!("good {step}")));
    }
    for step in 0..count {
        for (nth, text) in
            ["abc", "10 7/0", "-400", "1e999", "NaN", "<script>", "\u{202e}400", "9".repeat(5000).as_str()]
                .iter()
                .enumerate()
        {
            let problem = phone.refused("enter_reading", cell(&walk, step, text, &format!("bad {step} {nth}")));
            assert_eq!((problem.fields[0].field.as_str(), problem.fields[0].typed.as_str()), ("text", *text));
        }
    }
    assert_eq!(phone.ask("open_walk", json!({"snapshot": walk["snapshot"]}))["steps"], walk["steps"]);
    let problem = phone.refused("enter_reading", cell(&walk, count, "400", "beyond"));
    assert_eq!(problem.code, "step_unknown");
}

#[test]
fn the_time_is_asked_once_and_has_come_but_may_lie_before_other_snapshots() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    for (date, time, field, says) in [
        ("16 Apr 2031", "9:30", "date", "16 Apr 2031 has not come yet: today is 15 Apr 2031."),
        ("15 Apr 2031", "23:59", "time", "23:59 today has not come yet: it is 08:13."),
        ("", "9:30", "date", "The day is missing."),
        ("12 Apr 2031", "", "time", "The time of day is missing."),
        ("30 Feb 2031", "9:30", "date", "30 Feb 2031 is no day of the calendar."),
    ] {
        let problem = phone.refused("begin_snapshot", form(&car, date, time));
        assert_eq!(problem.fields[0].field, field);
        assert!(problem.fields[0].sentence.contains(says), "{}", problem.fields[0].sentence);
    }
    for (date, text) in [("14 Apr 2031", "400"), ("3 Mar 2031", "398")] {
        let walk = phone.ask("begin_snapshot", form(&car, date, "10 am"));
        let walk = phone.ask("enter_reading", cell(&walk, 0, text, date));
        phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    }
    let view = phone.ask("open_car", json!({"car": car["car"]}));
    assert_eq!(view["snapshots"].as_array().unwrap().len(), 2);
}

#[test]
fn what_looks_like_a_slip_is_gathered_and_not_asked_one_by_one() {
    let mut phone = Phone::new();
    let mut walk = begun(&mut phone);
    let first = ["640", "400", "330", "644", "404", "331", "690", "436", "340", "692", "436", "341"];
    for (step, text) in first.iter().chain(&first).enumerate() {
        // A rail in the second round an inch off; nothing else differs.
        let text = if step == 16 { "429.4" } else { text };
        walk = phone.ask("enter_reading", cell(&walk, step, text, &format!("cell {step}")));
    }
    let slips = phone.ask("check_sheet", json!({"snapshot": walk["snapshot"]}));
    let slips = slips["slips"].as_array().unwrap();
    assert_eq!(slips.len(), 1, "{slips:?}");
    assert_eq!((&slips[0]["step"], &slips[0]["from"]), (&json!(16), &json!("repeats")));
    assert_eq!(slips[0]["rounds"], json!([1, 2]));
    walk = phone.ask("enter_reading", cell(&walk, 16, "404", "changed"));
    let slips = phone.ask("check_sheet", json!({"snapshot": walk["snapshot"]}));
    assert_eq!(slips["slips"], json!([]));
}
