//! Leaves taken out of a pack.
//!
//! By the pack: F/k after − F/k before, and the arch that the rest loses; see [`crate::plan::spring`]. By hand, of n equal leaves:
//! F/k·(n/(n − m) − 1) for m of them [domain table; Budynas and Nisbett, *Shigley's Mechanical Engineering Design*].

use super::{
    Car, Caution, Effect, End, EventKind, Field, Given, Kind, Moves, Refusal, Takes, Worked, number, the, whole,
};
use crate::plan::spring::{SpringPack, work_out};
use crate::uncertainty::Quantity;

/// A real pack against its sum: friction and clips [common practice, no source].
const REL_U: f64 = 0.1;
/// Arch that goes with a leaf, where nobody measured it, mm [common practice, no source].
const ARCH_U_MM: f64 = 4.0;

pub(super) const KIND: Kind = Kind {
    code: "leaf_out",
    words: "leaves out",
    does: "Lower: the rest is softer by n/(n - 1) and loses arch. 10 to 25 mm a leaf is usual (common practice, no source).",
    fields: &[
        Field { key: "leaves", words: "Which leaves come out, the main leaf is 1", takes: Takes::Leaves },
        Field { key: "pack", words: "The pack", takes: Takes::Pack },
        number("leaves_in_pack", "Leaves in the pack", 2.0, 40.0, ""),
        number("sinks_mm", "How far the car sits down on this spring, load over rate", 1.0, 500.0, "mm"),
        number("lost_arch_mm", "Arch that the pack loses", -100.0, 200.0, "mm"),
    ],
    moves: Moves::Spring,
    side_effects: &["stress in the other leaves", "softer: roll share shifts", "shackle angle", "bump travel"],
    cautions: &[Caution::SpringsHoldEnergy],
    event: EventKind::LeavesOut,
    work,
};

fn work(given: &Given, car: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let leaves =
        given.leaves("leaves").ok_or_else(|| given.missing("leaves", ": which leaves come out, [3], or amount_mm"))?;
    match given.pack("pack") {
        Some(pack) => by_pack(given, pack, leaves, the(end)),
        None => match own_pack(given, car, the(end)) {
            Some(pack) => by_pack(given, &pack?, leaves, the(end)),
            None => by_hand(given, leaves, the(end)),
        },
    }
}

/// The pack that the car's file describes, unless the step says itself how the spring sinks.
fn own_pack(given: &Given, car: &Car<'_>, end: End) -> Option<Result<SpringPack, Refusal>> {
    if given.number("leaves_in_pack").is_some() || given.number("sinks_mm").is_some() {
        return None;
    }
    let packs = &car.vehicle.leaf_packs;
    let (pack, name) = if end == End::Front { (&packs.front, "front") } else { (&packs.rear, "rear") };
    let placed =
        |refusal: Refusal| Refusal::new(format!("vehicle.leaf_packs.{name}: {}", refusal.message), refusal.hint);
    Some(SpringPack::of_car(pack.as_ref()?).map_err(placed))
}

fn by_pack(given: &Given, pack: &SpringPack, leaves: &[usize], end: End) -> Result<Worked, Refusal> {
    if let Some(leaf) = leaves.iter().find(|leaf| **leaf > pack.leaves.len()) {
        let message = format!("{}.leaves names leaf {leaf}: the pack has {} leaves.", given.path, pack.leaves.len());
        return Err(Refusal::new(message, "Name leaves of this pack, counted from the main leaf."));
    }
    let answer = work_out(&SpringPack { remove: leaves.to_vec(), ..pack.clone() });
    let arch = given.number("lost_arch_mm").or(answer.arch_drop_mm);
    let drop = answer.drop_mm + arch.unwrap_or(0.0);
    let u = (REL_U * answer.drop_mm).hypot(arch.map_or(ARCH_U_MM, |arch| REL_U * arch));
    let sum = format!(
        "{} mm by the rate, {}",
        whole(answer.drop_mm),
        arch.map_or("its lost arch not known".to_owned(), |arch| format!("{} mm of arch", whole(arch)))
    );
    let softer = (1.0 - answer.after.rate_n_per_mm / answer.before.rate_n_per_mm) * 100.0;
    let mut worked = Worked::new(Effect::spring_at(end, Quantity::new(-drop, u)), sum)
        .with(format!("The spring is {softer:.0} % softer."));
    if let Some((before, after)) = answer.before.stress_mpa.zip(answer.after.stress_mpa) {
        worked = worked.with(format!("The most stressed leaf goes from {} to {} MPa.", whole(before), whole(after)));
    }
    Ok(worked)
}

fn by_hand(given: &Given, leaves: &[usize], end: End) -> Result<Worked, Refusal> {
    let instead = ", or the pack with its leaves, or amount_mm";
    let count = given.required("leaves_in_pack", instead)?;
    let sinks = given.required("sinks_mm", instead)?;
    let out = leaves.len() as f64;
    if count - out < 1.0 || leaves.iter().any(|leaf| *leaf as f64 > count) {
        let message = format!("{}.leaves takes leaves that a pack of {count} has not, or all of them.", given.path);
        return Err(Refusal::new(message, "Name leaves of this pack, counted from the main leaf."));
    }
    let by_rate = sinks * (count / (count - out) - 1.0);
    let arch = given.number("lost_arch_mm");
    let u = (REL_U * by_rate).hypot(arch.map_or(ARCH_U_MM, |arch| REL_U * arch));
    let sum = format!(
        "{} mm × ({count}/{} − 1), {}",
        whole(sinks),
        count - out,
        arch.map_or("its lost arch not known".to_owned(), |arch| format!("{} mm of arch", whole(arch)))
    );
    let effect = Effect::spring_at(end, Quantity::new(-by_rate - arch.unwrap_or(0.0), u));
    let stress = (count / (count - out) - 1.0) * 100.0;
    Ok(Worked::new(effect, sum).with(format!("Stress in the other leaves is {stress:.0} % higher. {INSTEAD_OF_PACK}")))
}

const INSTEAD_OF_PACK: &str = "The pack's dimensions would tell it leaf by leaf.";
