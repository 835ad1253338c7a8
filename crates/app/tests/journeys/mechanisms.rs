//! Parts that are described: typed once, worked out, handed on in the car's file, opened as typed; and what cannot be, in words.

use crate::phone::{Phone, pickup};
use serde_json::{Value, json};

const ROADSTER: &str = include_str!("../../../../sample-data/show-roadster.json");
const COUPE: &str = include_str!("../../../../sample-data/settling-coupe.json");

fn opened(phone: &mut Phone, text: &str) -> Value {
    let garage = phone.ask("import_file", json!({ "name": "car.json", "text": text }));
    garage["cars"][0]["car"].clone()
}

fn exported(phone: &mut Phone, car: &Value) -> Value {
    let text = phone.ask("export_car", json!({ "car": car }))["text"].as_str().map(str::to_owned).unwrap();
    serde_json::from_str(&text).unwrap()
}

fn form(phone: &mut Phone, car: &Value, part: &str) -> Value {
    phone.ask("open_mechanism", json!({ "car": car, "part": part }))["form"].clone()
}

fn with(form: &Value, typed: &[(&str, &str)]) -> Value {
    let mut form = form.clone();
    for (name, text) in typed {
        form["values"][*name] = json!(text);
    }
    form
}

const STEERING: [(&str, &str); 18] = [
    ("pitman_ball.x", "-32 1/4 in"),
    ("pitman_ball.y", "430 mm"),
    ("pitman_ball.z", "470 mm"),
    ("arm_ball.x", "-20 mm"),
    ("arm_ball.y", "560 mm"),
    ("arm_ball.z", "400 mm"),
    ("hub.x", "0"),
    ("hub.y", "700 mm"),
    ("hub.z", "322 mm"),
    ("kingpin.x", "0"),
    ("kingpin.y", "640 mm"),
    ("kingpin.z", "330 mm"),
    ("caster", "6.5"),
    ("inclination", "7"),
    ("guide", "radius_rod"),
    ("pivot.x", "-980 mm"),
    ("pivot.y", "330 mm"),
    ("pivot.z", "290 mm"),
];

#[test]
fn a_steering_is_typed_kept_handed_on_and_opened_as_typed() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup())["car"].clone();
    let empty = phone.ask("see_steering", json!({ "car": car }));
    assert_eq!((&empty["words"]["described"], &empty["picture"]), (&json!(false), &Value::Null));
    let fresh = form(&mut phone, &car, "steering");
    let kept = phone.ask("keep_mechanism", with(&fresh, &STEERING));
    let steering = &kept["vehicle"]["steering"];
    // 32 1/4 in is 819.15 mm; a kingpin that leans back 6.5° and in 7°.
    assert!((steering["pitman_ball"][0].as_f64().unwrap() + 819.15).abs() < 1e-9, "{steering}");
    let axis: Vec<f64> = steering["kingpin"]["axis"].as_array().unwrap().iter().map(|n| n.as_f64().unwrap()).collect();
    assert!((axis[0] + 0.113_936).abs() < 1e-6 && (axis[1] + 0.122_785).abs() < 1e-6 && axis[2] == 1.0, "{axis:?}");
    assert_eq!(steering["travel_mm"], json!([-60.0, 60.0]));
    // Opened again it says what was typed, also on another phone.
    assert_eq!(form(&mut phone, &car, "steering")["values"]["pitman_ball.x"], "-32 1/4 in");
    let file = exported(&mut phone, &car);
    assert_eq!(&file["vehicle"]["steering"], steering);
    let mut other = Phone::new();
    let there = opened(&mut other, &file.to_string());
    assert_eq!(form(&mut other, &there, "steering")["values"]["caster"], "6.5");
    assert_eq!(&exported(&mut other, &there)["vehicle"]["steering"], steering);
    // A file that says something else is not covered by what was typed before.
    let mut changed = file.clone();
    changed["vehicle"]["steering"]["hub"][1] = json!(690.0);
    let mut third = Phone::new();
    let there = opened(&mut third, &changed.to_string());
    assert_eq!(form(&mut third, &there, "steering")["values"]["hub.y"], "690 mm");

    let view = phone.ask("see_steering", json!({ "car": car, "inches": true }));
    assert!(view["words"]["headline"].as_str().unwrap().starts_with("Steers "), "{view}");
    assert!(view["words"]["rows"][1]["line"].as_str().unwrap().contains(" in"), "{view}");
    // Emptied, the description is gone.
    let gone = phone.ask("keep_mechanism", json!({ "car": car, "part": "steering", "tape": "mm", "values": {} }));
    assert!(gone["vehicle"].get("steering").is_none());
}

#[test]
fn every_guide_comes_back_as_it_was() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup())["car"].clone();
    let fresh = form(&mut phone, &car, "steering");
    let links = [
        ("lower.frame.x", "-700 mm"),
        ("lower.frame.z", "250 mm"),
        ("lower.axle.x", "0"),
        ("lower.axle.z", "240 mm"),
        ("upper.frame.x", "-650 mm"),
        ("upper.frame.z", "420 mm"),
        ("upper.axle.x", "0"),
        ("upper.axle.z", "400 mm"),
    ];
    let eye = [("eye.x", "600 mm"), ("eye.y", "400 mm"), ("eye.z", "350 mm"), ("radius", "450 mm")];
    for (guide, more) in [("four_bar", &links[..]), ("leaf", &eye[..]), ("parallel", &[])] {
        let typed = with(&with(&fresh, &STEERING), more);
        let kept = phone.ask("keep_mechanism", with(&typed, &[("guide", guide)]));
        assert_eq!(kept["vehicle"]["steering"]["guide"]["kind"], guide);
        let file = exported(&mut phone, &car);
        let mut bare = file.clone();
        bare.as_object_mut().unwrap().remove("mechanism_forms");
        let mut other = Phone::new();
        let there = opened(&mut other, &bare.to_string());
        let again = form(&mut other, &there, "steering");
        let kept_again = other.ask("keep_mechanism", again);
        let ours = &kept_again["vehicle"]["steering"];
        // Angles go through their tangent and back.
        for (key, value) in kept["vehicle"]["steering"].as_object().unwrap().iter().filter(|(key, _)| *key != "kingpin")
        {
            assert_eq!(&ours[key], value, "{guide}");
        }
    }
}

#[test]
fn what_cannot_be_is_refused_beside_its_field_and_nothing_is_changed() {
    let mut phone = Phone::new();
    let car = opened(&mut phone, ROADSTER);
    let before = exported(&mut phone, &car);
    for (part, typed, field, says) in [
        ("steering", ("arm_ball.x", "soft"), "arm_ball.x", "soft"),
        ("steering", ("caster", "80"), "caster", "80 is outside 0 to 45 degrees for a slope."),
        ("steering", ("hub.z", ""), "hub.z", "How high above the ground is missing."),
        ("steering", ("down", "500 mm"), "arm_ball.x", "The drag link cannot reach at a travel of "),
        ("steering", ("pivot.x", "-5 mm"), "guide", "The guide does not let the hub rise by "),
        ("gearing", ("axle", "411"), "axle", "411 is outside 0.2 to 50 to 1 for an axle ratio."),
        ("gearing", ("gears.1.name", "1"), "gears.1.name", "Two gears have this name."),
        ("gearing", ("beside.1.tire", "round"), "beside.1.tire", "round is not a tire marking"),
        ("front_spring", ("load", "none"), "load", "none is not a load."),
        ("front_spring", ("leaves.2.arch", "700 mm"), "leaves.2.arch", "more than half of its length"),
    ] {
        let form = form(&mut phone, &car, part);
        let problem = phone.refused("keep_mechanism", with(&form, &[typed]));
        let beside =
            problem.fields.iter().find(|one| one.field == field).unwrap_or_else(|| panic!("{field}: {problem:?}"));
        assert!(beside.sentence.contains(says), "{problem:?}");
    }
    let mut bare = form(&mut phone, &car, "front_spring");
    bare["values"].as_object_mut().unwrap().retain(|name, _| !name.starts_with("leaves"));
    let problem = phone.refused("keep_mechanism", bare);
    assert!(problem.sentence.contains("leaves is missing"), "{problem:?}");
    assert_eq!(exported(&mut phone, &car), before);
}

#[test]
fn a_target_moves_the_steering_and_the_shaft() {
    let mut phone = Phone::new();
    let car = opened(&mut phone, ROADSTER);
    let now = phone.ask("see_steering", json!({ "car": car }));
    assert_eq!(now["choices"]["targets"].as_array().unwrap().len(), 1, "{now}");
    let target = phone.ask("see_steering", json!({ "car": car, "stance": now["choices"]["targets"][0]["stance"] }));
    assert!(target["words"]["headline"].as_str().unwrap().starts_with("Would steer "), "{target}");
    assert_ne!(now["picture"]["now"], target["picture"]["now"]);
    let row = |view: &Value, of: &str| {
        let rows = view["words"]["rows"].as_array().unwrap();
        rows.iter().find(|row| row["of"] == of).unwrap_or_else(|| panic!("{of}: {view}"))["number"].as_f64().unwrap()
    };
    // The what-follows truth of the sample: the rod's ball comes down with the rails, and caster grows.
    assert!(row(&target, "caster_caster") > row(&now, "caster_caster"));
    // The drag link lies flatter once the body is lower over the axle.
    assert!(row(&target, "drag_link") < row(&now, "drag_link"));

    let coupe = opened(&mut phone, COUPE);
    let shaft = phone.ask("see_driveline", json!({ "car": coupe }));
    let table = shaft["table"].as_array().unwrap();
    assert_eq!(table.iter().map(|row| row["travel_mm"].as_f64().unwrap()).collect::<Vec<_>>(), [-90.0, 0.0, 65.0]);
    assert!(table[1]["longer_mm"] == 0.0 && table[1]["slip_left_mm"].is_null(), "{shaft}");
    assert!(row(&shaft, "carburetor_flange").abs() < 3.0);
}

#[test]
fn a_tried_leaf_is_told_and_not_kept() {
    let mut phone = Phone::new();
    let car = opened(&mut phone, ROADSTER);
    let own = phone.ask("see_spring", json!({ "car": car, "rear": false }));
    assert!(own["words"]["headline"].as_str().unwrap().ends_with("lower without leaf 4."), "{own}");
    let two = phone.ask("see_spring", json!({ "car": car, "rear": false, "remove": [5, 3] }));
    assert!(two["words"]["headline"].as_str().unwrap().ends_with("lower without leaves 3 and 5."), "{two}");
    // By hand: four of six equal leaves are left, so the load sinks half as much again.
    let (before, after) = (&two["before"], &two["after"]);
    let ratio = after["deflection_mm"].as_f64().unwrap() / before["deflection_mm"].as_f64().unwrap();
    assert!((ratio - 1.5).abs() < 1e-9, "{two}");
    assert_eq!(after["drawn"].as_array().unwrap().len(), 4);
    let whole = phone.ask("see_spring", json!({ "car": car, "rear": false, "remove": [] }));
    assert!(
        whole["after"].is_null() && whole["words"]["headline"].as_str().unwrap().contains(" N/mm, sinks "),
        "{whole}"
    );
    for (remove, says) in
        [(json!([1]), "the main leaf"), (json!([9]), "a whole number from 1 to 6"), (json!([2, 2]), "named twice")]
    {
        let problem = phone.refused("see_spring", json!({ "car": car, "rear": false, "remove": remove }));
        assert!(problem.sentence.contains(says), "{problem:?}");
    }
    assert_eq!(phone.ask("see_spring", json!({ "car": car, "rear": false })), own);
}

#[test]
fn gears_are_told_in_the_persons_units_with_others_beside() {
    let mut phone = Phone::new();
    let car = opened(&mut phone, ROADSTER);
    let km = phone.ask("see_gearing", json!({ "car": car }));
    let miles = phone.ask("see_gearing", json!({ "car": car, "miles": true, "inches": true }));
    assert_eq!((&km["speed_unit"], &miles["speed_unit"]), (&json!("km/h"), &json!("mph")));
    let labels: Vec<&str> =
        km["drives"].as_array().unwrap().iter().map(|drive| drive["label"].as_str().unwrap()).collect();
    assert_eq!(labels, ["as it is", "3.54 axle", "6.00-16"]);
    let rpm = |view: &Value, drive: usize, gear: usize, speed: usize| {
        view["drives"][drive]["gears"][gear]["rpm"][speed].as_f64().unwrap()
    };
    // 60 mph is 96.56064 km/h, to the rounding of a tenth.
    assert!((rpm(&miles, 0, 2, 3) / rpm(&km, 0, 2, 3) - 0.965_606_4).abs() < 1e-4);
    assert!((rpm(&km, 1, 2, 3) / rpm(&km, 0, 2, 3) - 3.54 / 4.11).abs() < 1e-4);
    assert!(km["drives"][0]["across_mm"].as_f64().unwrap() > km["drives"][0]["rolling_mm"].as_f64().unwrap());
    // Without ratios the page says what to do first.
    let bare = phone.ask("add_car", pickup())["car"].clone();
    let empty = phone.ask("see_gearing", json!({ "car": bare }));
    assert_eq!((&empty["words"]["headline"], &empty["drives"]), (&json!("No gearing yet."), &json!([])));
}

#[test]
fn two_readings_of_a_pack_are_enough_and_carry_their_band() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup())["car"].clone();
    let fresh = form(&mut phone, &car, "rear_spring");
    let typed = [
        ("load", "2600 N"),
        ("readings.0.load", "0"),
        ("readings.0.height", "200 mm"),
        ("readings.1.load", "2600 N"),
        ("readings.1.height", "130 mm"),
    ];
    phone.ask("keep_mechanism", with(&fresh, &typed));
    let view = phone.ask("see_spring", json!({ "car": car, "rear": true }));
    let row = |of: &str| {
        let rows = view["words"]["rows"].as_array().unwrap();
        rows.iter().find(|row| row["of"] == of).unwrap_or_else(|| panic!("{of}: {view}")).clone()
    };
    // 2600 N over 70 mm are 37.14 N/mm; the load lets it sink the 70 mm again, as surely.
    assert!((row("rate")["number"].as_f64().unwrap() - 37.143).abs() < 1e-3, "{view}");
    assert!(row("rate")["band"].as_str().unwrap().starts_with("N/mm \u{b1}"), "{view}");
    let part = |of: &str| row(of)["u"].as_f64().unwrap() / row(of)["number"].as_f64().unwrap();
    assert!(part("rate") > 0.0 && (part("rate") - part("deflection")).abs() < 1e-12, "{view}");
    assert!(view["words"]["notes"].to_string().contains("they have no \u{b1}."), "{view}");
}

/// The sample with what its steering says of where it was measured.
fn measured(said: &Value) -> String {
    let mut file: Value = serde_json::from_str(ROADSTER).unwrap();
    for (key, value) in said.as_object().unwrap() {
        file["vehicle"]["steering"][key] = value.clone();
    }
    file.to_string()
}

fn drag_link(said: &Value) -> f64 {
    let mut phone = Phone::new();
    let car = opened(&mut phone, &measured(said));
    let view = phone.ask("see_steering", json!({ "car": car }));
    let rows = view["words"]["rows"].as_array().unwrap();
    rows.iter().find(|row| row["of"] == "drag_link").unwrap_or_else(|| panic!("{view}"))["number"].as_f64().unwrap()
}

#[test]
fn one_point_typed_today_counts_from_today_and_the_others_from_their_day() {
    let mut phone = Phone::new();
    let car = opened(&mut phone, ROADSTER);
    let before = exported(&mut phone, &car);
    let newest = before["snapshots"].as_array().unwrap().last().unwrap()["id"].clone();
    let fresh = form(&mut phone, &car, "steering");
    let kept = phone.ask("keep_mechanism", with(&fresh, &[("pitman_ball.z", "350 mm")]));
    let steering = &kept["vehicle"]["steering"];
    assert_eq!(steering["measured_in_of"], json!({ "pitman_ball": newest }), "{steering}");
    assert_eq!(steering.get("measured_in"), before["vehicle"]["steering"].get("measured_in"));
    let file = exported(&mut phone, &car);
    assert_eq!(&file["vehicle"]["steering"], steering);

    // Every point beside the newest one by one is as much as all of them at once.
    let points = ["pitman_ball", "arm_ball", "hub", "kingpin", "guide"];
    let each: serde_json::Map<String, Value> =
        points.iter().map(|point| ((*point).to_owned(), newest.clone())).collect();
    let (one_by_one, at_once) =
        (drag_link(&json!({ "measured_in_of": each })), drag_link(&json!({ "measured_in": newest })));
    assert!((one_by_one - at_once).abs() < 0.02, "{one_by_one} {at_once}");
    // By hand: the rails came down by about 3 mm in truth, either stance is good to 2 mm: 1 to 6 mm over 812 mm of drag link.
    let none = drag_link(&json!({}));
    let ball = drag_link(&json!({ "measured_in_of": { "pitman_ball": newest } }));
    assert!((0.07..0.42).contains(&(ball - none).abs()), "{ball} {none}");
}
