//! What follows from a stance through the window: the newest snapshot, a target, loads, rules, a finding opened; and the form of what
//! is under the car, half typed across a dead battery.

use serde_json::json;

use crate::garage::Garage;
use crate::window::Window;

/// The sample garage with the roadster's checks open.
async fn at_checks(window: &Window) {
    window.find("add-car").await;
    window.watch_policy().await;
    window.samples().await;
    window.touch_css("[data-label*=\"roadster\"]").await;
    window.find("corner-FL").await;
    window.touch("to-checks").await;
    window.find("check-clearance.exhaust").await;
}

async fn word(window: &Window, row: &str) -> String {
    window.find(row).await.attr("data-word").await.ok().flatten().unwrap_or_default()
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn findings_of_the_newest_snapshot_a_target_loads_and_rules() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    at_checks(&window).await;
    assert_eq!(word(&window, "check-flat_tire.exhaust, RL flat").await, "clears");
    assert_eq!(word(&window, "check-clearance.rim line").await, "number");
    assert_eq!(word(&window, "check-driveline.Joints of the shaft").await, "not_read");
    window.looked_at("checks").await;
    // A finding opens with its number, its sum, its doubt by source and its picture.
    window.touch("check-clearance.exhaust").await;
    window.find("check-value").await;
    window.css("[data-test=\"budget-0\"][data-source=\"Tape at the point\"]").await;
    window.find("check-picture").await;
    window.looked_at("checks-finding").await;
    window.touch("close").await;
    window.until("the sheet is gone", async || !window.has("[data-test=\"check-sheet\"]").await).await;
    // A rule is held against once it is switched on, and stays on for this car.
    window.touch("rule-rim_line").await;
    window.css("[data-test=\"check-clearance.rim line\"][data-word=\"clears\"]").await;
    // Two people in it let it down.
    let height = async || {
        let script = "return Number(document.querySelector('[data-test=\"check-clearance.exhaust\"]').dataset.value)";
        window.script(script).await.as_f64().expect("a height")
    };
    let empty = height().await;
    let choose = "const load = document.querySelector('[data-test=load]'); load.value = 'two_up';
        load.dispatchEvent(new Event('change', { bubbles: true }))";
    window.script(choose).await;
    // By hand: 17.2 mm at the exhaust, from two ride rates that are known to a tenth.
    window.until("two people let it down", async || (empty - height().await - 17.2).abs() < 0.2).await;
    assert!(window.text("aboard").await.contains("common practice, no source"));
    window.script(&choose.replace("two_up", "nominal")).await;
    window.until("they are out again", async || (empty - height().await).abs() < 1e-9).await;
    // The target touches the trailer's ramp; it is predicted.
    window.touch("pick-stance").await;
    window.touch("stance-target-0").await;
    window.css("[data-test=\"pick-stance\"][data-line=\"target\"]").await;
    window
        .until("it touches", async || window.text("headline").await.starts_with("Touches the 11° trailer ramp"))
        .await;
    window.find("check-caution").await;
    window.looked_at("checks-target").await;
    // It is there again after a look elsewhere.
    window.touch("back").await;
    window.find("corner-FL").await;
    window.touch("to-checks").await;
    window.css("[data-test=\"pick-stance\"][data-line=\"target\"]").await;
    window.css("[data-test=\"check-clearance.rim line\"]:not([data-word=\"number\"])").await;
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_is_under_it_is_half_typed_refused_and_kept() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    at_checks(&window).await;
    window.touch("describe").await;
    window.touch("safety-go-on").await;
    window.touch("open-low-points").await;
    window.touch("add-point").await;
    window.touch("tape-in").await;
    window.fill("low_points.6.label", "Cross-member").await;
    window.fill("low_points.6.height", "6 5/12").await;
    window.fill("low_points.6.behind", "300 mm").await;
    window.looked_at("under-form").await;
    window.touch("save").await;
    window.find("problem-low_points.6.height").await;
    window
        .until("the form is kept", async || window.ask("kept_forms", json!({})).await.to_string().contains("6 5/12"))
        .await;
    window.kill().await;
    let window = Window::open(&garage).await;
    window.css("[data-screen=\"under_form\"] [data-test=\"safety\"]").await;
    window.touch("safety-go-on").await;
    window.touch("open-low-points").await;
    window.fill("low_points.6.height", "6").await;
    window.touch("save").await;
    let row = window.find("check-clearance.cross_member").await;
    assert_eq!(row.attr("data-value").await.unwrap().as_deref(), Some("152.4"));
    window.close().await;
}
