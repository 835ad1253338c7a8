//! Which parts reach a target: the combinations that come nearest, exactly, with what must not happen left out.
//!
//! One part a slot, or none. A part does what it does by itself, and parts add up; within that rule the answer is exact: every
//! combination is looked at, or left out because it cannot be among the best. Ranked by the worst |difference|/tolerance, then the
//! number of parts, then the price.

mod best;
mod branch;
mod grid;
mod half;
mod keep;
mod meet;
mod of_car;
mod plane;
mod problem;
mod room;
#[cfg(test)]
mod tests;

pub use best::Combination;
pub use keep::Keep;
pub use of_car::{Answer, Asked, Searched, search};
pub use problem::{Choices, Found, Problem, Slot};

/// Up to so many combinations every one is looked at.
const FEW: u64 = 1 << 21;
/// Of a half of the slots, at most.
const HALF: u64 = 1_500_000;

/// The best combinations of a problem.
///
/// What leaves less than none of any room is left out unasked. `allowed` says whether a combination may be used; it is asked only of those that would be among the best, and must depend on
/// [`Choices::alike`] alone. `progress` is told how far it is, 0 to 1, and says whether to go on.
pub fn solve(
    problem: &Problem,
    allowed: &mut dyn FnMut(&[Option<usize>]) -> bool,
    progress: &mut dyn FnMut(f64) -> bool,
) -> Found {
    if problem.combinations() > FEW as f64
        && let Some(halves) = meet::Halves::of(problem, HALF)
    {
        return meet::solve(problem, &halves, allowed, progress);
    }
    branch::solve(problem, allowed, progress)
}
