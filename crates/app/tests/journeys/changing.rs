//! Changing a car: what was not typed anew stays as it was, and so do the names that readings hang on.

use crate::phone::{Phone, pickup};
use serde_json::{Value, json};

const COUPE: &str = include_str!("../../../../sample-data/settling-coupe.json");

fn exported(phone: &mut Phone, car: &Value) -> Value {
    let exported = phone.ask("export_car", json!({"car": car["car"]}));
    serde_json::from_str(exported["text"].as_str().unwrap()).unwrap()
}

fn point<'a>(vehicle: &'a Value, id: &str) -> &'a Value {
    vehicle["ref_points"].as_array().unwrap().iter().find(|point| point["id"] == id).unwrap()
}

#[test]
fn marks_at_the_rear_go_with_the_rear_axle() {
    let mut phone = Phone::new();
    let mut form = pickup();
    form["wheelbase"] = json!("2600");
    form["points"][1]["rear_ahead_of_axle"] = json!("100");
    let car = phone.ask("add_car", form.clone());
    assert_eq!(point(&car["vehicle"], "rail.RL")["x_mm"], -2500.0);
    form["wheelbase"] = json!("2700");
    let changed = phone.ask("change_car", json!({"car": car["car"], "form": form}));
    for (id, x_mm) in [("rail.RL", -2600.0), ("rail.RR", -2600.0), ("lip.RL", -2700.0), ("rail.FL", -320.0)] {
        assert_eq!(point(&changed["vehicle"], id)["x_mm"], x_mm, "{id}");
    }
    assert_eq!(changed["form"]["wheelbase"], "2700");
}

#[test]
fn a_new_name_changes_nothing_else_of_a_sample_car() {
    let mut phone = Phone::new();
    let garage = phone.ask("open_sample_garage", json!({}));
    for row in garage["cars"].as_array().unwrap() {
        let before = exported(&mut phone, row);
        let mut form = phone.ask("open_car", json!({"car": row["car"]}))["form"].clone();
        form["label"] = json!("Renamed");
        phone.ask("change_car", json!({"car": row["car"], "form": form}));
        let mut after = exported(&mut phone, row);
        after["vehicle"]["label"] = before["vehicle"]["label"].clone();
        assert_eq!(after["vehicle"], before["vehicle"]);
        assert_eq!(after["snapshots"], before["snapshots"]);
    }
}

#[test]
fn an_edited_pair_keeps_its_names_its_other_marks_and_what_was_not_typed() {
    let mut phone = Phone::new();
    let mut file: Value = serde_json::from_str(&COUPE.replace("\"lip.FL\"", "\"mark 7\"")).unwrap();
    let vehicle = &mut file["vehicle"];
    vehicle["suspension"]["front"]["axle_ride_rate_n_per_mm"]["how"] = json!("weighed");
    vehicle["suspension"]["note"] = json!("leaves");
    // The right mark sits 5 mm further out than the left, and a second mark stands in front.
    for point in vehicle["ref_points"].as_array_mut().unwrap() {
        if point["id"] == "lip.FR" {
            point["y_mm"] = json!(-824.0);
        }
    }
    let second =
        json!({"id": "lip ahead", "corner": "FL", "kind": "fender_lip", "x_mm": 120.5, "y_mm": 810.0, "ink": "red"});
    vehicle["ref_points"].as_array_mut().unwrap().push(second.clone());
    let garage = phone.ask("import_file", json!({"name": "coupe.json", "text": file.to_string()}));
    let row = garage["cars"][0].clone();
    let before = exported(&mut phone, &row);

    let mut form = phone.ask("open_car", json!({"car": row["car"]}))["form"].clone();
    let lips = form["points"].as_array().unwrap().iter().position(|pair| pair["kind"] == "fender_lip").unwrap();
    assert_eq!((&form["points"][lips]["front_behind_axle"], &form["tape"]), (&json!("0"), &json!("mm")));
    form["points"][lips]["front_behind_axle"] = json!("10");
    form["tires"]["FL"]["pressure"] = json!("225");
    phone.ask("change_car", json!({"car": row["car"], "form": form}));

    let mut expected = before["vehicle"].clone();
    for point in expected["ref_points"].as_array_mut().unwrap() {
        if point["id"] == "mark 7" || point["id"] == "lip.FR" {
            point["x_mm"] = json!(-10.0);
        }
    }
    expected["tires"]["FL"]["nominal_pressure_kpa"] = json!(225.0);
    let after = exported(&mut phone, &row);
    assert_eq!(after["vehicle"], expected);
    assert_eq!(point(&after["vehicle"], "lip ahead"), &second);
    assert_eq!(after["snapshots"], before["snapshots"]);
    let car = phone.ask("open_car", json!({"car": row["car"]}));
    let result = phone.ask("see_result", json!({"snapshot": car["snapshots"][0]["snapshot"], "kind": "fender_lip"}));
    assert!(result["corners"]["FL"]["level_mm"]["value"].is_f64(), "its readings still count: {result}");
}

#[test]
fn the_sample_garage_opened_again_reverts_nothing() {
    let mut phone = Phone::new();
    let garage = phone.ask("open_sample_garage", json!({}));
    let row = garage["cars"][0].clone();
    let mut form = phone.ask("open_car", json!({"car": row["car"]}))["form"].clone();
    form["track_front"] = json!("1500 mm");
    form["nominal_load"] = json!("empty");
    phone.ask("change_car", json!({"car": row["car"], "form": form}));
    let changed = exported(&mut phone, &row);
    let again = phone.ask("open_sample_garage", json!({}));
    assert_eq!(exported(&mut phone, &row), changed);
    assert_eq!((&again["cars"][0]["car"], again["cars"].as_array().unwrap().len()), (&row["car"], 3));
    assert_eq!(again["notices"], json!([]));
}

#[test]
fn a_file_of_a_car_that_is_here_says_what_it_replaced() {
    let mut phone = Phone::new();
    let file = json!({"name": "coupe.json", "text": COUPE});
    let first = phone.ask("import_file", file.clone());
    let row = first["cars"][0].clone();
    assert_eq!(first["notices"], json!([]));
    assert_eq!(phone.ask("import_file", file.clone()), first, "the same file twice changes nothing");
    let mut form = phone.ask("open_car", json!({"car": row["car"]}))["form"].clone();
    form["nominal_load"] = json!("empty");
    phone.ask("change_car", json!({"car": row["car"], "form": form}));
    let again = phone.ask("import_file", file);
    assert_eq!(again["notices"], json!(["Sample coupe: its measures are now those of the file."]));
}

#[test]
fn a_file_that_makes_no_sense_with_what_is_here_is_refused_whole() {
    let mut phone = Phone::new();
    let garage = phone.ask("import_file", json!({"name": "coupe.json", "text": COUPE}));
    let row = garage["cars"][0].clone();
    let before = exported(&mut phone, &row);
    // By itself it makes sense: the mark is gone and so are the readings of it.
    let mut file = before.clone();
    file["snapshots"] = json!([]);
    file["vehicle"]["ref_points"].as_array_mut().unwrap().retain(|point| point["id"] != "lip.FL");
    let problem = phone.refused("import_file", json!({"name": "old.json", "text": file.to_string()}));
    let start = "old.json: With what is kept of this car the file makes no sense: snapshots[0]";
    assert!(problem.sentence.starts_with(start), "{}", problem.sentence);
    assert_eq!(exported(&mut phone, &row), before);
}
