//! The form of steering box and arms: the box by its ratio or by counted turns, and others to set beside it.

use super::ask::{choice, field, length, list, only, section};
use super::typed::{Texts, Typed};
use super::unworkable;
use crate::quantity::{BOX_RATIO, SWEEP, TURNS};
use crate::wire::{MechanismForm, MechanismSection, Problem};
use trueground_core::car::{BoxAndArms, OtherBox, Vehicle};
use trueground_core::checks::steering_box::{ARM_MM, SteeringBox};

const MOST_OTHERS: u32 = 6;
const PITMAN: &str = "Pitman arm";
const ARM: &str = "Steering arm at the wheel";

pub(super) fn sections() -> Vec<MechanismSection> {
    vec![
        section(
            "The box",
            "A box that was built in or shimmed is surer by counting.",
            vec![choice("by", "Box", &[("turns", "turns were counted"), ("ratio", "its ratio is known")])],
        ),
        only(
            section("", "", vec![field("turns", "Turns from lock to lock", "of the steering wheel, to an eighth", "")]),
            "by",
            &["turns"],
        ),
        only(
            section("", "", vec![field("ratio", "Its ratio", "turns for one of the pitman arm", "to 1")]),
            "by",
            &["ratio"],
        ),
        section(
            "The arms",
            "From the middle of the ball to the middle of the shaft, and to the kingpin\u{2019}s line.",
            vec![length("pitman", PITMAN, ""), length("arm", ARM, "")],
        ),
        section(
            "The road wheel",
            "Wheels on plates or on oiled paper: a straightedge along one rim, a line on the floor at each lock.",
            vec![field("sweep", "One wheel from lock to lock", "62", "°")],
        ),
        list(
            "Set beside it",
            "Another box, another arm, or both. What is empty stays as it is.",
            "beside",
            ["Other", "Add another box or arm"],
            MOST_OTHERS,
            vec![
                field("label", "What you call it", "longer pitman arm", ""),
                field("ratio", "Ratio of its box", "", "to 1"),
                length("pitman", PITMAN, ""),
                length("arm", ARM, ""),
            ],
        ),
    ]
}

pub(super) fn texts(vehicle: &Vehicle, out: &mut Texts) {
    let Some(described) = &vehicle.steering_box else {
        out.text("by", "turns");
        return;
    };
    match (described.box_ratio, described.turns_lock_to_lock) {
        (Some(ratio), _) => {
            out.text("by", "ratio");
            out.number("ratio", ratio, "");
        }
        (None, turns) => {
            out.text("by", "turns");
            out.number("turns", turns.unwrap_or_default(), "");
        }
    }
    out.length("pitman", described.pitman_arm_mm);
    out.length("arm", described.steering_arm_mm);
    out.number("sweep", described.wheel_sweep_deg, "");
    for (row, other) in described.beside.iter().enumerate() {
        out.text(&format!("beside.{row}.label"), &other.label);
        let ratio = format!("beside.{row}.ratio");
        match other.box_ratio {
            Some(number) => out.number(&ratio, number, ""),
            None => out.text(&ratio, ""),
        }
        for (key, mm) in [("pitman", other.pitman_arm_mm), ("arm", other.steering_arm_mm)] {
            let name = format!("beside.{row}.{key}");
            match mm {
                Some(mm) => out.length(&name, mm),
                None => out.text(&name, ""),
            }
        }
    }
}

/// # Errors
/// Every field that cannot be read, or another box that changes nothing.
pub(super) fn read(vehicle: &mut Vehicle, form: &MechanismForm) -> Result<(), Problem> {
    let mut typed = Typed::of(form);
    if typed.are_empty(&["turns", "ratio", "pitman", "arm", "sweep"]) {
        vehicle.steering_box = None;
        return Ok(());
    }
    let (box_ratio, turns_lock_to_lock) = match typed.text("by") {
        "ratio" => (typed.number("ratio", "the box\u{2019}s ratio", &BOX_RATIO), None),
        _ => (None, typed.number("turns", "the count of turns", &TURNS)),
    };
    let pitman = typed.length("pitman", "the pitman arm", ARM_MM);
    let arm = typed.length("arm", "the steering arm", ARM_MM);
    let sweep = typed.number("sweep", "the wheel\u{2019}s sweep", &SWEEP);
    let beside = beside(&mut typed);
    typed.done()?;
    let (Some(pitman_arm_mm), Some(steering_arm_mm), Some(wheel_sweep_deg)) = (pitman, arm, sweep) else {
        return Ok(());
    };
    let extra = vehicle.steering_box.take().map(|earlier| earlier.extra).unwrap_or_default();
    let described =
        BoxAndArms { box_ratio, turns_lock_to_lock, pitman_arm_mm, steering_arm_mm, wheel_sweep_deg, beside, extra };
    SteeringBox::of_car(&described).map_err(|refusal| unworkable(refusal, "pitman".to_owned()))?;
    vehicle.steering_box = Some(described);
    Ok(())
}

fn beside(typed: &mut Typed<'_>) -> Vec<OtherBox> {
    let mut all = Vec::new();
    for row in 0..typed.rows("beside") {
        let [label, ratio, pitman, arm] =
            ["label", "ratio", "pitman", "arm"].map(|field| format!("beside.{row}.{field}"));
        if typed.are_empty(&[&label, &ratio, &pitman, &arm]) {
            continue;
        }
        if typed.are_empty(&[&ratio, &pitman, &arm]) {
            let hint = "Give it a ratio or an arm of its own, or leave it out.";
            typed.fields.refuse(&ratio, "", "It changes nothing.", hint);
        }
        let named = typed.fields.label(&label, "The other one", typed.text(&label));
        let box_ratio = typed.fields.quantity(&ratio, typed.text(&ratio), &BOX_RATIO);
        let pitman_arm_mm = typed.optional_length(&pitman, "a pitman arm", ARM_MM);
        let steering_arm_mm = typed.optional_length(&arm, "a steering arm", ARM_MM);
        all.extend(named.map(|label| OtherBox { label, box_ratio, pitman_arm_mm, steering_arm_mm }));
    }
    all
}
