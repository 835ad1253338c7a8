//! Parts that are described: gearing, steering, driveline and spring packs, each typed, seen, read as text and looked at.

use crate::garage::Garage;
use crate::window::Window;
use serde_json::{Value, json};

const ROADSTER: &str = include_str!("../../../sample-data/show-roadster.json");
const COUPE: &str = include_str!("../../../sample-data/settling-coupe.json");

impl Window {
    /// Opens a car's page of that way under Car; `bare` leaves out what its file says of parts.
    async fn part_of(&self, text: &str, bare: bool, way: &str) {
        self.find("add-car").await;
        let mut file: Value = serde_json::from_str(text).expect("an exchange file");
        if bare {
            for key in ["drive", "steering", "driveline", "attitude", "leaf_packs"] {
                file["vehicle"].as_object_mut().expect("a car").remove(key);
            }
        }
        self.ask("import_file", json!({ "name": "car.json", "text": file.to_string() })).await;
        self.reload().await;
        self.watch_policy().await;
        self.find("corner-FL").await;
        self.touch(way).await;
        self.find("headline").await;
    }

    pub(crate) async fn figure(&self, test: &str, name: &str) -> f64 {
        let text = self.find(test).await.attr(name).await.expect("the page answers").unwrap_or_default();
        text.parse().unwrap_or_else(|_| panic!("{test} {name}: {text}"))
    }

    async fn named(&self, test: &str) -> String {
        self.find(test).await.attr("aria-label").await.expect("the page answers").unwrap_or_default()
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn gears_are_typed_and_told_beside_another_axle() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.part_of(ROADSTER, true, "to-gearing").await;
    assert_eq!(window.text("headline").await, "No gearing yet.");
    window.looked_at("gearing-empty").await;
    window.touch("describe").await;
    window.fill("axle", "4.11").await;
    for (row, ratio) in ["2.82", "1.6", "one"].into_iter().enumerate() {
        window.fill(&format!("gears.{row}.ratio"), ratio).await;
    }
    window.touch("save").await;
    assert!(window.text("problem-gears.2.ratio").await.starts_with("one is not a gear"), "its field says so");
    window.fill("gears.2.ratio", "1").await;
    window
        .until("the form is kept", async || {
            window.ask("kept_forms", json!({})).await.to_string().contains("gears.2.ratio\\\":\\\"1\\\"")
        })
        .await;
    // Half typed, left and opened again: nothing is lost.
    window.reload().await;
    window.watch_policy().await;
    window.css("[data-screen=\"mechanism_form\"]").await;
    window.css("[name=\"gears.1.ratio\"]").await;
    let kept = window.script("return document.getElementsByName('gears.1.ratio')[0].value").await;
    assert_eq!(kept, json!("1.6"));
    window.touch("add-beside").await;
    window.fill("beside.0.axle", "3.54").await;
    window.looked_at("gearing-form").await;
    window.touch("save").await;
    window.find("gearing-picture").await;
    // By hand: 100 km/h over π·D, times the axle ratio, in top gear.
    let rolling = window.figure("gears", "data-rolling").await;
    let by_hand = 100e6 / 60.0 / (std::f64::consts::PI * rolling) * 4.11;
    let cell = window
        .script("return Number(document.querySelectorAll('[data-test=\"gears-2\"] td')[3].dataset.value)")
        .await
        .as_f64()
        .expect("a number");
    assert!((cell - by_hand).abs() < 0.1, "{cell} {by_hand}");
    assert!(window.text("notes").await.contains("Across the tire without load it is 752 mm."), "named apart");
    window.touch("speed-mph").await;
    window.until("it is told in miles", async || window.text("headline").await.ends_with("at 60 mph.")).await;
    window.looked_at("gearing").await;
    window.touch("open-menu").await;
    window.touch("read-as-text").await;
    assert!(window.text("gearing-picture").await.contains("as it is: gear 1 "), "the picture in words");
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_steering_is_measured_point_by_point_and_shows_its_curve() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.part_of(ROADSTER, true, "to-steering").await;
    assert_eq!(window.text("headline").await, "No steering yet.");
    window.touch("describe").await;
    window.touch("safety-go-on").await;
    window.touch("tape-mm").await;
    for (name, text) in [
        ("pitman_ball.x", "-820"),
        ("pitman_ball.y", "430"),
        ("pitman_ball.z", "470"),
        ("arm_ball.x", "-20"),
        ("arm_ball.y", "560"),
        ("arm_ball.z", "400"),
        ("hub.z", "318"),
        ("kingpin.x", "0"),
        ("kingpin.y", "640"),
        ("kingpin.z", "225"),
        ("caster", "6.3"),
        ("inclination", "6.8"),
        ("pivot.x", "-5"),
        ("pivot.y", "330"),
        ("pivot.z", "290"),
    ] {
        window.fill(name, text).await;
    }
    window.css("[data-test=\"ask-picture\"] svg[data-shows=\"pivot\"]").await;
    window.looked_at("steering-form").await;
    window.touch("save").await;
    let said = window.text("problem-guide").await;
    assert!(said.starts_with("The guide does not let the hub rise by "), "{said}");
    window.fill("pivot.x", "-980").await;
    window.touch("save").await;
    window.find("curve-picture").await;
    // By hand: 70 mm down to the arm ball over 800 ahead and 130 aside, 4.9°; the ball 110 mm over the pivot, 960 ahead, 6.5°.
    let notes = window.text("notes").await;
    assert!(notes.contains("The drag link slopes \u{2212}4.9°, what leads its ball 6.5°."), "{notes}");
    let apart = window.figure("row-drag_link", "data-value").await;
    assert!((apart - 11.47).abs() < 0.02, "{apart}");
    assert!(window.text("caution").await.contains("licensed alignment shop"));
    assert!(window.named("curve-picture").await.starts_with("Steer over the travel of the wheel: now "));
    window.looked_at("steering").await;
    let now = window.text("headline").await;
    window.touch("pick-stance").await;
    window.touch("stance-target-0").await;
    window
        .until("the target's curve is shown", async || window.text("headline").await.starts_with("Would steer "))
        .await;
    assert_ne!(now.replace("Steers", "Would steer"), window.text("headline").await);
    window.picture("steering-target").await;
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_shaft_is_told_at_rest_at_bump_and_at_droop() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.part_of(COUPE, false, "to-driveline").await;
    window.find("shaft-picture").await;
    let at = async |test: &str| window.figure(test, "data-longer").await;
    assert!(at("shaft--90").await != 0.0 && at("shaft-65").await != 0.0 && at("shaft-0").await == 0.0);
    assert!(
        window.text("row-carburetor_flange").await.contains("Within."),
        "{}",
        window.text("row-carburetor_flange").await
    );
    window.looked_at("driveline").await;
    window.touch("describe").await;
    window.find("safety").await;
    window.looked_at("caution-under").await;
    window.touch("safety-second").await;
    window.touch("kind-closed").await;
    assert!(!window.has("input[name=\"pinion\"]").await, "a torque tube has one joint");
    window.touch("leave-level-0").await;
    window.looked_at("driveline-form").await;
    window.touch("save").await;
    window
        .until("the one joint is told", async || {
            window.text("detail").await.starts_with("The one joint of the torque tube")
        })
        .await;
    assert!(
        !window.has("[data-test=\"row-carburetor_flange\"]").await
            && window.has("[data-test=\"row-axle_fill_plug\"]").await
    );
    window.picture("driveline-tube").await;
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn leaves_are_taken_out_of_a_pack_and_put_back() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.part_of(ROADSTER, false, "to-springs").await;
    window.until("leaf 4 is out", async || window.text("headline").await.ends_with("lower without leaf 4.")).await;
    // By hand: five of six equal leaves carry the same load: the stress grows by 6/5.
    let (now, after) =
        (window.figure("leaf-line-2", "data-stress").await, window.figure("leaf-line-2", "data-after").await);
    assert!((after / now - 1.2).abs() < 1e-9, "{now} {after}");
    window.looked_at("springs").await;
    window.touch("leaf-5").await;
    window.until("two are out", async || window.text("headline").await.ends_with("without leaves 4 and 5.")).await;
    window.touch("leaf-4").await;
    window.touch("leaf-5").await;
    window.until("it is whole again", async || window.text("headline").await.contains(" N/mm, sinks ")).await;
    window.touch("end-rear").await;
    window.until("none is described", async || window.text("headline").await == "No rear spring pack yet.").await;
    window.looked_at("springs-empty").await;
    window.touch("describe").await;
    window.touch("safety-go-on").await;
    window.fill("load", "2600 N").await;
    window.touch("save").await;
    assert!(window.text("problem-length").await.contains("missing"), "{}", window.text("problem-length").await);
    window.looked_at("springs-form").await;
    window.close().await;
}
