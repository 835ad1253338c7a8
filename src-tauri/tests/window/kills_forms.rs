//! Deaths away from the walk-around: a car's form, the form of a snapshot, tapes, how it stands, corrections, floors half levelled, and
//! plans half drawn up.

use serde_json::{Value, json};

use crate::garage::Garage;
use crate::kills::say_times;
use crate::window::Window;

const CAR: &str = "Killed pickup";

impl Window {
    /// A second car, and the car in hand with one finished snapshot; the app starts anew on its page.
    async fn two_cars(&self) {
        for label in ["Other roadster", CAR] {
            let tire = json!({ "marking": "6.00-16", "pressure": "210", "measured_diameter": "" });
            let points = json!([{ "kind": "fender_lip", "front_behind_axle": "0", "front_apart": "1600", "rear_ahead_of_axle": "0",
                "rear_apart": "1600", "what": "" }]);
            let car = json!({
                "label": label, "outline": "pickup", "tape": "mm", "wheelbase": "2600", "track_front": "1400", "track_rear": "1400",
                "points": points, "tires": { "FL": tire, "FR": tire, "RL": tire, "RR": tire }, "nominal_load": "half tank"
            });
            let car = self.ask("add_car", car).await["car"].clone();
            let form = json!({
                "car": car, "facing": "A", "kinds": ["fender_lip"], "hubs": false, "rounds": 1, "bounces": 1, "angle_gauge": false,
                "tape": "mm", "pressures": { "FL": "", "FR": "", "RL": "", "RR": "" }
            });
            let snapshot = self.ask("begin_snapshot", form).await["snapshot"].clone();
            for step in 0..4 {
                let take = json!({ "snapshot": snapshot, "step": step, "text": "640", "insist": true, "request_id": format!("{label} {step}") });
                self.ask("take_reading", take).await;
            }
            self.ask("finish_snapshot", json!({ "snapshot": snapshot })).await;
            self.ask("open_car", json!({ "car": car })).await;
        }
        self.reload().await;
        self.find("car-0").await;
    }

    /// From the garage to the form of a snapshot of the car in hand.
    async fn to_begin(&self) {
        self.touch_css(&format!("[data-label=\"{CAR}\"]")).await;
        self.touch("tab-readings").await;
        self.touch("begin-snapshot").await;
        self.find("begin").await;
    }

    async fn keys_of(&self, text: &str) {
        for key in text.chars() {
            self.touch(&if key == '.' { "key-point".to_owned() } else { format!("key-{key}") }).await;
        }
    }

    /// Brings the app into a state of this name; what stands there.
    async fn fill_in(&self, state: &str) -> Value {
        match state {
            "the form of a snapshot opened" => self.to_begin().await,
            "the form of a snapshot half filled in" => self.fill("odometer", "12 3").await,
            "a pressure half typed" => {
                self.touch("change-pressures").await;
                self.fill("pressures.FL", "2.").await;
            }
            "a floor's form half filled in" => {
                self.touch("change-floor").await;
                self.touch("add-floor").await;
                self.fill("label", "Driv").await;
            }
            "a floor begun" => {
                self.fill("label", "Drive").await;
                self.touch("levelling-water_level").await;
                self.touch("save").await;
                self.find("now-spot").await;
            }
            "a spot half typed" => self.keys_of("120").await,
            "a spot taken" => {
                self.keys_of("3").await;
                let before = self.question().await["spot"].clone();
                self.touch("take").await;
                self.until("the next is asked for", async || self.question().await["spot"] != before).await;
            }
            "the next spot half typed" => self.keys_of("119").await,
            "a spot taken back" => {
                let before = self.question().await["spot"].clone();
                self.touch("undo").await;
                self.until("it is taken back", async || self.question().await["spot"] != before).await;
            }
            "a car's form half filled in" => {
                self.touch("add-car").await;
                self.fill("label", "Third co").await;
                self.fill("wheelbase", "26").await;
            }
            "a tire half typed" => self.fill("tires.FL.marking", "6.0").await,
            "a change chosen" => {
                self.touch_css(&format!("[data-label=\"{CAR}\"]")).await;
                self.touch("tab-plan").await;
                self.touch("add-first").await;
                self.touch("kind-reversed_eyes").await;
                self.touch("end-rear").await;
                self.fill("eye_diameter_mm", "3").await;
            }
            "a change half typed" => self.fill("eye_diameter_mm", "32 m").await,
            "a part half typed" => {
                self.fill("eye_diameter_mm", "32 mm").await;
                self.touch("save").await;
                self.css("[data-screen=\"plan\"] [data-test=\"change-0\"][data-rear=\"-32\"]").await;
                self.touch("search").await;
                self.touch("add-part").await;
                self.fill("label", "Rear blo").await;
            }
            "its place half typed" => self.fill("slot", "rear ax").await,
            "a straightedge half read" => {
                self.to_begin().await;
                self.touch("change-floor").await;
                self.touch("add-floor").await;
                self.fill("label", "Yard").await;
                self.touch("levelling-straightedge").await;
                self.touch("save").await;
                self.find("now-spot").await;
                self.keys_of("1.").await;
            }
            "a straightedge turned, half read" => {
                self.keys_of("2").await;
                self.touch("take").await;
                self.css("[data-test=\"now-spot\"][data-reversed=\"true\"]").await;
                self.keys_of("0.").await;
            }
            unknown => panic!("no state is called {unknown}"),
        }
        self.looked_up().await;
        self.question().await
    }
}

async fn die_in(states: &[&str]) {
    let garage = Garage::empty();
    let mut window = Window::open(&garage).await;
    window.two_cars().await;
    for state in states {
        let before = window.fill_in(state).await;
        window = window.dies_and_comes_back(&garage, CAR, state).await;
        window.stands_as(&before, state).await;
    }
    window.picture("sudden-death-recovered").await;
    say_times(states.len());
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn deaths_in_the_form_of_a_snapshot_and_while_a_floor_is_levelled() {
    let states = [
        "the form of a snapshot opened",
        "the form of a snapshot half filled in",
        "a pressure half typed",
        "a floor's form half filled in",
        "a floor begun",
        "a spot half typed",
        "a spot taken",
        "the next spot half typed",
        "a spot taken back",
    ];
    die_in(&states).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn deaths_while_a_plan_is_drawn_up() {
    die_in(&["a change chosen", "a change half typed", "a part half typed", "its place half typed"]).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn deaths_in_a_new_cars_form() {
    die_in(&["a car's form half filled in", "a tire half typed"]).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn deaths_between_two_readings_of_a_straightedge() {
    die_in(&["a straightedge half read", "a straightedge turned, half read"]).await;
}
