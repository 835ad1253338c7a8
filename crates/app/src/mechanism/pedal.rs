//! The pedal's form: its two arms, the foot, and the cylinder where pressure and travel are asked for.

use super::ask::{field, length, section};
use super::typed::{Texts, Typed};
use super::unworkable;
use crate::quantity::FOOT;
use crate::wire::{MechanismForm, MechanismSection, Problem};
use trueground_core::car::{PedalArms, Vehicle};
use trueground_core::checks::pedal::{ARM_MM, BORE_MM, Pedal, STROKE_MM};

pub(super) fn sections() -> Vec<MechanismSection> {
    vec![
        section(
            "The pedal",
            "Both from the middle of its pivot.",
            vec![
                length("pad", "Pivot to the middle of the pad", ""),
                length("rod", "Pivot to the push rod\u{2019}s pin", "clutch or brake alike"),
            ],
        ),
        section(
            "The foot",
            "",
            vec![field("foot", "Push of the foot", "300 N, 30 kg or 67 lb; empty: a firm 300 N", "")],
        ),
        section(
            "The master cylinder",
            "For the pressure in the line, and for how far the pad goes.",
            vec![
                length("bore", "Bore", "as cast or stamped on it; empty: not asked"),
                length("stroke", "Stroke in use", "until the pedal is firm; empty: not asked"),
            ],
        ),
    ]
}

pub(super) fn texts(vehicle: &Vehicle, out: &mut Texts) {
    let Some(pedal) = &vehicle.pedal else { return };
    out.length("pad", pedal.pad_mm);
    out.length("rod", pedal.rod_mm);
    if let Some(foot) = pedal.foot_n {
        out.number("foot", foot, "N");
    }
    for (name, mm) in [("bore", pedal.bore_mm), ("stroke", pedal.stroke_mm)] {
        if let Some(mm) = mm {
            out.length(name, mm);
        }
    }
}

/// # Errors
/// Every field that cannot be read, or a rod that lies farther out than the pad.
pub(super) fn read(vehicle: &mut Vehicle, form: &MechanismForm) -> Result<(), Problem> {
    let mut typed = Typed::of(form);
    if typed.are_empty(&["pad", "rod", "foot", "bore", "stroke"]) {
        vehicle.pedal = None;
        return Ok(());
    }
    let pad = typed.length("pad", "the pad\u{2019}s arm", ARM_MM);
    let rod = typed.length("rod", "the push rod\u{2019}s arm", ARM_MM);
    let foot_n = typed.fields.quantity("foot", typed.text("foot"), &FOOT);
    let bore_mm = typed.optional_length("bore", "a bore", BORE_MM);
    let stroke_mm = typed.optional_length("stroke", "a stroke", STROKE_MM);
    if let (Some(pad), Some(rod)) = (pad, rod)
        && rod >= pad
    {
        let hint = "Measure both from the pivot; correct the one that is wrong.";
        typed.fields.refuse("rod", typed.text("rod"), "The push rod lies as far out as the pad.", hint);
    }
    typed.done()?;
    let (Some(pad_mm), Some(rod_mm)) = (pad, rod) else { return Ok(()) };
    let extra = vehicle.pedal.take().map(|earlier| earlier.extra).unwrap_or_default();
    let described = PedalArms { pad_mm, rod_mm, foot_n, bore_mm, stroke_mm, extra };
    Pedal::of_car(&described).map_err(|refusal| unworkable(refusal, "rod".to_owned()))?;
    vehicle.pedal = Some(described);
    Ok(())
}
