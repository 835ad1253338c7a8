//! Grille and radiator sectioned: moves nothing, and the core loses about section/core height of its area [common practice, no source].

use super::{Car, Effect, End, EventKind, Given, Kind, Moves, Refusal, Worked, mm, number, whole};

pub(super) const KIND: Kind = Kind {
    code: "section",
    words: "grille and radiator sectioned",
    does: "Moves nothing; the radiator loses about section over core height of its area (common practice, no source).",
    fields: &[
        mm("section_mm", "What is taken out of the height", 300.0),
        number("core_height_mm", "Height of the core now", 100.0, 1_000.0, "mm"),
    ],
    moves: Moves::Nothing,
    side_effects: &["cooling area", "hood line and hood sides", "fan to core"],
    cautions: &[],
    event: EventKind::BodyWork,
    work,
};

fn work(given: &Given, _: &Car<'_>, _: Option<End>) -> Result<Worked, Refusal> {
    let section = given.required("section_mm", "")?;
    let worked = Worked::new(Effect::NONE, format!("{} mm out of grille and radiator", whole(section)));
    let Some(core) = given.number("core_height_mm") else {
        return Ok(worked.with("The height of the core would say how much cooling area is lost."));
    };
    if section >= core {
        let message = format!("{}.section_mm is {section} mm: the core is {core} mm high.", given.path);
        return Err(Refusal::new(message, "Look at both numbers."));
    }
    Ok(worked.with(format!("About {:.0} % of the cooling area is lost.", section / core * 100.0)))
}
