//! What follows from a stance: the newest snapshot, a target, loads and rules, and the form of what is under the car.

use crate::phone::Phone;
use serde_json::{Value, json};

/// The roadster of the sample garage.
fn roadster(phone: &mut Phone) -> Value {
    let garage = phone.ask("open_sample_garage", json!({}));
    let cars = garage["cars"].as_array().unwrap();
    cars.iter().find(|car| car["label"].as_str().unwrap().contains("oadster")).unwrap()["car"].clone()
}

fn checks(phone: &mut Phone, car: &Value, more: Value) -> Value {
    let mut request = json!({ "car": car });
    for (key, value) in more.as_object().unwrap() {
        request[key] = value.clone();
    }
    let mut view = phone.ask("see_checks", request);
    view["checked"].take()
}

fn row<'a>(of: &'a Value, subject: &str) -> &'a Value {
    let rows = of["rows"].as_array().unwrap();
    rows.iter().find(|row| row["subject"] == subject).unwrap_or_else(|| panic!("no {subject} in {rows:#?}"))
}

#[test]
fn the_newest_snapshot_is_checked_and_its_rows_stand_in_order() {
    let mut phone = Phone::new();
    let car = roadster(&mut phone);
    let of = checks(&mut phone, &car, json!({}));
    assert_eq!(
        (&of["stance"]["line"], &of["predicted"], &of["load"]),
        (&json!("now"), &json!(false), &json!("nominal"))
    );
    let words: Vec<&str> = of["rows"].as_array().unwrap().iter().map(|row| row["word"].as_str().unwrap()).collect();
    let order: [&[&str]; 6] =
        [&["touches"], &["caution"], &["cant_tell"], &["clears", "within"], &["same", "number"], &["not_read"]];
    let ranks: Vec<usize> = words.iter().map(|word| order.iter().position(|of| of.contains(word)).unwrap()).collect();
    assert!(ranks.is_sorted(), "{words:?}");
    // True of it: 125 mm under the exhaust after four weeks; the breakover of 11.6° was 0.6° over the trailer's ramp.
    let exhaust = row(&of, "Exhaust pipe low bend, left");
    let (value, u) = (exhaust["value"].as_f64().unwrap(), exhaust["u"].as_f64().unwrap());
    assert!((value - 124.5).abs() < 3.0 * u && exhaust["number"] == format!("{value:.0}"), "{exhaust}");
    let sum: f64 = exhaust["sum"].as_array().unwrap()[..2].iter().map(|line| line["value_mm"].as_f64().unwrap()).sum();
    assert_eq!(sum, exhaust["sum"][2]["value_mm"].as_f64().unwrap(), "it adds up as printed");
    // Its doubt by source: they add like the sides of a right angle, and the tape alone is ±4.
    let doubts = exhaust["doubts"].as_array().unwrap();
    let bands: Vec<f64> = doubts.iter().map(|doubt| doubt["band_mm"].as_f64().unwrap()).collect();
    assert!((bands.iter().map(|band| band * band).sum::<f64>().sqrt() - 2.0 * u).abs() < 1e-9, "{doubts:?}");
    assert!(bands.is_sorted_by(|a, b| a >= b) && bands.contains(&4.0), "{doubts:?}");
    let flat = row(&of, "Any one tire flat");
    assert_eq!((flat["word"].as_str(), flat["parts"].as_array().map(Vec::len)), (Some("clears"), Some(4)));
    assert!(flat["line"].as_str().unwrap().contains("Rear left flat: exhaust"), "{}", flat["line"]);
    assert_eq!(row(&of, "Joints of the shaft")["word"], "not_read");
    // Numbers stand with the rule's name and no verdict until the rule is held against.
    assert_eq!(row(&of, "Rim line")["word"], "number");
    assert_eq!(row(&of, "Lower beam headlamp")["word"], "number");
    let held = checks(&mut phone, &car, json!({"rules": ["rim_line", "fmvss108"]}));
    assert_eq!(row(&held, "Rim line")["word"], "clears");
    assert_eq!(row(&held, "Lower beam headlamp")["word"], "within");
    // The table has a column a load that can be said, and the loads come down.
    let table = &of["table"];
    assert_eq!(table["loads"], json!(["nominal load", "driver", "two up", "luggage", "towing"]));
    let rows = table["rows"].as_array().unwrap();
    let under = rows.iter().find(|row| row["subject"] == "Exhaust pipe low bend, left").unwrap();
    let number = |at: usize| under["cells"][at]["number"].as_str().unwrap().parse::<f64>().unwrap();
    assert!(number(0) - number(1) >= 8.0 && number(1) - number(2) >= 8.0, "{under}");
    let said = of["loads"].as_array().unwrap().iter().find(|load| load["load"] == "tank_full").unwrap();
    assert!(said["missing"].as_str().unwrap().contains("no tank"));
}

#[test]
fn a_target_is_predicted_and_said_beside_what_is_now() {
    let mut phone = Phone::new();
    let car = roadster(&mut phone);
    let targets = phone.ask("see_checks", json!({ "car": car }))["targets"].clone();
    let of = checks(&mut phone, &car, json!({"stance": targets[0]["stance"]}));
    assert_eq!(of["predicted"], true);
    let ramp = row(&of, "11° trailer ramp");
    assert_eq!(ramp["word"], "touches");
    assert!(of["headline"].as_str().unwrap().starts_with("Touches the 11° trailer ramp"), "{}", of["headline"]);
    assert_eq!(ramp["margin"], "0.9° short");
    assert_eq!(ramp["parts"].as_array().unwrap().len(), 3);
    assert!(of["cautions"][0].as_str().unwrap().contains("Never put any part of you under a car held by a jack"));
    let print = phone.ask("print_checks", json!({"car": car, "stance": targets[0]["stance"]}));
    let html = print["html"].as_str().unwrap();
    assert!(html.contains("Touches the 11° trailer ramp") && html.contains("does not say a car is roadworthy"));
    let unknown = phone.refused("see_checks", json!({"car": car, "load": "elephant"}));
    assert_eq!(unknown.code, "not_found");
}

#[test]
fn a_car_without_a_snapshot_says_what_comes_first() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", crate::phone::pickup())["car"].clone();
    let view = phone.ask("see_checks", json!({ "car": car }));
    assert_eq!(view["nothing"]["headline"], "Nothing to check yet.");
    assert_eq!(phone.refused("print_checks", json!({ "car": car })).code, "nothing_to_check");
}

#[test]
fn what_is_under_it_is_typed_kept_and_counted_from_the_newest_snapshot() {
    let mut phone = Phone::new();
    let car = roadster(&mut phone);
    let view = phone.ask("open_under", json!({ "car": car }));
    let mut form = view["form"].clone();
    assert_eq!((form["low_points"].as_array().unwrap().len(), &form["caster"]), (6, &json!("6.4")));
    // Nothing changed, nothing changes, down to keys that this program has no name for.
    let before = phone.ask("export_car", json!({ "car": car }))["text"].clone();
    phone.ask("keep_under", form.clone());
    let file = |text: &Value| serde_json::from_str::<Value>(text.as_str().unwrap()).unwrap();
    let after = phone.ask("export_car", json!({ "car": car }))["text"].clone();
    assert_eq!(file(&before)["vehicle"], file(&after)["vehicle"]);
    // Nonsense is named beside each field, and nothing is kept.
    form["low_points"][1]["height"] = json!("low");
    form["rod_length"] = json!("");
    form["apron"] = json!("95");
    let refused = phone.refused("keep_under", form.clone());
    let fields: Vec<&str> = refused.fields.iter().map(|problem| problem.field.as_str()).collect();
    assert_eq!(fields, ["low_points.1.height", "rod_length", "apron"]);
    assert_eq!(phone.ask("export_car", json!({ "car": car }))["text"], after);
    // A new point read today, in inches, and the exhaust read again.
    let mut form = view["form"].clone();
    form["tape"] = json!("in");
    form["low_points"][1]["height"] = json!("4 7/8");
    form["low_points"].as_array_mut().unwrap().push(
        json!({"id": "", "label": "Cross-member", "attach": "body", "behind": "300 mm", "left": "", "height": "6 in"}),
    );
    form["tow_mass"] = json!("60");
    form["tow_place"] = json!("3400 mm");
    phone.ask("keep_under", form);
    let exported = file(&phone.ask("export_car", json!({ "car": car }))["text"]);
    let points = exported["vehicle"]["clearance_points"].as_array().unwrap();
    assert_eq!((&points[1]["z_mm"], &points[1]["measured_in"]), (&json!(123.825), &json!("t02")));
    assert_eq!(
        (&points[6]["id"], &points[6]["x_mm"], &points[6]["z_mm"]),
        (&json!("cross_member"), &json!(-300.0), &json!(152.4))
    );
    assert!(points[0].get("measured_in").is_none(), "what was not touched counts from where it did");
    assert_eq!(exported["vehicle"]["radius_rod"]["meaning"], file(&before)["vehicle"]["radius_rod"]["meaning"]);
    let of = checks(&mut phone, &car, json!({}));
    assert_eq!(row(&of, "Exhaust pipe low bend, left")["value"], 123.825);
    assert_eq!(row(&of, "Cross-member")["value"], 152.4);
}

#[test]
fn the_gaps_of_a_wheel_stand_in_one_row_under_the_worst() {
    let mut phone = Phone::new();
    let garage = phone.ask("open_sample_garage", json!({}));
    let cars = garage["cars"].as_array().unwrap();
    let car = cars.iter().find(|car| car["label"] == "Sample coupe").unwrap()["car"].clone();
    let of = phone.ask("see_checks", json!({ "car": car }))["checked"].clone();
    let lock = row(&of, "Front left with 205 on 7 inch, 8 inboard");
    assert_eq!(
        (lock["word"].as_str(), lock["line"].as_str()),
        (Some("touches"), Some("Touches. Frame rail, full lock"))
    );
    // Six places in three states and four at lock and bump together; above the tread there is no gap at full lock.
    assert_eq!(lock["parts"].as_array().unwrap().len(), 21);
    let jack = row(&of, "Tall bottle jack, rear axle tube, left");
    assert!(jack["line"].as_str().unwrap().starts_with("Touches. Rear left flat: "), "{jack}");
    assert!(of["rows"].as_array().unwrap().len() < 60, "{}", of["counted"]);
}
