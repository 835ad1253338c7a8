//! Main leaf re-arched: the pack follows it by its share of the stiffness, t₁³/Σt³ [SAE HS-788, from general knowledge].

use super::{
    Car, Caution, Effect, End, EventKind, Field, Given, Kind, Moves, Refusal, Takes, Worked, doubted, number, the,
    whole,
};

/// Loose leaves drawn together against the sum [common practice, no source].
const REL_U: f64 = 0.2;

pub(super) const KIND: Kind = Kind {
    code: "rearched_leaf",
    words: "main leaf re-arched",
    does: "The pack's arch follows the main leaf's by its share of the stiffness, t1³/Σt³: more arch lifts.",
    fields: &[
        number("arch_change_mm", "Change of the main leaf's free arch, + is more arch", -200.0, 200.0, "mm"),
        Field { key: "pack", words: "The pack", takes: Takes::Pack },
    ],
    moves: Moves::Spring,
    side_effects: &["nip between the leaves, and so their stress", "shackle angle", "bump travel"],
    cautions: &[Caution::SpringsHoldEnergy, Caution::NeverHeatSprings],
    event: EventKind::OtherSprings,
    work,
};

fn work(given: &Given, _: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let change = given.required("arch_change_mm", " and the pack, or amount_mm")?;
    let pack =
        given.pack("pack").ok_or_else(|| given.missing("pack", ": its leaves say how far it follows; or amount_mm"))?;
    let stiffness: f64 = pack.leaves.iter().map(|leaf| leaf.thickness_mm.powi(3)).sum();
    let Some(main) = pack.leaves.first() else {
        return Err(given.missing("pack.leaves", ": the thickness of every leaf, or amount_mm"));
    };
    let share = main.thickness_mm.powi(3) / stiffness;
    let sum = format!("{} mm × {share:.2}, the main leaf's share of the stiffness", whole(change));
    Ok(Worked::new(Effect::spring_at(the(end), doubted(share * change, REL_U, 1.0)), sum))
}
