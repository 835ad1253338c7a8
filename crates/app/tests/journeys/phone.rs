//! A phone in a test: a garage in a folder, asked by verb and JSON as a shell asks, and restarted between any two steps.

use serde_json::{Value, json};
use std::cell::Cell;
use tempfile::TempDir;
use trueground_app::wire::Problem;
use trueground_app::{Garage, Now, dispatch};
use trueground_store::{Stamp, Store};
use uuid::Uuid;

pub(crate) struct Phone {
    folder: TempDir,
    garage: Option<Garage>,
    clock: Cell<i64>,
    ids: Cell<u128>,
    requests: u32,
    /// Close and open the garage before every request.
    pub(crate) restless: bool,
}

impl Phone {
    pub(crate) fn new() -> Self {
        Self {
            folder: TempDir::new().unwrap(),
            garage: None,
            clock: Cell::new(1_934_000_000_000),
            ids: Cell::new(0x0190_0000_0000_7000_8000_0000_0000_0000),
            requests: 0,
            restless: false,
        }
    }

    /// Asks; the clock moves on a second each time.
    pub(crate) fn try_ask(&mut self, verb: &str, request: Value) -> Result<Value, Problem> {
        if self.restless {
            self.garage = None;
        }
        self.clock.set(self.clock.get() + 1000);
        let fresh_id = || {
            self.ids.set(self.ids.get() + 1);
            Uuid::from_u128(self.ids.get())
        };
        let now = Now { utc_ms: self.clock.get(), offset_minutes: 120, fresh_id: &fresh_id };
        let path = self.folder.path().join("garage.db");
        let garage = self.garage.get_or_insert_with(|| Garage::open(&path, &now).unwrap());
        dispatch(garage, verb, request, &now)
    }

    /// Puts a file into the garage as it is, past every check of a file that is read in.
    pub(crate) fn let_in(&mut self, file: Value) {
        self.in_store(|store, at| drop(store.import_document(file, at).unwrap()));
    }

    /// What an earlier version wrote, past every check; the app is started again afterwards.
    pub(crate) fn in_store(&mut self, write: impl FnOnce(&mut Store, Stamp)) {
        self.garage = None;
        let mut store = Store::open(&self.folder.path().join("garage.db")).unwrap();
        write(&mut store, Stamp { utc_ms: self.clock.get(), offset_minutes: 120 });
    }

    pub(crate) fn ask(&mut self, verb: &str, request: Value) -> Value {
        self.try_ask(verb, request.clone()).unwrap_or_else(|problem| panic!("{verb} {request}: {problem:?}"))
    }

    pub(crate) fn refused(&mut self, verb: &str, request: Value) -> Problem {
        match self.try_ask(verb, request) {
            Ok(reply) => panic!("{verb} was carried out: {reply}"),
            Err(problem) => problem,
        }
    }

    /// Sets the clock back.
    pub(crate) fn clock_back(&mut self, ms: i64) {
        self.clock.set(self.clock.get() - ms);
    }

    /// Lets days go by.
    pub(crate) fn days_later(&mut self, days: i64) {
        self.clock.set(self.clock.get() + days * 86_400_000);
    }

    /// Takes a reading at the present step.
    pub(crate) fn take(&mut self, walk: &Value, text: &str) -> Value {
        self.requests += 1;
        let request = format!("request {}", self.requests);
        self.ask(
            "take_reading",
            json!({"snapshot": walk["snapshot"], "step": walk["at"], "text": text, "request_id": request}),
        )
    }

    pub(crate) fn staff(&mut self, floor: &Value, text: &str) -> Value {
        self.requests += 1;
        let next = &floor["next"];
        self.ask(
            "take_floor_reading",
            json!({
                "floor": floor["floor"], "pass_no": next["pass_no"], "point": next["point"], "text": text, "tape": "mm",
                "request_id": format!("request {}", self.requests),
            }),
        )
    }
}

/// A pickup as a person types it.
pub(crate) fn pickup() -> Value {
    let tire = |marking: &str, pressure: &str, measured: &str| json!({"marking": marking, "pressure": pressure, "measured_diameter": measured});
    json!({
        "label": "Pickup", "outline": "pickup", "tape": "mm", "wheelbase": "2665", "track_front": "1392", "track_rear": "141,8 cm",
        "points": [
            {"kind": "fender_lip", "front_behind_axle": "0", "front_apart": "1582", "rear_ahead_of_axle": "0", "rear_apart": "1608"},
            {"kind": "frame_rail", "front_behind_axle": "320", "front_apart": "700", "rear_ahead_of_axle": "420", "rear_apart": "860", "what": "painted mark"},
        ],
        "tires": {
            "FL": tire("6.00-16", "210", "714"), "FR": tire("6.00-16", "30 psi", "714"),
            "RL": tire("6.50-16", "220", ""), "RR": tire("6.50-16", "2.2 bar", ""),
        },
        "nominal_load": "half tank",
    })
}

/// The form of a snapshot on this floor.
pub(crate) fn snapshot(car: &Value, floor: &Value, kinds: Value, rounds: u32, bounces: u32) -> Value {
    json!({
        "car": car["car"], "floor": floor, "facing": "A", "kinds": kinds, "hubs": true, "rounds": rounds, "bounces": bounces,
        "angle_gauge": false, "tape": "mm", "pressures": {"FL": "210", "FR": "30 psi", "RL": "200", "RR": "2.2 bar"},
    })
}
