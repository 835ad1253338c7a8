//! How the car stands: as last time, what is not claimed, load, pressures, a mock-up, a jack, and a change before the end.

use crate::phone::{Phone, pickup, snapshot};
use serde_json::{Value, json};

/// The form of a snapshot of one round of rails, its parts all said.
fn plain(car: &Value) -> Value {
    let mut form = snapshot(car, &Value::Null, json!(["frame_rail"]), 1, 1);
    form["hubs"] = json!(false);
    form["confirmed"] = json!(["floor", "facing", "tires", "load", "pressures"]);
    form
}

fn walked(phone: &mut Phone, form: Value, heights: [&str; 4]) -> Value {
    let mut walk = phone.ask("begin_snapshot", form);
    for text in heights {
        walk = phone.take(&walk, text);
    }
    walk
}

fn kept(phone: &mut Phone, form: Value, heights: [&str; 4]) -> Value {
    let walk = walked(phone, form, heights);
    phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}))
}

fn file(phone: &mut Phone, car: &Value) -> Value {
    serde_json::from_str(phone.ask("export_car", json!({"car": car["car"]}))["text"].as_str().unwrap()).unwrap()
}

const RIDE: [&str; 4] = ["400", "404", "438", "436"];

#[test]
fn what_was_not_confirmed_today_is_not_claimed() {
    let mut phone = Phone::new();
    phone.restless = true;
    let car = phone.ask("add_car", pickup());
    assert_eq!(car["last_time"], Value::Null, "before the first there is no last time");
    let car = kept(&mut phone, plain(&car), RIDE);
    let words: Vec<_> =
        car["last_time"]["lines"].as_array().unwrap().iter().map(|line| line["words"].as_str().unwrap()).collect();
    assert_eq!(
        words,
        [
            "Somewhere, not levelled",
            "First way round",
            "6.00-16 front, 6.50-16 rear",
            "Half tank",
            "210 and 207 kPa front, 200 and 220 rear, cold"
        ]
    );

    let mut form = car["begin"].clone();
    assert_eq!(form["pressures"]["FR"], "30 psi", "as it was typed");
    form["confirmed"] = json!(["tires"]);
    form["bounces"] = json!(1);
    let walk = walked(&mut phone, form, RIDE);
    assert_eq!(walk["load"], "load not said");
    let stored = file(&mut phone, &car)["snapshots"][1].clone();
    assert_eq!(stored["confirmed"], json!(["tires"]));
    assert_eq!(
        (&stored["tire_pressure_kpa"], &stored["floor"]),
        (&Value::Null, &Value::Null),
        "no gauge was read today"
    );
    let result = phone.ask("see_result", json!({"snapshot": walk["snapshot"]}));
    assert_eq!(
        result["condition"],
        json!([
            "What was aboard is not said: the heights count as at the usual load.",
            "Pressures were not read: the heights count as at the usual ones.",
        ])
    );
}

#[test]
fn a_floor_is_as_last_time_only_with_the_way_round() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let floor =
        phone.ask("add_floor", json!({"car": car["car"], "label": "Drive", "levelling": "not_levelled", "tape": "mm"}));
    let mut form = plain(&car);
    form["floor"] = floor["floor"].clone();
    form["confirmed"] = json!(["floor"]);
    assert_eq!(phone.refused("begin_snapshot", form).fields[0].field, "facing");
}

/// A full tank of 60 l is 22.5 kg over half. The pickup's rates are not known: 45 N/mm an axle, the tank 1.2 wheelbases behind.
#[test]
fn load_moves_the_heights_and_is_undone_at_nominal() {
    let mut phone = Phone::new();
    phone.restless = true;
    let car = phone.ask("add_car", pickup());
    let load = json!({
        "fuel": {"now": "4", "usual": "2", "tank": "60", "place": "behind_rear", "behind": "3200"},
        "aboard": [{"what": "helper", "mass": "75", "place": "driver", "side": "left", "behind": ""}],
    });
    let said = phone.ask("read_load", json!({"car": car["car"], "load": load}));
    assert_eq!(said["masses"][0]["s_mm"], 3200.0);
    // Front: (75·0.45 − 22.5·535/2665)·9.80665/45 = 6.4; rear: (75·0.55 + 22.5·3200/2665)·9.80665/45 = 14.9 mm.
    let sentence = "98 kg more than half tank: about 6 mm lower at the front, 15 mm lower at the rear.";
    assert_eq!(said["sentence"], sentence);
    let mut form = plain(&car);
    form["pressures"] = json!({"FL": "", "FR": "", "RL": "", "RR": ""});
    form["load"] = load;
    let walk = walked(&mut phone, form, RIDE);
    assert_eq!(walk["load"], "fuel full, helper 75 kg");
    let result = phone.ask("see_result", json!({"snapshot": walk["snapshot"]}));
    let (line, nominal) = (&result["line"], &result["line_nominal"]);
    let rise = |end: &str| nominal[end]["value"].as_f64().unwrap() - line[end]["value"].as_f64().unwrap();
    // The rails are marked 320 behind the front axle and 420 ahead of the rear one: 6.4 + 0.12·8.5 and 6.4 + 0.842·8.5.
    assert!((rise("front_mean_mm") - 7.4).abs() < 0.2 && (rise("rear_mean_mm") - 13.6).abs() < 0.2);
    let says = result["condition"][0].as_str().unwrap();
    assert!(
        says.starts_with(
            "Fuel full, helper 75 kg: 7 mm lower at the front, 14 mm lower at the rear than with half tank"
        ),
        "{says}"
    );
    let car = phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    assert_eq!(car["begin"]["load"]["fuel"]["tank"], "60");
    let tank = car["load"]["places"].as_array().unwrap().iter().find(|place| place["place"] == "driver").unwrap();
    assert_eq!(tank["hint"], "about 1470 mm; change it if you know it");
}

#[test]
fn pressures_are_typed_in_the_gauge_s_unit_and_warm_ones_are_marked() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let mut form = plain(&car);
    form["pressure_unit"] = json!("psi");
    form["tires_warm"] = json!(true);
    form["pressures"] = json!({"FL": "30", "FR": "30", "RL": "32", "RR": "2.2 bar"});
    let car = kept(&mut phone, form, RIDE);
    let stored = file(&mut phone, &car)["snapshots"][0].clone();
    assert!((stored["tire_pressure_kpa"]["FL"].as_f64().unwrap() - 206.84).abs() < 0.01);
    assert_eq!(stored["tires_warm"], true);
    assert_eq!(car["last_time"]["lines"][4]["words"], "30 psi front, 32 and 32 rear, warm".replace("32 and 32", "32"));
    assert_eq!(
        (&car["begin"]["pressure_unit"], &car["begin"]["tires_warm"]),
        (&json!("psi"), &json!(false)),
        "asked anew"
    );
}

#[test]
fn a_jack_is_refused_and_a_mock_up_is_kept_apart_from_every_ride_height() {
    let mut phone = Phone::new();
    phone.restless = true;
    let car = phone.ask("add_car", pickup());
    let mut form = plain(&car);
    form["stands_on"] = json!("jack");
    let refused = phone.refused("begin_snapshot", form);
    assert_eq!(refused.fields[0].field, "stands_on");
    assert!(refused.sentence.contains("not ride heights") && refused.hint.contains("under a car held by a jack"));

    let car = kept(&mut phone, plain(&car), RIDE);
    let garage = phone.ask("open_garage", json!({}));
    let mut form = plain(&car);
    form["stands_on"] = json!("rated_stands");
    form["bounces"] = json!(3);
    let walk = walked(&mut phone, form, ["560", "552", "640", "608"]);
    assert_eq!(
        (&walk["mock_up"], &walk["bounces"], &walk["load"]),
        (&json!(true), &json!(1), &json!("mock-up on rated stands"))
    );
    let result = phone.ask("see_result", json!({"snapshot": walk["snapshot"]}));
    assert_eq!(result["headline"], "Mock-up on rated stands, not a ride height.");
    assert_eq!(
        (&result["line"]["front_mean_mm"]["value"], &result["even"], &result["next"]),
        (&json!(556.0), &Value::Null, &json!([]))
    );
    let after = phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    assert_eq!(after["snapshots"][0]["state"], "Mock-up on rated stands, not a ride height.");
    for what in ["side", "corners", "rake_deg", "begin", "last_time"] {
        assert_eq!(after[what], car[what], "{what} is that of the car on its wheels");
    }
    assert_eq!(phone.ask("open_garage", json!({}))["cars"][0]["state"], garage["cars"][0]["state"]);
    let stored = file(&mut phone, &car);
    assert_eq!(stored["snapshots"][1]["standing"], "mock_up");
    let mut other = Phone::new();
    other.ask("import_file", json!({"name": "car.json", "text": stored.to_string()}));
    let there = other.ask("export_car", json!({"car": car["car"]}));
    let there: Value = serde_json::from_str(there["text"].as_str().unwrap()).unwrap();
    assert_eq!(there["snapshots"][1], stored["snapshots"][1]);
}

#[test]
fn the_condition_can_be_changed_until_the_end_and_the_readings_stay() {
    let mut phone = Phone::new();
    phone.restless = true;
    let car = phone.ask("add_car", pickup());
    let floor =
        phone.ask("add_floor", json!({"car": car["car"], "label": "Drive", "levelling": "not_levelled", "tape": "mm"}));
    let walk = walked(&mut phone, plain(&car), RIDE);
    let open = phone.ask("open_condition", json!({"snapshot": walk["snapshot"]}));
    let mut form = open["form"].clone();
    assert_eq!((&form["pressures"]["FR"], &form["floor"]), (&json!("30 psi"), &Value::Null));
    form["floor"] = floor["floor"].clone();
    form["facing"] = json!("B");
    form["pressures"]["RL"] = json!("220");
    form["load"]["aboard"] = json!([{"what": "", "mass": "-20", "place": "behind_rear"}]);
    let mut wrong = form.clone();
    wrong["pressures"]["RL"] = json!("much");
    wrong["load"]["aboard"][0]["mass"] = json!("<b>");
    let refused = phone.refused("change_condition", json!({"snapshot": walk["snapshot"], "form": wrong}));
    let fields: Vec<_> = refused.fields.iter().map(|field| field.field.as_str()).collect();
    assert_eq!(fields, ["pressures.RL", "load.aboard.0.mass"]);
    assert_eq!(phone.ask("open_condition", json!({"snapshot": walk["snapshot"]})), open, "nothing was stored");

    let changed = phone.ask("change_condition", json!({"snapshot": walk["snapshot"], "form": form}));
    assert_eq!((&changed["floor"], &changed["facing"]), (&json!("Drive, not levelled"), &json!("B")));
    assert_eq!(changed["load"], "luggage behind the rear axle \u{2212}20 kg");
    assert_eq!((&changed["steps"], &changed["at"]), (&walk["steps"], &walk["at"]), "readings and place stay");
    let mut stands = form.clone();
    stands["stands_on"] = json!("rated_stands");
    let refused = phone.refused("change_condition", json!({"snapshot": walk["snapshot"], "form": stands}));
    assert_eq!(refused.fields[0].field, "stands_on");

    phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    let refused = phone.refused("change_condition", json!({"snapshot": walk["snapshot"], "form": form}));
    assert_eq!(refused.code, "snapshot_finished");
}

#[test]
fn a_form_half_filled_in_is_there_after_a_restart() {
    let mut phone = Phone::new();
    phone.restless = true;
    let text = "{\"label\":\"nose <b>to\u{0} the\"}";
    phone.ask("keep_form", json!({"name": "begin x", "text": text}));
    assert_eq!(phone.ask("kept_forms", json!({})), json!({"forms": {"begin x": text}}));
    let long = "x".repeat(100_001);
    assert_eq!(phone.refused("keep_form", json!({"name": "begin x", "text": long})).code, "form_too_long");
    phone.ask("keep_form", json!({"name": "begin x", "text": null}));
    assert_eq!(phone.ask("kept_forms", json!({})), json!({"forms": {}}));
}

#[test]
fn the_air_is_noted_in_either_unit_and_goes_through_a_file() {
    let mut phone = Phone::new();
    phone.restless = true;
    let car = phone.ask("add_car", pickup());
    let mut form = plain(&car);
    (form["air"], form["air_unit"]) = (json!("64 miles"), json!("f"));
    let refused = phone.refused("begin_snapshot", form.clone());
    assert_eq!(refused.fields[0].sentence, "64 miles is no temperature from \u{2212}50 to 60 °C.");
    // 64.4 °F are (64.4 − 32)/1.8 = 18 °C.
    form["air"] = json!("64.4");
    let walk = walked(&mut phone, form, RIDE);
    let open = phone.ask("open_condition", json!({"snapshot": walk["snapshot"]}));
    assert_eq!((&open["form"]["air"], &open["form"]["air_unit"]), (&json!("64.4"), &json!("f")), "{open}");
    phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    let book = phone.ask("open_book", json!({"snapshot": walk["snapshot"]}));
    let air = book["conditions"].as_array().unwrap().iter().find(|each| each["field"] == "air_c").cloned();
    assert_eq!(air.map(|air| air["words"].clone()), Some(json!("18 °C")));
    let exported = file(&mut phone, &car);
    assert!((exported["snapshots"][0]["air_c"].as_f64().unwrap() - 18.0).abs() < 1e-9);
    let mut other = Phone::new();
    let garage = other.ask("import_file", json!({"name": "pickup.json", "text": exported.to_string()}));
    assert_eq!(file(&mut other, &garage["cars"][0])["snapshots"], exported["snapshots"]);
}
