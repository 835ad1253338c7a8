//! `trueground fit`, `square`, `steering`, `pedal`, `wedge` and `radiator` as a person and a script meet them, and their checks of a car.

use crate::program::{answered, refused, trueground};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

pub(crate) const SQUARE: &str = include_str!("../../../../sample-data/squareness.json");
pub(crate) const STEERING: &str = include_str!("../../../../sample-data/steering-box.json");
pub(crate) const PEDAL: &str = include_str!("../../../../sample-data/pedal.json");
pub(crate) const WEDGE: &str = include_str!("../../../../sample-data/caster-wedge.json");
pub(crate) const WEIGHT: &str = include_str!("../../../../sample-data/scale-ticket.json");
pub(crate) const RADIATOR: &str = include_str!("../../../../sample-data/radiator.json");

fn coupe() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-data/settling-coupe.json")
}

fn with(change: impl Fn(&mut Value)) -> String {
    let mut file: Value = serde_json::from_str(&std::fs::read_to_string(coupe()).unwrap()).unwrap();
    change(&mut file["vehicle"]);
    file.to_string()
}

fn asked(arguments: &[&str], text: &str) -> Value {
    serde_json::from_str(&answered(trueground().args(arguments).args(["-", "--json"]).write_stdin(text))).unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

#[test]
fn another_wheel_touches_the_frame_before_full_lock() {
    let answer = asked(&["fit", "--wheel", "fl"], &with(|_| ()));
    let wheel = &answer["wheels"][0];
    // 20 mm wider: 10; 8 mm more offset: outward 10 − 8, inward 10 + 8.
    assert_eq!(
        (number(&wheel["outer_edge_moves_mm"]["value"]), number(&wheel["inner_edge_moves_mm"]["value"])),
        (2.0, 18.0)
    );
    let row = |place: &str, state: &str| {
        let rows = wheel["gaps"].as_array().unwrap();
        rows.iter()
            .find(|row| row["place"] == place && row["state"] == state)
            .unwrap_or_else(|| panic!("{wheel}"))
            .clone()
    };
    let lip = row("fender_outer", "at_rest");
    assert_eq!(
        (number(&lip["now_mm"]["value"]), number(&lip["then_mm"]["value"]), &lip["verdict"]),
        (24.0, 22.0, &json!("clears"))
    );
    assert_eq!(number(&row("spring", "at_rest")["then_mm"]["value"]), 13.0);
    // Measured with the wheel up: 5, less the same 2, and ±4 round it.
    let bump = row("fender_outer", "full_bump");
    assert_eq!((number(&bump["then_mm"]["value"]), &bump["verdict"]), (3.0, &json!("can't_tell")));
    let lock = row("frame", "full_lock");
    assert_eq!((number(&lock["now_mm"]["value"]), &lock["basis"]), (4.0, &json!("measured")));
    assert!(
        number(&lock["then_mm"]["value"]) < 0.0 && (20.0..33.0).contains(&number(&lock["touches_from_deg"])),
        "{lock}"
    );
    assert_eq!(wheel["first"], "frame rail, full lock");
    // Together they are a bound and never said to touch; over the tread a turned tire is no higher.
    let both = row("frame", "full_lock_and_bump");
    assert_eq!((&both["basis"], &both["verdict"]), (&json!("at_least"), &json!("can't_tell")));
    assert!(number(&both["then_mm"]["value"]) <= number(&lock["then_mm"]["value"]) + 1e-9, "{both}");
    assert_eq!(
        number(&row("above", "full_lock_and_bump")["then_mm"]["value"]),
        number(&row("above", "full_bump")["then_mm"]["value"])
    );
    // 381 + 2·144 = 669 across (143.5 rounded, as the regulation has it) against 677: 4 mm more room over the tread.
    assert_eq!(number(&row("above", "at_rest")["then_mm"]["value"]), 82.0);
    assert!(answer["caution"].as_str().unwrap().contains("approved"));
    // Both widths and both offsets to 1 mm: √(1/2 + 2) = 1.58, ± 3.
    let text = answered(trueground().arg("fit").arg(coupe()).args(["--wheel", "FL"]));
    assert!(text.starts_with("front left, 205 on 7 inch, 8 inboard\nOuter edge 2 mm farther out (± 3), inner edge 18 mm farther in (± 3).\n"), "{text}");
    assert!(
        text.contains("Nearest: frame rail, full lock.") && text.contains(" of 33° on") || text.contains(" of 28° on"),
        "{text}"
    );
}

#[test]
fn what_cannot_be_fitted_is_said_in_words() {
    for (change, says) in [
        (
            Box::new(|car: &mut Value| car["fitment"] = json!(null)) as Box<dyn Fn(&mut Value)>,
            "vehicle.fitment has no wheel",
        ),
        (Box::new(|car| car["tires"] = json!(null)), "the car has no tires"),
        (
            Box::new(|car| car["fitment"]["others"][0]["marking"] = json!("205//70")),
            "vehicle.fitment.others[0].marking: 205/ was understood",
        ),
        (
            Box::new(|car| car["fitment"]["wheels"]["FL"]["rim_width_mm"] = json!(6)),
            "rim_width_mm: 6 mm is outside 60 to 400 mm",
        ),
        (Box::new(|car| car["fitment"]["steer"]["lock_inner_deg"] = json!(330)), "330 deg is outside 5 to 60 deg"),
    ] {
        let said = refused(trueground().args(["fit", "-"]).write_stdin(with(change)));
        assert!(said.contains(says), "{said}");
    }
    let said = refused(trueground().arg("fit").arg(coupe()).args(["--other", "19 inch"]));
    assert!(said.contains("no other wheel 19 inch") && said.contains("205 on 7 inch, 8 inboard"), "{said}");
    assert!(
        refused(trueground().arg("fit").arg(coupe()).args(["--wheel", "middle"])).contains("Name FL, FR, RL or RR.")
    );
}

fn findings(only: &str, text: &str) -> Vec<Value> {
    let mut answer = asked(&["check", "--only", only], text);
    serde_json::from_value(answer["findings"].take()).unwrap()
}

fn what<'f>(found: &'f [Value], what: &str) -> &'f Value {
    found.iter().find(|one| one["what"] == what).unwrap_or_else(|| panic!("no {what} in {found:#?}"))
}

#[test]
fn a_lower_spring_takes_travel_and_room_over_the_tread_but_no_room_sideways() {
    let low = with(|car| {
        car["travel"]["rear"]["frame_gap_mm"] = json!(71);
        car["travel"]["rear"]["stop_gap_mm"] = json!(42);
    });
    let at = |snapshot: &str, only: &str| {
        let mut answer = asked(&["check", "--only", only, "--snapshot", snapshot], &low);
        serde_json::from_value::<Vec<Value>>(answer["findings"].take()).unwrap()
    };
    let (before, last) = (at("s-before", "travel"), at("s08", "travel"));
    let fell = |name: &str| number(&what(&before, name)["value"]) - number(&what(&last, name)["value"]);
    // Truth of the simulated car: rear lips 603.6 before the work and 552.9 after ten weeks, on the same tires: 50.7 mm over the axle.
    assert!((fell("rear, axle to frame") - 50.7).abs() < 5.0, "{}", fell("rear, axle to frame"));
    assert!((fell("rear, axle to frame") - fell("rear, bump stop")).abs() < 1e-9);
    assert_eq!(what(&last, "rear, axle to frame")["verdict"], "outside", "20 of 60 mm are left");
    assert_eq!(what(&last, "rear, bump stop")["verdict"], "touches");
    let (before, last) = (at("s-before", "fitment"), at("s08", "fitment"));
    let fell = |name: &str| number(&what(&before, name)["value"]) - number(&what(&last, name)["value"]);
    assert!((fell("RL, above the tread, at rest") - 50.7).abs() < 5.0);
    assert_eq!(fell("RL, fender lip, at rest"), 0.0);
}

#[test]
fn tires_carry_what_their_index_says() {
    let heavy = with(|car| {
        car["front_mass_share"] = json!(0.5);
        car["fitment"]["wheels"]["FL"]["max_load_kg"] = json!(320);
    });
    let found = findings("fitment", &heavy);
    // 1460 · 0.5/2 = 365 on one tire; √(0.03² + (0.05/√3)²)·730/2 = 15.2.
    let now = what(&found, "FL, tire load");
    assert!(
        (number(&now["value"]) - 365.0).abs() < 1e-9
            && (number(&now["u"]) - 15.19).abs() < 0.01
            && now["verdict"] == "outside"
            && now["unit"] == "kg",
        "{now}"
    );
    assert!(now["sentence"].as_str().unwrap().contains("part of the nominal mass"), "{now}");
    // A ticket comes before it, and 75 kg on the seat go to the axles: 0.5 of 690 and of what the driver puts in front.
    let ticket = with(|car| {
        car["weighed"] = json!({"axles_kg": {"front": 690, "rear": 760}});
        car["seats"] = json!([{"label": "front seat", "x_mm": -1116}]);
        car["fitment"]["wheels"]["FL"]["max_load_kg"] = json!(340);
    });
    let mut answer = asked(&["check", "--only", "fitment", "--load", "driver"], &ticket);
    let found: Vec<Value> = serde_json::from_value(answer["findings"].take()).unwrap();
    let now = what(&found, "FL, tire load");
    // 1116 of 2790 back: 0.4 of it behind, 45 kg in front: (690 + 45)/2.
    assert!((number(&now["value"]) - 367.5).abs() < 1e-9, "{now}");
    assert!(
        now["sentence"].as_str().unwrap().contains("half of its axle on the scale ticket and what is aboard"),
        "{now}"
    );
    let found = findings("fitment", &heavy);
    let other = what(&found, "FL, tire load, 205 on 7 inch, 8 inboard");
    assert_eq!((number(&other["limit"]), &other["verdict"]), (710.0, &json!("within")), "load index 96");
    assert!(other["source"].as_str().unwrap().contains("UN Regulation 30"), "{other}");
}

#[test]
fn a_jack_goes_under_or_not_also_with_a_flat() {
    let mut answer = asked(&["check", "--only", "jacking", "--snapshot", "s-before"], &with(|_| ()));
    let found: Vec<Value> = serde_json::from_value(answer["findings"].take()).unwrap();
    assert_eq!(number(&what(&found, "Low trolley jack, front cross-member")["value"]), 96.0);
    assert_eq!(what(&found, "Tall bottle jack, front cross-member")["verdict"], "touches");
    let flat = found
        .iter()
        .find(|one| one["what"].as_str().unwrap().starts_with("Low trolley jack, rear axle tube, left, RL flat"));
    // The rear rim edge stands some 120 mm up; the tube, 420 of 715 mm out, comes down by most of what is over 18 mm of rubber.
    assert!(flat.is_some_and(|flat| number(&flat["value"]) < 232.0 - 90.0 - 50.0), "{found:#?}");
    // 300 kg at 35° are 172.07 kg down: at x 420 and −3150: front (172.07·(3210 − 360))·9.80665/2790/52.6 = 32.8 mm; rear (172.07·(3150 − 420))·9.80665/2790/39.2 = 42.1.
    assert!((number(&what(&found, "tied down, front")["value"]) - 32.77).abs() < 0.05);
    assert!((number(&what(&found, "tied down, rear")["value"]) - 42.12).abs() < 0.05);
}

/// Straps as a load: 172.07 kg straight down at x 420 and −3150 (see above): body 32.77 and 42.12 mm lower. Axles: 172.07·(3210 − 360)/2790 =
/// 175.77 kg in front, 168.37 behind, over two tires of 220 N/mm: 3.917 and 3.753 mm lower. The springs close by the rest.
#[test]
fn tied_down_the_body_stands_lower_and_every_check_sees_it() {
    let at = |load: &str| -> Vec<Value> {
        let text = with(|_| ());
        let mut answer = asked(&["check", "--snapshot", "s-before", "--load", load], &text);
        serde_json::from_value(answer["findings"].take()).unwrap()
    };
    let (nominal, strapped) = (at("nominal"), at("strapped"));
    let lower = |name: &str| number(&what(&nominal, name)["value"]) - number(&what(&strapped, name)["value"]);
    for (end, by) in [("front", 32.77 - 3.917), ("rear", 42.12 - 3.753)] {
        let left = format!("{end}, bump stop");
        assert!((lower(&left) - by).abs() < 0.05, "{end}: {} and {by}", lower(&left));
    }
    let u = |found: &[Value], name: &str| number(&what(found, name)["u"]);
    assert!(u(&strapped, "front, bump stop") > u(&nominal, "front, bump stop") + 3.0, "a fifth of 33 mm");
    // The straps' own finding stays.
    what(&strapped, "tied down, front");
    let table = answered(trueground().args(["check", "--load", "all", "--only", "travel"]).arg(coupe()));
    assert!(
        table.contains("tied down") && table.contains("pulls the body down by 172 kg 420 mm ahead of the front axle"),
        "{table}"
    );
    assert!(table.contains("Straps go slack as the car works on its springs"), "{table}");
    let said = refused(
        trueground()
            .args(["check", "-", "--load", "strapped"])
            .write_stdin(with(|car| car["jacking"]["straps"] = json!([]))),
    );
    assert!(said.contains("no strap is described") && said.contains("\"down_deg\""), "{said}");
}

#[test]
fn square_reads_a_small_file_and_a_car() {
    let answer = asked(&["square"], SQUARE);
    let found: Vec<Value> = serde_json::from_value(answer["findings"].clone()).unwrap();
    assert_eq!(number(&what(&found, "wheelbase, left and right")["value"]), 13.0);
    // (2539.4² − 2520.4²)/(4·2400) = 10.01.
    assert!(
        what(&found, "diagonals, front horns to rear cross-member")["sentence"]
            .as_str()
            .unwrap()
            .contains("left side stands 10 mm ahead")
    );
    assert_eq!(number(&what(&found, "front toe")["value"]), 2.5);
    // 0.4 + 0.8 and 1.6 − 0.8: the floor leaned both the same way.
    assert!(
        (number(&what(&found, "FL camber")["value"]) - 1.2).abs() < 1e-12
            && (number(&what(&found, "FR camber")["value"]) - 0.8).abs() < 1e-12
    );
    assert_eq!(number(&what(&found, "FL caster")["value"]), 6.0);
    let car = answered(trueground().arg("square").arg(coupe()));
    assert!(car.contains("The wheelbase is 3 mm longer on the left."), "{car}");
    for (text, says) in [
        ("{}", "The file has no measure."),
        (r#"{"toe": {"front_mm": 1, "rear_mm": 2}}"#, "toe is not a key"),
        (
            r#"{"toe_front": {"front_mm": 1400, "rear_mm": 14025}}"#,
            "toe_front.rear_mm: 14025 mm is outside 300 to 4000 mm",
        ),
        (r#"{"wheelbase_left_mm": 2700}"#, "wheelbase_right_mm: one side alone says nothing"),
    ] {
        let said = refused(trueground().args(["square", "-"]).write_stdin(text));
        assert!(said.contains(says), "{said}");
    }
}

#[test]
fn the_small_bench_sums_by_hand() {
    // 3.75 turns over 62°: 21.774 at the wheels; box 21.774·152/178 = 18.594. The longer arm: 18.594 at the wheels, 3.2022 turns, 117.1 % of the pull.
    let steering = asked(&["steering"], STEERING);
    assert!((number(&steering["overall_ratio"]["value"]) - 21.774).abs() < 1e-3);
    assert!((number(&steering["beside"][0]["turns"]["value"]) - 3.2022).abs() < 1e-3);
    assert!((number(&steering["beside"][0]["effort"]) - 1.17105).abs() < 1e-4);
    // 305/51 = 5.980; 1794 N; over 506.71 mm²: 3.541 MPa; 22 mm of stroke: 131.6 at the pad.
    let pedal = asked(&["pedal"], PEDAL);
    assert!(
        (number(&pedal["pressure_mpa"]) - 3.5407).abs() < 1e-3
            && (number(&pedal["pad_travel_mm"]) - 131.57).abs() < 0.01
    );
    // 3° through 860/980 of the rod: 3.4186°; 2·48·tan 1.7093° = 2.8648.
    let wedge = asked(&["wedge"], WEDGE);
    assert!((number(&wedge["thickness_mm"]) - 2.8648).abs() < 1e-3 && wedge["thick_end"] == "closes at the top");
    assert_eq!(number(&asked(&["radiator"], RADIATOR)["left_percent"]), 85.0);
    // 2845·540/1180 = 1301.95 behind; 320 + 28/1180·2845·√(2845² − 500²)/500 = 698.14 high.
    let weight = asked(&["weight"], WEIGHT);
    assert!((number(&weight["behind_front_axle_mm"]["value"]) - 1301.949).abs() < 1e-3);
    assert!((number(&weight["height_mm"]["value"]) - 698.1445).abs() < 1e-3);
    assert!(number(&weight["height_mm"]["u"]) > 50.0, "28 kg of difference by a scale good to 5");
}

#[test]
fn the_small_bench_sums_refuse_in_words() {
    for (verb, text, says) in [
        (
            "weight",
            r#"{"wheelbase_mm": 2845, "front_kg": 640, "rear_kg": 540, "rear_raised_mm": 500}"#,
            "front_with_rear_raised_kg is missing",
        ),
        (
            "steering",
            r#"{"pitman_arm_mm": 150, "steering_arm_mm": 180, "wheel_sweep_deg": 60}"#,
            "box_ratio is missing",
        ),
        (
            "steering",
            r#"{"box_ratio": 15, "pitman_arm": 150, "steering_arm_mm": 180, "wheel_sweep_deg": 60}"#,
            "Did you mean pitman_arm_mm?",
        ),
        ("pedal", r#"{"pad_mm": 50, "rod_mm": 300}"#, "a pad lies farther out"),
        ("wedge", r#"{"caster_deg": 5, "wanted_deg": 5, "pad_mm": 100}"#, "There is nothing to turn"),
        ("wedge", r#"{"caster_deg": 5, "wanted_deg": 7}"#, "does not say where the wedge goes"),
        (
            "radiator",
            r#"{"core_height_mm": 500, "core_width_mm": 440, "sectioned_mm": 500}"#,
            "500 mm out of a core of 500 mm leaves none",
        ),
    ] {
        let said = refused(trueground().args([verb, "-"]).write_stdin(text));
        assert!(said.contains(says), "{verb}: {said}");
    }
}
