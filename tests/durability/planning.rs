//! What a person does besides measuring a car: plans drawn up, kept and put away, parts kept, and a driveway read under a string.

use crate::Person;
use serde_json::{Value, json};
use trueground_app::wire::Problem;

/// More stations than a string has room for: from here on they are taken back.
const MOST_STATIONS: usize = 60;

impl Person {
    /// A plan is changed as it is drawn up, kept, or put away.
    pub(crate) fn plan_on_it(&mut self) -> Result<(), Problem> {
        let car = self.car["car"].clone();
        let number = self.number();
        let amount = format!("-{} mm", 1 + number % 80);
        let change = json!({ "label": format!("change {number}"), "left_out": false,
            "steps": [{ "kind": "spring", "end": "rear", "fields": { "amount_mm": amount }, "written": "" }] });
        let form = json!({ "car": car, "plan": null, "label": format!("plan {number}"), "from": "", "target": "", "kind": "",
            "changes": [change] });
        match self.chance(5) {
            0 | 1 => {
                let name = format!("plan {}", car.as_str().unwrap_or_default());
                let text = json!({ "form": form, "times": 5 }).to_string();
                self.act("keep_form", json!({ "name": name, "text": text })).map(drop)
            }
            2 => self.act("keep_plan", form).map(drop),
            3 => {
                let part = json!({ "car": car, "part": null, "label": format!("part {number}"), "slot": format!("slot {number}"),
                    "steps": [{ "kind": "block", "end": "rear", "fields": { "thickness_mm": "25 mm" }, "written": "" }],
                    "price": "40", "hours": "" });
                self.act("keep_part", part).map(drop)
            }
            _ => {
                let plans = self.ask("open_plans", json!({ "car": car }))?;
                let rows = plans["rows"].as_array().cloned().unwrap_or_default();
                if rows.is_empty() {
                    return self.act("keep_plan", form).map(drop);
                }
                let row = &rows[self.chance(rows.len() as u64) as usize];
                // Marked by its words too, which is how the model knows it.
                let request = json!({ "car": car, "of": row["id"], "what": "put_away" });
                self.act_called("mark_plan", request, &row["label"]).map(drop)
            }
        }
    }

    /// A station of the garage's driveway is read, taken back, or put back: each is a transaction of its own.
    pub(crate) fn read_ground(&mut self) -> Result<(), Problem> {
        let grounds = self.ask("open_grounds", json!({}))?;
        let ground = grounds["rows"][0]["ground"].clone();
        let view = self.ask("open_ground", json!({ "ground": ground }))?;
        let read = view["stations"].as_array().map_or(0, Vec::len);
        let which = self.chance(6);
        if read > MOST_STATIONS || (which == 0 && read > 0) {
            return self.act("undo_station", json!({ "ground": ground })).map(drop);
        }
        if which == 1 && !view["taken_back"].is_null() {
            return self.act("put_back_station", json!({ "ground": ground })).map(drop);
        }
        let number = self.number();
        let request = json!({ "ground": ground, "along": view["next_along"], "down": format!("300.{number:06}"), "tape": "mm",
            "request_id": format!("station {number}") });
        self.act("take_station", request).map(drop)
    }

    /// An act whose request names a thing that the model knows by its words.
    fn act_called(&mut self, verb: &str, request: Value, called: &Value) -> Result<Value, Problem> {
        self.say_and_do(verb, request, json!({ "called": called }))
    }
}
