//! How the car stands on the page of a part: as last measured, as a target or a plan wants it, as it settles; as its points were
//! measured before the first snapshot.

use crate::Garage;
use crate::checks_page::Ready;
use crate::compare_page::asked;
use crate::wire::{CompareAsk, Problem, SeeMechanism, StanceChoice, StanceChoices};
use trueground_core::checks::{AtStance, LoadCase};

/// What was looked at.
pub(crate) struct Seen<T> {
    pub(crate) car: String,
    pub(crate) choices: StanceChoices,
    /// `None` before the first snapshot.
    pub(crate) stance: Option<StanceChoice>,
    /// True where the stance was not measured.
    pub(crate) predicted: bool,
    pub(crate) found: T,
}

/// Looks at the car in the stance that is asked for.
///
/// # Errors
/// No such car or stance, or its readings cannot be worked out.
pub(crate) fn seen<T>(
    garage: &mut Garage,
    request: &SeeMechanism,
    today: &str,
    look: impl FnOnce(&AtStance<'_>) -> T,
) -> Result<Seen<T>, Problem> {
    let asked = asked(garage, &CompareAsk::of(&request.car), today)?;
    let chosen = asked.one(request.stance.as_ref())?;
    let found = match &chosen {
        None => look(&AtStance::as_described(&asked.solved.file.vehicle)),
        Some(chosen) => look(&Ready::of(&asked)?.at(chosen.which(), LoadCase::Nominal, &[])?),
    };
    Ok(Seen {
        car: request.car.clone(),
        choices: asked.choices(),
        predicted: chosen.as_ref().is_some_and(|chosen| chosen.snapshot().is_none()),
        stance: chosen.map(|chosen| chosen.choice(&asked)),
        found,
    })
}
