//! Plans through the verbs: changes as they are typed, what follows, keeping, Compare, the search among parts, the work done and its list.

use crate::phone::Phone;
use serde_json::{Value, json};

fn roadster(phone: &mut Phone) -> (Value, Vec<Value>) {
    let garage = phone.ask("open_sample_garage", json!({}));
    let named = |car: &&Value| car["label"].as_str().unwrap().contains("oadster");
    let car = garage["cars"].as_array().unwrap().iter().find(named).unwrap()["car"].clone();
    let view = phone.ask("open_car", json!({ "car": car }));
    (car, view["snapshots"].as_array().unwrap().clone())
}

fn change(kind: &str, end: &str, fields: Value) -> Value {
    json!({"label": "", "left_out": false, "steps": [{"kind": kind, "end": end, "fields": fields, "written": ""}]})
}

fn plan(car: &Value, from: &Value, changes: Value) -> Value {
    json!({"car": car, "plan": null, "label": "low for the show", "from": from, "target": "", "kind": "", "changes": changes})
}

/// True rails of four weeks before: 269.25 in front, 331.75 behind; both changes lower them by 15.5 and 12.6.
#[test]
fn what_is_typed_is_planned_and_what_follows_stands_under_it() {
    let mut phone = Phone::new();
    let (car, rows) = roadster(&mut phone);
    let then = rows.iter().find(|row| row["label"] == "four weeks before").unwrap()["snapshot"].clone();
    let list = phone.ask("open_plans", json!({ "car": car }));
    assert_eq!((&list["nothing"], list["kinds"].as_array().unwrap().len()), (&json!(""), 27));
    assert_eq!(list["parts"].as_array().unwrap().len(), 5, "those of the file");
    let changes = json!([
        change("spring", "front", json!({"amount_mm": "-16 mm"})),
        change("spring", "rear", json!({"amount_mm": "-12 mm"})),
        {"label": "smaller tires", "left_out": true, "steps": [{"kind": "tire", "end": "front", "fields": {"free_diameter_change_mm": "-20 mm"}}]}
    ]);
    let view = phone.ask("sketch_plan", plan(&car, &then, changes));
    for (end, truth) in [("front", 269.25 - 15.5), ("rear", 331.75 - 12.64)] {
        let (value, u) = (view[end]["value_mm"].as_f64().unwrap(), view[end]["u_mm"].as_f64().unwrap());
        assert!((value - truth).abs() < 3.0 * u && u > 2.0, "{end}: {value} ± {u}");
    }
    let told: Vec<[&str; 2]> = view["rows"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| [row["front"].as_str().unwrap(), row["rear"].as_str().unwrap()])
        .collect();
    assert_eq!(told, [["\u{2212}16", "0"], ["0", "\u{2212}12"], ["\u{2212}10", "0"]]);
    let first = &view["follows"][0];
    assert_eq!((&first["word"], &first["check"]), (&json!("touches"), &json!("ramp")), "worst first: {first}");
    assert_eq!((&view["overlay"]["figure_line"], &view["overlay"]["over_line"]), (&json!("now"), &json!("predicted")));
    assert!(view["text"].as_str().unwrap().contains("A plan, not a snapshot."));
    assert!(view["cautions"][0]["headline"].as_str().unwrap().contains("energy"));
    // Before and after stand on the same wheels, apart by what was planned.
    let mark = |of: &str| view["overlay"][of]["front_mm"]["value"].as_f64().unwrap();
    assert!((mark("figure") - mark("over") - 15.5).abs() < 0.1);
}

#[test]
fn every_problem_stands_at_its_field_and_nothing_is_stored() {
    let mut phone = Phone::new();
    let (car, _) = roadster(&mut phone);
    for (changes, fields) in [
        (json!([change("block", "rear", json!({"thickness_mm": "thick"}))]), vec!["changes.0.thickness_mm"]),
        (json!([change("block", "", json!({"thickness_mm": "1"}))]), vec!["changes.0.end"]),
        (json!([change("", "rear", json!({}))]), vec!["changes.0.kind"]),
        (json!([change("shackle", "rear", json!({"length_change_mm": "1"}))]), vec![]),
        (
            json!([
                change("spring", "front", json!({"amount_mm": "-900 mm"})),
                change("leaf_out", "rear", json!({"leaves": "main"}))
            ]),
            vec!["changes.0.amount_mm", "changes.1.leaves"],
        ),
        (json!([]), vec!["changes"]),
    ] {
        let asked = plan(&car, &json!(""), changes);
        let view = phone.ask("sketch_plan", asked.clone());
        if fields.is_empty() {
            // What can be read and not be done is said in its row.
            assert!(
                view["rows"][0]["problem"].as_str().unwrap().contains("hich way the shackle points"),
                "{}",
                view["rows"][0]
            );
            continue;
        }
        let problem = phone.refused("keep_plan", asked);
        let ours: Vec<&str> = problem.fields.iter().map(|field| field.field.as_str()).collect();
        assert_eq!(ours, fields);
    }
    assert_eq!(phone.ask("open_plans", json!({ "car": car }))["rows"], json!([]));
}

#[test]
fn a_kept_plan_can_be_compared_carried_out_and_its_list_ticked() {
    let mut phone = Phone::new();
    let (car, rows) = roadster(&mut phone);
    // The sample was measured in August; the work comes after it.
    phone.days_later(200);
    let changes = json!([change("reversed_eyes", "front", json!({"eye_diameter_mm": "1 1/4"}))]);
    let list = phone.ask("keep_plan", plan(&car, &rows[0]["snapshot"], changes));
    let kept = list["kept"].clone();
    assert_eq!(
        list["rows"][0]["form"]["changes"][0]["steps"][0]["fields"]["eye_diameter_mm"], "1 1/4",
        "as it was typed"
    );
    let view = phone.ask("compare", json!({"car": car, "this": {"of": "planned", "id": kept}}));
    assert_eq!(view["planned"][0]["label"], "low for the show");
    let of = &view["comparison"];
    assert_eq!((&of["this"]["line"], &of["other"]["line"]), (&json!("predicted"), &json!("target")));
    assert!(of["headline"].as_str().unwrap().to_lowercase().contains("plan"), "{}", of["headline"]);
    // It replaces itself when it is changed, and never becomes a snapshot.
    let mut lower = list["rows"][0]["form"].clone();
    lower["changes"][0]["steps"][0]["fields"]["eye_diameter_mm"] = json!("1 1/2");
    let list = phone.ask("keep_plan", lower);
    assert_eq!(list["rows"].as_array().unwrap().len(), 1);
    let kept = list["kept"].clone();
    assert_eq!(phone.ask("open_car", json!({ "car": car }))["snapshots"].as_array().unwrap().len(), rows.len());
    let done = phone.ask("mark_plan", json!({"car": car, "of": kept, "what": "carried_out"}));
    assert_eq!(done["rows"][0]["carried_out"], true);
    let detail = done["rows"][0]["detail"].as_str().unwrap();
    assert!(detail.contains("; done ") && !detail.contains(':'), "{detail}");
    let work = &done["follow_up"][0];
    assert!(work["due_now"] == true && work["due"].as_str().unwrap().contains("day 0"), "{work}");
    let task = work["tasks"].as_array().unwrap().iter().find(|task| task["task"] == "u_bolts_first_drive").unwrap();
    assert_eq!(task["done"], "");
    let tick = |done: bool| json!({"car": car, "event": work["event"], "task": "u_bolts_first_drive", "done": done});
    let ticked = phone.ask("tick_task", tick(true));
    let of = |view: &Value| {
        view["follow_up"][0]["tasks"]
            .as_array()
            .unwrap()
            .iter()
            .find(|task| task["task"] == "u_bolts_first_drive")
            .unwrap()["done"]
            .clone()
    };
    let done = of(&ticked);
    let day = done.as_str().unwrap();
    assert!(day.split(' ').count() == 3 && !day.contains(':'), "a day in words: {day}");
    assert_eq!(of(&phone.ask("tick_task", tick(false))), "");
    let history = phone.ask("open_history", json!({"car": car, "only": [], "after": 0}));
    assert!(history["entries"].to_string().to_lowercase().contains("eyes reversed"), "the work is in the history");
    let away = phone.ask("mark_plan", json!({"car": car, "of": kept, "what": "put_away"}));
    assert_eq!((&away["rows"], away["put_away"].as_array().unwrap().len()), (&json!([]), 1));
}

#[test]
fn parts_are_kept_and_the_search_ranks_them() {
    let mut phone = Phone::new();
    let (car, rows) = roadster(&mut phone);
    let then = rows.iter().find(|row| row["label"] == "four weeks before").unwrap()["snapshot"].clone();
    let part = json!({"car": car, "part": null, "label": "dropped axle", "slot": "front axle", "price": "400", "hours": "8",
        "steps": [{"kind": "dropped_axle", "end": "front", "fields": {"drop_mm": "24 mm"}, "written": ""}]});
    let list = phone.ask("keep_part", part.clone());
    assert_eq!(list["parts"].as_array().unwrap().len(), 6);
    let found = phone.ask("search_plan", json!({"car": car, "from": then, "effort": 1}));
    assert_eq!((&found["reaches"], &found["proved"], &found["done"]), (&json!(true), &json!(true), &json!(1.0)));
    let worst: Vec<f64> =
        found["answers"].as_array().unwrap().iter().map(|one| one["worst"].as_f64().unwrap()).collect();
    assert!(worst.is_sorted() && worst[0] <= 1.0);
    // An answer opens as the plan that it is.
    let view = phone.ask("sketch_plan", found["answers"][0]["plan"].clone());
    assert_eq!(view["problems"], json!([]));
    assert!(view["against"].as_str().unwrap().starts_with("Against"), "{}", view["against"]);
    let kept = phone.ask("search_plan", json!({"car": car, "from": then, "no_touch": true, "effort": 1}));
    assert_eq!(kept["reaches"], false);
    assert!(kept["nearest_but"].as_str().unwrap().contains("trailer ramp"), "{}", kept["nearest_but"]);
    let problem = phone.refused("search_plan", json!({"car": car, "caster_low": "8", "caster_high": "5"}));
    assert_eq!(problem.fields[0].field, "caster_high");
    let mut bad = part;
    bad["price"] = json!("dear");
    bad["label"] = json!("");
    let problem = phone.refused("keep_part", bad);
    let fields: Vec<&str> = problem.fields.iter().map(|field| field.field.as_str()).collect();
    assert_eq!(fields, ["label", "price"]);
}

#[test]
fn a_plan_prints_with_its_changes_and_what_follows() {
    let mut phone = Phone::new();
    let (car, rows) = roadster(&mut phone);
    let changes = json!([change("spring", "front", json!({"amount_mm": "-16 mm"}))]);
    let sheet = phone.ask("print_plan", plan(&car, &rows[0]["snapshot"], changes));
    let html = sheet["html"].as_str().unwrap();
    for part in [
        "Predicted, not measured",
        "Springs hold energy",
        "U-bolts again after the first drive",
        "What follows",
        "<svg",
    ] {
        assert!(html.contains(part), "{part}");
    }
}
