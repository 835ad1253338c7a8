//! Lowering block between spring and axle: 1 to 1; refused on a transverse spring, which has no seat on the axle.

use super::{
    Car, Caution, Effect, End, EventKind, Field, Given, INSTEAD, Kind, Moves, Refusal, Takes, Worked, doubted, layout,
    mm, number, the, whole,
};
use crate::car::SpringKind;
use crate::uncertainty::Quantity;

pub(super) const KIND: Kind = Kind {
    code: "block",
    words: "lowering block",
    does: "Lower by its thickness where the spring passes under the axle, higher where it lies over it: 1 to 1. Not on a transverse spring.",
    fields: &[
        mm("thickness_mm", "Thickness", 150.0),
        Field { key: "spring", words: "Where the spring passes", takes: Takes::Choice(&["under_axle", "over_axle"]) },
        number("wedge_deg", "Its wedge, + turns pinion or caster up", -10.0, 10.0, "deg"),
    ],
    moves: Moves::Spring,
    side_effects: &[
        "bump travel is less by the block",
        "U-bolt length",
        "pinion angle or caster, if it is a wedge",
        "re-torque the U-bolts",
    ],
    cautions: &[Caution::SpringsHoldEnergy],
    event: EventKind::BlocksShims,
    work,
};

fn work(given: &Given, car: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let end = the(end);
    if layout(car, end) == Some(SpringKind::TransverseLeaf) {
        let message =
            format!("{}: the {} axle has a transverse spring; a block has no seat there.", given.path, end.words());
        return Err(Refusal::new(
            message,
            "Lower a transverse spring by its leaves, its eyes, its perches or the cross-member.",
        ));
    }
    let thick = given.required("thickness_mm", INSTEAD)?;
    let up = if given.choice("spring") == Some("over_axle") { 1.0 } else { -1.0 };
    let mut effect = Effect::spring_at(end, doubted(up * thick, 0.0, 0.5));
    let wedge = Quantity::exact(given.number("wedge_deg").unwrap_or(0.0));
    if end == End::Front {
        effect.caster_deg = wedge
    } else {
        effect.pinion_deg = wedge
    }
    Ok(Worked::new(effect, format!("1 to 1: {} mm", whole(thick))))
}
