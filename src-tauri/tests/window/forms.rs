//! A car and a snapshot as the forms send them, for tests that begin after the forms.

use serde_json::{Value, json};

use crate::window::Window;

fn car() -> Value {
    let points = |kind: &str, behind: &str, apart: &str| {
        json!({ "kind": kind, "front_behind_axle": behind, "front_apart": apart, "rear_ahead_of_axle": behind,
            "rear_apart": apart, "what": "" })
    };
    let tire = json!({ "marking": "6.00-16", "pressure": "210", "measured_diameter": "" });
    json!({
        "label": "Test roadster", "outline": "roadster", "tape": "in", "wheelbase": "101", "track_front": "55",
        "track_rear": "56", "points": [points("frame_rail", "12", "27"), points("fender_lip", "0", "62")],
        "tires": { "FL": tire, "FR": tire, "RL": tire, "RR": tire }, "nominal_load": "half tank, nobody aboard"
    })
}

impl Window {
    /// Adds a car that was never read. Returns its id.
    pub(crate) async fn added(&self) -> Value {
        self.ask("add_car", car()).await["car"].clone()
    }

    /// Adds a car and begins a snapshot: lips, rails and hubs, so many rounds, one bounce, with the angle gauge.
    pub(crate) async fn begun(&self, rounds: u32) {
        let car = self.added().await;
        self.ask(
            "begin_snapshot",
            json!({
                "car": car, "facing": "A", "kinds": ["fender_lip", "frame_rail"], "hubs": true, "rounds": rounds,
                "bounces": 1, "angle_gauge": true, "tape": "in",
                "pressures": { "FL": "", "FR": "", "RL": "", "RR": "" }
            }),
        )
        .await;
    }

    /// Begins a snapshot of the lips alone, in mm, one round, one bounce, on no floor; `change` says otherwise. Returns the walk.
    pub(crate) async fn begun_with(&self, car: &Value, change: &Value) -> Value {
        let mut form = json!({
            "car": car, "facing": "A", "kinds": ["fender_lip"], "hubs": false, "rounds": 1, "bounces": 1, "angle_gauge": false,
            "tape": "mm", "pressures": { "FL": "", "FR": "", "RL": "", "RR": "" }
        });
        for (key, value) in change.as_object().expect("a form is a map") {
            form[key] = value.clone();
        }
        self.ask("begin_snapshot", form).await
    }

    /// Takes these at one step after the other, without the screen. Returns the walk.
    pub(crate) async fn read(&self, walk: &Value, texts: &[&str]) -> Value {
        let mut walk = walk.clone();
        for text in texts {
            let (snapshot, step) = (&walk["snapshot"], &walk["at"]);
            let take = json!({ "snapshot": snapshot, "step": step, "text": text, "insist": true, "request_id": step.to_string() });
            walk = self.ask("take_reading", take).await;
        }
        walk
    }

    /// Shows the app anew, as after a start.
    pub(crate) async fn reload(&self) {
        self.page.refresh().await.expect("the page loads again");
    }
}
