//! Every field of every kind of change with what should not stand there: words with the place and what would do, or numbers that are
//! numbers; never a panic, never a NaN.

use super::tests::car;
use super::*;
use crate::capture::CarFile;
use crate::level::Solution;
use serde_json::{Value, json};

/// What a file can hold by mistake or malice.
fn strange() -> Vec<Value> {
    vec![
        json!(0),
        json!(-1),
        json!(0.5),
        json!(1e12),
        json!(-1e300),
        json!(1e-300),
        json!("NaN"),
        json!("-Infinity"),
        json!("\u{202e}\u{1b}[31m"),
        json!("x".repeat(100_000)),
        json!(true),
        Value::Null,
        json!([]),
        json!([0]),
        json!([1]),
        json!([2, 2, 2]),
        json!([9_999_999]),
        json!({}),
        json!({"leaves": []}),
    ]
}

/// A step of a kind with something readable in every field.
fn sound(kind: &Kind) -> Value {
    let mut step = json!({"kind": kind.code});
    if kind.has_end() {
        step["end"] = json!("rear");
    }
    for field in kind.fields {
        let value = match field.takes {
            Takes::Number { low, high, .. } => json!(low + 0.1 * (high - low)),
            Takes::Choice(codes) => json!(codes[0]),
            Takes::Leaves => json!([2]),
            Takes::Pack => continue,
            Takes::Text => json!("6.00-16"),
        };
        step[field.key] = value;
    }
    step
}

/// Words that help, or numbers; which of the two.
fn ends_well(file: &CarFile, solution: &Solution, step: &Value) -> bool {
    let refused = |message: &str, hint: &str| {
        let said = format!("{message} {hint}");
        assert!(!message.trim().is_empty() && !hint.trim().is_empty(), "no help in {said:?} for {step}");
        assert!(said.chars().count() < 1_200, "{} characters for {}", said.chars().count(), step["kind"]);
        assert!(!said.contains('\u{1b}') && !said.contains('\u{202e}'), "{said:?}");
        assert!(!said.contains("NaN."), "{said:?}");
    };
    let change = match Change::of_steps("c", "c", std::slice::from_ref(step), "changes[0].steps") {
        Ok(change) => change,
        Err(refusal) => {
            refused(&refusal.message, &refusal.hint);
            return false;
        }
    };
    match plan(file, solution, "now", &[&change], &Taught::default()) {
        Ok(planned) => {
            let numbers = planned.effect.frame_mm.into_iter().chain([planned.effect.body_over_frame_mm]);
            for number in numbers {
                assert!(number.value.is_finite() && number.u.is_finite() && number.u >= 0.0, "{step}: {number:?}");
                assert!(number.value.abs() < 2_000.0, "no car moves by {} mm: {step}", number.value);
            }
            true
        }
        Err(problem) => {
            refused(problem.message(), problem.hint());
            false
        }
    }
}

#[test]
fn no_value_in_a_change_makes_a_number_that_is_none() {
    let (file, solution) = car(|_| {});
    let mut worked = 0;
    for kind in &KINDS {
        let sound = sound(kind);
        ends_well(&file, &solution, &sound);
        let own = kind.fields.iter().map(|field| field.key);
        for key in own.chain(["kind", "end", "amount_mm", "u_mm", "label"]) {
            for value in strange() {
                // In its place among the others, and by itself.
                for mut step in [sound.clone(), json!({"kind": kind.code, "end": "front"})] {
                    step[key] = value.clone();
                    worked += usize::from(ends_well(&file, &solution, &step));
                }
            }
        }
    }
    assert!(worked > 100, "only {worked} could be worked out: the sound steps are none");
}

#[test]
fn a_step_that_is_no_step_says_what_one_is() {
    let (file, solution) = car(|_| {});
    for step in strange() {
        assert!(!ends_well(&file, &solution, &step), "{step}");
    }
    for near in ["blok", "leaf-out", "Leaf_Out", "pie cut", "kickup"] {
        let refusal = Change::of_steps("c", "c", &[json!({"kind": near, "end": "rear"})], "steps").unwrap_err();
        assert!(refusal.hint.starts_with("Did you mean "), "{near}: {}", refusal.hint);
    }
}
