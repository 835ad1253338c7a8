//! The gearing's form: axle ratio and gears, and other axles and tires to set beside them.

use super::ask::{field, list, section};
use super::typed::{Texts, Typed};
use crate::car_form::marking;
use crate::quantity::{AXLE_RATIO, GEAR_RATIO};
use crate::wire::{MechanismForm, MechanismSection, Problem};
use trueground_core::car::{Drive, Gear, OtherDrive, Vehicle};

const MOST_GEARS: u32 = 12;
const MOST_OTHERS: u32 = 6;

pub(super) fn sections() -> Vec<MechanismSection> {
    vec![
        section(
            "The car as it is",
            "Off the axle\u{2019}s tag, or turns of the shaft for one turn of both wheels.",
            vec![field("axle", "Axle ratio", "4.11", "to 1")],
        ),
        list(
            "Gears",
            "Turns of the engine for one turn of the shaft.",
            "gears",
            ["Gear", "Add a gear"],
            MOST_GEARS,
            vec![
                field("name", "Its name", "1, 2, top, overdrive", ""),
                field("ratio", "Ratio", "2.82; top gear is often 1", "to 1"),
            ],
        ),
        list(
            "Set beside it",
            "Another axle, another rear tire, or both. What is empty stays as it is.",
            "beside",
            ["Other", "Add another axle or tire"],
            MOST_OTHERS,
            vec![field("axle", "Axle ratio", "3.54", "to 1"), field("tire", "Rear tire, as marked", "6.00-16", "")],
        ),
    ]
}

pub(super) fn texts(vehicle: &Vehicle, out: &mut Texts) {
    let Some(drive) = &vehicle.drive else {
        // Three gears are what most cars of the sort have.
        for (row, name) in ["1", "2", "3"].into_iter().enumerate() {
            out.text(&format!("gears.{row}.name"), name);
            out.text(&format!("gears.{row}.ratio"), "");
        }
        return;
    };
    out.number("axle", drive.axle_ratio, "");
    let top = [Gear { gear: "top".to_owned(), ratio: drive.top_gear_ratio }];
    let gears = if drive.gears.is_empty() { &top[..] } else { &drive.gears };
    for (row, gear) in gears.iter().enumerate() {
        out.text(&format!("gears.{row}.name"), &gear.gear);
        out.number(&format!("gears.{row}.ratio"), gear.ratio, "");
    }
    for (row, other) in drive.beside.iter().enumerate() {
        let axle = format!("beside.{row}.axle");
        match other.axle_ratio {
            Some(ratio) => out.number(&axle, ratio, ""),
            None => out.text(&axle, ""),
        }
        out.text(&format!("beside.{row}.tire"), other.tire.as_deref().unwrap_or_default());
    }
}

/// # Errors
/// Every field that cannot be read.
pub(super) fn read(vehicle: &mut Vehicle, form: &MechanismForm) -> Result<(), Problem> {
    let mut typed = Typed::of(form);
    let gear_rows = typed.rows("gears");
    let no_ratio = (0..gear_rows).all(|row| typed.text(&format!("gears.{row}.ratio")).is_empty());
    if typed.text("axle").is_empty() && no_ratio {
        vehicle.drive = None;
        return Ok(());
    }
    let axle_ratio = typed.number("axle", "the axle ratio", &AXLE_RATIO);
    let mut gears: Vec<Gear> = Vec::new();
    for row in 0..gear_rows {
        let (name, ratio) = (format!("gears.{row}.name"), format!("gears.{row}.ratio"));
        if typed.text(&ratio).is_empty() {
            continue;
        }
        let gear = typed.fields.label(&name, "The gear", typed.text(&name));
        let ratio = typed.number(&ratio, "a gear\u{2019}s ratio", &GEAR_RATIO);
        let (Some(gear), Some(ratio)) = (gear, ratio) else { continue };
        if gears.iter().any(|other| other.gear == gear) {
            typed.fields.refuse(&name, &gear, "Two gears have this name.", "Give each its own.");
            continue;
        }
        gears.push(Gear { gear, ratio });
    }
    if gears.is_empty() && !no_ratio {
        // Each was refused by itself.
    } else if gears.is_empty() {
        typed.fields.refuse("gears.0.ratio", "", "No gear has a ratio yet.", "Type at least one; top gear is often 1.");
    }
    let beside = beside(&mut typed);
    typed.done()?;
    let Some(axle_ratio) = axle_ratio else { return Ok(()) };
    let top_gear_ratio = gears.iter().map(|gear| gear.ratio).fold(f64::INFINITY, f64::min);
    let extra = vehicle.drive.take().map(|drive| drive.extra).unwrap_or_default();
    vehicle.drive = Some(Drive { axle_ratio, top_gear_ratio, gears, beside, extra });
    Ok(())
}

fn beside(typed: &mut Typed<'_>) -> Vec<OtherDrive> {
    let mut all = Vec::new();
    for row in 0..typed.rows("beside") {
        let (axle, tire) = (format!("beside.{row}.axle"), format!("beside.{row}.tire"));
        if typed.are_empty(&[&axle, &tire]) {
            continue;
        }
        let axle_ratio = typed.fields.quantity(&axle, typed.text(&axle), &AXLE_RATIO);
        let text = typed.text(&tire);
        if !text.is_empty()
            && let Err(problem) = marking(&tire, text, None)
        {
            typed.fields.push(problem);
        }
        all.push(OtherDrive { label: None, axle_ratio, tire: (!text.is_empty()).then(|| text.to_owned()) });
    }
    all
}
