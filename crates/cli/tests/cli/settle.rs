//! `trueground settle` as a person and a script meet it.

use crate::program::{answered, refused, trueground};
use serde_json::{Value, json};

const DAYS: [f64; 9] = [0.0, 3.0, 7.0, 14.0, 21.0, 30.0, 42.0, 56.0, 70.0];

/// Heights of a law without noise, each ± 1 mm.
fn series(height: impl Fn(f64) -> f64) -> String {
    let rows: Vec<Value> = DAYS.iter().map(|day| json!({"day": day, "height_mm": height(*day), "u_mm": 1.0})).collect();
    json!({ "series": rows }).to_string()
}

/// 597 + 14·exp(−day/15).
fn exponential() -> String {
    series(|day| 597.0 + 14.0 * libm::exp(-day / 15.0))
}

fn settled(input: &str, arguments: &[&str]) -> Value {
    let text = answered(trueground().args(["settle", "-", "--json"]).args(arguments).write_stdin(input.to_owned()));
    serde_json::from_str(&text).unwrap()
}

fn near(value: &Value, expected: f64, tolerance: f64) {
    let value = value.as_f64().unwrap_or_else(|| panic!("{value} is no number"));
    assert!((value - expected).abs() < tolerance, "{value}, expected {expected}");
}

#[test]
fn an_exponential_without_noise_is_found_again() {
    let answer = settled(&exponential(), &[]);
    assert_eq!((&answer["model"], &answer["verdict"]), (&json!("exponential"), &json!("settled")));
    near(&answer["parameters"]["final_mm"]["value"], 597.0, 1e-6);
    near(&answer["parameters"]["amplitude_mm"]["value"], 14.0, 1e-6);
    near(&answer["parameters"]["tau_days"]["value"], 15.0, 1e-6);
    near(&answer["final_height_mm"]["value"], 597.0, 1e-6);
    // 14·exp(−70/15) and 15·ln(14/2), by hand.
    near(&answer["remaining_mm"]["value"], 0.131_65, 1e-4);
    near(&answer["settled_on_day"], 29.188_65, 1e-4);
    near(&answer["sum_weighted_squares"], 0.0, 1e-9);
    assert_eq!(answer["other"]["model"], "logarithmic");
    let band = answer["band"].as_array().unwrap();
    assert_eq!(band[0]["day"], 0.0);
    assert!(band.iter().any(|point| point["day"] == 70.0));
    assert!(band.windows(2).all(|pair| pair[0]["day"].as_f64() < pair[1]["day"].as_f64()));
}

#[test]
fn a_logarithm_is_called_final_on_day_365() {
    let input = series(|day| 612.0 - 4.0 * libm::log1p(day / 3.0));
    let answer = settled(&input, &["--model", "logarithmic"]);
    near(&answer["parameters"]["h0_mm"]["value"], 612.0, 1e-6);
    near(&answer["parameters"]["b_mm"]["value"], 4.0, 1e-6);
    near(&answer["parameters"]["day0_days"]["value"], 3.0, 1e-5);
    assert_eq!(answer["horizon_day"], 365.0);
    // 612 − 4·ln(1 + 365/3) and 4·ln(368/73), by hand.
    near(&answer["final_height_mm"]["value"], 592.762_4, 1e-3);
    near(&answer["remaining_mm"]["value"], 6.470_2, 1e-3);
    // 368·exp(−2/4) − 3
    near(&answer["settled_on_day"], 220.203, 1e-2);
    assert_eq!(answer["verdict"], "settling");
}

#[test]
fn fewer_than_five_days_are_too_early() {
    let mut input: Value = serde_json::from_str(&exponential()).unwrap();
    input["series"].as_array_mut().unwrap().truncate(4);
    let answer = settled(&input.to_string(), &[]);
    assert_eq!(answer["verdict"], "too_early");
    assert_eq!(answer["settled_on_day"], Value::Null);
    assert!(answer.get("final_height_mm").is_none() && answer.get("remaining_mm").is_none());
    assert_eq!(answer["parameters"], json!({}));
}

#[test]
fn a_straight_line_and_a_level_one_have_finite_numbers() {
    for input in [series(|day| 600.0 - day / 10.0), series(|_| 600.0)] {
        for model in ["exponential", "logarithmic", "best"] {
            let answer = settled(&input, &["--model", model]);
            assert!(answer["final_height_mm"]["u"].as_f64().unwrap().is_finite());
        }
    }
    assert_eq!(settled(&series(|day| 600.0 - day / 10.0), &[])["verdict"], "too_early");
}

#[test]
fn work_on_the_springs_begins_a_new_settling() {
    let mut input: Value = serde_json::from_str(&exponential()).unwrap();
    let mut rows = vec![json!({"day": -30, "height_mm": 640.0, "u_mm": 1.0})];
    rows.append(input["series"].as_array_mut().unwrap());
    let events =
        json!([{"day": 0, "what": "two leaves out", "resets_settling": true}, {"day": 9, "what": "wheels off"}]);
    let answer = settled(&json!({"series": rows, "events": events}).to_string(), &[]);
    near(&answer["final_height_mm"]["value"], 597.0, 1e-6);
}

#[test]
fn the_sample_coupe_settles_in_words() {
    let file = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-data/settling-coupe.json");
    let text = answered(trueground().arg("settle").arg(file));
    assert!(text.contains("fender lip, rear, since 2031-05-03"), "{text}");
    assert!(text.contains("fuel tank full instead of half: -7 ± 1 mm, taken out"), "{text}");
    assert!(text.contains("tire pressures: -2 ± 1 mm, taken out"), "{text}");
    assert!(text.contains("Front and rear share one rate, 21 ± 8 days"), "{text}");
    assert!(text.contains("Settled since day"), "{text}");
    assert!(text.contains(", two months after the last reading: "), "{text}");
    assert!(text.contains("On day 365 it stands at "), "{text}");
}

/// Both laws together have five parameters: six days carry none of them, and the answer says what is lacking.
#[test]
fn too_few_days_for_a_rich_law_are_counted() {
    let mut input: Value = serde_json::from_str(&exponential()).unwrap();
    input["series"].as_array_mut().unwrap().truncate(6);
    let answer = settled(&input.to_string(), &["--model", "both"]);
    assert_eq!((&answer["verdict"], &answer["lacking"]), (&json!("too_early"), &json!(["few_days"])));
    assert_eq!(answer["days_needed"], 7);
    let words = answered(trueground().args(["settle", "-", "--model", "both"]).write_stdin(input.to_string()));
    assert!(words.contains("7 days of reading are needed"), "{words}");
    assert_eq!(settled(&input.to_string(), &[]).get("days_needed"), None);
}

/// A bare series is taken at its word: what springs do besides is no part of it.
#[test]
fn a_bare_series_has_no_creep_in_it() {
    let answer = settled(&exponential(), &[]);
    assert!(answer.get("ahead").is_none() && answer.get("horizon_day").is_none(), "{answer}");
}

/// The coupe as it was on day 21.
fn coupe_on_day_21() -> String {
    coupe_with(6)
}

/// The coupe with its first snapshots; the first is from before the work.
fn coupe_with(snapshots: usize) -> String {
    let file = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-data/settling-coupe.json");
    let mut car: Value = serde_json::from_str(&std::fs::read_to_string(file).unwrap()).unwrap();
    car["snapshots"].as_array_mut().unwrap().truncate(snapshots);
    car.to_string()
}

/// What counts is the answer that the heights of both ends ask for; an end by itself claims no more.
#[test]
fn no_end_is_called_settled_where_the_answer_that_counts_is_not() {
    let mut chosen_are = 0;
    for snapshots in 6..=10 {
        let answer = settled(&coupe_with(snapshots), &[]);
        for line in answer["lines"].as_array().unwrap() {
            let Some(chosen) = line.get("chosen") else { continue };
            chosen_are += 1;
            if line["verdict"] == "settled" {
                assert_eq!(chosen["verdict"], "settled", "{} with {snapshots} snapshots", line["end"]);
            }
        }
    }
    assert!(chosen_are > 0, "every end was answered by itself");
}

#[test]
fn the_next_date_is_never_in_the_past() {
    let car = coupe_on_day_21();
    let mut before = String::new();
    for today in ["2031-01-01", "2031-05-24", "2031-06-10"] {
        let next = settled(&car, &["--today", today])["next"].clone();
        let date = next["date"].as_str().unwrap().to_owned();
        assert!(date.as_str() > "2031-05-24" && date.as_str() >= today && date >= before, "{next}");
        assert!(next["rest_u_then_mm"].as_f64() < next["rest_u_now_mm"].as_f64(), "{next}");
        before = date;
    }
    // Few days: the usual ones, 0, 3, 7, 14.
    let mut few: Value = serde_json::from_str(&car).unwrap();
    few["snapshots"].as_array_mut().unwrap().truncate(3);
    let next = settled(&few.to_string(), &["--today", "2031-05-06"])["next"].clone();
    assert_eq!((&next["date"], &next["brings"]), (&json!("2031-05-10"), &json!("one_day_more")));
}

#[test]
fn a_day_to_come_has_its_heights_and_one_that_has_been_has_none() {
    let file = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-data/settling-coupe.json");
    let text = answered(trueground().arg("settle").arg(&file).args(["--json", "--on", "2031-09-01"]));
    let forecast = serde_json::from_str::<Value>(&text).unwrap()["forecast"].clone();
    let at = |point: &str| forecast["heights"][point]["value"].as_f64().unwrap();
    near(&forecast["front_mean_mm"]["value"], f64::midpoint(at("lip.FL"), at("lip.FR")), 1e-6);
    near(&forecast["rear_mean_mm"]["value"], f64::midpoint(at("lip.RL"), at("lip.RR")), 1e-6);
    let text = answered(trueground().arg("settle").arg(&file).args(["--on", "2031-09-01"]));
    assert!(text.contains("Forecast for 2031-09-01, from snapshot s08"), "{text}");
    let said = refused(trueground().arg("settle").arg(&file).args(["--on", "2031-06-01"]));
    assert!(said.contains("2031-06-01 lies before the last snapshot, of 2031-07-12"), "{said}");
    let said = refused(trueground().arg("settle").arg(&file).args(["--on", "soon"]));
    assert!(said.contains("soon is no day"), "{said}");
}

#[test]
fn nonsense_is_refused_with_its_place() {
    for (input, says) in [
        (r#"{"series": [{"day": 0, "height_mm": -4, "u_mm": 1}]}"#, "series[0].height_mm is -4"),
        (r#"{"series": [{"day": 0, "height_mm": 400, "u_mm": 0}]}"#, "series[0].u_mm is 0"),
        (r#"{"series": [{"day": 0, "hight_mm": 400, "u_mm": 1}]}"#, "Did you mean height_mm?"),
        (r#"{"series": [{"day": -3, "height_mm": 400, "u_mm": 1}]}"#, "series[0].day is -3, before day 0"),
        (r#"{"series": [{"day": 1e9, "height_mm": 400, "u_mm": 1}]}"#, "a day is a number from -36525 to 36525"),
        (r#"{"series": []}"#, "There is no height from day 0 on"),
        (r#"{"events": []}"#, "series is missing"),
    ] {
        let said = refused(trueground().args(["settle", "-"]).write_stdin(input));
        assert!(said.contains(says), "{said}");
    }
}
