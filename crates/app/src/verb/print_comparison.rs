//! Two stances against each other, to print.

use crate::compare_page::asked;
use crate::sheet::comparison;
use crate::wire::{BlankSheet, CompareAsk, Problem};
use crate::words::file_stem;
use crate::{Garage, Now};

/// A page to print, and a name to save it under.
///
/// # Errors
/// As for `compare`, and where there are no two stances yet.
pub fn print_comparison(garage: &mut Garage, request: CompareAsk, now: &Now<'_>) -> Result<BlankSheet, Problem> {
    let asked = asked(garage, &request, &now.stamp().date())?;
    let html = comparison::of(&asked, &request)?;
    Ok(BlankSheet { file_name: format!("{}-compared.html", file_stem(&asked.solved.file.vehicle.label)), html })
}
