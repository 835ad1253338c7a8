//! Two stances against each other: which two the app chooses, what it says of them, and what it says where there are no two.

use crate::phone::Phone;
use serde_json::{Value, json};

/// The car of that name in the sample garage, and its snapshots, the newest first.
fn sample(phone: &mut Phone, name: &str) -> (Value, Vec<Value>) {
    let garage = phone.ask("open_sample_garage", json!({}));
    let named = |car: &&Value| car["label"].as_str().unwrap().contains(name);
    let car = garage["cars"].as_array().unwrap().iter().find(named).unwrap()["car"].clone();
    let view = phone.ask("open_car", json!({ "car": car }));
    (car, view["snapshots"].as_array().unwrap().clone())
}

fn snapshot(row: &Value) -> Value {
    json!({ "of": "snapshot", "id": row["snapshot"] })
}

fn labelled<'a>(rows: &'a [Value], label: &str) -> &'a Value {
    rows.iter().find(|row| row["label"] == label).unwrap_or_else(|| panic!("no {label}"))
}

/// True of the roadster: rails 19.9 mm over the target in front, 3.5 behind; rake 0.51° less nose-down.
#[test]
fn the_newest_snapshot_stands_against_the_target() {
    let mut phone = Phone::new();
    let (car, rows) = sample(&mut phone, "oadster");
    let view = phone.ask("compare", json!({ "car": car }));
    let of = &view["comparison"];
    assert_eq!((&of["this"]["line"], &of["other"]["line"]), (&json!("now"), &json!("target")));
    assert_eq!(of["this"]["stance"]["id"], rows[0]["snapshot"]);
    assert_eq!((&of["this"]["short"], &of["kind"]), (&json!("now"), &json!("frame_rail")));
    assert!(of["headline"].as_str().unwrap().starts_with("Off: front "), "{}", of["headline"]);
    for corner in ["FL", "FR"] {
        let cell = &of["corners"][corner];
        assert_eq!(
            (&cell["verdict"], &cell["word"], &cell["tolerance_mm"]),
            (&json!("off"), &json!("higher"), &json!(6.0))
        );
        assert!((cell["value_mm"].as_f64().unwrap() - 19.9).abs() < 2.0 * cell["u_mm"].as_f64().unwrap());
        // What is printed is the number rounded, and nothing else.
        assert_eq!(cell["number"], format!("{:.0}", cell["value_mm"].as_f64().unwrap()));
    }
    assert_eq!((&of["tolerance"], &of["unequal"]), (&json!("shaded ±6"), &json!([])));
    let rake = &of["findings"][0];
    assert_eq!((&rake["of"], &rake["verdict"], &rake["below"]), (&json!("rake"), &json!("off"), &json!(true)));
    assert_eq!(of["findings"][1]["of"], "sides");
    // The overlay is true: the target's own marks are where it says.
    let over = &of["overlay"]["over"];
    for (end, wanted) in [("front_mm", 246.0), ("rear_mm", 326.0)] {
        assert!((over[end]["value"].as_f64().unwrap() - wanted).abs() < 1e-6, "{end}: {}", over[end]);
    }
    assert_eq!(over["front_wheel"], of["overlay"]["figure"]["front_wheel"]);
    assert!(view["missing"].as_array().unwrap().iter().all(|sentence| !sentence.as_str().unwrap().contains("target")));
}

/// The two are put in order whichever way they are named: the later less the earlier.
#[test]
fn two_snapshots_stand_the_later_over_the_earlier_and_the_full_tank_is_taken_out() {
    let mut phone = Phone::new();
    let (car, rows) = sample(&mut phone, "oupe");
    let (full, before) = (snapshot(labelled(&rows, "day 21")), snapshot(labelled(&rows, "day 14")));
    let asked = |as_loaded: bool| json!({ "car": car, "this": before, "other": full, "as_loaded": as_loaded });
    let view = phone.ask("compare", asked(false));
    let of = &view["comparison"];
    assert_eq!((&of["this"]["label"], &of["other"]["label"]), (&json!("day 21"), &json!("day 14")));
    assert_eq!((&of["this"]["line"], &of["other"]["line"]), (&json!("now"), &json!("earlier")));
    assert_eq!((&of["rear"]["verdict"], &of["alike"]), (&json!("same"), &json!("Load differs")));
    assert!(of["unequal"][0].as_str().unwrap().starts_with("Load was as usual then"), "{}", of["unequal"]);
    let tank = of["taken_out"][0].as_str().unwrap();
    assert!(tank.contains("22 kg") && tank.contains("lower at the rear, taken out"), "{tank}");
    // As read, the rear has changed by what the tank weighs; the tires have not.
    let raw = phone.ask("compare", asked(true))["comparison"].clone();
    assert_eq!((&raw["rear"]["verdict"], &raw["rear"]["word"]), (&json!("changed"), &json!("lower")));
    assert!(raw["taken_out"][0].as_str().unwrap().contains("still in it"));
    assert!(of["parts"][1].as_str().unwrap().starts_with("Rear: tire 0 mm"), "{}", of["parts"]);
}

#[test]
fn where_the_settling_ends_is_a_stance_too() {
    let mut phone = Phone::new();
    let (car, _) = sample(&mut phone, "oupe");
    let view = phone.ask("compare", json!({ "car": car, "this": { "of": "forecast" } }));
    let of = &view["comparison"];
    assert_eq!((&of["this"]["line"], &of["other"]["line"]), (&json!("predicted"), &json!("now")));
    assert_eq!(of["title"], "Fender lips, still to come");
    // What is drawn in full is what was measured.
    assert_eq!((&of["overlay"]["figure_line"], &of["overlay"]["over_line"]), (&json!("now"), &json!("predicted")));
}

#[test]
fn every_kind_that_both_have_can_be_shown() {
    let mut phone = Phone::new();
    let (car, rows) = sample(&mut phone, "oadster");
    let asked =
        |kind: &str| json!({ "car": car, "this": snapshot(&rows[0]), "other": snapshot(&rows[1]), "kind": kind });
    let of = phone.ask("compare", asked(""))["comparison"].clone();
    let kinds: Vec<&str> = of["kinds"].as_array().unwrap().iter().map(|kind| kind["kind"].as_str().unwrap()).collect();
    assert_eq!(kinds, ["frame_rail", "body_seam"]);
    let seams = phone.ask("compare", asked("body_seam"))["comparison"].clone();
    assert!(seams["title"].as_str().unwrap().starts_with("Body seams since"), "{}", seams["title"]);
    assert_eq!(seams["corners"]["FL"]["verdict"], "same");
    assert_eq!(seams["unequal"][0], "They stood on different floors, both levelled.");
}

/// The coupe was last measured on 12 July 2031, day 70; what follows is its last curve.
#[test]
fn a_day_to_come_is_chosen_like_a_stance() {
    let mut phone = Phone::new();
    let (car, _) = sample(&mut phone, "oupe");
    let view = phone.ask("compare", json!({ "car": car }));
    let ahead = view["ahead"].as_array().unwrap();
    let labels: Vec<_> = ahead.iter().map(|choice| choice["label"].as_str().unwrap()).collect();
    assert_eq!(labels, ["in two weeks", "in a month"]);
    let newest = view["snapshots"][0]["stance"].clone();
    let on = |day: &str| json!({ "car": car, "this": { "of": "forecast", "id": day }, "other": newest });
    let month = phone.ask("compare", on(ahead[1]["stance"]["id"].as_str().unwrap()));
    let of = &month["comparison"];
    assert_eq!(of["this"]["line"], "predicted");
    assert!(of["detail"].as_str().unwrap().contains("as independent"), "{of}");
    assert_eq!(month["ahead"].as_array().unwrap().len(), 2);
    // Nearer than the end of the settling, so no further down than that.
    let end = phone.ask("compare", json!({ "car": car, "this": { "of": "forecast" }, "other": newest }));
    let front = |view: &Value| view["comparison"]["front"]["value_mm"].as_f64().unwrap();
    assert!(front(&end) <= front(&month) + 0.05, "{} and {}", front(&month), front(&end));
    let typed = phone.ask("compare", on("1 Jan 2040"));
    assert_eq!(typed["ahead"][2]["label"], "1 Jan 2040");
    for (day, said) in [
        ("3 May 2031", "Lies before the last snapshot"),
        ("soon", "soon is no day of the calendar."),
        ("3/4/2040", "3/4/2040 can be read two ways."),
    ] {
        let problem = phone.refused("compare", on(day));
        assert_eq!(problem.code, "no_such_day");
        assert!(problem.sentence.contains(said.trim_start_matches("Lies ")), "{}", problem.sentence);
    }
}

#[test]
fn what_is_not_there_and_what_is_the_same_is_said_in_words() {
    let mut phone = Phone::new();
    let (car, rows) = sample(&mut phone, "oupe");
    let gone = json!({ "of": "snapshot", "id": "0195f3c2-0000-7000-8000-000000000000" });
    let problem = phone.refused("compare", json!({ "car": car, "this": gone }));
    assert_eq!(problem.code, "not_found");
    let one = snapshot(&rows[0]);
    let problem = phone.refused("compare", json!({ "car": car, "this": one, "other": one }));
    assert_eq!(problem.code, "same_stance");
}

#[test]
fn a_car_without_two_stances_says_what_to_do() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", crate::phone::pickup());
    let view = phone.ask("compare", json!({ "car": car["car"] }));
    assert_eq!((&view["comparison"], &view["nothing"]["headline"]), (&Value::Null, &json!("Nothing to compare yet.")));
    assert!(view["missing"][0].as_str().unwrap().starts_with("No target:"));
}

/// The page stands alone, has both names, every corner's words and the picture in words, and says what it is not.
#[test]
fn a_comparison_is_printed_on_a_page_of_its_own() {
    let mut phone = Phone::new();
    let (car, _) = sample(&mut phone, "oadster");
    let of = phone.ask("compare", json!({ "car": car }))["comparison"].clone();
    let page = phone.ask("print_comparison", json!({ "car": car }));
    assert_eq!(page["file_name"], "sample-roadster-compared.html");
    let html = page["html"].as_str().unwrap();
    for words in [&of["headline"], &of["other"]["label"], &of["text"], &of["corners"]["FL"]["number"]] {
        // Names are set as text, so that quotes in them are written for a page.
        let words = words.as_str().unwrap().replace('"', "&quot;");
        assert!(html.contains(&words), "{words}");
    }
    assert!(html.contains("height differences ×5") && html.contains("does not say a car is roadworthy"));
    let print = |times: u8| json!({ "car": car, "times": times });
    let ten = phone.ask("print_comparison", print(10));
    assert!(ten["html"].as_str().unwrap().contains("height differences ×10"));
    let to_scale = phone.ask("print_comparison", print(1));
    assert!(to_scale["html"].as_str().unwrap().contains(">to scale<"));
    assert!(!html.contains("<script") && !html.contains("http://") && !html.contains("NaN"));
    let alone = phone.ask("add_car", crate::phone::pickup());
    let problem = phone.refused("print_comparison", json!({ "car": alone["car"] }));
    assert_eq!(problem.sentence, "Nothing to compare yet.");
}
