//! A spring pack as JSON.

use super::{Leaf, MeasuredRate, PackReading, PackSize, SpringPack};
use crate::bench::{Node, Object, Refusal};
use std::ops::RangeInclusive;

const LENGTH_MM: RangeInclusive<f64> = 100.0..=3_000.0;
const WIDTH_MM: RangeInclusive<f64> = 10.0..=300.0;
const THICKNESS_MM: RangeInclusive<f64> = 1.0..=60.0;
const CLAMPED_MM: RangeInclusive<f64> = 0.0..=1_000.0;
const YOUNG_GPA: RangeInclusive<f64> = 50.0..=400.0;
const LOAD_N: RangeInclusive<f64> = 1.0..=500_000.0;
const READ_LOAD_N: RangeInclusive<f64> = 0.0..=500_000.0;
const HEIGHT_MM: RangeInclusive<f64> = -1_000.0..=3_000.0;
const ARCH_MM: RangeInclusive<f64> = -500.0..=1_000.0;
const MOST_LEAVES: usize = 40;
const MOST_READINGS: usize = 100;

/// Spring steel, GPa.
const YOUNG_UNLESS_GIVEN_GPA: f64 = 206.8;

const KEYS: [&str; 10] = [
    "length_mm",
    "width_mm",
    "leaves",
    "young_gpa",
    "load_n",
    "remove",
    "clamped_mm",
    "full_length",
    "readings",
    "free_arch_mm",
];

impl SpringPack {
    /// From `{"length_mm", "width_mm", "leaves": [{"thickness_mm"}], "load_n"}`, with `remove`, `young_gpa`, `clamped_mm`, `full_length`,
    /// `free_arch_mm` where wanted, and of a leaf `length_mm` and `free_arch_mm`. `readings: [{"load_n", "height_mm"}]` may stand
    /// in the place of length and width.
    ///
    /// # Errors
    /// Not JSON, an unknown key (with the nearest known one), a missing one, a number outside of its range, a leaf that is not
    /// there or named twice, the main leaf taken out, or readings that do not come down.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        Self::of(&Node::read(text)?)
    }

    /// The same from JSON that was read.
    ///
    /// # Errors
    /// As [`Self::read`].
    pub fn of(node: &Node) -> Result<Self, Refusal> {
        let file = node.object("", &KEYS)?;
        let readings = readings(&file)?;
        let size = size(&file, !readings.is_empty())?;
        let leaves = match file.optional("leaves") {
            None if size.is_none() && file.optional("remove").is_none() => Vec::new(),
            _ => leaves(file.required("leaves")?)?,
        };
        let full_length = match file.optional("full_length") {
            Some(node) => node.count_in("full_length", 0..=leaves.len())?,
            None => 0,
        };
        let pack = Self {
            remove: remove(&file, leaves.len())?,
            load_n: file.number_in("load_n", &LOAD_N, "N")?,
            free_arch_mm: file.optional_number_in("free_arch_mm", &ARCH_MM, "mm")?,
            size,
            leaves,
            full_length,
            readings,
        };
        arches(&pack)?;
        Ok(pack)
    }
}

fn size(file: &Object<'_>, measured: bool) -> Result<Option<PackSize>, Refusal> {
    let keys = ["length_mm", "width_mm", "clamped_mm", "young_gpa"];
    if measured && keys.iter().all(|key| file.optional(key).is_none()) {
        return Ok(None);
    }
    let size = PackSize {
        length_mm: file.number_in("length_mm", &LENGTH_MM, "mm")?,
        width_mm: file.number_in("width_mm", &WIDTH_MM, "mm")?,
        clamped_mm: file.optional_number_in("clamped_mm", &CLAMPED_MM, "mm")?.unwrap_or(0.0),
        young_gpa: file.optional_number_in("young_gpa", &YOUNG_GPA, "GPa")?.unwrap_or(YOUNG_UNLESS_GIVEN_GPA),
    };
    if size.clamped_mm >= size.length_mm {
        let message = format!("clamped_mm is {} mm, the whole length of {} mm.", size.clamped_mm, size.length_mm);
        return Err(Refusal::new(message, "Give the distance between the U-bolts."));
    }
    Ok(Some(size))
}

fn leaves(node: &Node) -> Result<Vec<Leaf>, Refusal> {
    let list = node.list_of("leaves", 1, MOST_LEAVES, "leaves")?;
    let leaf = |(i, node): (usize, &Node)| {
        let row = node.object(&format!("leaves[{i}]"), &["thickness_mm", "length_mm", "free_arch_mm"])?;
        Ok(Leaf {
            thickness_mm: row.number_in("thickness_mm", &THICKNESS_MM, "mm")?,
            length_mm: row.optional_number_in("length_mm", &LENGTH_MM, "mm")?,
            free_arch_mm: row.optional_number_in("free_arch_mm", &ARCH_MM, "mm")?,
        })
    };
    list.iter().enumerate().map(leaf).collect()
}

fn remove(file: &Object<'_>, leaves: usize) -> Result<Vec<usize>, Refusal> {
    let Some(node) = file.optional("remove") else { return Ok(Vec::new()) };
    let mut remove = Vec::new();
    for (i, node) in node.list("remove")?.iter().enumerate() {
        let path = format!("remove[{i}]");
        let leaf = node.count_in(&path, 1..=leaves)?;
        if leaf == 1 {
            let message = format!("{path} is leaf 1, the main leaf: it carries the eyes and cannot be removed.");
            return Err(Refusal::new(message, "Name leaves from 2 on, counted from the main leaf."));
        }
        if remove.contains(&leaf) {
            return Err(Refusal::new(format!("{path}: leaf {leaf} is named twice."), "Name each leaf once."));
        }
        remove.push(leaf);
    }
    Ok(remove)
}

fn readings(file: &Object<'_>) -> Result<Vec<PackReading>, Refusal> {
    let Some(node) = file.optional("readings") else { return Ok(Vec::new()) };
    let list = node.list_of("readings", 2, MOST_READINGS, "readings")?;
    let reading = |(i, node): (usize, &Node)| {
        let row = node.object(&format!("readings[{i}]"), &["load_n", "height_mm"])?;
        Ok(PackReading {
            load_n: row.number_in("load_n", &READ_LOAD_N, "N")?,
            height_mm: row.number_in("height_mm", &HEIGHT_MM, "mm")?,
        })
    };
    let readings: Vec<PackReading> = list.iter().enumerate().map(reading).collect::<Result<_, Refusal>>()?;
    let loads = readings.iter().map(|reading| reading.load_n);
    let (least, most) = (loads.clone().fold(f64::MAX, f64::min), loads.fold(f64::MIN, f64::max));
    if most - least < 1.0 {
        let hint = "Give one height without load and one under a load that was weighed.";
        return Err(Refusal::new(format!("readings: every load is {most} N, so no rate can be told."), hint));
    }
    match MeasuredRate::of(&readings) {
        Some(rate) if rate.value.is_finite() && rate.value > 0.0 && rate.u < rate.value => Ok(readings),
        _ => {
            let message = "readings: the height does not come down with the load by more than its own doubt of 2 mm.";
            Err(Refusal::new(message, "Put more load on, bounce the pack, and read both heights from the same mark."))
        }
    }
}

/// The arch of every leaf, or of the pack, or none.
fn arches(pack: &SpringPack) -> Result<(), Refusal> {
    let without: Vec<usize> = (0..pack.leaves.len()).filter(|i| pack.leaves[*i].free_arch_mm.is_none()).collect();
    let some = without.len() < pack.leaves.len();
    if let Some(i) = without.first().filter(|_| some) {
        let message = format!("free_arch_mm is missing in leaves[{i}], while other leaves have it.");
        return Err(Refusal::new(message, "Give the arch of every loose leaf, or of none."));
    }
    if some && pack.free_arch_mm.is_some() {
        let message = "free_arch_mm is given for the pack and for its leaves.";
        return Err(Refusal::new(message, "Keep one of them: the arch of the pack follows from that of its leaves."));
    }
    let length = pack.size.map(|size| size.length_mm);
    for (i, leaf) in pack.leaves.iter().enumerate() {
        let Some(arch) = leaf.free_arch_mm else { continue };
        let Some(own) = leaf.length_mm.or(length) else {
            let message = format!("length_mm is missing in leaves[{i}]: its arch needs it.");
            return Err(Refusal::new(message, "Give the length of the leaf, or of the pack."));
        };
        if arch.abs() > own / 2.0 {
            let message = format!("leaves[{i}].free_arch_mm is {arch} mm, more than half of its length of {own} mm.");
            return Err(Refusal::new(message, "Give the arch from the line through its ends."));
        }
        if leaf.length_mm.zip(length).is_some_and(|(leaf, pack)| leaf > 1.2 * pack) {
            let message = format!("leaves[{i}].length_mm is {own} mm, longer than the pack.");
            return Err(Refusal::new(message, "Give the length of the leaf end to end."));
        }
    }
    Ok(())
}
