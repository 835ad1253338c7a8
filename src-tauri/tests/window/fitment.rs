//! Wheels in their openings through the window: the coupe's other wheel at rest, bump and lock; a wheel measured from nothing, refused
//! beside its field first, and half typed across a dead battery.

use serde_json::json;

use crate::garage::Garage;
use crate::window::Window;

async fn at_fitment(window: &Window, car: &str) {
    window.find("add-car").await;
    window.samples().await;
    window.touch_css(&format!("[data-label*=\"{car}\"]")).await;
    window.find("corner-FL").await;
    window.touch("to-fitment").await;
    window.css("[data-screen=\"fitment\"]").await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn another_wheel_clears_at_rest_and_touches_at_full_lock() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    at_fitment(&window, "coupe").await;
    // The state that says most stands first.
    window.css("[data-test=\"headline\"][data-word=\"touches\"]").await;
    assert!(window.text("detail").await.contains("frame rail"));
    window.css("[data-test=\"gap-frame\"][data-word=\"touches\"]").await;
    window.looked_at("fitment-lock").await;
    window.touch("state-at_rest").await;
    window.css("[data-test=\"near-fender_outer\"][data-value=\"22\"]").await;
    window.css("[data-test=\"near-spring\"][data-value=\"13\"]").await;
    window.looked_at("fitment-rest").await;
    window.touch("state-full_bump").await;
    window.css("[data-test=\"gap-fender_outer\"][data-value=\"3\"][data-word=\"cant_tell\"]").await;
    // With both a bound: what is over the tread clears or not as at full bump, the rail cannot be told.
    window.touch("state-full_lock_and_bump").await;
    window.css("[data-test=\"gap-frame\"][data-word=\"cant_tell\"]").await;
    window.looked_at("fitment-lock-and-bump").await;
    window.touch("other-own").await;
    window.touch("state-at_rest").await;
    window.css("[data-test=\"near-fender_outer\"][data-value=\"24\"]").await;
    window.touch("wheel-RL").await;
    window.css("[data-test=\"near-fender_inner\"]").await;
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_wheel_is_measured_by_thumb() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    at_fitment(&window, "pickup").await;
    window.find("nothing").await;
    window.looked_at("fitment-nothing").await;
    window.touch("measure-first").await;
    window.touch("safety-go-on").await;
    window.touch("tape-mm").await;
    window.fill("gaps.fender_outer.at_rest_mm", "3o").await;
    window.fill("gaps.above.at_rest_mm", "92").await;
    window.touch("save").await;
    window.find("problem-gaps.fender_outer.at_rest_mm").await;
    window
        .until("the form is kept", async || window.ask("kept_forms", json!({})).await.to_string().contains("3o"))
        .await;
    window.kill().await;
    let window = Window::open(&garage).await;
    window.css("[data-screen=\"measured_form\"] [data-test=\"safety\"]").await;
    window.touch("safety-go-on").await;
    window.css("input[name=\"gaps.above.at_rest_mm\"]").await;
    window.watch_policy().await;
    window.fill("gaps.fender_outer.at_rest_mm", "30").await;
    window.looked_at("measured-form").await;
    window.touch("save").await;
    window.css("[data-screen=\"fitment\"] [data-test=\"near-fender_outer\"][data-value=\"30\"]").await;
    window.css("[data-test=\"part-wheel-FL\"][data-known=\"true\"]").await;
    window.close().await;
}
