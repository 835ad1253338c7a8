//! Shows the begin form as an earlier snapshot was: the same floor, points, order, load and pressures, each to be confirmed.

use crate::wire::{AgainView, MeasureAgain, Problem};
use crate::{Garage, Now, again, solved};

/// The form like the snapshot that is named, or like the one nearest to a year ago.
///
/// # Errors
/// No such car or snapshot, none that far back, or it cannot be read.
pub fn measure_again(garage: &mut Garage, request: MeasureAgain, now: &Now<'_>) -> Result<AgainView, Problem> {
    let car = garage.find("car", &request.car)?;
    let solved = solved::car(garage, car, None)?;
    let snapshot = match &request.snapshot {
        Some(snapshot) => garage.find("snapshot", snapshot)?,
        None => again::a_year_ago(garage, &solved, now)?.ok_or_else(|| {
            let hint = "Choose a snapshot in the history and measure like it again.";
            Problem::new("none_last_year", "No snapshot lies about a year back.", hint)
        })?,
    };
    again::page(garage, &solved, snapshot, now)
}
