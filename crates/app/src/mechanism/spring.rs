//! A leaf pack's form: its size and its leaves one by one, or its height with and without a load.

use super::ask::{field, length, list, section};
use super::typed::{Texts, Typed};
use super::unworkable;
use crate::quantity::LOAD;
use crate::wire::{MechanismForm, MechanismSection, Problem};
use std::ops::RangeInclusive;
use trueground_core::car::{LeafPack, LoadedHeight, PackLeaf, Vehicle};
use trueground_core::plan::spring::SpringPack;

const LENGTH_MM: RangeInclusive<f64> = 100.0..=3_000.0;
const WIDTH_MM: RangeInclusive<f64> = 10.0..=300.0;
const THICKNESS_MM: RangeInclusive<f64> = 1.0..=60.0;
const CLAMPED_MM: RangeInclusive<f64> = 0.0..=1_000.0;
const ARCH_MM: RangeInclusive<f64> = -500.0..=1_000.0;
const HEIGHT_MM: RangeInclusive<f64> = -1_000.0..=3_000.0;
const MOST_LEAVES: u32 = 40;
const MOST_READINGS: u32 = 12;

pub(super) fn sections() -> Vec<MechanismSection> {
    vec![
        section(
            "The pack",
            "Between the eyes, over the width of a leaf, and between the U-bolts.",
            vec![
                length("length", "Eye to eye", "along the pack under load"),
                length("width", "Width of a leaf", ""),
                length("clamped", "Between the U-bolts", "empty: nothing is held"),
                field("load", "Load at its middle", "2600 N, 265 kg or 585 lb: of one spring", ""),
                field("full_length", "Leaves that reach to the eyes", "empty: only the main leaf, graded", ""),
                length("arch", "Arch without load", "of the whole pack; empty where each leaf has its own"),
            ],
        ),
        list(
            "Leaves",
            "The main leaf first. Length and arch only where the pack was taken apart.",
            "leaves",
            ["Leaf", "Add a leaf"],
            MOST_LEAVES,
            vec![
                length("thickness", "Thick", "with a caliper, at the middle"),
                length("length", "End to end", "empty: not measured"),
                length("arch", "Arch of the loose leaf", "empty: not measured"),
            ],
        ),
        list(
            "Or: height with and without a load",
            "From one mark to another, once without load and once under one that was weighed. These give the rate.",
            "readings",
            ["Reading", "Add a reading"],
            MOST_READINGS,
            vec![
                field("load", "Load", "0 for none", ""),
                length("height", "Height", "from the line of the eyes to the middle"),
            ],
        ),
    ]
}

fn pack(vehicle: &Vehicle, rear: bool) -> Option<&LeafPack> {
    if rear { vehicle.leaf_packs.rear.as_ref() } else { vehicle.leaf_packs.front.as_ref() }
}

pub(super) fn texts(vehicle: &Vehicle, rear: bool, out: &mut Texts) {
    let Some(pack) = pack(vehicle, rear) else {
        out.text("leaves.0.thickness", "");
        out.text("leaves.1.thickness", "");
        return;
    };
    for (name, mm) in [
        ("length", pack.length_mm),
        ("width", pack.width_mm),
        ("clamped", pack.clamped_mm),
        ("arch", pack.free_arch_mm),
    ] {
        if let Some(mm) = mm {
            out.length(name, mm);
        }
    }
    out.number("load", pack.load_n, "N");
    if let Some(count) = pack.full_length {
        out.text("full_length", &count.to_string());
    }
    for (row, leaf) in pack.leaves.iter().enumerate() {
        out.length(&format!("leaves.{row}.thickness"), leaf.thickness_mm);
        for (name, mm) in [("length", leaf.length_mm), ("arch", leaf.free_arch_mm)] {
            if let Some(mm) = mm {
                out.length(&format!("leaves.{row}.{name}"), mm);
            }
        }
    }
    for (row, reading) in pack.readings.iter().enumerate() {
        out.number(&format!("readings.{row}.load"), reading.load_n, "N");
        out.length(&format!("readings.{row}.height"), reading.height_mm);
    }
}

/// # Errors
/// Every field that cannot be read, or a pack that cannot be worked out, such as one without leaves.
pub(super) fn read(vehicle: &mut Vehicle, rear: bool, form: &MechanismForm) -> Result<(), Problem> {
    let mut typed = Typed::of(form);
    let earlier = pack(vehicle, rear).cloned();
    let new = if form.values.values().all(|text| text.trim().is_empty()) {
        None
    } else {
        let new = pack_of(&mut typed, earlier);
        typed.done()?;
        let Some(new) = new else { return Ok(()) };
        SpringPack::of_car(&new).map_err(|refusal| {
            let field = beside(&refusal.message);
            unworkable(refusal, field)
        })?;
        Some(new)
    };
    if rear {
        vehicle.leaf_packs.rear = new
    } else {
        vehicle.leaf_packs.front = new
    }
    Ok(())
}

fn pack_of(typed: &mut Typed<'_>, earlier: Option<LeafPack>) -> Option<LeafPack> {
    let length_mm = typed.optional_length("length", "a spring\u{2019}s length", LENGTH_MM);
    let width_mm = typed.optional_length("width", "a leaf\u{2019}s width", WIDTH_MM);
    let clamped_mm = typed.optional_length("clamped", "what the U-bolts hold", CLAMPED_MM);
    let load_n = typed.number("load", "the load", &LOAD);
    let free_arch_mm = typed.optional_length("arch", "an arch", ARCH_MM);
    let mut leaves = Vec::new();
    for row in 0..typed.rows("leaves") {
        let [thick, long, arch] = ["thickness", "length", "arch"].map(|field| format!("leaves.{row}.{field}"));
        if typed.are_empty(&[&thick, &long, &arch]) {
            continue;
        }
        let thickness_mm = typed.length(&thick, "a leaf\u{2019}s thickness", THICKNESS_MM);
        let length_mm = typed.optional_length(&long, "a leaf\u{2019}s length", LENGTH_MM);
        let free_arch_mm = typed.optional_length(&arch, "an arch", ARCH_MM);
        leaves.extend(thickness_mm.map(|thickness_mm| PackLeaf { thickness_mm, length_mm, free_arch_mm }));
    }
    let full_length = typed.count("full_length", "a number of leaves", 0..=leaves.len());
    let mut readings = Vec::new();
    for row in 0..typed.rows("readings") {
        let [load, height] = ["load", "height"].map(|field| format!("readings.{row}.{field}"));
        if typed.are_empty(&[&load, &height]) {
            continue;
        }
        // Without a load is a load too.
        let load_n = match typed.text(&load) {
            "0" | "0 N" | "0 kg" | "0 lb" => Some(0.0),
            _ => typed.number(&load, "the load", &LOAD),
        };
        let height_mm = typed.length(&height, "the height", HEIGHT_MM);
        readings.extend(load_n.zip(height_mm).map(|(load_n, height_mm)| LoadedHeight { load_n, height_mm }));
    }
    let earlier = earlier.unwrap_or_default();
    Some(LeafPack {
        length_mm,
        width_mm,
        clamped_mm,
        load_n: load_n?,
        // Leaves that were thought of are others once their count has changed.
        remove: if leaves.len() == earlier.leaves.len() { earlier.remove } else { Vec::new() },
        leaves,
        full_length,
        free_arch_mm,
        young_gpa: earlier.young_gpa,
        readings,
        extra: earlier.extra,
    })
}

/// The field a refusal of the whole pack stands beside: `leaves[2].free_arch_mm` is `leaves.2.arch`.
fn beside(message: &str) -> String {
    let row = |list: &str| message.split(&format!("{list}[")).nth(1)?.split(']').next()?.parse::<usize>().ok();
    match (row("leaves"), message) {
        (Some(row), _) if message.contains("length_mm") => format!("leaves.{row}.length"),
        (Some(row), _) => format!("leaves.{row}.arch"),
        _ if message.starts_with("readings") => "readings.0.height".to_owned(),
        _ if message.starts_with("length_mm") => "length".to_owned(),
        _ if message.starts_with("width_mm") => "width".to_owned(),
        _ if message.starts_with("clamped_mm") => "clamped".to_owned(),
        _ if message.starts_with("free_arch_mm") => "arch".to_owned(),
        _ => "leaves.0.thickness".to_owned(),
    }
}
