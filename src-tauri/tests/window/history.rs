//! A car's history in the window: the coupe's line of time, work kept, withdrawn and brought back across a restart, and a snapshot
//! begun like last year's.

use std::time::Duration;

use serde_json::{Value, json};

use crate::files::saved;
use crate::garage::Garage;
use crate::window::Window;

const COUPE: &str = include_str!("../../../sample-data/settling-coupe.json");

/// The coupe, its last snapshot taken so many days ago.
fn coupe(last_day: &str) -> String {
    let mut file: Value = serde_json::from_str(COUPE).expect("JSON");
    let last = file["snapshots"].as_array_mut().and_then(|all| all.last_mut()).expect("a snapshot");
    last["date"] = json!(last_day);
    file.to_string()
}

impl Window {
    async fn to_the_coupes_history(&self, file: &str) {
        self.ask("import_file", json!({ "name": "coupe.json", "text": file })).await;
        self.reload().await;
        self.watch_policy().await;
        self.find("tab-readings").await;
        self.touch("tab-readings").await;
        self.touch("history").await;
        self.css("[data-screen=\"history\"] [data-test=\"entry-0\"]").await;
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_line_of_time_and_work_kept_withdrawn_and_brought_back() {
    let garage = Garage::empty();
    let mut window = Window::open(&garage).await;
    window.to_the_coupes_history(COUPE).await;
    window.css("[data-test=\"history\"][data-total=\"11\"]").await;
    // Front and rear came down beyond doubt at the work.
    for words in ["Front", "Rear"] {
        let figure = format!("[data-test=\"entry-8\"] [data-words=\"{words}\"][data-verdict=\"changed\"]");
        window.css(&figure).await;
    }
    window.looked_at("history").await;

    window.touch("enter-event").await;
    window.css("label:has(> input[data-test=\"kind-leaves_out\"])").await;
    window.touch("save").await;
    window.find("problem-kind").await;
    window.looked_at("event-kinds").await;
    window.touch("kind-leaves_out").await;
    assert!(window.text("safety").await.contains("Leaves in clamps?"), "springs under load are asked about");
    window.touch("safety-go-on").await;
    window.touch("end-rear").await;
    window.fill("date", "2026-05-04").await;
    window.fill("odometer", "far").await;
    window.touch("save").await;
    window.find("problem-odometer").await;
    window.looked_at("event-form").await;
    // Half typed, and the battery dies.
    tokio::time::sleep(Duration::from_millis(400)).await;
    window.kill().await;
    window = Window::open(&garage).await;
    window.css("[data-screen=\"event_form\"]").await;
    window.watch_policy().await;
    window.touch("safety-go-on").await;
    window.fill("odometer", "61240").await;
    window.touch("save").await;
    window.css("[data-screen=\"readings\"], [data-screen=\"history\"], [data-screen=\"car\"]").await;
    if window.script("return document.querySelector('[data-screen]').dataset.screen").await != "history" {
        window.touch("history").await;
    }
    let kept = "[data-part=\"work\"][data-withdrawn=\"false\"]";
    window.css(&format!("[data-test=\"entry-11\"]{kept}")).await;
    window.touch("open-entry-11").await;
    window.looked_at_upright("history-entry").await;
    window.touch("withdraw").await;
    window.css("[data-test=\"entry-11\"][data-withdrawn=\"true\"]").await;
    window.kill().await;

    window = Window::open(&garage).await;
    window.find("tab-readings").await;
    window.touch("tab-readings").await;
    window.touch("history").await;
    window.css("[data-test=\"entry-11\"][data-withdrawn=\"true\"]").await;
    window.touch("open-entry-11").await;
    window.touch("bring-back").await;
    window.css(&format!("[data-test=\"entry-11\"]{kept}")).await;
    window.touch("close").await;
    window.touch("part-work").await;
    window.css("[data-test=\"history\"][data-total=\"2\"]").await;
    // The same as text, and as a page to print.
    window.touch("part-all").await;
    window.touch("open-menu").await;
    window.touch("read-as-text").await;
    let words = window.css("li[data-test=\"entry-8\"]").await.text().await.expect("a text");
    assert!(words.starts_with("3 May 2031: Nose-up") && words.contains("lower"), "{words}");
    window.watch_policy().await;
    window.looked_at_upright("history-as-text").await;
    window.touch("open-menu").await;
    window.touch("print-history").await;
    let printed = saved(&window, &garage, ".html").await;
    assert!(printed.contains("Leaves out, rear") && printed.contains(": changed"), "{printed}");
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn one_touch_begins_a_snapshot_like_last_years_and_claims_nothing() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.find("add-car").await;
    let ago = |days: u32| format!("return new Date(Date.now() - {days} * 864e5).toISOString().slice(0, 10)");
    let a_year_ago = window.script(&ago(364)).await;
    window.to_the_coupes_history(&coupe(a_year_ago.as_str().expect("a day"))).await;
    window.touch("same-as-last-year").await;
    window.css("[data-screen=\"begin\"] [data-test=\"last-floor\"]").await;
    window.css("[data-test=\"same-floor\"][aria-pressed=\"false\"]").await;
    window.looked_at("begin-like-last-year").await;
    window.touch("begin").await;
    window.css("[data-screen=\"walk\"], [data-test=\"safety\"]").await;
    let garage_view = window.ask("open_garage", json!({})).await;
    let car = &garage_view["cars"][0];
    let condition = window.ask("open_condition", json!({ "snapshot": car["unfinished"] })).await;
    assert_eq!(condition["form"]["confirmed"], json!([]), "what was not said is not claimed");
    let walk = window.ask("open_walk", json!({ "snapshot": car["unfinished"] })).await;
    assert!(walk["steps"].as_array().is_some_and(|steps| !steps.is_empty()));
    window.close().await;
}
