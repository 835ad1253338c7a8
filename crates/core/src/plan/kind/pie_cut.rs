//! Pie cut: a wedge out of the rail sweeps the front cross-member up by arm × sin(wedge), and turns all that lies beyond the cut by the wedge.

use super::{
    Car, Caution, Effect, End, EventKind, Given, INSTEAD, Kind, Moves, Refusal, Worked, doubted, number, the, whole,
};
use crate::plan::bend::Bends;
use crate::uncertainty::Quantity;

/// Cut, bent and welded [common practice, no source], mm.
const U_MM: f64 = 3.0;
/// The same in degrees.
const U_DEG: f64 = 0.3;

pub(super) const KIND: Kind = Kind {
    code: "pie_cut",
    words: "pie cut",
    does: "Lower by arm × sin(wedge) up to the cut; beyond it all turns up by the wedge about the cut. Caster turns by the wedge where the axle turns with the cross-member.",
    fields: &[
        number("wedge_deg", "Wedge", 0.1, 30.0, "deg"),
        number("sweep_mm", "Wanted sweep, in place of the wedge", 1.0, 300.0, "mm"),
        number("arm_mm", "From the cut to the axle", 50.0, 1_500.0, "mm"),
    ],
    moves: Moves::Frame,
    side_effects: &[
        "caster turns by the wedge",
        "radiator and grille tip",
        "drag link and steering box",
        "what lies beyond the cut turns with it: bumper, lamps, low points, what stands level on it",
    ],
    cautions: &[Caution::Frame],
    event: EventKind::FrameWork,
    work,
};

fn work(given: &Given, car: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let arm = given.required("arm_mm", INSTEAD)?;
    let wedge = match (given.number("wedge_deg"), given.number("sweep_mm")) {
        (Some(wedge), None) => wedge,
        (None, Some(sweep)) if sweep <= 0.5 * arm => libm::asin(sweep / arm).to_degrees(),
        (None, Some(sweep)) => {
            let message = format!(
                "{}.sweep_mm is {sweep} mm on an arm of {arm} mm: at most half of the arm can be swept.",
                given.path
            );
            return Err(Refusal::new(message, "Cut further back, or sweep less."));
        }
        (Some(_), Some(_)) => {
            let message = format!("{}: wedge_deg and sweep_mm are given together.", given.path);
            return Err(Refusal::new(message, "Keep one of them: the other follows."));
        }
        (None, None) => {
            return Err(given.missing("wedge_deg", ", or sweep_mm: the wedge follows from it; or amount_mm"));
        }
    };
    let sweep = arm * libm::sin(wedge.to_radians());
    let end = the(end);
    let mut effect = Effect::frame_at(end, doubted(-sweep, 0.0, U_MM));
    effect.bends = Bends::at(end, arm, car.vehicle.wheelbase_mm, Quantity::new(wedge, U_DEG));
    // A rod that is rigid with the axle holds it; else it turns with the cross-member.
    if end == End::Front && car.vehicle.radius_rod.is_none() {
        effect.caster_deg = Quantity::new(wedge, U_DEG);
    }
    let worked = Worked::new(effect, format!("{} mm × sin {wedge:.1}°", whole(arm)));
    Ok(worked.with(format!("The wedge is {wedge:.1}°, and all beyond the cut turns by as much.")))
}
