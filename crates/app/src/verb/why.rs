//! Says where a number comes from.

use super::see_result::about;
use crate::wire::{AskWhy, Problem, WhyView};
use crate::{Garage, Now, why_page};
use trueground_core::wording::shown;

/// The sum, the doubt by source, and the reading that would shrink it most.
///
/// # Errors
/// No such snapshot or figure, or its readings cannot be worked out.
pub fn why(garage: &mut Garage, request: AskWhy, _now: &Now<'_>) -> Result<WhyView, Problem> {
    about(garage, &request.snapshot, |about| why_page::page(about, &request.figure))?.ok_or_else(|| {
        let sentence = format!("This snapshot has no figure {}.", shown(&request.figure));
        Problem::new("not_found", sentence, "Go back to the result and tap a number there.")
    })
}
