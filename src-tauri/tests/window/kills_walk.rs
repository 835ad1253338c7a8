//! Deaths at every state of a walk-around: half-typed text, prompts, sheets, rounds, bounces, gauges, and another car's walk beside it.

use serde_json::{Value, json};

use crate::garage::Garage;
use crate::kills::say_times;
use crate::walk::Now;
use crate::window::Window;

const CAR: &str = "Killed roadster";

/// Keys that can be read at the step at hand.
fn reading(now: &Now, tape: &str) -> &'static str {
    match (now.kind.as_str(), tape) {
        ("gauge", _) => "1.2",
        ("hub", "in") => "13 9/16",
        ("hub", _) => "344",
        (_, "in") => "27 5/8",
        _ => "702",
    }
}

impl Window {
    /// Two cars with a walk each, one of them last in hand; its snapshot.
    async fn two_walks(&self, form: &Value) -> Value {
        let mut walks = Vec::new();
        for label in ["Other pickup", CAR] {
            let tire = json!({ "marking": "6.00-16", "pressure": "210", "measured_diameter": "" });
            let points = json!([{ "kind": "fender_lip", "front_behind_axle": "0", "front_apart": "62 in", "rear_ahead_of_axle": "0",
                "rear_apart": "62 in", "what": "" }]);
            let car = json!({
                "label": label, "outline": "roadster", "tape": "in", "wheelbase": "101", "track_front": "55", "track_rear": "56",
                "points": points, "tires": { "FL": tire, "FR": tire, "RL": tire, "RR": tire }, "nominal_load": "half tank"
            });
            let car = self.ask("add_car", car).await["car"].clone();
            let mut begin = json!({
                "car": car, "facing": "A", "kinds": ["fender_lip"], "hubs": true, "rounds": 2, "bounces": 2,
                "angle_gauge": true, "tape": "in", "pressures": { "FL": "", "FR": "", "RL": "", "RR": "" }
            });
            for (name, value) in form.as_object().expect("a map") {
                begin[name] = value.clone();
            }
            walks.push(self.ask("begin_snapshot", begin).await);
            self.ask("open_car", json!({ "car": car })).await;
        }
        self.reload().await;
        walks[1]["snapshot"].clone()
    }

    async fn go_on_walking(&self) {
        self.touch("go-on").await;
        self.through_safety().await;
    }

    async fn step_at_hand(&self) -> Now {
        self.through_safety().await;
        self.now().await.expect("the walk is not at its end")
    }

    async fn read_one(&self, tape: &str) {
        let now = self.step_at_hand().await;
        self.erase().await;
        self.press(reading(&now, tape)).await;
        self.take().await;
        self.through_safety().await;
    }

    /// Goes to the first step that is so, by way of the garage, and back to the screen.
    async fn jump(&self, snapshot: &Value, so: impl Fn(&Value) -> bool) {
        let walk = self.ask("open_walk", json!({ "snapshot": snapshot })).await;
        let steps = walk["steps"].as_array().expect("steps");
        let step = steps.iter().position(|step| step["text"].is_null() && so(step)).expect("there is such a step");
        self.ask("go_to_step", json!({ "snapshot": snapshot, "step": step })).await;
        self.reload().await;
        self.go_on_walking().await;
    }

    async fn half_typed(&self, text: &str) {
        self.erase().await;
        self.press(text).await;
        self.looked_up().await;
    }

    /// Brings the walk into a state of this name; what is asked there. On other screens, what was asked before they were opened.
    async fn brought_to(&self, state: &str, snapshot: &Value) -> Value {
        match state {
            "nothing typed" => {}
            "one whole inch" => self.half_typed("2").await,
            "whole inches" => self.half_typed("27").await,
            "a fraction chosen" => self.half_typed("27 5/8").await,
            "a fraction alone" => self.half_typed("5/8").await,
            "typed and erased" => {
                self.half_typed("27").await;
                self.erase().await;
                self.looked_up().await;
            }
            "taken" => self.read_one("in").await,
            "taken, the next half typed" => {
                self.read_one("in").await;
                let half = if self.step_at_hand().await.kind == "hub" { "13" } else { "27" };
                self.half_typed(half).await;
            }
            "after undo" | "after undo, half typed" | "put back after undo" => {
                self.read_one("in").await;
                let before = self.step_at_hand().await;
                self.touch("undo").await;
                self.until("it was undone", async || self.step_at_hand().await != before).await;
                if state == "after undo, half typed" {
                    self.half_typed("26").await;
                } else if state == "put back after undo" {
                    self.touch("put-back").await;
                    self.until("it is put back", async || self.step_at_hand().await == before).await;
                }
            }
            "another corner" | "another corner, half typed" => {
                let corner = if state == "another corner" { "RL" } else { "RR" };
                self.touch(&format!("corner-go-{corner}")).await;
                self.until("it is at that corner", async || self.step_at_hand().await.corner == corner).await;
                if state == "another corner, half typed" {
                    self.half_typed("26 1/2").await;
                }
            }
            "a step skipped" => {
                self.erase().await;
                let before = self.step_at_hand().await;
                self.touch("skip").await;
                self.until("it is skipped", async || self.step_at_hand().await != before).await;
            }
            "the list of what is left open" => {
                self.touch("what-is-left").await;
                self.find("left-sheet").await;
            }
            "the other way round" => {
                self.touch("what-is-left").await;
                self.touch("anticlockwise").await;
                self.until("the order is kept", async || {
                    self.ask("open_walk", json!({ "snapshot": snapshot })).await["order"]["clockwise"] == false
                })
                .await;
            }
            "left while half typed" => {
                self.half_typed("9/16").await;
                let before = self.question().await;
                self.touch("leave").await;
                self.find("state").await;
                return before;
            }
            "the strike sheet open" => {
                let before = self.question().await;
                self.touch("leave").await;
                self.touch("strike-one-here").await;
                self.touch("book-strike-0").await;
                self.touch("why-another-reason").await;
                self.fill("reason", "knelt on the h").await;
                return before;
            }
            "a photo being looked at" => {
                let before = self.question().await;
                self.touch("leave").await;
                self.touch("photo-left").await;
                self.find("photo-over").await;
                return before;
            }
            "the unfinished result" => {
                let before = self.question().await;
                self.touch("leave").await;
                self.touch("see-result").await;
                self.find("headline").await;
                return before;
            }
            "the menu open" => {
                let before = self.question().await;
                self.touch("leave").await;
                self.touch("open-menu").await;
                self.css("label:has(> input[data-test=\"theme-night\"])").await;
                return before;
            }
            "before it was said to be chocked" => {
                let before = self.question().await;
                self.reload().await;
                self.touch("go-on").await;
                self.find("safety").await;
                return before;
            }
            "a repeat that differs" | "a third reading half typed" => {
                let differs = self.has("[data-test=\"differs\"]").await;
                if !differs {
                    self.jump(snapshot, |step| {
                        step["round"] == 2 && step["kind"] == "height" && step["corner"] == "FL"
                    })
                    .await;
                    self.erase().await;
                    self.press("28 5/8").await;
                    self.touch("take").await;
                }
                self.find("differs").await;
                if state == "a third reading half typed" {
                    self.half_typed("27").await;
                }
            }
            "both repeats kept" => {
                self.touch("keep-both").await;
                self.until("nothing is in question", async || !self.has("[data-test=\"differs\"]").await).await;
                self.through_safety().await;
            }
            "round two, half typed" => {
                self.jump(snapshot, |step| step["round"] == 2 && step["corner"] == "RR").await;
                self.half_typed("27").await;
            }
            "bounce two, half typed" => {
                self.jump(snapshot, |step| step["bounce"] == 2 && step["kind"] == "hub").await;
                self.half_typed("13").await;
            }
            "the gauge straight, half typed" => {
                self.jump(snapshot, |step| step["kind"] == "gauge" && step["reversed"] == false).await;
                self.half_typed("1.").await;
            }
            "the gauge turned, half typed" => {
                self.jump(snapshot, |step| step["kind"] == "gauge" && step["reversed"] == true).await;
                self.half_typed("-0.5").await;
            }
            "the last step, half typed" => {
                let walk = self.ask("open_walk", json!({ "snapshot": snapshot })).await;
                let last = walk["steps"].as_array().expect("steps").last().expect("a step").clone();
                self.jump(snapshot, |step| *step == last).await;
                self.half_typed("1.2").await;
            }
            "millimetres" => self.half_typed("70").await,
            "half a millimetre" => {
                self.erase().await;
                self.press("702").await;
                self.touch("key-half").await;
                self.looked_up().await;
            }
            "tenths of a centimetre" => self.half_typed("70.2").await,
            unknown => panic!("no state is called {unknown}"),
        }
        self.question().await
    }
}

async fn die_in(states: &[&str], form: Value) {
    let garage = Garage::empty();
    let mut window = Window::open(&garage).await;
    let snapshot = window.two_walks(&form).await;
    window.go_on_walking().await;
    for state in states {
        let before = window.brought_to(state, &snapshot).await;
        window = window.dies_and_comes_back(&garage, CAR, state).await;
        window.goes_on_as(&before, state).await;
    }
    say_times(states.len());
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn deaths_while_a_number_is_typed_taken_and_taken_back() {
    let states = [
        "nothing typed",
        "one whole inch",
        "whole inches",
        "a fraction chosen",
        "a fraction alone",
        "typed and erased",
        "taken",
        "taken, the next half typed",
        "after undo",
        "after undo, half typed",
        "put back after undo",
        "taken",
        "a fraction chosen",
    ];
    die_in(&states, json!({})).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn deaths_off_the_straight_way_and_with_sheets_open() {
    let states = [
        "before it was said to be chocked",
        "taken",
        "another corner",
        "another corner, half typed",
        "a step skipped",
        "the list of what is left open",
        "the other way round",
        "left while half typed",
        "the strike sheet open",
        "a photo being looked at",
        "the unfinished result",
        "the menu open",
    ];
    die_in(&states, json!({})).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn deaths_in_later_rounds_bounces_gauges_and_at_a_question() {
    let states = [
        "taken",
        "a repeat that differs",
        "a third reading half typed",
        "both repeats kept",
        "round two, half typed",
        "bounce two, half typed",
        "the gauge straight, half typed",
        "the gauge turned, half typed",
        "the last step, half typed",
    ];
    die_in(&states, json!({ "angle_gauge": true })).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn deaths_with_a_metric_tape() {
    die_in(&["millimetres", "half a millimetre", "half a millimetre"], json!({ "tape": "mm" })).await;
    die_in(&["tenths of a centimetre"], json!({ "tape": "cm" })).await;
}
