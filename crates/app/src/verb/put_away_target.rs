//! Puts a target away, or brings it back.

use crate::wire::{Problem, PutAwayTarget, TargetsView};
use crate::{Garage, Now, target_page};
use trueground_core::target::TargetMarkKind;

/// No longer offers a target, or offers it again; nothing of it is lost.
///
/// # Errors
/// No such car or target, or it cannot be written.
pub fn put_away_target(garage: &mut Garage, request: PutAwayTarget, now: &Now<'_>) -> Result<TargetsView, Problem> {
    let car = garage.find("car", &request.car)?;
    let target = target_page::find(&garage.store.with_targets(car)?, &request.target)?;
    let what = if request.away { TargetMarkKind::PutAway } else { TargetMarkKind::BroughtBack };
    garage.store.mark_target(car, now.id(), &target.id, what, now.stamp())?;
    target_page::page(garage, car, (!request.away).then_some(target.id), Vec::new())
}
