//! Plans, parts, marks and ticks in the garage: kept, replaced, put away, carried out, and through an exchange file and back.

use serde_json::{Value, json};
use trueground_core::capture::CarFile;
use trueground_core::plan::{KeptPart, KeptPlan, PlanMark, PlanMarkKind, Tick};
use trueground_store::{Stamp, Store};

const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: -330 };

fn file() -> Value {
    json!({"vehicle": {"label": "Low one", "wheelbase_mm": 2565, "track_front_mm": 1400, "track_rear_mm": 1420},
        "changes": [{"id": "old", "steps": [{"kind": "spring", "end": "rear", "amount_mm": -12}]}],
        "plans": [{"id": "p", "label": "lower", "from": "t28", "changes": [{"label": "leaf", "steps": [{"kind": "spring", "end": "front", "amount_mm": -16.0}]}], "later": 1}],
        "parts": [{"id": "leaf", "slot": "front", "steps": [{"kind": "spring", "end": "front", "amount_mm": -16}], "price": 20}],
        "plan_marks": [{"uuid": "m1", "of": "p", "what": "carried_out", "at": "2031-09-01T10:00:00+00:00"}],
        "ticks": [{"uuid": "t1", "event": "e", "task": "hoses", "done": true, "at": "2031-09-01T10:00:00+00:00"}]})
}

#[test]
fn what_a_file_says_of_plans_comes_back_and_twice_changes_nothing() {
    let mut store = Store::in_memory().unwrap();
    let car = store.import(&file().to_string(), AT).unwrap().car;
    let written = store.car_file(car).unwrap().document;
    for key in ["changes", "plans", "parts", "plan_marks", "ticks"] {
        assert_eq!(written[key], file()[key], "{key}");
    }
    for again in [file(), written.clone()] {
        assert!(!store.import(&again.to_string(), AT).unwrap().changed);
    }
    let mut elsewhere = Store::in_memory().unwrap();
    let car = elsewhere.import(&written.to_string(), AT).unwrap().car;
    assert_eq!(elsewhere.car_file(car).unwrap().document, written);
}

#[test]
fn a_file_without_them_writes_none() {
    let mut store = Store::in_memory().unwrap();
    let mut bare = file();
    for key in ["plans", "parts", "plan_marks", "ticks"] {
        bare.as_object_mut().unwrap().remove(key);
    }
    let car = store.import(&bare.to_string(), AT).unwrap().car;
    let written = store.car_file(car).unwrap().document;
    assert!(["plans", "parts", "plan_marks", "ticks"].iter().all(|key| written.get(key).is_none()));
}

#[test]
fn entries_are_added_replaced_and_marked_and_never_changed() {
    let mut store = Store::in_memory().unwrap();
    let car = store.import(&file().to_string(), AT).unwrap().car;
    let plan: KeptPlan = serde_json::from_value(json!({"id": "q", "label": "lower still", "replaces": "p"})).unwrap();
    store.add_plan(car, &plan, AT).unwrap();
    assert!(store.add_plan(car, &plan, AT).is_err(), "its name is taken");
    let step = json!({"kind": "block", "end": "rear", "thickness_mm": 25});
    let part: KeptPart = serde_json::from_value(json!({"id": "block", "slot": "rear", "steps": [step]})).unwrap();
    store.add_part(car, &part, AT).unwrap();
    let mark = |uuid: &str, of: &str, what| PlanMark { uuid: uuid.to_owned(), of: of.to_owned(), what, at: AT.iso() };
    store.mark_plan(car, &mark("m2", "leaf", PlanMarkKind::PutAway), AT).unwrap();
    let tick =
        Tick { uuid: "t2".to_owned(), event: "e".to_owned(), task: "hoses".to_owned(), done: false, at: AT.iso() };
    store.add_tick(car, &tick, AT).unwrap();
    let file: CarFile = store.with_plans(car).unwrap();
    let offered = |file: &CarFile| {
        let plans: Vec<String> =
            file.plans.iter().filter(|plan| plan.is_offered(file)).map(|plan| plan.id.clone()).collect();
        let parts: Vec<String> =
            file.parts.iter().filter(|part| part.is_offered(file)).map(|part| part.id.clone()).collect();
        (plans, parts)
    };
    assert_eq!(offered(&file), (vec!["q".to_owned()], vec!["block".to_owned()]));
    assert_eq!((file.plans.len(), file.ticks.len()), (2, 2));
    assert_eq!(file.plans[0].carried_out(&file), Some("2031-09-01T10:00:00+00:00"));
    store.mark_plan(car, &mark("m3", "leaf", PlanMarkKind::BroughtBack), AT).unwrap();
    assert_eq!(offered(&store.with_plans(car).unwrap()).1, ["leaf", "block"]);
}

#[test]
fn parts_without_a_name_get_one_and_only_one() {
    let mut store = Store::in_memory().unwrap();
    let mut nameless = file();
    nameless["parts"][0].as_object_mut().unwrap().remove("id");
    let car = store.import(&nameless.to_string(), AT).unwrap().car;
    assert!(!store.import(&nameless.to_string(), AT).unwrap().changed);
    assert!(!store.with_plans(car).unwrap().parts[0].id.is_empty());
}
