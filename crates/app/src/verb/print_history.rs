//! A car's whole history, to print.

use crate::sheet::log;
use crate::wire::{BlankSheet, CarRef, Problem};
use crate::words::{day, file_stem};
use crate::{Garage, Now, car_log};

/// A page to print, newest first, and a name to save it under.
///
/// # Errors
/// No such car, or it cannot be read.
pub fn print_history(garage: &mut Garage, request: CarRef, now: &Now<'_>) -> Result<BlankSheet, Problem> {
    let car = garage.find("car", &request.car)?;
    let mut history = car_log::first(garage, car, now)?;
    while history.entries.len() < history.total {
        let further = car_log::page(garage, car, &[], history.entries.len(), now)?.entries;
        if further.is_empty() {
            break;
        }
        history.entries.extend(further);
    }
    let today = now.stamp().date();
    Ok(BlankSheet {
        file_name: format!("{}-history-{today}.html", file_stem(&history.label)),
        html: log::of(&history, &day(&today)),
    })
}
