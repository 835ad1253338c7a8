//! The Plan tab through the window: a change typed by thumb, what follows, kept, carried out and ticked; parts searched for a target.

use serde_json::{Value, json};

use crate::garage::Garage;
use crate::window::Window;

/// The sample garage with the roadster open at its plan.
async fn at_plan(window: &Window) {
    window.find("add-car").await;
    window.samples().await;
    window.touch_css("[data-label*=\"roadster\"]").await;
    window.find("corner-FL").await;
    window.touch("tab-plan").await;
    window.css("[data-screen=\"plan\"] [data-test=\"add-first\"]").await;
}

async fn car(window: &Window) -> Value {
    let garage = window.ask("open_garage", json!({})).await;
    let cars = garage["cars"].as_array().expect("cars").clone();
    let roadster = cars.iter().find(|car| car["label"].as_str().is_some_and(|label| label.contains("roadster")));
    roadster.expect("the roadster")["car"].clone()
}

/// A change through its form: at first with nothing in it.
async fn put_in(window: &Window, key: &str, kind: &str, end: &str, amount: &str) {
    window.touch(key).await;
    window.touch(&format!("kind-{kind}")).await;
    window.touch(&format!("end-{end}")).await;
    window.fill("amount_mm", amount).await;
    window.touch("save").await;
    window.css("[data-screen=\"plan\"] [data-test=\"overlay\"]").await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_plan_is_typed_seen_kept_carried_out_and_its_list_ticked() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    at_plan(&window).await;
    window.picture("plan-empty").await;
    put_in(&window, "add-first", "spring", "front", "-16 mm").await;
    put_in(&window, "add-change", "spring", "rear", "-12 mm").await;
    window.css("[data-test=\"change-0\"][data-front=\"-16\"]").await;
    window.css("[data-test=\"change-1\"][data-rear=\"-12\"]").await;
    // Worst first: the exhaust and the trailer's ramp. Each row opens with its sentence, as on the page of checks.
    window.touch_css("[data-test^=\"check-ramp\"][data-word=\"touches\"]").await;
    assert!(window.text("check-sentence").await.contains("trailer ramp"));
    window.find("check-picture").await;
    window.touch_css("[data-test=\"check-sheet\"] [data-test=\"close\"]").await;
    assert_eq!(window.figure("drop-front", "data-mm").await, -16.0);
    window.picture("plan").await;
    window.size((1280, 800)).await;
    window.picture("plan-wide").await;
    window.size((390, 844)).await;

    // Every page of what follows stands on it before it is kept, and back leads back to it.
    for (key, screen) in [
        ("to-ramp", "ramp"),
        ("to-fitment", "fitment"),
        ("to-checks", "checks"),
        ("to-steering", "steering"),
        ("to-driveline", "driveline"),
        ("to-springs", "springs"),
    ] {
        window.touch(key).await;
        let stands = "[data-test=\"pick-stance\"][data-line=\"predicted\"]";
        // The roadster's openings are not measured: there is nothing to stand in them.
        let seen = if screen == "fitment" { "[data-test=\"measure-first\"]" } else { stands };
        window.css(&format!("[data-screen=\"{screen}\"] {seen}")).await;
        window.picture(&format!("plan-on-{screen}")).await;
        window.touch("back").await;
        window.css("[data-screen=\"plan\"] [data-test=\"overlay\"]").await;
    }

    // A change that is taken out can be put back.
    window.touch("change-1-open").await;
    window.touch("take-out").await;
    window.css("[data-screen=\"plan\"] [data-test=\"taken-out\"]").await;
    assert!(!window.has("[data-test=\"change-1\"]").await);
    window.touch("put-back").await;
    window.css("[data-test=\"change-1\"][data-rear=\"-12\"]").await;

    // Without the rear spring the rear stands where it stood.
    window.touch("do-1").await;
    window.css("[data-test=\"change-1\"].out").await;
    // What is typed outlives the window.
    window
        .until("the plan is on the disk", async || {
            window.ask("kept_forms", json!({})).await.to_string().contains("left_out\\\":true")
        })
        .await;
    window.kill().await;
    let window = Window::open(&garage).await;
    window.touch_css("[data-label*=\"roadster\"]").await;
    window.touch("tab-plan").await;
    window.css("[data-test=\"change-1\"].out").await;

    window.touch("keep-plan").await;
    window.fill("label", "One spring").await;
    window.touch_css("[data-test=\"keep-sheet\"] [data-test=\"save\"]").await;
    window.find("carried-out").await;
    let car = car(&window).await;
    let plans = window.ask("open_plans", json!({ "car": car })).await;
    assert_eq!(plans["rows"][0]["label"], "One spring");
    let snapshots =
        window.ask("open_car", json!({ "car": car })).await["snapshots"].as_array().expect("snapshots").len();
    assert_eq!(snapshots, 2, "a plan is no snapshot");

    window.touch("carried-out").await;
    window.touch("task-0-hoses").await;
    window
        .until("the tick is kept", async || {
            let plans = window.ask("open_plans", json!({ "car": car })).await;
            plans["follow_up"][0]["tasks"].as_array().is_some_and(|tasks| tasks.iter().any(|task| task["done"] != ""))
        })
        .await;
    window.picture("plan-left-to-do").await;

    // The car's page says so too, and leads to the list.
    window.touch("tab-car").await;
    window.touch("left-to-do").await;
    window.css("[data-screen=\"plan\"]").await;

    // Compare knows it.
    window.touch("tab-compare").await;
    window.touch("pick-this").await;
    window.touch("stance-planned-0").await;
    window.css("[data-test=\"pick-this\"][data-line=\"predicted\"]").await;
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn parts_are_searched_for_the_target_and_an_answer_opens_as_a_plan() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    at_plan(&window).await;
    window.touch("search").await;
    window.css("[data-screen=\"plan_search\"] [data-test=\"part-4\"]").await;
    // A part with nonsense in it is not kept.
    window.touch("add-part").await;
    window.fill("label", "rear perches, 1/2 in lower").await;
    window.fill("slot", "rear spring").await;
    window.touch("kind-perch").await;
    window.touch("end-rear").await;
    window.fill("lower_mm", "half").await;
    window.touch("save").await;
    window.find("problem-lower_mm").await;
    window.fill("lower_mm", "1/2").await;
    window.touch("save").await;
    window.css("[data-screen=\"plan_search\"] [data-test=\"part-5\"]").await;

    window.touch("start-search").await;
    window.css("[data-test=\"headline\"][data-proved=\"true\"][data-reaches=\"false\"]").await;
    window.find("nearest-but").await;
    window.touch("no-touch").await;
    window.touch("start-search").await;
    window.css("[data-test=\"headline\"][data-reaches=\"true\"]").await;
    window.picture("plan-search").await;
    window.touch("answer-0").await;
    window.css("[data-screen=\"plan\"] [data-test=\"overlay\"]").await;
    assert!(window.text("against").await.starts_with("Against"));
    window.close().await;
}
