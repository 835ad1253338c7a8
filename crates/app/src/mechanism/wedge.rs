//! The form of a wanted caster: caster now and wanted, and where its wedge would go.

use super::ask::{choice, field, length, only, section};
use super::typed::{Texts, Typed};
use super::unworkable;
use crate::quantity::SLOPE;
use crate::wire::{MechanismForm, MechanismSection, Problem};
use trueground_core::car::{AxleAt, Vehicle, WantedCaster};
use trueground_core::checks::wedge::{CASTER_DEG, DEPTH_MM, LAST_CUT, PAD_MM, ROD_MM, Wedge};
use trueground_core::wording::shown;

pub(super) fn sections() -> Vec<MechanismSection> {
    vec![
        section(
            "Caster",
            "On level ground, from a gauge or from the checks.",
            vec![
                field("now", "Now", "top forward: with a minus", "°"),
                field("wanted", "Wanted", "5 to 8 are usual for a beam axle (common practice, no source)", "°"),
            ],
        ),
        section(
            "Where would the wedge go?",
            "",
            vec![choice("where", "Wedge", &[("pad", "under the spring"), ("cut", "into a cut")])],
        ),
        only(
            section(
                "The spring\u{2019}s seat",
                "The flat on which the spring lies.",
                vec![
                    length("pad", "Its length along the car", ""),
                    choice("axle", "The axle is", &[("below", "below its spring"), ("above", "above its spring")]),
                ],
            ),
            "where",
            &["pad"],
        ),
        only(
            section(
                "The cut",
                "Through a wishbone, a radius rod or the axle\u{2019}s yoke, with its point at the far wall.",
                vec![
                    length("depth", "Depth of what is cut", "height of the tube or bar"),
                    length("from", "From the axle to the cut", "empty: at the axle, or in it"),
                    length("rod", "The rod, axle to ball", "asked for with the one before"),
                ],
            ),
            "where",
            &["cut"],
        ),
    ]
}

pub(super) fn texts(vehicle: &Vehicle, out: &mut Texts) {
    let Some(wanted) = &vehicle.wanted_caster else {
        out.text("where", "pad");
        out.text("axle", "below");
        // What is known of the axle need not be typed again.
        if let Some(rod) = &vehicle.radius_rod {
            if let Some(caster) = rod.static_caster_deg {
                out.number("now", caster, "");
            }
            out.length("rod", rod.length_mm);
        }
        return;
    };
    out.number("now", wanted.caster_deg, "");
    out.number("wanted", wanted.wanted_deg, "");
    out.text("where", if wanted.pad_mm.is_some() { "pad" } else { "cut" });
    out.text("axle", if wanted.axle == Some(AxleAt::AboveSpring) { "above" } else { "below" });
    for (name, mm) in [
        ("pad", wanted.pad_mm),
        ("depth", wanted.cut_depth_mm),
        ("from", wanted.cut_from_axle_mm),
        ("rod", wanted.rod_mm),
    ] {
        if let Some(mm) = mm {
            out.length(name, mm);
        }
    }
}

/// # Errors
/// Every field that cannot be read, nothing to turn, or a cut too near to its ball.
pub(super) fn read(vehicle: &mut Vehicle, form: &MechanismForm) -> Result<(), Problem> {
    let mut typed = Typed::of(form);
    if typed.are_empty(&["wanted", "pad", "depth", "from"]) {
        vehicle.wanted_caster = None;
        return Ok(());
    }
    let caster = caster(&mut typed, "now", "the caster now");
    let wanted = self::caster(&mut typed, "wanted", "the caster wanted");
    if caster.is_some() && caster == wanted {
        let hint = "There is nothing to turn: type another one.";
        typed.fields.refuse("wanted", typed.text("wanted"), "It has that caster now.", hint);
    }
    let under = typed.text("where") != "cut";
    let (mut pad_mm, mut axle, mut cut_depth_mm, mut cut_from_axle_mm, mut rod_mm) = (None, None, None, None, None);
    if under {
        pad_mm = typed.length("pad", "the seat\u{2019}s length", PAD_MM);
        axle = Some(if typed.text("axle") == "above" { AxleAt::AboveSpring } else { AxleAt::BelowSpring });
    } else {
        cut_depth_mm = typed.length("depth", "the depth", DEPTH_MM);
        cut_from_axle_mm = typed.optional_length("from", "a place on the rod", 0.0..=*ROD_MM.end());
        rod_mm = typed.optional_length("rod", "the rod\u{2019}s length", ROD_MM);
        match (cut_from_axle_mm, rod_mm) {
            (Some(_), None) if typed.text("rod").is_empty() => {
                let hint = "Measure it, or leave the place of the cut empty: then it is cut at the axle.";
                typed.fields.refuse("rod", "", "The rod\u{2019}s length is missing.", hint);
            }
            (Some(from), Some(rod)) if from > LAST_CUT * rod => {
                let says = "So near to its ball a cut turns hardly anything.";
                typed.fields.refuse("from", typed.text("from"), says, "Cut nearer to the axle.");
            }
            _ => {}
        }
    }
    typed.done()?;
    let (Some(caster_deg), Some(wanted_deg)) = (caster, wanted) else { return Ok(()) };
    let extra = vehicle.wanted_caster.take().map(|earlier| earlier.extra).unwrap_or_default();
    let described =
        WantedCaster { caster_deg, wanted_deg, pad_mm, axle, cut_depth_mm, cut_from_axle_mm, rod_mm, extra };
    Wedge::of_car(&described).map_err(|refusal| unworkable(refusal, "wanted".to_owned()))?;
    vehicle.wanted_caster = Some(described);
    Ok(())
}

/// A caster with its sign, within what is taken.
fn caster(typed: &mut Typed<'_>, name: &str, what: &str) -> Option<f64> {
    let degrees = typed.signed(name, what, &SLOPE)?;
    if CASTER_DEG.contains(&degrees) {
        return Some(degrees);
    }
    let (low, high) = (-CASTER_DEG.start(), CASTER_DEG.end());
    let sentence = format!("{} is outside \u{2212}{low} to {high} degrees for a caster.", shown(typed.text(name)));
    typed.fields.refuse(name, typed.text(name), &sentence, "Look at its sign, and at the gauge.");
    None
}
