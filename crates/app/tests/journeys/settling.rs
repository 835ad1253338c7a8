//! The Settling tab of the sample coupe: all ten weeks, cut at a day, and without anything to tell.

use crate::phone::Phone;
use serde_json::{Value, json};

const COUPE: &str = include_str!("../../../../sample-data/settling-coupe.json");

/// The coupe as it was so many days after the work, in a garage of its own.
fn coupe(until: &str) -> (Phone, Value) {
    coupe_with(|file| {
        let snapshots = file["snapshots"].as_array_mut().unwrap();
        snapshots.retain(|snapshot| snapshot["date"].as_str().unwrap() <= until);
    })
}

fn coupe_with(change: impl FnOnce(&mut Value)) -> (Phone, Value) {
    let mut phone = Phone::new();
    let mut file: Value = serde_json::from_str(COUPE).unwrap();
    change(&mut file);
    let garage = phone.ask("import_file", json!({"name": "coupe.json", "text": file.to_string()}));
    let car = garage["cars"][0]["car"].clone();
    (phone, car)
}

fn end<'v>(view: &'v Value, end: &str) -> &'v Value {
    view["ends"].as_array().unwrap().iter().find(|one| one["end"] == end).unwrap()
}

fn point<'v>(view: &'v Value, of: &str, day: f64) -> &'v Value {
    end(view, of)["points"].as_array().unwrap().iter().find(|point| point["at"] == day).unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

#[test]
fn ten_weeks_have_settled_and_rest_where_the_truth_is() {
    let (mut phone, car) = coupe("2031-12-31");
    let view = phone.ask("see_settling", json!({"car": car}));
    assert_eq!(
        (&view["word"], &view["dates"], &view["counted"]),
        (&json!("settled"), &json!("3 May to 12 July"), &json!("9 days"))
    );
    assert_eq!(
        view["headline"],
        format!("Settled since {}.", view["settled"]["words"].as_str().unwrap().trim_start_matches("settled, "))
    );
    // The simulator's law at the end of the year, driven on at the pace so far: 2.6 and 3.9 mm below its lip means of day 70.
    assert_eq!(view["rest_by"], "by 2 May 2032");
    for (of, truth, to_come) in [("front", 594.4, 2.6), ("rear", 549.0, 3.9)] {
        for (name, truth) in [("rest_mm", truth), ("remaining_mm", to_come)] {
            let figure = &end(&view, of)[name];
            let (off, u) = ((number(&figure["value"]) - truth).abs(), number(&figure["u"]));
            assert!(off <= 2.0 * u && (1.5..4.0).contains(&u), "{of} {name}: {figure}, in truth {truth}");
        }
    }
    let detail = view["detail"].as_str().unwrap();
    assert!(detail.starts_with("Until ") && detail.contains(", two months on: "), "{detail}");
    assert!(
        view["notes"].as_array().unwrap().iter().any(|note| note.as_str().unwrap().contains("Runner-up: ")),
        "{}",
        view["notes"]
    );
    assert!(
        view["text"].as_str().unwrap().contains("Hollow: day 21, full tank; day 56, soft tires."),
        "{}",
        view["text"]
    );
}

#[test]
fn a_full_tank_and_soft_tires_are_named_and_taken_out_and_the_days_count() {
    let (mut phone, car) = coupe("2031-12-31");
    let view = phone.ask("see_settling", json!({"car": car}));
    // The simulator put the tank's 22 kg 6 mm and the soft tires 2 mm below the settling.
    for (day, cause, low_mm) in [(21.0, "full tank", 6.0), (56.0, "soft tires", 2.0)] {
        let rear = point(&view, "rear", day);
        assert_eq!((&rear["cause"], &rear["counts"]), (&json!(cause), &json!(true)));
        let low = number(&rear["height_mm"]) - number(&rear["stood_mm"]);
        assert!((low - low_mm).abs() < 1.5, "day {day}: {low}");
    }
    let usual = point(&view, "rear", 14.0);
    assert_eq!((&usual["cause"], &usual["stood_mm"]), (&json!(""), &Value::Null));
    let row = view["days"].as_array().unwrap().iter().find(|day| day["at_words"] == "day 21").unwrap();
    assert_eq!(
        row["taken_out"],
        "Fuel tank full instead of half, 22 kg: it stood 1 mm higher at the front, 7 mm lower at the rear, ±1. That is taken out."
    );
    let adds_up = number(&row["front_mm"]["value"]).round() + 1.0;
    assert_eq!(number(&row["stood_front_mm"]), adds_up, "1 mm higher, as printed");
    let opened = phone.ask("see_result", json!({"snapshot": row["snapshot"]}));
    assert_eq!(opened["date"], "2031-05-24");
}

#[test]
fn a_week_shows_points_and_the_day_to_measure_next_and_no_curve() {
    let (mut phone, car) = coupe("2031-05-10");
    let view = phone.ask("see_settling", json!({"car": car}));
    assert_eq!(
        (&view["headline"], &view["detail"]),
        (&json!("Still settling."), &json!("Front 6 mm down in a week, rear 4."))
    );
    assert_eq!((&view["next_date"], &view["settled"]), (&json!("2031-05-17"), &Value::Null));
    assert_eq!(view["no_curve"], "It takes five days of measuring over about three weeks.");
    for of in ["front", "rear"] {
        let end = end(&view, of);
        assert_eq!(end["points"].as_array().unwrap().len(), 3);
        assert_eq!((&end["word"], &end["curve"], &end["rest_mm"]), (&json!("cant_tell"), &json!([]), &Value::Null));
    }
    assert!(number(&view["until"]) >= 2.0 * number(&view["last"]), "there is room for what is not known");
}

#[test]
fn without_a_snapshot_since_the_work_it_says_so_and_names_the_work() {
    let (mut phone, car) = coupe("2031-05-02");
    let view = phone.ask("see_settling", json!({"car": car}));
    assert_eq!((&view["word"], &view["ends"], &view["days"]), (&json!("cant_tell"), &json!([]), &json!([])));
    let detail = view["detail"].as_str().unwrap();
    assert!(detail.starts_with("No snapshot since the work on 3 May: "), "{detail}");
    let mut empty = Phone::new();
    let garage = empty.ask(
        "import_file",
        json!({"name": "new.json", "text": include_str!("../../../../sample-data/blank-starter.json")}),
    );
    let view = empty.ask("see_settling", json!({"car": garage["cars"][0]["car"]}));
    assert!(view["detail"].as_str().unwrap().starts_with("No snapshot yet"), "{}", view["detail"]);
}

#[test]
fn a_day_whose_marks_were_read_wrong_is_left_out_and_named() {
    let (mut phone, car) = coupe_with(|file| {
        let snapshots = file["snapshots"].as_array_mut().unwrap();
        let day = snapshots.iter_mut().find(|snapshot| snapshot["date"] == "2031-06-02").unwrap();
        for bounce in day["bounces"].as_array_mut().unwrap() {
            for reading in bounce["readings"].as_array_mut().unwrap() {
                let point = reading["ref"].as_str().unwrap().to_owned();
                if point.starts_with("lip.R") {
                    let raised = number(&reading["value_mm"]) + 25.0;
                    reading["value_mm"] = json!(raised);
                    reading["text"] = json!(format!("{raised}"));
                }
            }
        }
    });
    let view = phone.ask("see_settling", json!({"car": car}));
    assert_eq!(point(&view, "rear", 30.0)["counts"], false);
    assert_eq!(point(&view, "front", 30.0)["counts"], true);
    let row = view["days"].as_array().unwrap().iter().find(|day| day["at_words"] == "day 30").unwrap();
    let said = row["left_out"].as_str().unwrap();
    assert!(said.starts_with("The rear does not fit the other days"), "{said}");
    assert!(
        view["notes"].as_array().unwrap().iter().any(|note| note.as_str().unwrap().starts_with("2 June: The rear")),
        "{}",
        view["notes"]
    );
}

#[test]
fn the_law_is_named_with_its_runner_up_and_another_can_be_asked_for() {
    let (mut phone, car) = coupe("2031-12-31");
    let view = phone.ask("see_settling", json!({"car": car}));
    assert_eq!(view["law"], "The curve: ever slower, to a rest. Runner-up: ever slower, without end.");
    let laws: Vec<&Value> = view["laws"].as_array().unwrap().iter().map(|law| &law["model"]).collect();
    assert_eq!(laws, ["best", "exponential", "logarithmic", "both"]);
    let asked = phone.ask("see_settling", json!({"car": car, "model": "logarithmic"}));
    assert_eq!(
        (&asked["law"], &asked["model"]),
        (&json!("Asked for: ever slower, without end."), &json!("logarithmic"))
    );
    // Six days of reading: five carry the simple laws, both together need seven.
    let (mut phone, car) = coupe("2031-06-02");
    let view = phone.ask("see_settling", json!({"car": car, "model": "both"}));
    assert_eq!(view["no_curve"], "This curve takes seven days of measuring; six are read.");
    assert_eq!(view["law"], "Asked for: fast, then ever slower without end.");
}

/// The coupe followed from day 70 on, without any work booked, every two weeks for a year; its rear so much lower in the last third.
fn a_year_later(lower_mm: f64) -> (Phone, Value) {
    coupe_with(|file| {
        let snapshots = file["snapshots"].as_array_mut().unwrap();
        let last = snapshots.pop().unwrap();
        snapshots.clear();
        for time in 1..=26_i32 {
            let mut next = last.clone();
            let day = trueground_core::capture::day_after("2031-06-28", i64::from(time) * 14).unwrap();
            let down = if time > 18 { lower_mm } else { 0.0 };
            (next["id"], next["label"], next["date"]) = (json!(format!("l{time}")), json!(""), json!(day));
            for bounce in next["bounces"].as_array_mut().unwrap() {
                bounce["bounce_id"] = json!(format!("{}-{time}", bounce["bounce_id"].as_str().unwrap()));
                for reading in bounce["readings"].as_array_mut().unwrap() {
                    let rear = reading["ref"].as_str().unwrap().starts_with("lip.R");
                    // A millimetre to and fro, as a tape has it.
                    let mm = number(&reading["value_mm"]) + f64::from(time % 2) - if rear { down } else { 0.0 };
                    (reading["value_mm"], reading["text"]) = (json!(mm), json!(format!("{mm}")));
                }
            }
            snapshots.push(next);
        }
        file["events"] = json!([]);
    })
}

fn strip<'v>(view: &'v Value, what: &str) -> &'v Value {
    view["strips"].as_array().unwrap().iter().find(|strip| strip["what"] == what).unwrap()
}

/// The rake's law is rear less front, counted as how much lower the rear is; its band is no narrower than either end's.
#[test]
fn rake_has_its_own_curve_and_both_strips_their_values_in_words() {
    let (mut phone, car) = coupe("2031-12-31");
    let view = phone.ask("see_settling", json!({ "car": car }));
    let ends: Vec<&Value> = view["ends"].as_array().unwrap().iter().map(|end| &end["curve"]).collect();
    let rake = strip(&view, "rake");
    let curve = rake["curve"].as_array().unwrap();
    assert_eq!(curve.len(), ends[0].as_array().unwrap().len());
    for (at, point) in curve.iter().enumerate() {
        let [front, rear] = [&ends[0][at], &ends[1][at]];
        let lower = number(&front["height_mm"]) - number(&rear["height_mm"]);
        assert!((number(&point["height_mm"]) - lower).abs() < 1e-9, "{point}");
        assert!(number(&point["band_mm"]) >= number(&front["band_mm"]).max(number(&rear["band_mm"])), "{point}");
    }
    // The simulator's truth of day 70: 597.0 in front, 552.9 behind.
    let last = curve.iter().rfind(|point| number(&point["at"]) <= 70.0).unwrap();
    assert!((number(&last["height_mm"]) - 44.1).abs() <= number(&last["band_mm"]), "{last}");
    assert!(rake["values"].as_str().unwrap().starts_with("Day 0: 41 \u{b1}"), "{}", rake["values"]);
    let lean = strip(&view, "lean");
    assert_eq!(lean["curve"], json!([]));
    assert!(lean["values"].as_str().unwrap().contains("Day 70: 3 \u{b1}"), "{}", lean["values"]);
    let (mut early, car) = coupe("2031-05-10");
    let view = early.ask("see_settling", json!({ "car": car }));
    assert_eq!(strip(&view, "rake")["curve"], json!([]), "no law is made up in a week");
}

#[test]
fn a_year_without_change_is_steady_and_a_rear_that_sinks_is_a_drift_with_its_false_alarms_stated() {
    let (mut phone, car) = a_year_later(0.0);
    let view = phone.ask("see_settling", json!({"car": car}));
    let rake = strip(&view, "rake");
    assert_eq!(rake["word"], "steady", "{}", rake["drift"]);
    assert!(rake["drift"].as_str().unwrap().starts_with("Steady since "), "{}", rake["drift"]);
    assert!(rake["legend"].as_str().unwrap().ends_with("called drifting once in 1,000 snapshots at most."));
    let (mut phone, car) = a_year_later(4.0);
    let view = phone.ask("see_settling", json!({"car": car}));
    let rake = strip(&view, "rake");
    // The rear goes down: the nose comes up, and the strip counts how much lower the rear is.
    assert_eq!((&rake["word"], &rake["words"]), (&json!("drifting"), &json!("Rake: rear lower than front, mm")));
    let said = rake["drift"].as_str().unwrap();
    assert!(said.starts_with("Drifting: ") && said.contains(" mm more nose-up than at first, ±"), "{said}");
    for point in rake["points"].as_array().unwrap().iter().filter(|point| !point["limits"].is_null()) {
        let limits = &point["limits"];
        assert!(number(&limits["lower_mm"]) < number(&limits["mean_lower_mm"]), "{limits}");
        assert!(number(&limits["mean_upper_mm"]) < number(&limits["upper_mm"]), "{limits}");
    }
    assert_eq!(strip(&view, "lean")["word"], "steady");
}

#[test]
fn along_kilometres_each_day_lies_where_the_clock_was() {
    let (mut phone, car) = coupe("2031-12-31");
    let days = phone.ask("see_settling", json!({"car": car}));
    assert_eq!((&days["clock"], &days["clocks"]), (&json!("days"), &json!(["days", "kilometres"])));
    let km = phone.ask("see_settling", json!({"car": car, "clock": "kilometres"}));
    assert_eq!((&km["clock_words"], &km["last"], &km["headline"]), (&json!("km"), &json!(1290.0), &days["headline"]));
    // Booked on day 21: 48,555 less the 48,215 km of the work.
    let full = point(&km, "rear", 340.0);
    assert_eq!((&full["cause"], &full["height_mm"]), (&json!("full tank"), &point(&days, "rear", 21.0)["height_mm"]));
    let row = km["days"].as_array().unwrap().iter().find(|day| day["cause"] == "full tank").unwrap();
    assert_eq!(row["at_words"], "day 21, 340 km");
    let (mut unbooked, car) = coupe_with(|file| {
        for snapshot in file["snapshots"].as_array_mut().unwrap() {
            snapshot.as_object_mut().unwrap().remove("odometer_km");
        }
    });
    let view = unbooked.ask("see_settling", json!({"car": car, "clock": "kilometres"}));
    assert_eq!((&view["clock"], &view["clocks"]), (&json!("days"), &json!(["days"])));
}

#[test]
fn work_that_moves_the_car_and_stored_months_are_marked_and_told() {
    let (mut phone, car) = coupe_with(|file| {
        let events = file["events"].as_array_mut().unwrap();
        events
            .push(json!({"date": "2031-06-08", "what": "other rear tires", "kind": "tires", "resets_settling": false}));
        events.push(json!({"date": "2031-06-16", "what": "", "kind": "stored_for_winter", "resets_settling": false}));
        events.push(json!({"date": "2031-06-24", "what": "", "kind": "back_on_the_road", "resets_settling": false}));
    });
    let view = phone.ask("see_settling", json!({"car": car}));
    assert_eq!(view["stored"], json!([{"from": 44.0, "to": 52.0}]));
    let marks: Vec<&str> =
        view["marks"].as_array().unwrap().iter().map(|mark| mark["words"].as_str().unwrap()).collect();
    assert!(marks.contains(&"8 June, other rear tires"), "{marks:?}");
    let notes = view["notes"].to_string();
    assert!(notes.contains("Stored from 16 June to 24 June: those days do not count."), "{notes}");
}

#[test]
fn the_settling_is_printed_with_its_picture_its_days_and_what_was_taken_out() {
    let (mut phone, car) = coupe("2031-12-31");
    let view = phone.ask("see_settling", json!({"car": car}));
    let sheet = phone.ask("print_settling", json!({"car": car}));
    assert!(sheet["file_name"].as_str().unwrap().starts_with("sample-coupe-settling-"), "{}", sheet["file_name"]);
    let page = sheet["html"].as_str().unwrap();
    for words in [
        view["headline"].as_str().unwrap(),
        "soft",
        "Fuel tank full instead of half, 22 kg",
        "12 July",
        "share one rate",
    ] {
        assert!(page.contains(words), "{words}");
    }
    // A dot for each day at each end, a ring for each day that stood otherwise: day 21 at both ends, day 56 behind.
    assert_eq!((page.matches("class=\"dot\"").count(), page.matches("class=\"hollow\"").count()), (18, 3));
    assert!(!page.contains("NaN") && !page.contains("inf"), "every number is one");
    let (mut early, car) = coupe("2031-05-10");
    let page = early.ask("print_settling", json!({"car": car}));
    assert!(page["html"].as_str().unwrap().contains("</b>It takes five days"), "{page}");
}
