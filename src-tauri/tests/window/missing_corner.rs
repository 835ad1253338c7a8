//! A corner that cannot be reached is left out: the snapshot is finished without it, and the result says what that costs.

use serde_json::json;

use crate::garage::Garage;
use crate::window::Window;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_snapshot_is_finished_without_a_corner_and_says_what_is_lost() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    let car = window.added().await;
    let walk = window.begun_with(&car, &json!({})).await;
    window.read(&walk, &["600", "602", "640"]).await;
    window.reload().await;
    window.go_on().await;
    assert_eq!(window.now().await.expect("a step").corner, "RL");
    window.touch("what-is-left").await;
    window.touch("skip-corner-RL").await;
    window.find("read-skipped").await;
    window.touch("see-result").await;
    let missing = window.text("missing").await;
    assert!(missing.starts_with("Without the rear left lip:") && missing.contains("no twist"), "{missing}");
    window.css("[data-test=\"corner-RL\"]:not([data-value]) .unknown").await;
    assert!(window.text("corner-RL").await.contains("not read"));
    window.picture("missing-corner").await;
    window.touch("keep").await;
    window.touch("tab-readings").await;
    window.css("[data-test=\"snapshot-0\"][data-finished=\"true\"]").await;
    window.close().await;
}
