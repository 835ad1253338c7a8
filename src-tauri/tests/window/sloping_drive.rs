//! The main job through every room: a pickup on a sloping drive is added, its floor levelled, and it is read corner by corner, as
//! written in its sample file. The level heights on the screen are those of the command line for the same readings.

use std::fs;
use std::path::Path;
use std::process::Command;

use serde_json::{Value, json};

use crate::garage::Garage;
use crate::window::Window;

/// The sample, cut down to what a person can type into this version: one way round, the four spots, no springs.
fn as_typed() -> Value {
    let top = Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("the shell lies one folder below the top");
    let text = fs::read_to_string(top.join("sample-data/sloping-drive.json")).expect("the sample is there");
    let mut file: Value = serde_json::from_str(&text).expect("it is JSON");
    let vehicle = file["vehicle"].as_object_mut().expect("a vehicle");
    for unknown in ["suspension", "roll_share_front", "lean_gain", "mass_kg_approx", "clearance_points", "lamps"] {
        vehicle.remove(unknown);
    }
    // The app's own figures for its instruments; the sample states slightly better ones.
    file["instrument"]["bounce_repeat_u_mm"] = json!(1.6);
    file["floors"][0]["survey"]["staff_u_mm"] = json!(1.0);
    file["snapshots"].as_array_mut().expect("snapshots").truncate(1);
    for pass in file["floors"][0]["survey"]["passes"].as_array_mut().expect("passes") {
        let readings = pass["readings"].as_array_mut().expect("readings");
        readings.retain(|reading| reading["point"].as_str().is_some_and(|point| point.starts_with('S')));
    }
    file
}

/// What `trueground stance --json` says about a file.
fn on_the_command_line(file: &Value) -> Value {
    let program = Path::new(env!("CARGO_BIN_EXE_trueground-app")).with_file_name("trueground");
    assert!(program.exists(), "the command line is not built: `cargo build` builds it, and so does `cargo xtask test`");
    let folder = tempfile::tempdir().expect("a folder can be made");
    let path = folder.path().join("car.json");
    fs::write(&path, file.to_string()).expect("a file can be written");
    let output = Command::new(program).arg("stance").arg(path).arg("--json").output().expect("the command line runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("it prints JSON")
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn four_corners_on_a_crooked_drive_become_the_stance_of_the_command_line() {
    let file = as_typed();
    let garage = Garage::empty();
    let window = Window::open(&garage).await;

    add_the_car(&window, &file["vehicle"]).await;
    level_the_floor(&window, &file["floors"][0]).await;
    begin(&window, &file["snapshots"][0]).await;
    walk_round(&window, &file["snapshots"][0]).await;
    window.touch("see-result").await;

    let expected = on_the_command_line(&file);
    let expected = &expected["snapshots"][0];
    for (kind, point) in [("fender_lip", "lip"), ("frame_rail", "rail")] {
        window.touch(&format!("kind-{kind}")).await;
        for corner in ["FL", "FR", "RL", "RR"] {
            let level = &expected["heights"][format!("{point}.{corner}")];
            window.shows(&format!("corner-{corner}"), level).await;
        }
        for (row, figure) in [("rake", "rake_deg"), ("twist", "twist_mm")] {
            window.shows(row, &expected["lines"][kind][figure]).await;
        }
    }
    window.picture("sloping-drive-result").await;
    window.touch("keep").await;
    window.find("begin-snapshot").await;
    window.touch("tab-readings").await;
    assert_eq!(
        window.find("snapshot-0").await.attr("data-finished").await.expect("an attribute").as_deref(),
        Some("true")
    );
    window.close().await;
}

impl Window {
    /// Waits until an element carries this figure: the same value, the same u, known the same way.
    async fn shows(&self, name: &str, figure: &Value) {
        let known = figure["known"].as_str().expect("a figure says how it is known");
        let element = self.css(&format!("[data-test=\"{name}\"][data-known=\"{known}\"]")).await;
        for (attribute, part) in [("data-value", "value"), ("data-u", "u")] {
            let shown = element.attr(attribute).await.expect("an attribute").and_then(|text| text.parse::<f64>().ok());
            let (shown, wanted) = (shown.expect("a number"), figure[part].as_f64().expect("a number"));
            // Both are printed in full, so only the order of sums may differ.
            assert!((shown - wanted).abs() < 1e-6, "{name}: {part} is {shown}, on the command line {wanted}");
        }
    }
}

async fn add_the_car(window: &Window, vehicle: &Value) {
    let mm = |value: &Value| format!("{} mm", value.as_f64().expect("a length"));
    let point = |id: &str| {
        let points = vehicle["ref_points"].as_array().expect("points");
        points.iter().find(|point| point["id"] == id).unwrap_or_else(|| panic!("{id} is a point"))
    };
    window.touch("add-car").await;
    window.fill("label", vehicle["label"].as_str().expect("a label")).await;
    window.fill("wheelbase", &mm(&vehicle["wheelbase_mm"])).await;
    window.fill("track_front", &mm(&vehicle["track_front_mm"])).await;
    window.fill("track_rear", &mm(&vehicle["track_rear_mm"])).await;
    for (row, (kind, name)) in [("frame_rail", "rail"), ("fender_lip", "lip")].into_iter().enumerate() {
        if !window.has(&format!("input[name=\"points.{row}.front_apart\"]")).await {
            window.touch(&format!("add-points-{kind}")).await;
        }
        let (front, rear) = (point(&format!("{name}.FL")), point(&format!("{name}.RL")));
        let twice = |value: &Value| mm(&json!(2.0 * value.as_f64().expect("a place")));
        let behind = 0.0 - front["x_mm"].as_f64().expect("a place");
        let ahead = rear["x_mm"].as_f64().expect("a place") + vehicle["wheelbase_mm"].as_f64().expect("a length");
        window.fill(&format!("points.{row}.front_behind_axle"), &mm(&json!(behind))).await;
        window.fill(&format!("points.{row}.front_apart"), &twice(&front["y_mm"])).await;
        window.fill(&format!("points.{row}.rear_ahead_of_axle"), &mm(&json!(ahead))).await;
        window.fill(&format!("points.{row}.rear_apart"), &twice(&rear["y_mm"])).await;
    }
    for corner in ["FL", "FR", "RL", "RR"] {
        let tire = &vehicle["tires"][corner];
        window.fill(&format!("tires.{corner}.marking"), tire["designation"].as_str().expect("a marking")).await;
        window.fill(&format!("tires.{corner}.pressure"), &format!("{}", tire["nominal_pressure_kpa"])).await;
        window.fill(&format!("tires.{corner}.measured_diameter"), &mm(&tire["free_diameter_mm"])).await;
    }
    window.touch("save").await;
    window.find("begin-snapshot").await;
}

async fn level_the_floor(window: &Window, floor: &Value) {
    window.touch("begin-snapshot").await;
    window.touch("add-floor").await;
    window.fill("label", floor["label"].as_str().expect("a label")).await;
    window.touch("levelling-water_level").await;
    window.touch("tape-mm").await;
    window.touch("save").await;
    for (number, pass) in floor["survey"]["passes"].as_array().expect("passes").iter().enumerate() {
        if number > 0 {
            window.touch("add-pass").await;
        }
        for reading in pass["readings"].as_array().expect("readings") {
            let point = reading["point"].as_str().expect("a spot");
            window.css(&format!("[data-test=\"now-spot\"][data-point=\"{point}\"]")).await;
            for key in reading["text"].as_str().expect("a text").chars() {
                window.touch(&format!("key-{key}")).await;
            }
            window.touch("take").await;
        }
    }
    window.picture("sloping-drive-floor").await;
    window.touch("done").await;
}

/// Back on the form of the snapshot, with the floor just levelled.
async fn begin(window: &Window, snapshot: &Value) {
    window.touch("floor-0").await;
    window.touch("facing-A").await;
    for choice in ["hubs", "gauge", "kind-fender_lip", "kind-frame_rail"] {
        if !window.has(&format!("[data-test=\"{choice}\"]:checked")).await {
            window.touch(choice).await;
        }
    }
    window.touch("rounds-2").await;
    window.touch(&format!("bounces-{}", snapshot["bounces"].as_array().expect("bounces").len())).await;
    window.touch("tape-in").await;
    for (corner, pressure) in snapshot["tire_pressure_kpa"].as_object().expect("pressures") {
        window.fill(&format!("pressures.{corner}"), &pressure.to_string()).await;
    }
    window.touch("begin").await;
    window.through_safety().await;
}

async fn walk_round(window: &Window, snapshot: &Value) {
    let bounces = snapshot["bounces"].as_array().expect("bounces");
    loop {
        window.through_safety().await;
        let Some(now) = window.now().await else { return };
        let bounce = &bounces[now.bounce - 1];
        let text = if now.kind == "gauge" {
            let gauge = snapshot["angle_gauge"].as_array().expect("gauge readings");
            let of = |angle: &&Value| {
                angle["bounce_id"] == bounce["bounce_id"]
                    && angle["where"] == now.point.as_str()
                    && angle["reversed"] == now.reversed
            };
            gauge.iter().find(of).unwrap_or_else(|| panic!("{now:?} is in the file"))["angle_deg"].to_string()
        } else {
            let of = |reading: &&Value| reading["ref"] == now.point.as_str() && reading["repeat"] == now.round;
            let readings = bounce["readings"].as_array().expect("readings");
            let reading = readings.iter().find(of).unwrap_or_else(|| panic!("{now:?} is in the file"));
            reading["text"].as_str().expect("a text").to_owned()
        };
        window.press(&text).await;
        window.take().await;
    }
}
