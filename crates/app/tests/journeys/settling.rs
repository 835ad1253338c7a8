//! The Settling tab of the sample coupe: all ten weeks, cut at a day, and without anything to tell.

use crate::phone::Phone;
use serde_json::{Value, json};

const COUPE: &str = include_str!("../../../../sample-data/settling-coupe.json");

/// The coupe as it was so many days after the work, in a garage of its own.
fn coupe(until: &str) -> (Phone, Value) {
    coupe_with(|file| {
        let snapshots = file["snapshots"].as_array_mut().unwrap();
        snapshots.retain(|snapshot| snapshot["date"].as_str().unwrap() <= until);
    })
}

fn coupe_with(change: impl FnOnce(&mut Value)) -> (Phone, Value) {
    let mut phone = Phone::new();
    let mut file: Value = serde_json::from_str(COUPE).unwrap();
    change(&mut file);
    let garage = phone.ask("import_file", json!({"name": "coupe.json", "text": file.to_string()}));
    let car = garage["cars"][0]["car"].clone();
    (phone, car)
}

fn end<'v>(view: &'v Value, end: &str) -> &'v Value {
    view["ends"].as_array().unwrap().iter().find(|one| one["end"] == end).unwrap()
}

fn point<'v>(view: &'v Value, of: &str, day: f64) -> &'v Value {
    end(view, of)["points"].as_array().unwrap().iter().find(|point| point["at"] == day).unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

#[test]
fn ten_weeks_have_settled_and_rest_where_the_truth_is() {
    let (mut phone, car) = coupe("2031-12-31");
    let view = phone.ask("see_settling", json!({"car": car}));
    assert_eq!(
        (&view["word"], &view["dates"], &view["counted"]),
        (&json!("settled"), &json!("3 May to 12 July"), &json!("9 days"))
    );
    assert_eq!(
        view["headline"],
        format!("Settled since {}.", view["settled"]["words"].as_str().unwrap().trim_start_matches("settled, "))
    );
    // The simulator's lip means of day 70, after which hardly anything comes.
    for (of, truth) in [("front", 597.0), ("rear", 552.9)] {
        let rest = &end(&view, of)["rest_mm"];
        let off = (number(&rest["value"]) - truth).abs();
        assert!(off <= 2.0 * number(&rest["u"]), "{of}: {rest} is {off} off");
        let left = &end(&view, of)["remaining_mm"];
        assert!(number(&left["value"]).abs() < 2.0, "{left}");
    }
    assert!(
        view["notes"].as_array().unwrap().iter().any(|note| note.as_str().unwrap().contains("Runner-up: ")),
        "{}",
        view["notes"]
    );
    assert!(
        view["text"].as_str().unwrap().contains("Hollow: day 21, full tank; day 56, soft tires."),
        "{}",
        view["text"]
    );
}

#[test]
fn a_full_tank_and_soft_tires_are_named_and_taken_out_and_the_days_count() {
    let (mut phone, car) = coupe("2031-12-31");
    let view = phone.ask("see_settling", json!({"car": car}));
    // The simulator put the tank's 22 kg 6 mm and the soft tires 2 mm below the settling.
    for (day, cause, low_mm) in [(21.0, "full tank", 6.0), (56.0, "soft tires", 2.0)] {
        let rear = point(&view, "rear", day);
        assert_eq!((&rear["cause"], &rear["counts"]), (&json!(cause), &json!(true)));
        let low = number(&rear["height_mm"]) - number(&rear["stood_mm"]);
        assert!((low - low_mm).abs() < 1.5, "day {day}: {low}");
    }
    let usual = point(&view, "rear", 14.0);
    assert_eq!((&usual["cause"], &usual["stood_mm"]), (&json!(""), &Value::Null));
    let row = view["days"].as_array().unwrap().iter().find(|day| day["at_words"] == "day 21").unwrap();
    assert_eq!(
        row["taken_out"],
        "Fuel tank full instead of half, 22 kg: it stood 1 mm higher at the front, 7 mm lower at the rear. That is taken out."
    );
    let opened = phone.ask("see_result", json!({"snapshot": row["snapshot"]}));
    assert_eq!(opened["date"], "2031-05-24");
}

#[test]
fn a_week_shows_points_and_the_day_to_measure_next_and_no_curve() {
    let (mut phone, car) = coupe("2031-05-10");
    let view = phone.ask("see_settling", json!({"car": car}));
    assert_eq!(
        (&view["headline"], &view["detail"]),
        (&json!("Still settling."), &json!("Front 6 mm down in a week, rear 4."))
    );
    assert_eq!((&view["next_date"], &view["settled"]), (&json!("2031-05-17"), &Value::Null));
    assert_eq!(view["no_curve"], "It takes five days of measuring over about three weeks.");
    for of in ["front", "rear"] {
        let end = end(&view, of);
        assert_eq!(end["points"].as_array().unwrap().len(), 3);
        assert_eq!((&end["word"], &end["curve"], &end["rest_mm"]), (&json!("cant_tell"), &json!([]), &Value::Null));
    }
    assert!(number(&view["until"]) >= 2.0 * number(&view["last"]), "there is room for what is not known");
}

#[test]
fn without_a_snapshot_since_the_work_it_says_so_and_names_the_work() {
    let (mut phone, car) = coupe("2031-05-02");
    let view = phone.ask("see_settling", json!({"car": car}));
    assert_eq!((&view["word"], &view["ends"], &view["days"]), (&json!("cant_tell"), &json!([]), &json!([])));
    let detail = view["detail"].as_str().unwrap();
    assert!(detail.starts_with("No snapshot since the work on 3 May: "), "{detail}");
    let mut empty = Phone::new();
    let garage = empty.ask(
        "import_file",
        json!({"name": "new.json", "text": include_str!("../../../../sample-data/blank-starter.json")}),
    );
    let view = empty.ask("see_settling", json!({"car": garage["cars"][0]["car"]}));
    assert!(view["detail"].as_str().unwrap().starts_with("No snapshot yet"), "{}", view["detail"]);
}

#[test]
fn a_day_whose_marks_were_read_wrong_is_left_out_and_named() {
    let (mut phone, car) = coupe_with(|file| {
        let snapshots = file["snapshots"].as_array_mut().unwrap();
        let day = snapshots.iter_mut().find(|snapshot| snapshot["date"] == "2031-06-02").unwrap();
        for bounce in day["bounces"].as_array_mut().unwrap() {
            for reading in bounce["readings"].as_array_mut().unwrap() {
                let point = reading["ref"].as_str().unwrap().to_owned();
                if point.starts_with("lip.R") {
                    let raised = number(&reading["value_mm"]) + 25.0;
                    reading["value_mm"] = json!(raised);
                    reading["text"] = json!(format!("{raised}"));
                }
            }
        }
    });
    let view = phone.ask("see_settling", json!({"car": car}));
    assert_eq!(point(&view, "rear", 30.0)["counts"], false);
    assert_eq!(point(&view, "front", 30.0)["counts"], true);
    let row = view["days"].as_array().unwrap().iter().find(|day| day["at_words"] == "day 30").unwrap();
    let said = row["left_out"].as_str().unwrap();
    assert!(said.starts_with("The rear does not fit the other days"), "{said}");
    assert!(
        view["notes"].as_array().unwrap().iter().any(|note| note.as_str().unwrap().starts_with("2 June: The rear")),
        "{}",
        view["notes"]
    );
}
