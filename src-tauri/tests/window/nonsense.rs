//! Every field refuses nonsense in words beside it, keeps what was typed, and nothing of it is stored.

use std::time::Duration;

use serde_json::{Value, json};
use thirtyfour::Key;

use crate::garage::Garage;
use crate::window::Window;

/// No length at all, or none that a car has.
const LENGTHS: [&str; 8] = ["", "abc", "NaN", "1e400", "0", "12 5/0", "-3", "999999"];
/// A place may be 0 or on the other side of its axle, but not miles away.
const PLACES: [&str; 6] = ["", "abc", "NaN", "inf", "12 5/0", "999999"];
const PRESSURES: [&str; 6] = ["abc", "NaN", "-1", "1e400", "99999", "2 apples"];
const MARKINGS: [&str; 5] = ["", "abc", "////", "0/0R0", "6.00-16 6.00-16"];
const NAMES: [&str; 2] = ["", "                "];
const KILOMETRES: [&str; 4] = ["abc", "-1", "NaN", "1e400"];

/// The fields of a form, each with what it must refuse.
type Fields = Vec<(String, &'static [&'static str])>;

fn of_a_car() -> Fields {
    let mut fields: Fields = vec![("label".into(), &NAMES)];
    fields.extend(["wheelbase", "track_front", "track_rear"].map(|name| (name.to_owned(), LENGTHS.as_slice())));
    fields.extend(
        ["front_behind_axle", "rear_ahead_of_axle"].map(|name| (format!("points.0.{name}"), PLACES.as_slice())),
    );
    fields.extend(["front_apart", "rear_apart"].map(|name| (format!("points.0.{name}"), LENGTHS.as_slice())));
    for corner in ["FL", "FR", "RL", "RR"] {
        fields.push((format!("tires.{corner}.marking"), &MARKINGS));
        fields.push((format!("tires.{corner}.pressure"), &PRESSURES));
        // Empty means: not measured.
        fields.push((format!("tires.{corner}.measured_diameter"), &LENGTHS[1..]));
    }
    fields
}

fn of_a_snapshot() -> Fields {
    let mut fields: Fields = vec![("odometer".into(), &KILOMETRES)];
    fields.extend(["FL", "FR", "RL", "RR"].map(|corner| (format!("pressures.{corner}"), PRESSURES.as_slice())));
    fields
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn every_field_refuses_nonsense_in_words_and_keeps_what_was_typed() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;

    window.touch("add-car").await;
    window.refuses(&of_a_car(), "save").await;
    window.picture("nonsense-car").await;
    let empty = window.ask("open_garage", json!({})).await;
    assert_eq!(empty["cars"], json!([]), "nothing of it was stored");

    // A form that is left is not where the app opens again.
    window.touch("back").await;
    window.find("add-car").await;
    tokio::time::sleep(Duration::from_millis(400)).await;
    window.begun(1).await;
    window.reload().await;
    window.touch("go-on").await;
    window.through_safety().await;
    window.entry_refuses(&["abc", "1/0", "-3", "0", "99999", "1 1 1", "10 7/0"]).await;
    window.picture("nonsense-walk").await;
    let file = window.file().await;
    assert_eq!(file["snapshots"][0]["bounces"][0]["readings"], json!([]), "nothing of it was stored");
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn floors_and_snapshots_refuse_nonsense_in_words_and_keep_what_was_typed() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.added().await;
    window.reload().await;

    window.touch("begin-snapshot").await;
    window.refuses(&of_a_snapshot(), "begin").await;
    window.touch("add-floor").await;
    window.refuses(&vec![("label".into(), &NAMES[..])], "save").await;
    window.fill("label", "Drive").await;
    window.touch("levelling-flat_to").await;
    window.refuses(&vec![("flat_to".into(), &["", "abc", "NaN", "-1", "1e400", "99999"])], "save").await;
    window.touch("levelling-water_level").await;
    window.touch("save").await;
    window.entry_refuses(&["abc", "1/0", "-3", "99999", "1 1 1"]).await;
    window.picture("nonsense-floor").await;
    let file = window.file().await;
    assert_eq!(file["snapshots"], json!([]), "nothing of it was stored");
    assert_eq!(file["floors"].as_array().map(Vec::len), Some(1), "one floor has a name");
    assert!(!file["floors"][0].to_string().contains("value_mm"), "no reading of it was stored: {}", file["floors"][0]);
    window.close().await;
}

impl Window {
    /// Types nonsense into all fields at once, as often as the longest list is long, and looks beside each of them.
    async fn refuses(&self, fields: &Fields, send: &str) {
        let rounds = fields.iter().map(|(_, nonsense)| nonsense.len()).max().unwrap_or_default();
        for round in 0..rounds {
            for (name, nonsense) in fields {
                self.fill(name, nonsense[round % nonsense.len()]).await;
            }
            self.touch(send).await;
            for (name, nonsense) in fields {
                let typed = nonsense[round % nonsense.len()];
                let words = self.text(&format!("problem-{name}")).await;
                assert!(words.split_whitespace().count() >= 5, "{name}, {typed:?}: {words:?} says too little");
                assert!(words.contains('.'), "{name}, {typed:?}: {words:?} is no sentence");
                let kept =
                    self.css(&format!("input[name=\"{name}\"]")).await.value().await.expect("a field has a value");
                assert_eq!(kept.as_deref(), Some(typed), "{name} keeps what was typed");
            }
        }
    }

    /// The same for the reading at hand, from a keyboard, which can type what our own keys cannot.
    async fn entry_refuses(&self, nonsense: &[&str]) {
        self.find("read-out").await;
        let step = self.now().await;
        for typed in nonsense {
            self.keys(typed).await;
            self.keys(&Key::Enter.value().to_string()).await;
            let words = self.text("entry-problem").await;
            assert!(words.split_whitespace().count() >= 5, "{typed:?}: {words:?} says too little");
            assert_eq!(self.typed().await, *typed, "what was typed is kept");
            assert_eq!(self.now().await, step, "{typed:?} was not taken");
            while self
                .find("read-out")
                .await
                .attr("data-text")
                .await
                .expect("an attribute")
                .is_some_and(|text| !text.is_empty())
            {
                self.keys("\u{e003}").await;
            }
        }
    }

    /// The first car as an exchange file.
    pub(crate) async fn file(&self) -> Value {
        let car = self.ask("open_garage", json!({})).await["cars"][0]["car"].clone();
        let exported = self.ask("export_car", json!({ "car": car })).await;
        serde_json::from_str(exported["text"].as_str().expect("a text")).expect("it is JSON")
    }
}
