//! Wheels in their openings, and what else is measured part by part: seen, typed, refused in words, left out again.

use crate::phone::{Phone, pickup};
use serde_json::{Value, json};

const COUPE: &str = include_str!("../../../../sample-data/settling-coupe.json");

fn coupe() -> (Phone, Value) {
    let mut phone = Phone::new();
    let garage = phone.ask("import_file", json!({"name": "coupe.json", "text": COUPE}));
    let car = garage["cars"][0]["car"].clone();
    (phone, car)
}

/// A form's fields as they would be sent back untouched.
fn known(form: &Value) -> Value {
    let fields = form["sections"].as_array().unwrap().iter().flat_map(|section| section["fields"].as_array().unwrap());
    let fields: serde_json::Map<String, Value> =
        fields.map(|field| (field["name"].as_str().unwrap().to_owned(), field["value"].clone())).collect();
    json!({"car": form["car"], "part": form["part"], "of": form["of"], "tape": form["tape"], "fields": fields})
}

fn with(form: &Value, typed: Value) -> Value {
    let mut asked = known(form);
    for (name, text) in typed.as_object().unwrap() {
        assert!(asked["fields"].get(name).is_some(), "{name} is no field of {form}");
        asked["fields"][name] = text.clone();
    }
    asked
}

fn vehicle(phone: &mut Phone, car: &Value) -> Value {
    let file = phone.ask("export_car", json!({"car": car, "without_pictures": true}));
    let file: Value = serde_json::from_str(file["text"].as_str().unwrap()).unwrap();
    file["vehicle"].clone()
}

#[test]
fn the_coupes_other_wheel_touches_the_frame_before_full_lock() {
    let (mut phone, car) = coupe();
    let view = phone.ask("see_fitment", json!({"car": car}));
    assert_eq!(view["as_on"], "as on 12 July 2031");
    let openings = view["openings"].as_array().unwrap();
    // Front wheels with the other one and with their own, rear wheels with their own.
    assert_eq!(openings.len(), 6);
    let front = &openings[0];
    assert_eq!((&front["corner"], &front["other"]), (&json!("FL"), &json!("205 on 7 inch, 8 inboard")));
    assert_eq!((&front["now_words"], &front["worst"]), (&json!("185 on 6 inch"), &json!("full_lock")));
    let lock = &front["states"][2];
    assert_eq!(lock["headline"], "Touches at full lock.");
    let detail = lock["detail"].as_str().unwrap();
    assert!(detail.starts_with("Front left: the frame rail, from ") && detail.ends_with("° of 33° on."), "{detail}");
    let both = &front["states"][3];
    assert_eq!((&both["state"], &both["words"]), (&json!("full_lock_and_bump"), &json!("full lock and bump")));
    assert_eq!(both["headline"], "Can\u{2019}t tell at full lock and bump.");
    let rail = both["gaps"].as_array().unwrap().iter().find(|gap| gap["place"] == "frame").unwrap();
    assert_eq!(
        (&rail["word"], rail["mm"].as_f64() <= lock["gaps"][0]["mm"].as_f64()),
        (&json!("cant_tell"), true),
        "{rail}"
    );
    let rest = &front["states"][0];
    assert_eq!(rest["headline"], "Clears at rest.");
    let lip = rest["gaps"].as_array().unwrap().iter().find(|gap| gap["place"] == "fender_outer").unwrap();
    assert_eq!((lip["mm"].as_f64(), lip["now_mm"].as_f64()), (Some(22.0), Some(24.0)));
    // The springs came down since: over the tread there is less than was measured, sideways there is not.
    let above = rest["gaps"].as_array().unwrap().iter().find(|gap| gap["place"] == "above").unwrap();
    // Front lips came down from 629.3 to 597.0 on the same tires: 78 − 32.3.
    assert!((above["now_mm"].as_f64().unwrap() - 45.7).abs() < 5.0, "{above}");
    let facts = front["facts"].as_array().unwrap();
    assert!(facts.iter().any(|fact| fact["words"] == "Outer edge" && fact["value"] == "2 mm farther out"), "{facts:?}");
    assert!(facts.iter().any(|fact| fact["words"] == "The tire carries" && fact["value"] == "710 kg"), "{facts:?}");
    assert_eq!(front["scene"]["other"]["out_mm"], -8.0);
    assert!(view["cautions"][0].as_str().unwrap().contains("approved"));
    assert_eq!(view["wheels"][0]["state"], "six gaps");
}

#[test]
fn a_wheel_is_measured_from_nothing_and_comes_back_as_typed() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup())["car"].clone();
    let view = phone.ask("see_fitment", json!({"car": car}));
    assert_eq!(view["openings"], json!([]));
    assert!(view["nothing"].as_str().unwrap().starts_with("No gap is measured yet."), "{view}");
    let form = phone.ask("open_measured", json!({"car": car, "part": "wheel", "of": "FL"}));
    assert_eq!((&form["title"], &form["known"]), (&json!("Front left in its opening"), &json!(false)));
    let typed = json!({"gaps.fender_outer.at_rest_mm": "1 1/4\"", "gaps.above.at_rest_mm": "90 mm", "rim_width_mm": "4 1/2 in",
        "backspacing_mm": "3 in", "section_width_mm": "152 mm"});
    let kept = phone.ask("keep_measured", with(&form, typed));
    assert_eq!(kept["known"], true);
    let car_now = vehicle(&mut phone, &car);
    let wheel = &car_now["fitment"]["wheels"]["FL"];
    assert_eq!(wheel["gaps"]["fender_outer"], json!({"at_rest_mm": 31.75}));
    assert_eq!((&wheel["rim_width_mm"], &wheel["backspacing_mm"]), (&json!(114.3), &json!(76.2)));
    let view = phone.ask("see_fitment", json!({"car": car}));
    assert_eq!(view["openings"].as_array().unwrap().len(), 1);
    assert_eq!(view["nothing"], Value::Null);
    // Sent back untouched nothing changes; emptied, a gap is not known any more.
    phone.ask("keep_measured", known(&kept));
    assert_eq!(vehicle(&mut phone, &car), car_now);
    let form = phone.ask("open_measured", json!({"car": car, "part": "wheel", "of": "FL"}));
    phone.ask("keep_measured", with(&form, json!({"gaps.above.at_rest_mm": ""})));
    let gaps = vehicle(&mut phone, &car)["fitment"]["wheels"]["FL"]["gaps"].clone();
    assert_eq!(gaps, json!({"fender_outer": {"at_rest_mm": 31.75}}));
    phone.ask("leave_measured_out", json!({"car": car, "part": "wheel", "of": "FL"}));
    assert_eq!(phone.ask("see_fitment", json!({"car": car}))["openings"], json!([]));
}

#[test]
fn every_problem_stands_at_its_field_and_nothing_is_kept() {
    let (mut phone, car) = coupe();
    let before = vehicle(&mut phone, &car);
    for (part, of, typed, wrong) in [
        (
            "wheel",
            "FL",
            json!({"gaps.frame.at_rest_mm": "11 5/12\"", "rim_width_mm": "6 mm"}),
            vec!["gaps.frame.at_rest_mm"],
        ),
        (
            "wheel",
            "FL",
            json!({"rim_width_mm": "6 mm", "backspacing_mm": "100 mm"}),
            vec!["rim_width_mm", "backspacing_mm"],
        ),
        ("wheel", "FL", json!({"gaps.frame.at_rest_mm": ""}), vec!["gaps.frame.at_rest_mm"]),
        ("steer", "", json!({"lock_inner_deg": "330"}), vec!["lock_inner_deg"]),
        ("steer", "", json!({"lock_inner_deg": "far"}), vec!["lock_inner_deg"]),
        ("other_wheel", "0", json!({"marking": "205//70"}), vec!["marking"]),
        ("other_wheel", "", json!({"label": "19 inch"}), vec!["marking", "rim_width_mm"]),
        ("travel", "rear", json!({"shock.longest_mm": "280 mm"}), vec!["shock.longest_mm"]),
        ("travel", "front", json!({"track_bar.rise_mm": "20 mm"}), vec!["track_bar.length_mm"]),
        ("square", "", json!({"wheelbase_right_mm": ""}), vec!["wheelbase_right_mm"]),
        ("square", "", json!({"toe_front.rear_mm": "1640 mm"}), vec!["toe_front.front_mm"]),
        ("jack", "", json!({"label": "", "saddle_low_mm": "8 mm"}), vec!["label"]),
        ("jack", "0", json!({"saddle_high_mm": "80 mm"}), vec!["saddle_high_mm"]),
        (
            "radiator",
            "",
            json!({"core_height_mm": "500 mm", "core_width_mm": "440 mm", "sectioned_mm": "500 mm"}),
            vec!["sectioned_mm"],
        ),
    ] {
        let form = phone.ask("open_measured", json!({"car": car, "part": part, "of": of}));
        let problem = phone.refused("keep_measured", with(&form, typed.clone()));
        let fields: Vec<&str> = problem.fields.iter().map(|field| field.field.as_str()).collect();
        assert_eq!(fields, wrong, "{part} {typed}: {problem:?}");
        assert!(problem.fields.iter().all(|field| !field.sentence.is_empty() && !field.hint.is_empty()), "{problem:?}");
    }
    assert_eq!(vehicle(&mut phone, &car), before);
}

#[test]
fn travel_squareness_and_jacks_are_typed_and_checked() {
    let (mut phone, car) = coupe();
    let form = phone.ask("open_measured", json!({"car": car, "part": "travel", "of": "front"}));
    let typed = json!({"track_bar.length_mm": "800 mm", "track_bar.frame_end": "right"});
    phone.ask("keep_measured", with(&form, typed));
    let form = phone.ask("open_measured", json!({"car": car, "part": "jack", "of": ""}));
    phone.ask("keep_measured", with(&form, json!({"label": "Scissors", "saddle_low_mm": "120 mm"})));
    let form = phone.ask("open_measured", json!({"car": car, "part": "square", "of": ""}));
    phone.ask("keep_measured", with(&form, json!({"camber_deg.RL": "-0,5", "caster.FL.gauge_deg": "6"})));
    let car_now = vehicle(&mut phone, &car);
    assert_eq!(car_now["travel"]["front"]["track_bar"], json!({"length_mm": 800.0, "frame_end": "right"}));
    assert_eq!(car_now["jacking"]["jacks"][2], json!({"label": "Scissors", "saddle_low_mm": 120.0}));
    assert_eq!(car_now["square"]["camber_deg"]["RL"], -0.5);
    assert_eq!(car_now["square"]["caster"]["FL"]["steered_deg"], 20.0, "what was not touched stays");
    phone.ask("leave_measured_out", json!({"car": car, "part": "jack", "of": "2"}));
    assert_eq!(vehicle(&mut phone, &car)["jacking"]["jacks"].as_array().unwrap().len(), 2);
    phone.refused("open_measured", json!({"car": car, "part": "wheel", "of": "middle"}));
    phone.refused("open_measured", json!({"car": car, "part": "travel", "of": "sideways"}));
    // A form a car does not know keeps nothing of itself: no track bar behind, since nothing was typed.
    let form = phone.ask("open_measured", json!({"car": car, "part": "travel", "of": "rear"}));
    phone.ask("keep_measured", known(&form));
    assert_eq!(vehicle(&mut phone, &car)["travel"]["rear"].get("track_bar"), None);
}

#[test]
fn a_gap_is_measured_as_the_car_stands_and_counts_from_its_first_snapshot() {
    let (mut phone, car) = coupe();
    let form = phone.ask("open_measured", json!({"car": car, "part": "wheel", "of": "RL"}));
    let shown = |form: &Value, name: &str| {
        let mut fields = form["sections"].as_array().unwrap().iter().flat_map(|one| one["fields"].as_array().unwrap());
        fields.find(|field| field["name"] == name).unwrap()["value"].as_str().unwrap().to_owned()
    };
    // 146 mm before the work; rear lips came down from 603.6 to 552.9 on the same tires: 50.7 less.
    let now: f64 = shown(&form, "gaps.above.at_rest_mm").parse().unwrap();
    assert!((now - (146.0 - 50.7)).abs() < 5.0, "{now}");
    assert_eq!(shown(&form, "gaps.fender_outer.at_rest_mm"), "19", "sideways springs move nothing");
    let before = vehicle(&mut phone, &car);
    phone.ask("keep_measured", known(&form));
    assert_eq!(vehicle(&mut phone, &car), before, "untouched it keeps every digit");
    let kept = phone.ask("keep_measured", with(&form, json!({"gaps.above.at_rest_mm": "90"})));
    assert_eq!(shown(&kept, "gaps.above.at_rest_mm"), "90");
    let first = vehicle(&mut phone, &car)["fitment"]["wheels"]["RL"]["gaps"]["above"]["at_rest_mm"].as_f64().unwrap();
    assert!((first - 146.0 - (90.0 - now)).abs() < 0.1, "{first}");
}

#[test]
fn a_shock_and_a_lift_point_measured_today_count_from_the_newest_snapshot() {
    let (mut phone, car) = coupe();
    let snapshots = phone.ask("open_car", json!({"car": car}))["snapshots"].clone();
    assert_eq!(snapshots[0]["date"], "2031-07-12");
    let form = phone.ask("open_measured", json!({"car": car, "part": "travel", "of": "rear"}));
    let typed = json!({
        "droop_mm": "80 mm", "shock.length_mm": "400 mm", "shock.shortest_mm": "290 mm", "shock.longest_mm": "520 mm", "shock.lean_deg": "",
    });
    phone.ask("keep_measured", with(&form, typed));
    let rear = vehicle(&mut phone, &car)["travel"]["rear"].clone();
    let newest = rear["shock"]["measured_in"].clone();
    assert!(newest.is_string(), "{rear}");
    // As it stands 400 mm, 80 mm down to where something holds it: 520 − 480 = 40 mm are left to pull out.
    let checks = phone.ask("see_checks", json!({"car": car, "stance": null, "load": "nominal", "rules": []}));
    let rows = checks["checked"]["rows"].as_array().unwrap();
    let left = rows.iter().find(|row| row["what"] == "rear, shock, full droop").unwrap_or_else(|| panic!("{checks}"));
    assert!((left["value"].as_f64().unwrap() - 40.0).abs() < 0.2, "{left}");
    // Its ends alone are no other stance: the place it was measured in stays.
    let form = phone.ask("open_measured", json!({"car": car, "part": "travel", "of": "rear"}));
    phone.ask("keep_measured", with(&form, json!({"shock.longest_mm": "530 mm"})));
    assert_eq!(vehicle(&mut phone, &car)["travel"]["rear"]["shock"]["measured_in"], newest);

    let form = phone.ask("open_measured", json!({"car": car, "part": "jack_point", "of": ""}));
    let typed = json!({"label": "rear cross-member", "attach": "frame", "x_mm": "-2900 mm", "z_mm": "240 mm"});
    phone.ask("keep_measured", with(&form, typed));
    let points = vehicle(&mut phone, &car)["jacking"]["points"].clone();
    let point = points.as_array().unwrap().iter().find(|point| point["label"] == "rear cross-member").unwrap();
    assert_eq!(point["measured_in"], newest);
}

#[test]
fn a_scale_ticket_is_typed_and_the_tires_are_held_against_it() {
    let (mut phone, car) = coupe();
    let form = phone.ask("open_measured", json!({"car": car, "part": "weighed", "of": ""}));
    assert_eq!((&form["title"], &form["known"]), (&json!("On the scales"), &json!(false)));
    let problem = phone.refused("keep_measured", with(&form, json!({"axles_kg.front": "690"})));
    assert!(
        problem.fields.iter().any(|field| field.field == "axles_kg.rear"),
        "one axle alone says little: {problem:?}"
    );
    phone.ask("keep_measured", with(&form, json!({"axles_kg.front": "690", "axles_kg.rear": "1675 lb"})));
    let kept = vehicle(&mut phone, &car)["weighed"].clone();
    assert_eq!(kept["axles_kg"]["front"], 690.0);
    assert!((kept["axles_kg"]["rear"].as_f64().unwrap() - 759.767).abs() < 1e-3, "{kept}");
    let view = phone.ask("see_fitment", json!({"car": car}));
    let parts = view["parts"].as_array().unwrap();
    assert!(
        parts.iter().any(|row| row["part"] == "weighed" && row["state"] == "690 kg in front, 760 kg behind"),
        "{parts:?}"
    );
}
