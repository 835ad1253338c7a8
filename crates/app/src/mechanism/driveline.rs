//! The driveline's form: joints and slopes of the shaft, what leads the rear axle, its travel and the slip, and things that want to
//! stand level.

use super::ask::{choice, field, length, list, only, place, section, side_place};
use super::steering::guide;
use super::typed::{Texts, Typed};
use crate::quantity::{SLOPE, TIP};
use crate::wire::{MechanismForm, MechanismSection, Problem};
use std::ops::RangeInclusive;
use trueground_core::car::{AxleGuide, Driveline, LevelPart, Vehicle};

const TRAVEL_MM: RangeInclusive<f64> = 1.0..=500.0;
const SLIP_MM: RangeInclusive<f64> = 0.0..=500.0;
const MOST_THINGS: u32 = 12;
/// Float bowls and oil levels [common practice, no source].
const USUAL_TIP_DEG: f64 = 3.0;

pub(super) fn sections() -> Vec<MechanismSection> {
    let open = |asked| only(asked, "kind", &["open"]);
    vec![
        section(
            "Which shaft?",
            "",
            vec![choice("kind", "Shaft", &[("open", "open, two joints"), ("closed", "torque tube, one joint")])],
        ),
        side_place("front_joint", "Front joint", "Its middle, behind the transmission."),
        MechanismSection {
            shows: "front_joint".to_owned(),
            ..section(
                "Slope of the transmission",
                "An angle gauge on a machined face of it.",
                vec![field("transmission", "Falls to the rear", "rising to the rear: with a minus", "°")],
            )
        },
        side_place("rear_joint", "Rear joint", "Of a torque tube the middle of the axle."),
        open(MechanismSection {
            shows: "rear_joint".to_owned(),
            ..section(
                "Slope of the pinion",
                "An angle gauge on the flange, or on a machined face of the housing.",
                vec![field("pinion", "Falls to the rear", "rising to the rear: with a minus", "°")],
            )
        }),
        open(section(
            "What leads the rear axle?",
            "It says how the shaft grows and shrinks over the travel.",
            vec![choice(
                "guide",
                "Guide",
                &[
                    ("leaf", "leaf springs along the car"),
                    ("radius_rod", "radius rods"),
                    ("parallel", "straight up and down"),
                ],
            )],
        )),
        only_open_with("leaf", place("eye", "The eye that is fixed to the frame", "Most often the front one.")),
        only_open_with(
            "leaf",
            section(
                "How long the spring leads like a rod",
                "About three quarters of the way from the fixed eye to the axle (common practice, no source).",
                vec![length("radius", "Radius of the axle\u{2019}s way", "")],
            ),
        ),
        only_open_with("radius_rod", place("pivot", "The rods\u{2019} pivot at the frame", "")),
        section(
            "How far the rear axle moves",
            "From where it stands now.",
            vec![
                length("down", "Down", "empty: not worked out"),
                length("up", "Up, to the stop", "empty: not worked out"),
            ],
        ),
        open(section(
            "The slip joint",
            "How far it can go in before it butts, and out before it has less than an inch of spline.",
            vec![length("slip_in", "In", "empty: not known"), length("slip_out", "Out", "empty: not known")],
        )),
        list(
            "What wants to stand level",
            "A carburetor flange, the line of an oil level, an axle\u{2019}s fill plug: how far it tips now.",
            "level",
            ["Thing", "Add a thing"],
            MOST_THINGS,
            vec![
                field("label", "What", "carburetor flange", ""),
                field("tips", "Tips nose-down", "nose-up: with a minus", "°"),
                field("limit", "May tip", "empty: 3°, common practice", "°"),
            ],
        ),
    ]
}

/// Only for an open shaft: the guide is asked for only there, and its value is empty otherwise.
fn only_open_with(guide: &str, section: MechanismSection) -> MechanismSection {
    only(section, "guide", &[guide])
}

pub(super) fn texts(vehicle: &Vehicle, out: &mut Texts) {
    match &vehicle.driveline {
        None => {
            out.text("kind", "open");
            out.text("guide", "leaf");
        }
        Some(line) => {
            out.text("kind", if line.pinion_deg.is_some() { "open" } else { "closed" });
            out.side_place("front_joint", line.front_joint);
            out.side_place("rear_joint", line.rear_joint);
            out.number("transmission", line.transmission_deg, "");
            if let Some(pinion) = line.pinion_deg {
                out.number("pinion", pinion, "");
            }
            match line.guide {
                Some(AxleGuide::Leaf { eye, radius_mm }) => {
                    out.text("guide", "leaf");
                    out.place("eye", eye);
                    out.length("radius", radius_mm);
                }
                Some(AxleGuide::RadiusRod { pivot }) => {
                    out.text("guide", "radius_rod");
                    out.place("pivot", pivot);
                }
                Some(AxleGuide::Parallel | AxleGuide::FourBar { .. }) | None => out.text("guide", "parallel"),
            }
            for (name, mm) in [
                ("down", line.droop_mm),
                ("up", line.bump_mm),
                ("slip_in", line.slip_in_mm),
                ("slip_out", line.slip_out_mm),
            ] {
                if let Some(mm) = mm {
                    out.length(name, mm);
                }
            }
        }
    }
    for (row, level) in vehicle.attitude.iter().enumerate() {
        out.text(&format!("level.{row}.label"), &level.label);
        out.number(&format!("level.{row}.tips"), level.nose_down_deg, "");
        out.number(&format!("level.{row}.limit"), level.limit_deg, "");
    }
}

const ASKED: [&str; 6] = ["front_joint.x", "front_joint.z", "rear_joint.x", "rear_joint.z", "transmission", "pinion"];

/// # Errors
/// Every field that cannot be read.
pub(super) fn read(vehicle: &mut Vehicle, form: &MechanismForm) -> Result<(), Problem> {
    let mut typed = Typed::of(form);
    let described = !typed.are_empty(&ASKED);
    let line = if described { shaft(vehicle, &mut typed) } else { None };
    let attitude = attitude(vehicle, &mut typed);
    typed.done()?;
    vehicle.driveline = line;
    vehicle.attitude = attitude;
    Ok(())
}

fn shaft(vehicle: &Vehicle, typed: &mut Typed<'_>) -> Option<Driveline> {
    let open = typed.text("kind") != "closed";
    let (front_joint, rear_joint) = (typed.side_place("front_joint"), typed.side_place("rear_joint"));
    let transmission_deg = typed.signed("transmission", "the slope of the transmission", &SLOPE);
    let pinion_deg =
        if open { typed.signed("pinion", "the slope of the pinion", &SLOPE).map(Some) } else { Some(None) };
    let droop_mm = typed.optional_length("down", "a travel", TRAVEL_MM);
    let bump_mm = typed.optional_length("up", "a travel", TRAVEL_MM);
    let moves = droop_mm.is_some() || bump_mm.is_some();
    let guide = if open && (moves || typed.text("guide") == "parallel") { guide(typed) } else { None };
    let (slip_in_mm, slip_out_mm) = if open {
        (typed.optional_length("slip_in", "a slip", SLIP_MM), typed.optional_length("slip_out", "a slip", SLIP_MM))
    } else {
        (None, None)
    };
    if let (Some([front, _]), Some([rear, _])) = (front_joint, rear_joint)
        && front - rear < 50.0
    {
        let hint = "Behind the front axle they count with a minus; the rear joint has the larger one.";
        typed.fields.refuse(
            "rear_joint.x",
            typed.text("rear_joint.x"),
            "The rear joint is not behind the front one.",
            hint,
        );
    }
    Some(Driveline {
        transmission_deg: transmission_deg?,
        pinion_deg: pinion_deg?,
        front_joint: front_joint?,
        rear_joint: rear_joint?,
        guide,
        droop_mm,
        bump_mm,
        slip_in_mm,
        slip_out_mm,
        measured_in: vehicle.driveline.as_ref().and_then(|line| line.measured_in.clone()),
        measured_in_of: vehicle.driveline.as_ref().map(|line| line.measured_in_of.clone()).unwrap_or_default(),
        extra: vehicle.driveline.as_ref().map(|line| line.extra.clone()).unwrap_or_default(),
    })
}

fn attitude(vehicle: &Vehicle, typed: &mut Typed<'_>) -> Vec<LevelPart> {
    let mut all = Vec::new();
    for row in 0..typed.rows("level") {
        let [label, tips, limit] = ["label", "tips", "limit"].map(|field| format!("level.{row}.{field}"));
        if typed.are_empty(&[&label, &tips]) {
            continue;
        }
        let named = typed.fields.label(&label, "The thing", typed.text(&label));
        let nose_down_deg = typed.signed(&tips, "how far it tips", &SLOPE);
        let limit_deg = match typed.text(&limit) {
            "" => Some(USUAL_TIP_DEG),
            text => typed.fields.quantity(&limit, text, &TIP),
        };
        let (Some(label), Some(nose_down_deg), Some(limit_deg)) = (named, nose_down_deg, limit_deg) else { continue };
        let kept = vehicle.attitude.iter().find(|kept| kept.label == label);
        let (x_mm, measured_in) = (kept.and_then(|kept| kept.x_mm), kept.and_then(|kept| kept.measured_in.clone()));
        let extra = kept.map(|kept| kept.extra.clone()).unwrap_or_default();
        all.push(LevelPart { label, nose_down_deg, limit_deg, x_mm, measured_in, extra });
    }
    all
}
