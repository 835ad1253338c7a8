//! A finished snapshot is corrected in its window: the old and the new stand side by side, and bad input stores nothing.

use serde_json::{Value, json};

use crate::garage::Garage;
use crate::window::Window;

/// A finished snapshot of four lips, 24 in at each, the front right misread as 24 5/8; its id.
async fn finished(window: &Window) -> Value {
    let car = window.added().await;
    let form = json!({
        "car": car, "facing": "A", "kinds": ["fender_lip"], "hubs": false, "rounds": 1, "bounces": 1, "angle_gauge": false,
        "tape": "in", "pressures": { "FL": "", "FR": "", "RL": "", "RR": "" }
    });
    let snapshot = window.ask("begin_snapshot", form).await["snapshot"].clone();
    for (step, text) in ["24", "24 5/8", "24", "24"].iter().enumerate() {
        let request =
            json!({ "snapshot": snapshot, "step": step, "text": text, "insist": true, "request_id": step.to_string() });
        window.ask("take_reading", request).await;
    }
    window.ask("finish_snapshot", json!({ "snapshot": snapshot })).await;
    snapshot
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_reading_is_corrected_and_both_values_stay_in_sight() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.find("add-car").await;
    let snapshot = finished(&window).await;
    window.reload().await;
    window.touch("tab-readings").await;
    window.touch("snapshot-0").await;
    window.touch("correct-something").await;
    window.touch("book-reading-1").await;
    assert!(window.text("old").await.contains("24 5/8"));

    window.fill("text", "23 5").await;
    window.touch("save").await;
    window.find("problem-text").await;
    window.find("problem-reason").await;
    let book = window.ask("open_book", json!({ "snapshot": snapshot })).await;
    assert_eq!(book["corrections"], json!([]), "nothing is stored while a field is wrong");

    window.fill("text", "23 5/8").await;
    window.fill("reason", "wrong edge").await;
    window.touch("save").await;
    window.css("[data-test=book-reading-1][data-text='23 5/8']").await;
    let row = window.text("book-reading-1").await;
    assert!(row.contains("24 5/8 → 23 5/8, wrong edge"), "{row}");
    window.picture("corrected").await;

    window.touch("back").await;
    let result = window.text("corrections").await;
    assert!(result.contains("24 5/8 → 23 5/8, wrong edge."), "{result}");
    window.close().await;

    let window = Window::open(&garage).await;
    window.find("tab-readings").await;
    let book = window.ask("open_book", json!({ "snapshot": snapshot })).await;
    assert_eq!(book["readings"][1]["text"], "23 5/8", "after a restart too");
    window.close().await;
}
