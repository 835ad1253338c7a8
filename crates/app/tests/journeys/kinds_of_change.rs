//! Every kind of change as somebody types it who has never seen the form: what it does, what it refuses, and what stays typed.

use crate::phone::Phone;
use serde_json::{Value, json};

fn sample(phone: &mut Phone, label: &str) -> Value {
    let garage = phone.ask("open_sample_garage", json!({}));
    let named = |car: &&Value| car["label"].as_str().unwrap().contains(label);
    garage["cars"].as_array().unwrap().iter().find(named).unwrap()["car"].clone()
}

fn sketch(phone: &mut Phone, car: &Value, kind: &str, end: &str, fields: &Value) -> Value {
    let change =
        json!({"label": "", "left_out": false, "steps": [{"kind": kind, "end": end, "fields": fields, "written": ""}]});
    phone.ask(
        "sketch_plan",
        json!({"car": car, "plan": null, "label": "", "from": "", "target": "", "kind": "", "changes": [change]}),
    )
}

/// What every kind does at the two axles, worked out beside the code; on the sloping drive's pickup, which has a transverse leaf in
/// front and parallel leaves behind, both ends 210 and 220 kPa.
#[test]
fn every_kind_can_be_typed_and_says_what_it_does() {
    let mut phone = Phone::new();
    let car = sample(&mut phone, "ickup");
    let kinds = phone.ask("open_plans", json!({"car": car}))["kinds"].as_array().unwrap().clone();
    let typed = [
        ("spring", "front", json!({"amount_mm": "-1 in"}), Some([-25.0, 0.0])),
        // 96 · (8/7 − 1) = 13.7
        ("leaf_out", "rear", json!({"leaves": "3", "leaves_in_pack": "8", "sinks_mm": "96 mm"}), Some([0.0, -14.0])),
        ("reversed_eyes", "rear", json!({"eye_diameter_mm": "32 mm"}), Some([0.0, -32.0])),
        ("rearched_leaf", "rear", json!({"amount_mm": "-20 mm"}), Some([0.0, -20.0])),
        ("perch", "rear", json!({"lower_mm": "1/2"}), Some([0.0, -13.0])),
        // Half of a longer parallel shackle.
        ("shackle", "rear", json!({"sketch": "hanging", "length_change_mm": "30 mm"}), Some([0.0, 15.0])),
        ("block", "rear", json!({"thickness_mm": "2"}), Some([0.0, -51.0])),
        ("shim", "rear", json!({"thickness_mm": "6 mm", "side": "both"}), Some([0.0, 6.0])),
        ("wedge", "rear", json!({"wedge_deg": "2"}), Some([0.0, 0.0])),
        ("dropped_axle", "front", json!({"drop_mm": "4"}), Some([-102.0, 0.0])),
        ("dropped_spindle", "front", json!({"drop_mm": "50 mm"}), Some([-50.0, 0.0])),
        ("flipped_axle", "rear", json!({"lower_mm": "120 mm"}), Some([0.0, -120.0])),
        ("coil_over", "rear", json!({"turns": "-4", "pitch_mm": "2 mm"}), Some([0.0, -8.0])),
        ("air", "rear", json!({"amount_mm": "-60 mm"}), Some([0.0, -60.0])),
        ("crossmember", "front", json!({"flattened_mm": "25 mm"}), Some([-25.0, 0.0])),
        ("kick_up", "rear", json!({"height_mm": "6"}), Some([0.0, -152.0])),
        // 500 · sin 6° = 52.3
        ("pie_cut", "front", json!({"wedge_deg": "6", "arm_mm": "500 mm"}), Some([-52.0, 0.0])),
        ("c_notch", "rear", json!({"depth_mm": "50 mm"}), Some([0.0, 0.0])),
        ("channel", "", json!({"depth_mm": "3"}), Some([0.0, 0.0])),
        ("section", "", json!({"section_mm": "60 mm", "core_height_mm": "500 mm"}), Some([0.0, 0.0])),
        ("tire", "rear", json!({"free_diameter_change_mm": "-30 mm"}), Some([0.0, -15.0])),
        ("wheel", "front", json!({"width_change_mm": "25 mm"}), Some([0.0, 0.0])),
        ("pressure", "rear", json!({"to_kpa": "180"}), None),
        ("load", "", json!({"mass_kg": "40", "x_mm": "-2665 mm"}), None),
        ("hanger", "rear", json!({"up_mm": "20 mm"}), None),
        (
            "coil",
            "rear",
            json!({"free_length_before_mm": "400 mm", "rate_before_n_per_mm": "40", "free_length_after_mm": "370 mm",
            "rate_after_n_per_mm": "40", "load_n": "4000"}),
            Some([0.0, -30.0]),
        ),
        (
            "coil_cut",
            "rear",
            json!({"turns_removed": "0.5", "turns": "8", "free_length_mm": "400 mm", "rate_n_per_mm": "40",
            "load_n": "4000"}),
            None,
        ),
    ];
    assert_eq!(typed.len(), kinds.len());
    for (kind, end, fields, expected) in typed {
        let offered = kinds.iter().find(|of| of["kind"] == kind).unwrap_or_else(|| panic!("{kind} is not offered"));
        let view = sketch(&mut phone, &car, kind, end, &fields);
        let row = &view["rows"][0];
        assert_eq!((&view["problems"], &row["problem"]), (&json!([]), &json!("")), "{kind}");
        for key in fields.as_object().unwrap().keys() {
            let field = offered["fields"].as_array().unwrap().iter().any(|field| field["key"] == *key);
            assert!(field || (key == "amount_mm" && offered["amount"] == true), "the form has no {key} for {kind}");
        }
        assert_eq!(offered["end"], !end.is_empty(), "{kind}");
        assert!(!offered["does"].as_str().unwrap().is_empty() && !row["sum"].as_str().unwrap().is_empty(), "{kind}");
        if let Some([front, rear]) = expected {
            let moved = [&row["front_mm"], &row["rear_mm"]].map(|mm| mm.as_f64().unwrap().round() + 0.0);
            assert_eq!(moved, [front, rear], "{kind}");
        } else {
            assert!(row["front_mm"].as_f64().unwrap() + row["rear_mm"].as_f64().unwrap() < -0.1, "{kind}: {row}");
        }
        // What has to be looked at again stands under it, and cautions where the work is.
        let looks = row["follows"].to_string();
        assert!(offered["side_effects"] == json!([]) || looks.contains("Look again at"), "{kind}: {looks}");
        assert_eq!(view["cautions"].as_array().unwrap().len(), offered["cautions"].as_array().unwrap().len(), "{kind}");
    }
}

/// Welding, springs, axles and frames are never without their caution.
#[test]
fn what_is_dangerous_says_so_where_it_is_chosen() {
    let mut phone = Phone::new();
    let car = sample(&mut phone, "ickup");
    let kinds = phone.ask("open_plans", json!({"car": car}))["kinds"].as_array().unwrap().clone();
    for (group, bare) in [("Springs", vec![]), ("Frame", vec![]), ("Axle", vec![])] {
        for kind in kinds.iter().filter(|kind| kind["group"] == group) {
            let has = !kind["cautions"].as_array().unwrap().is_empty();
            assert_eq!(has, !bare.contains(&kind["kind"].as_str().unwrap()), "{kind}");
        }
    }
}

#[test]
fn what_cannot_be_done_is_said_with_its_field_and_what_would_do() {
    let mut phone = Phone::new();
    let car = sample(&mut phone, "ickup");
    for (kind, end, fields, field, says) in [
        ("block", "front", json!({"thickness_mm": "25 mm"}), "", "transverse"),
        ("leaf_out", "rear", json!({"leaves": "3"}), "leaves_in_pack", "Leaves in the pack"),
        ("leaf_out", "rear", json!({"leaves": "1", "leaves_in_pack": "8", "sinks_mm": "96 mm"}), "leaves", "main leaf"),
        (
            "leaf_out",
            "rear",
            json!({"leaves": "9", "leaves_in_pack": "8", "sinks_mm": "96 mm"}),
            "leaves",
            "Name leaves",
        ),
        ("leaf_out", "rear", json!({"leaves": "two"}), "leaves", "3, 5"),
        ("tire", "rear", json!({"marking": "6.00-99"}), "marking", ""),
        ("tire", "rear", json!({"marking": "nonsense"}), "marking", ""),
        ("shackle", "rear", json!({"length_change_mm": "30 mm"}), "sketch", ""),
        ("pressure", "rear", json!({"to_kpa": "1000"}), "to_kpa", "50 to 700 kPa"),
        ("pie_cut", "front", json!({"wedge_deg": "6", "sweep_mm": "20 mm", "arm_mm": "500 mm"}), "", "one of them"),
        ("kick_up", "rear", json!({"height_mm": "-2"}), "height_mm", "0 or more"),
        ("spring", "rear", json!({"amount_mm": "-42"}), "amount_mm", "After the minus sign, 42"),
        (
            "coil_cut",
            "rear",
            json!({"turns_removed": "9", "turns": "8", "free_length_mm": "400 mm", "rate_n_per_mm": "40",
            "load_n": "4000"}),
            "turns_removed",
            "Leave some",
        ),
    ] {
        let view = sketch(&mut phone, &car, kind, end, &fields);
        let (problems, row) = (&view["problems"], &view["rows"][0]);
        let said = format!("{} {} {}", problems[0]["sentence"], problems[0]["hint"], row["problem"]);
        assert!(problems != &json!([]) || row["problem"] != "", "{kind} {fields} is taken: {row}");
        assert!(said.contains(says), "{kind} {fields}: {said}");
        if !field.is_empty() {
            let at = problems[0]["field"].as_str().unwrap_or_default();
            assert!(at.ends_with(field), "{kind} {fields}: at {at:?}: {said}");
        }
        // What is proposed in place of it keeps its sign.
        let typed = fields["amount_mm"].as_str().is_some_and(|typed| typed.starts_with('-'));
        for proposal in problems[0]["proposals"].as_array().into_iter().flatten() {
            assert!(!typed || proposal.as_str().unwrap().starts_with('-'), "{kind} {fields}: {proposal}");
        }
        // Codes of files are no words for a person.
        assert!(!said.contains("_mm") && !said.contains("changes["), "{kind} {fields}: {said}");
    }
}
