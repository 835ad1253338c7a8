//! Every way to a floor through its screens: straightedge across and along, water level, laser line, under the points, passes that
//! do not agree, flat to, not levelled, and another car's floor.

use std::time::Duration;

use serde_json::{Value, json};

use crate::garage::Garage;
use crate::window::{LAPTOP, PHONE, Window};

fn car(label: &str, wheelbase: &str) -> Value {
    let tire = json!({ "marking": "6.00-16", "pressure": "210", "measured_diameter": "" });
    json!({
        "label": label, "outline": "pickup", "tape": "mm", "wheelbase": wheelbase, "track_front": "1400", "track_rear": "1400",
        "points": [{ "kind": "fender_lip", "front_behind_axle": "0", "front_apart": "1600", "rear_ahead_of_axle": "0", "rear_apart": "1600" }],
        "tires": { "FL": tire, "FR": tire, "RL": tire, "RR": tire }
    })
}

impl Window {
    /// Its form of a floor, opened from the form of a snapshot.
    async fn new_floor(&self, label: &str, levelling: &str) {
        self.touch("begin-snapshot").await;
        self.touch("add-floor").await;
        self.fill("label", label).await;
        self.touch(levelling).await;
    }

    /// Reads a station once it is asked for.
    async fn read_at(&self, point: &str, reversed: bool, text: &str) {
        self.css(&format!("[data-test=\"now-spot\"][data-point=\"{point}\"][data-reversed=\"{reversed}\"]")).await;
        let (below, size) = match text.strip_prefix('-') {
            Some(size) => (true, size),
            None => (false, text),
        };
        for key in size.chars() {
            self.touch(&if key == '.' { "key-point".to_owned() } else { format!("key-{key}") }).await;
        }
        if below {
            self.touch("sign-up").await;
        }
        self.touch("take").await;
    }

    /// Leaves pictures of the screen as phone, as phone on its side and as laptop, by day and by night; none is wider than its
    /// window, and what is read next never lies below it.
    async fn pictured(&self, name: &str) {
        for (size, shape) in [(PHONE, ""), ((844, 390), "-lying"), (LAPTOP, "-wide")] {
            self.size(size).await;
            for theme in ["day", "night"] {
                self.script(&format!("document.documentElement.dataset.theme = '{theme}'; return 0")).await;
                self.picture(&format!("{name}{shape}-{theme}")).await;
                if size == PHONE {
                    assert_eq!(self.axe().await, json!([]), "{name} by {theme}: findings of axe");
                }
            }
            let over = self.script("return document.documentElement.scrollWidth - window.innerWidth").await;
            assert_eq!(over, json!(0), "{name}{shape} is wider than its window");
            let below = "const take = document.querySelector('[data-test=\"take\"]');
                return take ? Math.max(0, take.getBoundingClientRect().bottom - window.innerHeight) : 0";
            assert_eq!(self.script(below).await, json!(0), "{name}{shape}: the main action lies below the window");
        }
        self.size(PHONE).await;
        self.script("document.documentElement.dataset.theme = 'day'; return 0").await;
    }

    async fn number(&self, name: &str, attribute: &str) -> f64 {
        let text = self.find(name).await.attr(attribute).await.expect("an attribute");
        text.and_then(|text| text.parse().ok()).unwrap_or_else(|| panic!("{name} has a number in {attribute}"))
    }
}

/// By hand: 1400·tan 1.0° is 24.4 mm, 1400·tan −0.5° is −12.2 mm: twist 36.7 mm.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_straightedge_across_and_along_levels_a_floor_and_a_kill_between_loses_nothing() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.ask("add_car", car("Pickup", "2600")).await;
    window.reload().await;
    window.new_floor("Drive", "levelling-straightedge").await;
    window.touch("save").await;
    window.read_at("S1/S2", false, "1.2").await;
    window.css("[data-test=\"now-spot\"][data-reversed=\"true\"]").await;
    window.pictured("floor-straightedge").await;
    window.read_at("S1/S2", true, "0.8").await;
    window.css("[data-test=\"now-spot\"][data-point=\"S3/S4\"]").await;
    for key in ["key-0", "key-point", "key-3"] {
        window.touch(key).await;
    }
    window
        .until("what is half typed is on the disk", async || {
            window.ask("kept_forms", json!({})).await.to_string().contains("0.3")
        })
        .await;
    window.kill().await;

    let window = Window::open(&garage).await;
    assert_eq!(window.text("recovered").await, "Nothing was lost. 2 of 4 read. Go on where you were.");
    window.css("[data-test=\"now-spot\"][data-point=\"S3/S4\"][data-reversed=\"false\"]").await;
    assert_eq!(window.typed().await, "0.3", "what was half typed");
    window.touch("sign-up").await;
    window.touch("take").await;
    // Nonsense stays in the read-out, with words beside it.
    window.css("[data-test=\"now-spot\"][data-reversed=\"true\"]").await;
    for key in ["key-8", "key-8"] {
        window.touch(key).await;
    }
    window.touch("take").await;
    window.find("entry-problem").await;
    assert_eq!(window.typed().await, "88");
    window.erase().await;
    window.read_at("S3/S4", true, "-0.7").await;

    let one = window.number("plates", "data-one").await;
    assert!((one - 36.7).abs() < 0.1, "one plate of {one} mm takes the twist out");
    assert!(window.text("not-read").await.starts_with("Front to rear was not read"));
    window.touch("read-along").await;
    window.read_at("S1/S3", false, "-0.9").await;
    window.css("[data-test=\"now-spot\"][data-point=\"S1/S3\"][data-reversed=\"true\"]").await;
    window.touch("skip").await;
    window.read_at("S2/S4", false, "-0.9").await;
    window.css("[data-test=\"now-spot\"]").await;
    window.touch("stop").await;
    window.find("plate-3").await;
    window.pictured("floor-done").await;
    assert!(window.text("age").await.starts_with("Levelled "));

    window.touch("strike-0-5").await;
    window.touch("reason-misread").await;
    let struck = window.css("[data-test=\"reading-0-5\"].struck").await.text().await.expect("a text");
    assert!(struck.contains("struck: misread"), "{struck}");
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_laser_line_two_passes_that_differ_under_a_point_and_another_cars_floor() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.ask("add_car", car("Pickup", "2600")).await;
    window.reload().await;
    window.new_floor("Yard", "levelling-laser_line").await;
    window.touch("save").await;
    assert!(window.text("laser-caution").await.contains("Do not look into the laser"));
    window.touch("laser-seen").await;
    for (spot, text) in [("S1", "918"), ("S2", "952"), ("S3", "872"), ("S4", "865")] {
        window.read_at(spot, false, text).await;
    }
    window.touch("add-pass").await;
    for (spot, text) in [("S1", "1018"), ("S2", "1052"), ("S3", "963"), ("S4", "965")] {
        window.read_at(spot, false, text).await;
    }
    window.find("read-again").await;
    window.pictured("floor-differs").await;
    window.touch("read-again").await;
    window.read_at("S3", false, "972").await;
    window.until("the passes agree", async || !window.has("[data-test=\"read-again\"]").await).await;
    // By hand, up to the highest, spot 4: 918 − 865, 952 − 865, 872 − 865; twist 952 + 872 − 918 − 865 = 41.
    assert!((window.number("plates", "data-one").await - 41.0).abs() < 0.05);
    for (plate, mm) in [("plate-0", 53.0), ("plate-1", 87.0), ("plate-2", 7.0), ("plate-3", 0.0)] {
        let found = window.number(plate, "data-value").await;
        assert!((found - mm).abs() < 0.05, "{plate}: {found} mm, {mm} by hand");
    }
    window.touch("read-under").await;
    window.read_at("under:lip.FL", false, "1010").await;
    window.css("[data-test=\"now-spot\"][data-point=\"under:lip.FR\"]").await;
    window.pictured("floor-under").await;
    window.touch("stop").await;
    // Renamed; what was read stays.
    window.touch("change-floor").await;
    window.fill("label", "Back yard").await;
    window.touch("save").await;
    window
        .until("it has its new name", async || window.text("floor-state").await.contains("Back yard is levelled"))
        .await;
    window.touch("done").await;
    window.find("begin").await;

    // A longer car on the same spots. Where the person is goes to the disk a little later, and the app opens there again.
    window.touch("back").await;
    window.touch("open-garage").await;
    window.find("add-car").await;
    tokio::time::sleep(Duration::from_millis(400)).await;
    window.ask("add_car", car("Sedan", "2720")).await;
    window.reload().await;
    window.touch_css("[data-label=\"Sedan\"]").await;
    window.touch("begin-snapshot").await;
    window.touch("other-floors").await;
    window.touch("other-floor-0").await;
    let beside = window.text("beside").await;
    assert!(beside.starts_with("Its rear wheels stand 120 mm behind the spots."), "{beside}");
    window.pictured("floor-of-another-car").await;
    window.touch("use-floor").await;
    window.find("beside-chosen").await;
    // Honest choices, with what follows from each.
    window.touch("add-floor").await;
    window.fill("label", "Show field").await;
    window.touch("levelling-flat_to").await;
    window.fill("flat_to", "five").await;
    window.touch("save").await;
    window.find("problem-flat_to").await;
    window.fill("flat_to", "8").await;
    window.touch("save").await;
    window.find("begin").await;
    window.touch("level-floor").await;
    assert!(window.text("consequence").await.contains("flat to about ± 8 mm"));
    window.pictured("floor-flat-to").await;
    window.touch("level-now").await;
    window.touch("levelling-not_levelled").await;
    window.touch("save").await;
    window
        .until("what follows is said", async || window.text("consequence").await.contains("left from right cannot"))
        .await;
    window.touch("level-now").await;
    window.touch("levelling-water_level").await;
    window.touch("save").await;
    window.read_at("S1", false, "900").await;
    window.css("[data-test=\"now-spot\"][data-point=\"S2\"]").await;
    window.close().await;
}
