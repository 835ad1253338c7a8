//! Searches the parts for the combinations that come nearest to a target.

use crate::wire::{Problem, SearchAsk, SearchView};
use crate::{Garage, Now, plan_page};

/// Ranked answers, each a plan that can be opened. Where it takes long it stops for the person and says how far it is; asked with more
/// effort it goes further.
///
/// # Errors
/// No such car or target, no parts, or every field that cannot be read, at once.
pub fn search_plan(garage: &mut Garage, request: SearchAsk, _now: &Now<'_>) -> Result<SearchView, Problem> {
    plan_page::search(garage, &request)
}
