//! How a stance is reached: what changes of the car do, the stance that is planned with them, and the parts that would get there.

mod after;
mod bend;
mod caution;
mod change;
mod effect;
mod follow_up;
mod given;
mod kept;
mod kind;
mod planned;
pub mod search;
pub mod spring;
mod step;

pub use after::{After, EndAfter, Taught, after, taught};
pub use bend::Bends;
pub use caution::{BEFORE_DRIVING, Caution};
pub use change::{Change, Part, changes, parts};
pub use effect::{Effect, End, is_of_the_body};
pub use follow_up::{DUE_DAYS, Due, Task, next_due, tasks};
pub use given::{Field, Given, Takes};
pub use kept::{KeptChange, KeptPart, KeptPlan, PlanMark, PlanMarkKind, Tick};
pub use kind::{KINDS, Kind, Moves};
pub(crate) use planned::PREDICTION_U_MM;
pub use planned::{Planned, PlannedFigure, StepDrop, plan};
pub use step::Step;

#[cfg(test)]
mod hostile;
#[cfg(test)]
mod tests;
