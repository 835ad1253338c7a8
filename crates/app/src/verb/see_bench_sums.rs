//! Shows the bench sums of a car.

use crate::bench_page;
use crate::floor_page::vehicle;
use crate::wire::{BenchSumsView, Problem, SeeBenchSums};
use crate::{Garage, Now};

/// Every bench sum, those that nobody typed yet too. Nothing is stored.
///
/// # Errors
/// No such car, or a sum that cannot be worked out.
pub fn see_bench_sums(garage: &mut Garage, request: SeeBenchSums, _now: &Now<'_>) -> Result<BenchSumsView, Problem> {
    let id = garage.find("car", &request.car)?;
    let vehicle = vehicle(&garage.store.car(id)?.document)?;
    Ok(BenchSumsView { car: id.to_string(), sums: bench_page::sums(&vehicle, request.inches)? })
}
