//! Bench sums with one thumb: each typed, told with its ± and its picture, kept with the car, found again after a restart.

use crate::garage::Garage;
use crate::window::Window;
use serde_json::json;

const ROADSTER: &str = include_str!("../../../sample-data/show-roadster.json");

impl Window {
    async fn bench(&self, sum: &str) {
        self.find("add-car").await;
        self.ask("import_file", json!({ "name": "car.json", "text": ROADSTER })).await;
        self.reload().await;
        self.watch_policy().await;
        self.find("corner-FL").await;
        self.touch("to-bench-sums").await;
        self.touch(&format!("sum-{sum}")).await;
        self.find("headline").await;
    }

    async fn told(&self, row: &str) -> (f64, f64) {
        let of = async |name: &str| -> f64 {
            let text = self.find(&format!("row-{row}")).await.attr(name).await.expect("the page answers");
            text.unwrap_or_default().parse().expect("a number")
        };
        (of("data-value").await, of("data-u").await)
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_steering_box_is_counted_and_half_typed_is_not_lost() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.bench("steering_box").await;
    assert_eq!(window.text("headline").await, "No steering box yet.");
    window.looked_at("bench-sum-empty").await;
    window.touch("describe").await;
    window.touch("safety-go-on").await;
    window.touch("tape-mm").await;
    for (name, text) in [("turns", "3.75"), ("pitman", "152"), ("arm", "long")] {
        window.fill(name, text).await;
    }
    window
        .until("the form is kept", async || window.ask("kept_forms", json!({})).await.to_string().contains("long"))
        .await;
    // The battery is taken out in the middle of the form.
    window.reload().await;
    window.watch_policy().await;
    window.css("[data-screen=\"mechanism_form\"]").await;
    window.touch("safety-go-on").await;
    window.css("[name=\"pitman\"]").await;
    let kept = window.script("return document.getElementsByName('pitman')[0].value").await;
    assert_eq!(kept, json!("152"));
    window.fill("sweep", "62").await;
    window.touch("save").await;
    assert!(window.text("problem-arm").await.starts_with("long "), "its field says so");
    window.fill("arm", "178").await;
    window.touch("add-beside").await;
    window.fill("beside.0.label", "quicker box").await;
    window.fill("beside.0.ratio", "15").await;
    window.looked_at("steering-box-form").await;
    window.touch("save").await;
    window.find("bench-picture").await;
    // By hand: 3.75·360/62 = 21.774 to 1; a box of 15 with these arms 15·178/152·62/360 = 3.025 turns.
    let (ratio, u) = window.told("overall_ratio").await;
    assert!((ratio - 21.774).abs() < 1e-3 && (u - 0.456).abs() < 1e-3, "{ratio} {u}");
    assert!((window.told("beside_0").await.0 - 3.0252).abs() < 1e-3);
    assert!(window.text("notes").await.contains("Both arms are taken square to the drag link."));
    assert!(window.text("caution").await.contains("licensed alignment shop"));
    window.looked_at("bench-steering-box").await;
    window.touch("open-menu").await;
    window.touch("read-as-text").await;
    assert!(window.text("bench-picture").await.starts_with("Both arms from above"), "the picture in words");
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_wedge_a_pedal_and_a_radiator_are_told_and_listed() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.bench("wedge").await;
    window.touch("describe").await;
    window.touch("safety-go-on").await;
    window.touch("tape-mm").await;
    // The caster that the car is known to have stands there.
    let now = window.script("return document.getElementsByName('now')[0].value").await;
    assert_eq!(now, json!("6.4"));
    window.fill("wanted", "8.4").await;
    window.fill("pad", "100").await;
    window.touch("save").await;
    window.find("bench-picture").await;
    // By hand: 100·tan 2° = 3.492 mm.
    assert!((window.told("thickness").await.0 - 3.492).abs() < 1e-3);
    window.looked_at("bench-shim").await;
    window.touch("describe").await;
    window.touch("where-cut").await;
    window.fill("depth", "48").await;
    window.touch("save").await;
    window.until("it is a cut", async || window.text("headline").await.contains("closes at the top")).await;
    assert!(window.text("caution").await.contains("qualified person"));
    window.looked_at("bench-cut").await;
    window.touch("back").await;

    window.touch("sum-pedal").await;
    window.touch("describe").await;
    window.touch("tape-mm").await;
    for (name, text) in [("pad", "300"), ("rod", "50"), ("bore", "25.4"), ("stroke", "20")] {
        window.fill(name, text).await;
    }
    window.touch("save").await;
    window.find("bench-picture").await;
    // By hand: 6 to 1; 1800 N over 506.7 mm² are 3.552 MPa; the pad goes 120 mm.
    assert!(
        (window.told("ratio").await.0 - 6.0).abs() < 1e-9 && (window.told("pressure").await.0 - 3.552).abs() < 1e-3
    );
    window.looked_at("bench-pedal").await;
    window.touch("back").await;

    window.touch("sum-radiator").await;
    window.touch("describe").await;
    window.touch("safety-go-on").await;
    window.touch("tape-mm").await;
    for (name, text) in [("core_height_mm", "500"), ("core_width_mm", "440"), ("sectioned_mm", "75")] {
        window.fill(name, text).await;
    }
    window.touch("save").await;
    window.until("what is left", async || window.text("headline").await == "85 % of its core is left.").await;
    window.looked_at("bench-radiator").await;
    window.touch("back").await;
    window
        .until("it is listed", async || window.text("sum-radiator").await.contains("85 % of its core is left."))
        .await;
    window.looked_at("bench-sums").await;
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn four_scales_tell_where_the_weight_sits() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.bench("weight").await;
    window.looked_at("bench-weight-empty").await;
    window.touch("describe").await;
    window.touch("open-section-1").await;
    for (name, text) in [("FL", "250"), ("FR", "240"), ("RL", "220"), ("RR", "plenty")] {
        window.fill(&format!("wheels_kg.{name}"), text).await;
    }
    window.looked_at("bench-weight-form").await;
    window.touch("save").await;
    assert!(!window.text("problem-wheels_kg.RR").await.is_empty(), "its field says so");
    window.fill("wheels_kg.RR", "210").await;
    window.touch("save").await;
    window.find("bench-picture").await;
    // By hand: 430 of 920 kg on the rear axle, 2565 mm behind the front one; 460 of 920 on the diagonal.
    assert!((window.told("behind").await.0 - 2565.0 * 430.0 / 920.0).abs() < 1e-6);
    assert!((window.told("diagonal").await.0 - 460.0 / 920.0).abs() < 1e-9);
    window.looked_at("bench-weight").await;
    window.close().await;
}
