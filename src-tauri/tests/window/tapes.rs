//! A tape read from its one-inch mark: added in the window, chosen for a snapshot, one reading taken with it.

use serde_json::json;

use crate::garage::Garage;
use crate::window::Window;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_reading_from_the_one_inch_mark_stays_as_typed_and_the_result_is_an_inch_less() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    let car = window.added().await;
    window.reload().await;

    window.touch("open-menu").await;
    window.touch("instruments").await;
    window.touch("add-tape").await;
    window.fill("label", "Burnt tape").await;
    window.touch("from-mark").await;
    window.fill("mark", "1/7").await;
    window.touch("save").await;
    window.css("[data-test=\"problem-mark\"]").await;
    window.picture("tape-form").await;
    window.fill("mark", "1").await;
    window.touch("class-II").await;
    window.touch("save").await;
    window.css("[data-screen=\"instruments\"] [data-test=\"tape-row-0\"][data-label=\"Burnt tape\"]").await;
    window.picture("tapes").await;

    window.touch("back").await;
    window.touch("tab-readings").await;
    window.touch("begin-snapshot").await;
    window.touch("own-tape-0").await;
    assert!(window.text("own-tape-state").await.contains("Read from its 1 in mark"));
    window.picture("begin-own-tape").await;
    for kind in ["kind-fender_lip"] {
        window.touch(kind).await;
    }
    window.touch("rounds-1").await;
    window.touch("bounces-1").await;
    window.touch("begin").await;
    window.through_safety().await;
    let now = window.now().await.expect("a first step");
    window.press("12 1/2").await;
    window.take().await;

    let view = window.ask("open_car", json!({ "car": car })).await;
    let snapshot = view["unfinished"].clone();
    let walk = window.ask("open_walk", json!({ "snapshot": snapshot })).await;
    let step =
        walk["steps"].as_array().expect("steps").iter().find(|step| !step["text"].is_null()).expect("one is read");
    assert_eq!((&step["text"], &step["ref"]), (&json!("12 1/2"), &json!(now.point)));
    let exported = window.ask("export_car", json!({ "car": car })).await;
    let file: serde_json::Value = serde_json::from_str(exported["text"].as_str().expect("text")).expect("JSON");
    let reading = &file["snapshots"][0]["bounces"][0]["readings"][0];
    assert_eq!(reading["value_mm"], json!(317.5), "what the tape said");
    assert_eq!(file["instruments"][0]["read_from_mm"], json!(25.4));

    // The engine's part of it: every mark the same, then a result an inch below what was typed.
    while window.now().await.is_some() {
        window.press("12 1/2").await;
        window.take().await;
        window.through_safety().await;
    }
    let finished = window.ask("finish_snapshot", json!({ "snapshot": snapshot })).await;
    let result = window.ask("see_result", json!({ "snapshot": finished["snapshots"][0]["snapshot"] })).await;
    let mean = result["line"]["front_mean_mm"]["value"].as_f64().expect("a front mean");
    assert!((mean - (317.5 - 25.4)).abs() < 0.1, "{mean}");
    window.close().await;
}
