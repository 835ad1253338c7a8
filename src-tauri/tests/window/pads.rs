//! Every pad of the walk-around is held to what `looked_at` asks, and so are the guide's pages.

use serde_json::{Value, json};

use crate::garage::Garage;
use crate::window::Window;

impl Window {
    async fn asks(&self) {
        self.until("something is asked for", async || self.now().await.is_some()).await;
    }

    /// A walk with this change of the form, at its first step.
    async fn walk_of(&self, change: Value) {
        let car = self.added().await;
        self.begun_with(&car, &change).await;
        self.reload().await;
        self.watch_policy().await;
        self.go_on().await;
        self.asks().await;
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn thirty_seconds_centimetres_and_the_wheel_centre_to_the_lip() {
    for (name, change) in [
        ("walk-thirty-seconds", json!({ "tape": "in32" })),
        ("walk-centimetres", json!({ "tape": "cm", "kinds": [], "hubs": true })),
        ("walk-hub-to-lip", json!({ "kinds": [], "hub_to_lip": true })),
    ] {
        let garage = Garage::empty();
        let window = Window::open(&garage).await;
        window.walk_of(change).await;
        window.touch("key-2").await;
        window.looked_at(name).await;
        window.close().await;
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn gauge_across_the_frame_and_level_line() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    let car = window.added().await;
    let change = json!({ "kinds": ["frame_rail"], "gauge_across": true, "level_line": "above" });
    let walk = window.begun_with(&car, &change).await;
    window.reload().await;
    window.watch_policy().await;
    let walk = window.read(&walk, &["400", "402", "440", "442"]).await;
    let mut seen: Vec<String> = Vec::new();
    for step in walk["steps"].as_array().expect("steps") {
        let kind = step["kind"].as_str().expect("a kind").to_owned();
        if seen.contains(&kind) || kind == "height" {
            continue;
        }
        let place = walk["steps"].as_array().and_then(|steps| steps.iter().position(|each| each == step));
        window.ask("go_to_step", json!({ "snapshot": walk["snapshot"], "step": place })).await;
        window.reload().await;
        window.watch_policy().await;
        window.go_on().await;
        window.asks().await;
        window.looked_at(&format!("walk-{kind}")).await;
        seen.push(kind);
    }
    assert!(seen.len() >= 2, "gauge and line were walked: {seen:?}");
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_guide_is_read_from_the_menu() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.find("add-car").await;
    window.ask("open_sample_garage", json!({})).await;
    window.reload().await;
    window.watch_policy().await;
    window.touch_css("[data-label*=\"pickup\"]").await;
    window.touch("open-menu").await;
    window.touch("guide").await;
    window.css("[data-screen=\"guide\"]").await;
    window.looked_at("guide").await;
    window.touch_css("[data-screen=\"guide\"] a[data-page*=\"hose\"]").await;
    window.css("[data-test=\"guide-page\"][data-page*=\"hose\"]").await;
    window.looked_at("guide-hose").await;
    window.close().await;
}
