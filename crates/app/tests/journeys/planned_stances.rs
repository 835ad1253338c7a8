//! Every page of what follows standing on a plan: the one that is being drawn up, and one that is kept; and what is left to do after work
//! on the car's own page.

use crate::phone::Phone;
use serde_json::{Value, json};

fn sample(phone: &mut Phone, label: &str) -> Value {
    let garage = phone.ask("open_sample_garage", json!({}));
    let named = |car: &&Value| car["label"].as_str().unwrap().contains(label);
    garage["cars"].as_array().unwrap().iter().find(named).unwrap()["car"].clone()
}

fn change(kind: &str, end: &str, fields: Value) -> Value {
    json!({"label": "", "left_out": false, "steps": [{"kind": kind, "end": end, "fields": fields, "written": ""}]})
}

fn form(car: &Value, changes: Value) -> Value {
    json!({"car": car, "plan": null, "label": "", "from": "", "target": "", "kind": "", "changes": changes})
}

/// As the window keeps it while it is typed.
fn drawn_up(phone: &mut Phone, form: &Value) {
    let name = format!("plan {}", form["car"].as_str().unwrap());
    let text = json!({"form": form, "times": 5, "aside": null}).to_string();
    phone.ask("keep_form", json!({"name": name, "text": text}));
}

const LOWER: [(&str, &str, &str); 2] = [("spring", "front", "-16 mm"), ("spring", "rear", "-12 mm")];

fn lower() -> Value {
    LOWER.iter().map(|(kind, end, mm)| change(kind, end, json!({"amount_mm": mm}))).collect()
}

#[test]
fn the_plan_that_is_drawn_up_can_be_stood_on_everywhere_before_it_is_kept() {
    let mut phone = Phone::new();
    let car = sample(&mut phone, "oadster");
    let plan = form(&car, lower());
    let at_hand = json!({"of": "planned", "id": ""});
    let nothing = phone.refused("see_checks", json!({"car": car, "stance": at_hand}));
    assert_eq!((nothing.code.as_str(), nothing.sentence.as_str()), ("not_found", "No plan is being drawn up."));
    drawn_up(&mut phone, &plan);
    let sketched = phone.ask("sketch_plan", plan.clone());
    for (verb, stands, choices) in [
        ("see_checks", "/checked/stance", "/planned"),
        ("see_ramp", "/driven/stance", "/planned"),
        ("see_fitment", "/stance", "/choices/planned"),
        ("see_steering", "/stance", "/choices/planned"),
        ("see_driveline", "/stance", "/choices/planned"),
    ] {
        let now = phone.ask(verb, json!({"car": car}));
        assert_ne!(now.pointer(stands).unwrap()["stance"], at_hand, "{verb} stands as measured unless it is asked");
        let offered = &now.pointer(choices).unwrap()[0];
        assert_eq!((&offered["stance"], &offered["label"]), (&at_hand, &json!("the plan at hand")), "{verb}");
        let view = phone.ask(verb, json!({"car": car, "stance": at_hand}));
        assert_eq!(view.pointer(stands).unwrap()["stance"], at_hand, "{verb}");
        let predicted =
            view.get("predicted").or(view.pointer("/checked/predicted")).or(view.pointer("/driven/predicted"));
        assert_eq!(predicted, Some(&json!(true)), "{verb}");
    }
    // The same rows as the checks have of it, worst first, each with what it is now and with its picture.
    let checks = phone.ask("see_checks", json!({"car": car, "stance": at_hand}));
    assert_eq!(sketched["follows"], checks["checked"]["rows"]);
    let touches = &sketched["follows"][0];
    assert_eq!((&touches["word"], &touches["check"]), (&json!("touches"), &json!("ramp")));
    assert!(!touches["sentence"].as_str().unwrap().is_empty() && touches["picture"]["of"] == "side");
    let rows = sketched["follows"].as_array().unwrap();
    let exhaust = rows.iter().find(|row| row["check"] == "clearance").unwrap();
    let measured = phone.ask("see_checks", json!({"car": car}));
    let rows = measured["checked"]["rows"].as_array().unwrap();
    let now = rows.iter().find(|row| row["what"] == exhaust["what"] && row["check"] == "clearance").unwrap();
    assert_eq!(exhaust["now"], now["number"]);
    assert_eq!(now["now"], "", "what was measured stands beside nothing");
    let fell = now["value"].as_f64().unwrap() - exhaust["value"].as_f64().unwrap();
    assert!((12.0..=16.0).contains(&fell), "between the axles, {fell} mm");

    // Kept, it is offered once, by its name; changed after that, both are.
    let mut named = plan;
    named["label"] = json!("low");
    let list = phone.ask("keep_plan", named);
    let kept = list["rows"][0]["form"].clone();
    drawn_up(&mut phone, &kept);
    let planned = |phone: &mut Phone| {
        let all = phone.ask("see_steering", json!({"car": car}))["choices"]["planned"].clone();
        all.as_array().unwrap().iter().map(|one| one["label"].as_str().unwrap().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(planned(&mut phone), ["low"]);
    let mut changed = kept;
    changed["changes"][1]["left_out"] = json!(true);
    drawn_up(&mut phone, &changed);
    assert_eq!(planned(&mut phone), ["low, changed", "low"]);
}

#[test]
fn a_draft_that_says_nothing_is_no_stance_and_no_obstacle() {
    let mut phone = Phone::new();
    let car = sample(&mut phone, "oadster");
    let name = format!("plan {}", car.as_str().unwrap());
    let all_out = json!([{"label": "", "left_out": true, "steps": [{"kind": "spring", "end": "front", "fields": {"amount_mm": "-16 mm"}}]}]);
    for text in [
        "not json".to_owned(),
        "{}".to_owned(),
        json!({"form": form(&car, json!([]))}).to_string(),
        json!({"form": form(&car, all_out)}).to_string(),
        json!({"form": form(&car, json!([change("block", "rear", json!({"thickness_mm": "thick"}))]))}).to_string(),
        json!({"form": form(&car, json!([change("block", "rear", json!({"thickness_mm": "25 mm"}))]))}).to_string(),
    ] {
        phone.ask("keep_form", json!({"name": name, "text": text}));
        assert_eq!(phone.ask("see_checks", json!({"car": car}))["planned"], json!([]), "{text}");
    }
}

#[test]
fn springs_take_out_the_leaves_that_the_plan_takes_out() {
    let mut phone = Phone::new();
    let car = sample(&mut phone, "oadster");
    let as_it_is = phone.ask("see_spring", json!({"car": car, "rear": false}));
    if as_it_is["before"].is_null() {
        // The sample has no pack: what the plan does is said all the same.
        drawn_up(&mut phone, &form(&car, lower()));
        let view = phone.ask("see_spring", json!({"car": car, "rear": false, "stance": {"of": "planned", "id": ""}}));
        assert!(
            view["predicted"] == true && view["words"]["notes"][0].as_str().unwrap().contains("\u{2212}16 mm"),
            "{view}"
        );
        return;
    }
    drawn_up(&mut phone, &form(&car, json!([change("leaf_out", "front", json!({"leaves": "3"}))])));
    let view = phone.ask("see_spring", json!({"car": car, "rear": false, "stance": {"of": "planned", "id": ""}}));
    let out: Vec<bool> = view["leaves"].as_array().unwrap().iter().map(|leaf| leaf["out"].as_bool().unwrap()).collect();
    assert_eq!(out.iter().filter(|out| **out).count(), 1);
    assert!(out[2] && view["after"].is_object());
    // By hand in place of the plan's.
    let ask = json!({"car": car, "rear": false, "remove": [], "stance": {"of": "planned", "id": ""}});
    assert_eq!(phone.ask("see_spring", ask)["after"], Value::Null);
}

#[test]
fn where_the_drop_comes_from_is_told_source_by_source() {
    let mut phone = Phone::new();
    let car = sample(&mut phone, "oadster");
    let changes = json!([
        change("spring", "front", json!({"amount_mm": "-16 mm"})),
        change("tire", "front", json!({"free_diameter_change_mm": "-20 mm"})),
        change("kick_up", "rear", json!({"height_mm": "50 mm"})),
        change("channel", "", json!({"depth_mm": "75 mm"})),
    ]);
    let view = phone.ask("sketch_plan", form(&car, changes));
    let told: Vec<String> =
        view["drops"].as_array().unwrap().iter().map(|place| place["text"].as_str().unwrap().to_owned()).collect();
    // The channel leaves the frame; in the middle the frame comes down by half of both ends.
    assert_eq!(
        told,
        [
            "front: \u{2212}26 mm, from tires \u{2212}10, spring \u{2212}16",
            "rear: \u{2212}50 mm, from frame \u{2212}50",
            "body, in the middle: \u{2212}113 mm, from with the frame \u{2212}38, body over frame \u{2212}75"
        ]
    );
    let view = phone.ask("sketch_plan", form(&car, json!([change("c_notch", "rear", json!({"depth_mm": "40 mm"}))])));
    assert_eq!(view["drops"], json!([]), "a notch moves nothing");
}

#[test]
fn the_cars_page_says_what_is_left_to_do_after_work() {
    let mut phone = Phone::new();
    let car = sample(&mut phone, "oadster");
    phone.days_later(200);
    assert_eq!(phone.ask("open_car", json!({"car": car}))["due"], Value::Null);
    let mut plan = form(&car, json!([change("reversed_eyes", "front", json!({"eye_diameter_mm": "1 1/4"}))]));
    plan["label"] = json!("eyes");
    let list = phone.ask("keep_plan", plan);
    let done = phone.ask("mark_plan", json!({"car": car, "of": list["kept"], "what": "carried_out"}));
    let due = phone.ask("open_car", json!({"car": car}))["due"].clone();
    assert_eq!((&due["due_now"], &due["words"]), (&json!(true), &done["follow_up"][0]["due"]));
    let open = done["follow_up"][0]["tasks"].as_array().unwrap().len();
    assert_eq!(due["open"], open);
    let event = done["follow_up"][0]["event"].clone();
    phone.ask("tick_task", json!({"car": car, "event": event, "task": "hoses", "done": true}));
    assert_eq!(phone.ask("open_car", json!({"car": car}))["due"]["open"], open - 1);
}
