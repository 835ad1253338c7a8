//! The whole form of a car: everything entered and handed on, nothing lost of what a file said, hostile text in every field.

use crate::phone::{Phone, pickup, snapshot};
use serde_json::{Value, json};

/// The pickup with every section of the form filled in, five kinds of point among it.
fn everything() -> Value {
    let mut form = pickup();
    let points = form["points"].as_array_mut().expect("points");
    for (kind, along) in [("rocker", "600"), ("body_seam", "500"), ("spring_perch", "10")] {
        points.push(json!({"kind": kind, "front_behind_axle": along, "front_apart": "1200", "rear_ahead_of_axle": along, "rear_apart": "1210"}));
    }
    form["further"] = json!([
        {"corner": "FL", "kind": "other", "behind_front_axle": "1120", "from_middle": "360", "what": "exhaust, low bend"},
        {"corner": "RR", "kind": "frame_rail", "behind_front_axle": "2000", "from_middle": "400", "what": "second mark"},
    ]);
    form["body"] =
        json!({"overhang_front": "430", "overhang_rear": "1 m", "roof_height": "1620", "hood_height": "1090"});
    form["springs"] = json!({
        "front": {"spring": "transverse_leaf", "words": "beam, one transverse leaf", "base": "770", "side_rate": "25"},
        "rear": {"spring": "parallel_leaf", "base": "985", "side_rate": "28 N/mm"},
    });
    form["loads"] = json!({"axle_front": "500 kg", "axle_rear": "560", "tank_size": "55 l", "tank_place": "3400", "seat_front": "1500"});
    form
}

fn change(view: &Value, edit: impl FnOnce(&mut Value)) -> Value {
    let mut form = view["form"].clone();
    edit(&mut form);
    json!({ "car": view["car"], "form": form })
}

fn exported(phone: &mut Phone, car: &Value) -> Value {
    let text = phone.ask("export_car", json!({ "car": car }))["text"].as_str().map(str::to_owned).expect("a text");
    serde_json::from_str(&text).expect("JSON")
}

#[test]
fn a_car_with_everything_is_kept_handed_on_and_opened_again() {
    let mut phone = Phone::new();
    let view = phone.ask("add_car", everything());
    let vehicle = &view["vehicle"];
    assert_eq!(vehicle["ref_points"].as_array().map(Vec::len), Some(5 * 4 + 2));
    assert_eq!(vehicle["extent"]["overhang_rear_mm"], 1000.0);
    assert_eq!((&vehicle["mass_kg_approx"], &vehicle["tank"]["x_mm"]), (&json!(1060.0), &json!(-3400.0)));
    // 500/1060.
    assert!((vehicle["front_mass_share"].as_f64().expect("a share") - 0.471_698).abs() < 1e-6);
    // By hand from ½·k·B² in series with ½·220·t²: 0.3588, u 0.0593 (see the core's own test).
    let share = &vehicle["roll_share_front"];
    assert!((share["value"].as_f64().expect("a value") - 0.3588).abs() < 5e-5, "{share}");
    assert!((share["u"].as_f64().expect("a u") - 0.0593).abs() < 1e-4 && share["basis"] == "springs", "{share}");
    assert_eq!(view["form"]["springs"]["roll_share"], "", "nobody stated it");

    // Nothing changes when nothing is changed, and the file says the same on another phone.
    let again = phone.ask("change_car", change(&view, |_| ()));
    assert_eq!((&again["vehicle"], &again["form"]), (&view["vehicle"], &view["form"]));
    let file = exported(&mut phone, &view["car"]);
    let mut other = Phone::new();
    let garage = other.ask("import_file", json!({ "name": "car.json", "text": file.to_string() }));
    let there = other.ask("open_car", json!({ "car": garage["cars"][0]["car"] }));
    assert_eq!((&there["vehicle"], &there["form"]), (&view["vehicle"], &view["form"]));
    // A softer front spring lowers its share: the computed one follows.
    let softer =
        phone.ask("change_car", change(&view, |form| form["springs"]["front"]["side_rate"] = json!("100 lb/in")));
    assert!(softer["vehicle"]["roll_share_front"]["value"].as_f64().expect("a value") < 0.32);
}

#[test]
fn what_a_file_said_of_springs_and_more_survives_the_form() {
    let mut phone = Phone::new();
    phone.ask("open_sample_garage", json!({}));
    let garage = phone.ask("open_garage", json!({}));
    for row in garage["cars"].as_array().expect("cars") {
        let before = exported(&mut phone, &row["car"])["vehicle"].clone();
        let view = phone.ask("open_car", json!({ "car": row["car"] }));
        let share = view["form"]["springs"]["roll_share"].as_str().expect("a text").to_owned();
        assert!(share.contains(" ± "), "{share}");
        phone.ask("change_car", change(&view, |form| form["body"]["overhang_front"] = json!("600 mm")));
        let mut after = exported(&mut phone, &row["car"])["vehicle"].clone();
        assert_eq!(after["extent"].take(), json!({ "overhang_front_mm": 600.0 }));
        let keys = after.as_object_mut().expect("a vehicle");
        keys.remove("extent");
        assert_eq!(after, before, "springs, their sense in words and every unknown key stay");
    }
}

#[test]
fn a_kind_that_has_readings_is_no_longer_read_and_one_without_goes() {
    let mut phone = Phone::new();
    let view = phone.ask("add_car", everything());
    let form = snapshot(&view, &Value::Null, json!(["fender_lip"]), 1, 1);
    let mut walk = phone.ask("begin_snapshot", form);
    while walk["at"].as_u64() < walk["steps"].as_array().map(|steps| steps.len() as u64) {
        let hub = walk["steps"][walk["at"].as_u64().expect("a place") as usize]["kind"] == "hub";
        walk = phone.take(&walk, if hub { "340" } else { "640" });
    }
    phone.ask("finish_snapshot", json!({ "snapshot": walk["snapshot"] }));
    let view = phone.ask("open_car", json!({ "car": view["car"] }));
    assert_eq!(view["read"], json!({ "lip.FL": 1, "lip.FR": 1, "lip.RL": 1, "lip.RR": 1 }));
    let left_out = change(&view, |form| {
        for pair in form["points"].as_array_mut().expect("pairs").iter_mut() {
            pair["retired"] = json!(pair["kind"] == "fender_lip" || pair["kind"] == "rocker");
        }
    });
    let view = phone.ask("change_car", left_out);
    let points = view["vehicle"]["ref_points"].as_array().expect("points");
    assert_eq!(points.iter().filter(|point| point["retired"] == true).count(), 4, "the lips stay with their readings");
    assert!(points.iter().all(|point| point["kind"] != "rocker"), "nothing hung on the rockers");
    assert_eq!(view["snapshots"][0]["finished"], true);
    let problem = phone.refused("begin_snapshot", snapshot(&view, &Value::Null, json!(["fender_lip"]), 1, 1));
    assert_eq!(problem.fields[0].sentence, "The fender lip is no longer read.");
    assert!(phone.ask("see_result", json!({ "snapshot": walk["snapshot"] }))["corners"]["FL"]["tape_mm"].is_number());
    let taken_up = change(&view, |form| form["points"][0]["retired"] = json!(false));
    assert_eq!(phone.ask("change_car", taken_up)["vehicle"]["ref_points"][0]["retired"], Value::Null);
    let none = change(&view, |form| {
        for list in ["points", "further"] {
            for mark in form[list].as_array_mut().expect("a list").iter_mut() {
                mark["retired"] = json!(true);
            }
        }
    });
    assert_eq!(phone.refused("change_car", none).fields[0].field, "points");
}

/// Every text of the form in turn is nonsense: said beside its field, kept as typed, nothing stored.
#[test]
fn hostile_text_in_every_field_is_said_beside_it_and_nothing_is_stored() {
    let mut phone = Phone::new();
    let sound = phone.ask("add_car", everything());
    let before = exported(&mut phone, &sound["car"]);
    let paths = [
        "label",
        "wheelbase",
        "track_front",
        "track_rear",
        "points.0.front_behind_axle",
        "points.3.rear_apart",
        "further.0.behind_front_axle",
        "further.1.from_middle",
        "further.0.what",
        "tires.FL.marking",
        "tires.RR.pressure",
        "tires.FR.measured_diameter",
        "body.overhang_front",
        "body.overhang_rear",
        "body.roof_height",
        "body.hood_height",
        "springs.front.base",
        "springs.rear.side_rate",
        "springs.front.ride_rate",
        "springs.rear.bar",
        "springs.front.words",
        "springs.roll_share",
        "springs.lean_gain",
        "loads.mass",
        "loads.front_share",
        "loads.axle_front",
        "loads.axle_rear",
        "loads.tank_size",
        "loads.tank_place",
        "loads.seat_front",
        "loads.seat_rear",
    ];
    let nonsense = ["\u{0}\u{7}", "<b>1e999</b>", "-1e308", "NaN", "x\n'; DROP TABLE car; --"];
    for path in paths {
        for text in nonsense {
            // A name of a car may be any words; only what no line can hold is none.
            if (path == "label" || path.ends_with("words") || path.ends_with("what"))
                && !text.chars().any(char::is_control)
            {
                continue;
            }
            let request = change(&sound, |form| {
                *form.pointer_mut(&format!("/{}", path.replace('.', "/"))).expect(path) = json!(text);
            });
            phone.ask("sketch_car", request.clone());
            let problem = phone.refused("change_car", request);
            let said = problem.fields.iter().find(|field| field.field == path);
            let said = said.unwrap_or_else(|| panic!("{path} {text:?}: {problem:?}"));
            assert_eq!(said.typed.trim(), text.trim(), "{path}: as typed");
            assert!(!said.sentence.is_empty() && !said.hint.is_empty(), "{path}");
        }
    }
    assert_eq!(exported(&mut phone, &sound["car"]), before);
    for (edit, field) in [
        (json!({"axle_front": "500"}), "loads.axle_rear"),
        (json!({"axle_front": "500", "axle_rear": "560", "mass": "2000"}), "loads.mass"),
        (json!({"axle_front": "500", "axle_rear": "560", "front_share": "80"}), "loads.front_share"),
        (json!({"tank_size": "55"}), "loads.tank_place"),
    ] {
        let problem = phone.refused("change_car", change(&sound, |form| form["loads"] = edit));
        assert_eq!(problem.fields[0].field, field, "{problem:?}");
    }
}
