//! What is left to do after work on a car: days to measure again, and lists to tick.

use serde::{Deserialize, Serialize};

/// Work after which something is left to do.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct FollowUp {
    /// The event.
    pub event: String,
    /// "Leaves out, front; 28 Aug 2031"
    pub label: String,
    /// "Measure again: due since 31 Aug, day 3"; empty where nothing is due.
    pub due: String,
    /// That day, `YYYY-MM-DD`; empty where nothing is due.
    pub due_date: String,
    /// True where that day has come.
    pub due_now: bool,
    /// Its list.
    pub tasks: Vec<TaskRow>,
}

/// What of all that is left to do comes next.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct NextDue {
    /// "Measure again: due since 31 Aug, day 3"; "Left to do after work" where no day is due.
    pub words: String,
    /// "Leaves out, front; 28 Aug 2031"
    pub after: String,
    /// True where that day has come.
    pub due_now: bool,
    /// Ticks that are open, of all lists.
    pub open: u32,
}

/// A task of a list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct TaskRow {
    /// Its code.
    pub task: String,
    /// In words.
    pub words: String,
    /// True where it is to be done before driving.
    pub before_driving: bool,
    /// "29 Aug 2031"; empty where it is open.
    pub done: String,
}

/// Ticks a task, or takes the tick back.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct TickTask {
    /// The car.
    pub car: String,
    /// The event whose list it is.
    pub event: String,
    /// The task's code.
    pub task: String,
    /// False takes the tick back.
    pub done: bool,
}
