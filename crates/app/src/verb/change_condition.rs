//! Changes how the car is said to stand, while the snapshot is unfinished.

use crate::condition::Condition;
use crate::fields::Fields;
use crate::floor_page::vehicle;
use crate::wire::{ChangeCondition, Problem, StandsOn, WalkView};
use crate::{Garage, Now, load, walk_page};
use trueground_core::capture::Standing;

/// Changes floor, facing, load, pressures and name; the readings stay, and what was said before is kept.
///
/// # Errors
/// No such snapshot, it is finished, or every field that cannot be read, at once.
pub fn change_condition(garage: &mut Garage, request: ChangeCondition, _now: &Now<'_>) -> Result<WalkView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let record = garage.store.snapshot(id)?;
    let mut car_document = garage.store.car(record.car)?.document;
    let vehicle = vehicle(&car_document)?;
    let mut fields = Fields::default();
    let condition = Condition::read(garage, &mut fields, &request.form, record.car, &vehicle)?;
    let was_mock_up = record.document["standing"] == Standing::MockUp.code();
    if was_mock_up != (request.form.stands_on == StandsOn::RatedStands) {
        let hint = "Leave this snapshot as it is, and begin another for the car as it stands now.";
        fields.refuse(
            "stands_on",
            "",
            "What was read on stands was not read on wheels, nor the other way round.",
            hint,
        );
    }
    fields.done()?;
    let mut document = record.document.clone();
    condition.write(&mut document, &request.form)?;
    let before = car_document.clone();
    load::remember(&mut car_document, &request.form.load);
    if car_document != before {
        garage.store.change_car(record.car, &car_document)?;
    }
    garage.store.change_snapshot(id, &document)?;
    walk_page::page(garage, id)
}
