//! Grounds as a person makes them: a driveway under a string, a ramp from two numbers, and the car on them.

use crate::phone::Phone;
use serde_json::{Value, json};

const ROADSTER: &str = include_str!("../../../../sample-data/show-roadster.json");

fn form(part: Value) -> Value {
    let mut form = json!({"label": "home", "kind": "driveway", "way": "string", "tape": "mm"});
    for (key, value) in part.as_object().unwrap() {
        form[key] = value.clone();
    }
    form
}

fn station(ground: &Value, along: &str, down: &str, number: u32) -> Value {
    json!({"ground": ground["ground"], "along": along, "down": down, "tape": "mm", "request_id": format!("station {number}")})
}

/// The sample roadster without grounds of its own.
fn with_roadster() -> (Phone, String) {
    let mut phone = Phone::new();
    let mut file: Value = serde_json::from_str(ROADSTER).unwrap();
    file.as_object_mut().unwrap().remove("grounds");
    let garage = phone.ask("import_file", json!({"name": "roadster.json", "text": file.to_string()}));
    let car = garage["cars"][0]["car"].as_str().unwrap().to_owned();
    phone.restless = true;
    (phone, car)
}

#[test]
fn a_driveway_is_read_station_by_station_and_the_car_is_driven_over_it() {
    let (mut phone, car) = with_roadster();
    let empty = phone.ask("see_ramp", json!({"car": car}));
    assert_eq!((&empty["nothing"]["wants"], &empty["driven"]), (&json!("ground"), &Value::Null));
    let ground = phone.ask("keep_ground", form(json!({"slope": "0"})));
    assert_eq!((&ground["next_along"], &ground["ready"]), (&json!("0"), &json!(false)));
    let rows = [
        ("0", "402"),
        ("400", "405"),
        ("800", "409"),
        ("800", "374"),
        ("1200", "330"),
        ("1700", "262"),
        ("2200", "196"),
    ];
    let mut view = ground.clone();
    for (number, (along, down)) in rows.into_iter().enumerate() {
        view = phone.ask("take_station", station(&ground, along, down, number as u32));
        // The same request again, as a shell asks that heard no answer, keeps nothing twice.
        let again = phone.ask("take_station", station(&ground, along, down, number as u32));
        assert_eq!(again["stations"], view["stations"]);
    }
    assert_eq!((&view["next_along"], &view["state"]), (&json!("2700"), &json!("seven stations over 2200 mm")));
    assert_eq!(view["stations"][3]["step"], "a step of 35 mm up");
    // Undone and put back, also after a restart.
    let view = phone.ask("undo_station", json!({"ground": ground["ground"]}));
    assert_eq!(
        (view["stations"].as_array().unwrap().len(), &view["taken_back"]),
        (6, &json!("2200 mm along, 196 mm down"))
    );
    let view = phone.ask("put_back_station", json!({"ground": ground["ground"]}));
    assert_eq!(view["stations"].as_array().unwrap().len(), 7);
    let driven = phone.ask("see_ramp", json!({"car": car}))["driven"].clone();
    assert_eq!(driven["ground_words"], "Driveway home");
    assert!(driven["headline"].as_str().unwrap().ends_with("the driveway home."), "{driven}");
    assert!(driven["u_mm"].as_f64().unwrap() > 2.0);
    // The export carries it, and every number of it.
    let file = phone.ask("export_car", json!({"car": car, "without_pictures": true}));
    let file: Value = serde_json::from_str(file["text"].as_str().unwrap()).unwrap();
    assert_eq!(file["grounds"][0]["string"]["stations"][3]["down_mm"], 374.0);
    assert_eq!(file["grounds"][0]["string"]["stations"][3]["text"], "374");
}

#[test]
fn what_cannot_be_read_or_runs_backwards_is_said_at_its_field_and_nothing_is_stored() {
    let (mut phone, _) = with_roadster();
    let ground = phone.ask("keep_ground", form(json!({})));
    for (number, (along, down)) in [("0", "400"), ("400", "400"), ("400", "380")].into_iter().enumerate() {
        phone.ask("take_station", station(&ground, along, down, number as u32));
    }
    let rows = [
        ("80", "390", "along", "80 mm lies before the last station, at 400 mm: the profile would run backwards."),
        ("400", "390", "along", "Two stations stand at 400 mm already: they make a step, and a third says nothing."),
        ("800", "1e99", "down", ""),
        ("-5", "390", "along", ""),
        ("800", "", "down", ""),
        ("999999999", "390", "along", ""),
    ];
    for (along, down, field, sentence) in rows {
        let problem = phone.refused("take_station", station(&ground, along, down, 99));
        let wrong = &problem.fields[0];
        assert_eq!(wrong.field, field, "{along} {down}");
        assert!(sentence.is_empty() || wrong.sentence == sentence, "{}", wrong.sentence);
        assert!(field == "down" || sentence.is_empty() != (wrong.proposals == ["800"]), "{:?}", wrong.proposals);
    }
    let view = phone.ask("open_ground", json!({"ground": ground["ground"]}));
    assert_eq!(view["stations"].as_array().unwrap().len(), 3);
    // One that was left out is put between the others.
    let mut between = station(&ground, "200", "395", 100);
    between["between"] = json!(true);
    let view = phone.ask("take_station", between);
    assert_eq!(view["stations"][1]["along_mm"], 200.0);
}

#[test]
fn a_ramp_comes_from_two_of_its_measures_and_three_must_agree() {
    let (mut phone, car) = with_roadster();
    let ramp = |part: Value| {
        let mut form = form(json!({"label": "", "kind": "trailer_ramp", "way": "measures"}));
        for (key, value) in part.as_object().unwrap() {
            form[key] = value.clone();
        }
        form
    };
    // 2.4 m at 11 degrees rise 458 mm, not 600: by hand 2400·sin 11° = 457.9.
    let problem = phone.refused("keep_ground", ramp(json!({"angle": "11", "length": "2400", "rise": "600"})));
    let said = &problem.fields[0];
    assert_eq!(said.field, "rise");
    assert_eq!(said.sentence, "With 11\u{b0} and 2400 mm it rises 458 mm, not 600 mm: the three do not agree.");
    for (part, field) in [
        (json!({"angle": "11"}), "rise"),
        (json!({"rise": "600"}), "angle"),
        (json!({"angle": "95", "rise": "600"}), "angle"),
        (json!({"length": "500", "rise": "600"}), "length"),
        (json!({"angle": "steep", "rise": "600"}), "angle"),
        (json!({"kind": "crest"}), "angle"),
        (json!({"kind": "speed_hump", "length": "200", "rise": "150"}), "rise"),
    ] {
        let problem = phone.refused("keep_ground", ramp(part.clone()));
        assert_eq!(problem.fields[0].field, field, "{part}");
    }
    assert_eq!(phone.ask("open_grounds", json!({}))["rows"], json!([]), "nothing was stored");
    // asin(600/2400) = 14.4775 degrees.
    let steep = phone.ask("keep_ground", ramp(json!({"length": "2400", "rise": "600"})));
    let eleven = phone.ask("keep_ground", ramp(json!({"angle": "11", "rise": "600"})));
    assert_eq!((&steep["label"], &eleven["label"]), (&json!("14.5\u{b0} ramp"), &json!("11\u{b0} ramp")));
    let target = phone.ask("open_targets", json!({"car": car}))["rows"][0]["target"].clone();
    let ask = json!({"car": car, "ground": eleven["ground"], "stance": {"of": "target", "id": target}});
    let view = phone.ask("see_ramp", ask.clone());
    let driven = &view["driven"];
    // Truth of the simulated car once it is low: 10.31 degrees of breakover, and the ramp has 11.
    assert_eq!((&driven["word"], &driven["headline"]), (&json!("touches"), &json!("Touches the 11\u{b0} ramp.")));
    assert_eq!(driven["predicted"], true);
    let row = |name: &str| driven["rows"].as_array().unwrap().iter().find(|row| row["row"] == name).unwrap().clone();
    let steepest: f64 = row("steepest")["number"].as_str().unwrap().trim_end_matches('\u{b0}').parse().unwrap();
    assert!((steepest - 10.31).abs() < 0.35, "{steepest}");
    assert_eq!(row(&format!("ground.{}", steep["ground"].as_str().unwrap()))["word"], "touches");
    assert_eq!(driven["curve"]["lines"].as_array().unwrap().len(), 2, "the newest snapshot stands beside a target");
    let page = phone.ask("print_ramp", ask);
    assert!(page["html"].as_str().unwrap().contains("Touches the 11\u{b0} ramp."));
    assert!(page["file_name"].as_str().unwrap().ends_with("-11-ramp.html"), "{}", page["file_name"]);
    // Put away it is no longer driven over, and comes back.
    phone.ask("put_away_ground", json!({"ground": eleven["ground"], "away": true}));
    assert_eq!(phone.ask("see_ramp", json!({"car": car}))["grounds"].as_array().unwrap().len(), 1);
    let list = phone.ask("put_away_ground", json!({"ground": eleven["ground"], "away": false}));
    assert_eq!((list["rows"].as_array().unwrap().len(), list["put_away"].as_array().unwrap().len()), (2, 0));
}
