//! Bench sums: typed once, kept with the car, worked out, handed on in its file, opened as typed; and what cannot be, in words.

use crate::phone::{Phone, pickup};
use serde_json::{Value, json};

fn kept(phone: &mut Phone, car: &Value, part: &str, typed: &[(&str, &str)]) -> Value {
    let form = with(&form(phone, car, part), typed);
    phone.ask("keep_mechanism", form)
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

fn sum(phone: &mut Phone, car: &Value, of: &str, inches: bool) -> Value {
    let view = phone.ask("see_bench_sums", json!({ "car": car, "inches": inches }));
    let sums = view["sums"].as_array().expect("a list");
    sums.iter().find(|one| one["sum"] == of).unwrap_or_else(|| panic!("{of}: {view}")).clone()
}

/// Number, ± as k = 1 and what stands for the ±.
fn row(sum: &Value, of: &str) -> (f64, f64, String) {
    let rows = sum["words"]["rows"].as_array().expect("rows");
    let row = rows.iter().find(|row| row["of"] == of).unwrap_or_else(|| panic!("{of}: {sum}"));
    (row["number"].as_f64().unwrap(), row["u"].as_f64().unwrap(), row["band"].as_str().unwrap().to_owned())
}

fn near(ours: f64, by_hand: f64, what: &str) {
    assert!((ours - by_hand).abs() < 5e-4 * by_hand.abs().max(1.0), "{what}: {ours}, by hand {by_hand}");
}

const BOX: [(&str, &str); 8] = [
    ("turns", "3.75"),
    ("pitman", "6 in"),
    ("arm", "7 in"),
    ("sweep", "62"),
    ("beside.0.label", "longer pitman arm"),
    ("beside.0.pitman", "7 in"),
    ("beside.1.label", "quicker box"),
    ("beside.1.ratio", "15"),
];

#[test]
fn nothing_typed_says_what_to_do_first() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup())["car"].clone();
    let view = phone.ask("see_bench_sums", json!({ "car": car }));
    for sum in view["sums"].as_array().unwrap() {
        assert_eq!((&sum["words"]["described"], &sum["picture"]), (&json!(false), &Value::Null), "{sum}");
        assert!(sum["words"]["headline"].as_str().unwrap().ends_with(" yet."), "{sum}");
    }
}

#[test]
fn a_steering_box_is_counted_set_beside_others_and_handed_on() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup())["car"].clone();
    let after = kept(&mut phone, &car, "steering_box", &BOX);
    assert_eq!(after["vehicle"]["steering_box"]["pitman_arm_mm"], 152.4);
    let told = sum(&mut phone, &car, "steering_box", false);
    // 3.75 turns over 62° are 3.75·360/62 = 21.774 to 1; the box has 6/7 of it, 18.664; the pitman arm swings 62·7/6 = 72.33°.
    near(row(&told, "overall_ratio").0, 21.774, "at the road wheels");
    near(row(&told, "box_ratio").0, 18.664, "the box");
    near(row(&told, "pitman_sweep").0, 72.333, "the pitman arm");
    // Turns were counted to ±0.1; a sweep of ±2° in 62 and that make 21.774·√((0.05/3.75)² + (1/62)²) = 0.456.
    near(row(&told, "overall_ratio").1, 0.4558, "its u");
    assert_eq!(row(&told, "turns").2, "\u{b1}0.10");
    // Arms alike: the box's own 18.664·62/360 = 3.214 turns; a box of 15 with the old arms 15·7/6·62/360 = 3.014.
    near(row(&told, "beside_0").0, 3.2143, "longer pitman arm");
    near(row(&told, "beside_1").0, 3.0139, "quicker box");
    assert!(told["words"]["rows"][4]["line"].as_str().unwrap().ends_with("; 117 % of the pull"), "{told}");
    // Opened again as typed, also on another phone.
    let text = phone.ask("export_car", json!({ "car": car }))["text"].as_str().map(str::to_owned).unwrap();
    let mut other = Phone::new();
    let there = other.ask("import_file", json!({ "name": "c.json", "text": text }))["cars"][0]["car"].clone();
    assert_eq!(form(&mut other, &there, "steering_box")["values"]["pitman"], "6 in");
    assert_eq!(sum(&mut other, &there, "steering_box", false), told);
    // Emptied, it is gone.
    let gone = phone.ask("keep_mechanism", json!({ "car": car, "part": "steering_box", "tape": "mm", "values": {} }));
    assert!(gone["vehicle"].get("steering_box").is_none());
}

#[test]
fn a_pedal_tells_push_pressure_and_travel() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup())["car"].clone();
    kept(&mut phone, &car, "pedal", &[("pad", "300 mm"), ("rod", "50 mm")]);
    let bare = sum(&mut phone, &car, "pedal", false);
    assert_eq!(bare["words"]["headline"], "6.0 to 1.");
    assert!(bare["words"]["notes"].to_string().contains("A firm 300 N stands for the foot"), "{bare}");
    let typed = [("foot", "40 kg"), ("bore", "1 in"), ("stroke", "20 mm")];
    kept(&mut phone, &car, "pedal", &typed);
    let told = sum(&mut phone, &car, "pedal", false);
    // 40 kg are 392.27 N, sixfold 2353.6 N; over 506.707 mm² of an inch bore 4.6449 MPa; the pad goes six times 20 mm.
    near(row(&told, "push").0, 2_353.6, "push");
    near(row(&told, "pressure").0, 4.644_9, "pressure");
    assert!(told["words"]["rows"][2]["line"].as_str().unwrap().starts_with("674 psi"), "{told}");
    near(row(&told, "travel").0, 120.0, "travel");
    // A mm on 300 and on 50: a 49th part, 2.03 %.
    near(row(&told, "travel").1, 120.0 * 0.020_276, "its u");
    assert_eq!(sum(&mut phone, &car, "pedal", true)["words"]["rows"][3]["value"], "4 3/4 in");
}

#[test]
fn a_wedge_is_a_shim_or_a_cut() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup())["car"].clone();
    kept(&mut phone, &car, "wedge", &[("now", "4"), ("wanted", "7"), ("pad", "100 mm")]);
    let shim = sum(&mut phone, &car, "wedge", false);
    // 100·tan 3° = 5.2408 mm, thick at the rear below its spring.
    near(row(&shim, "thickness").0, 5.240_8, "shim");
    assert_eq!((&shim["picture"]["kind"], &shim["picture"]["thick_rear"]), (&json!("shim"), &json!(true)));
    assert!(shim["words"]["headline"].as_str().unwrap().ends_with("thick at its rear."), "{shim}");
    let cut = [("where", "cut"), ("depth", "50 mm"), ("from", "250 mm"), ("rod", "1000 mm"), ("now", "3")];
    kept(&mut phone, &car, "wedge", &cut);
    let told = sum(&mut phone, &car, "wedge", false);
    // At a quarter of the rod the axle gets three quarters: the cut turns 5.333°, 2·50·tan 2.667° = 4.6578 mm.
    near(row(&told, "thickness").0, 4.657_8, "cut");
    near(row(&told, "cut").0, 5.333_3, "what the cut turns");
    assert_eq!(told["picture"]["closes_top"], json!(true));
    assert!(told["words"]["cautions"][0].as_str().unwrap().contains("qualified person"), "{told}");
}

#[test]
fn a_radiator_keeps_what_was_not_cut() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup())["car"].clone();
    let fields = json!({ "core_height_mm": "500", "core_width_mm": "440", "sectioned_mm": "75" });
    phone.ask("keep_measured", json!({ "car": car, "part": "radiator", "of": "", "tape": "mm", "fields": fields }));
    let told = sum(&mut phone, &car, "radiator", false);
    // 75 of 500 mm are 15 %; 44 × 50 cm are 22.0 dm², of which 18.7 stay.
    assert_eq!((row(&told, "left").0, &told["words"]["headline"]), (85.0, &json!("85 % of its core is left.")));
    assert_eq!(told["words"]["detail"], "18.7 dm² of 22.0 dm², 75 mm out of the height.");
    // 341 of 290 in²: 220,000 and 187,000 mm² over 645.16.
    let inches = sum(&mut phone, &car, "radiator", true);
    assert!(inches["words"]["detail"].as_str().unwrap().starts_with("290 in² of 341 in²"), "{inches}");
}

#[test]
fn four_pads_tell_where_the_weight_sits() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup())["car"].clone();
    let fields = json!({
        "axles_kg.front": "", "axles_kg.rear": "", "wheels_kg.FL": "330", "wheels_kg.FR": "310", "wheels_kg.RL": "260",
        "wheels_kg.RR": "280", "raised.front_kg": "668", "raised.lift_mm": "500", "raised.axle_height_mm": "320",
    });
    phone.ask("keep_measured", json!({ "car": car, "part": "weighed", "of": "", "tape": "mm", "fields": fields }));
    let told = sum(&mut phone, &car, "weight", false);
    assert_eq!(told["words"]["headline"], "1180 kg, 54 % of it in front.", "{told}");
    // The pickup's wheelbase times 540/1180; the diagonal carries 610 of 1180.
    let wheelbase = told["picture"]["wheelbase_mm"].as_f64().unwrap();
    near(row(&told, "behind").0, wheelbase * 540.0 / 1_180.0, "behind");
    near(row(&told, "diagonal").0, 610.0 / 1_180.0, "diagonal");
    // 320 + 28/1180·b·√(b² − 500²)/500.
    let by_hand = 320.0 + 28.0 / 1_180.0 * wheelbase * (wheelbase * wheelbase - 250_000.0).sqrt() / 500.0;
    near(row(&told, "height").0, by_hand, "height");
    assert!(row(&told, "aside").1 > 2.0, "the \u{b1} of four scales");
}

#[test]
fn what_cannot_be_is_refused_beside_its_field_and_nothing_is_changed() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup())["car"].clone();
    kept(&mut phone, &car, "steering_box", &BOX);
    let before = phone.ask("export_car", json!({ "car": car }));
    let cut = ("where", "cut");
    for (part, typed, field, says) in [
        ("steering_box", &[("turns", "many")][..], "turns", "many is not a count of turns."),
        ("steering_box", &[("by", "ratio")], "ratio", "The box\u{2019}s ratio is missing."),
        ("steering_box", &[("pitman", "6 m")], "pitman", "the pitman arm is 20 to 500 mm."),
        ("steering_box", &[("beside.1.ratio", "")], "beside.1.ratio", "It changes nothing."),
        ("pedal", &[("pad", "50 mm"), ("rod", "300 mm")], "rod", "The push rod lies as far out as the pad."),
        ("pedal", &[("pad", "300 mm"), ("rod", "50 mm"), ("foot", "hard")], "foot", "hard is not a push"),
        ("wedge", &[("now", "5"), ("wanted", "5"), ("pad", "100 mm")], "wanted", "It has that caster now."),
        ("wedge", &[("now", "-18"), ("wanted", "5"), ("pad", "100 mm")], "now", "-18 is outside \u{2212}15 to 20"),
        ("wedge", &[cut, ("now", "3"), ("wanted", "5"), ("depth", "50 mm"), ("from", "9 in")], "rod", "is missing."),
    ] {
        let form = form(&mut phone, &car, part);
        let problem = phone.refused("keep_mechanism", with(&form, typed));
        let beside = problem.fields.iter().find(|one| one.field == field);
        let beside = beside.unwrap_or_else(|| panic!("{field}: {problem:?}"));
        assert!(beside.sentence.contains(says), "{problem:?}");
    }
    assert_eq!(phone.ask("export_car", json!({ "car": car })), before);
}
