//! Plans: changes of a car as they are typed, the stance they would make, parts, the search among them, and what is left to do after work.

use super::compare::{OverlayView, StanceChoice};
use super::garage::TapeUnit;
use super::problem::FieldProblem;
use super::result::KindChoice;
use super::target::TargetChoice;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A plan as it is typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct PlanForm {
    /// The car.
    pub car: String,
    /// The kept plan that it changes.
    #[serde(default)]
    pub plan: Option<String>,
    /// What the person calls it.
    #[serde(default)]
    pub label: String,
    /// The snapshot to set out from, by its id in the garage; empty: the newest.
    #[serde(default)]
    pub from: String,
    /// The target that it is to reach; empty: none.
    #[serde(default)]
    pub target: String,
    /// Kind of point that is shown; empty: the app chooses.
    #[serde(default)]
    pub kind: String,
    /// In the order in which they are done.
    #[serde(default)]
    pub changes: Vec<ChangeForm>,
}

/// One change as it is typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct ChangeForm {
    /// What the person calls it; empty: its kind and end.
    #[serde(default)]
    pub label: String,
    /// True where the plan does without it.
    #[serde(default)]
    pub left_out: bool,
    /// In order; one that is typed here has one.
    pub steps: Vec<StepForm>,
}

/// One step as it is typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct StepForm {
    /// Its kind: `block`.
    pub kind: String,
    /// `front`, `rear`, or empty.
    #[serde(default)]
    pub end: String,
    /// Fields of its kind and `amount_mm`, as typed; what is absent is not said.
    #[serde(default)]
    pub fields: BTreeMap<String, String>,
    /// As a file has it, where its fields cannot be typed here; kept as it is.
    #[serde(default)]
    pub written: String,
}

/// A kind of change that can be chosen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct ChangeKind {
    /// Its code.
    pub kind: String,
    /// "Lowering block"
    pub words: String,
    /// Under which heading it is offered.
    pub group: String,
    /// What it does, with its sign.
    pub does: String,
    /// True where front or rear has to be said.
    pub end: bool,
    /// True where an amount may be typed in place of the fields.
    pub amount: bool,
    /// Its own fields.
    pub fields: Vec<ChangeField>,
    /// What to look at again.
    pub side_effects: Vec<String>,
    /// What has to be said where the work is.
    pub cautions: Vec<CautionView>,
}

/// A field of a kind of change.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct ChangeField {
    /// Its key.
    pub key: String,
    /// In words.
    pub words: String,
    /// `mm` is typed in the tape's unit; other units as they are said; empty for a bare number, a choice or words.
    pub unit: String,
    /// Codes to choose among, each with its words; empty: something is typed.
    pub choices: Vec<TargetChoice>,
}

/// A caution.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CautionView {
    /// "Springs hold energy"
    pub headline: String,
    /// What to do.
    pub words: String,
}

/// The Plan tab.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PlansView {
    /// The car.
    pub car: String,
    /// Kept plans, the newest first.
    pub rows: Vec<PlanRef>,
    /// Those that were put away.
    pub put_away: Vec<PlanRef>,
    /// The plan that was kept or changed just now.
    pub kept: Option<String>,
    /// A plan without a change.
    pub blank: PlanForm,
    /// Kinds of change, in the order in which they are offered.
    pub kinds: Vec<ChangeKind>,
    /// Finished snapshots on their wheels, the newest first.
    pub snapshots: Vec<TargetChoice>,
    /// Targets, the newest first.
    pub targets: Vec<TargetChoice>,
    /// Parts that there are.
    pub parts: Vec<PartRow>,
    /// Parts that were put away.
    pub parts_away: Vec<PartRow>,
    /// A part without anything.
    pub blank_part: PartForm,
    /// Unit that lengths are typed in.
    pub tape: TapeUnit,
    /// Why nothing can be planned yet; empty where it can.
    pub nothing: String,
    /// Work after which something is left to do.
    pub follow_up: Vec<FollowUp>,
}

/// A kept plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PlanRef {
    /// Its name.
    pub id: String,
    /// What the person calls it.
    pub label: String,
    /// "3 changes from 2 Aug 2031"
    pub detail: String,
    /// True where its work was done.
    pub carried_out: bool,
    /// The form that would change it.
    pub form: PlanForm,
}

/// What a plan comes to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PlanView {
    /// The car.
    pub car: String,
    /// What the plan sets out from.
    pub from: StanceChoice,
    /// Its day, `YYYY-MM-DD`.
    pub date: String,
    /// "Workshop, levelled"
    pub floor: String,
    /// What it comes to in one sentence.
    pub headline: String,
    /// Front and rear of the shown kind of point.
    pub front: PlanHeight,
    /// The same at the rear.
    pub rear: PlanHeight,
    /// Kinds that can be shown.
    pub kinds: Vec<KindChoice>,
    /// The kind shown.
    pub kind: String,
    /// Now in full and predicted over it; absent where front or rear is not told.
    pub overlay: Option<OverlayView>,
    /// The picture in words.
    pub text: String,
    /// A row for each change of the form.
    pub rows: Vec<ChangeRow>,
    /// What follows, worst first.
    pub follows: Vec<PlanFinding>,
    /// "6 findings, 2 cautions"
    pub counted: String,
    /// Against the target; empty without one.
    pub against: String,
    /// What has to be said where the work is.
    pub cautions: Vec<CautionView>,
    /// What is left to do afterwards.
    pub tasks: Vec<String>,
    /// Fields that cannot be read.
    pub problems: Vec<FieldProblem>,
    /// What was measured after the work, sentence by sentence; empty where nothing was.
    pub after: Vec<String>,
    /// What earlier work taught; empty where it taught nothing.
    pub taught: Vec<String>,
    /// What is to be said before driving.
    pub before_driving: String,
}

/// How a finding stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum FindingWord {
    /// Something touches.
    Touches,
    /// Outside of what a rule or a custom says.
    Caution,
    /// Nearer to its limit than its doubt.
    CantTell,
    /// Nothing touches.
    Clears,
    /// Inside what a rule or a custom says.
    Within,
    /// A number without a limit.
    Number,
}

/// One thing that follows from a plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PlanFinding {
    /// The check it comes from: `clearance`.
    pub check: String,
    /// What was looked at: `exhaust`.
    pub what: String,
    /// How it stands.
    pub word: FindingWord,
    /// For the person.
    pub sentence: String,
    /// "Touches. The ground as the car's file has it"
    pub line: String,
    /// "10.2°"
    pub number: String,
    /// "0.8° short", "now 72"; empty where there is neither.
    pub margin: String,
}

/// A planned height.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PlanHeight {
    /// mm; absent where nothing tells it.
    pub value_mm: Option<f64>,
    /// Standard uncertainty, mm.
    pub u_mm: Option<f64>,
    /// "255"; empty where nothing tells it.
    pub number: String,
    /// "±5"
    pub band: String,
}

/// One change of a plan as it is told.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct ChangeRow {
    /// "Thinner front spring pack"
    pub label: String,
    /// True where the plan does without it.
    pub left_out: bool,
    /// At the front axle, "−16"; empty where it cannot be told.
    pub front: String,
    /// At the rear axle.
    pub rear: String,
    /// mm.
    pub front_mm: Option<f64>,
    /// mm.
    pub rear_mm: Option<f64>,
    /// "body −75" where the body moves over the frame; empty else.
    pub body: String,
    /// The sum: "96 mm × (8/7 − 1)".
    pub sum: String,
    /// What follows from it, and what to look at again, sentence by sentence.
    pub follows: Vec<String>,
    /// Why it cannot be told; empty where it can.
    pub problem: String,
}

/// Asks for something about a plan or a part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct MarkPlan {
    /// The car.
    pub car: String,
    /// The plan's or the part's name.
    pub of: String,
    /// What is done.
    pub what: PlanMarked,
}

/// What can be done to a kept plan or part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum PlanMarked {
    /// No longer offered.
    PutAway,
    /// Offered again.
    BroughtBack,
    /// The work was done: it is entered in the history, and its list is made.
    CarriedOut,
}

/// A part as it is typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct PartForm {
    /// The car.
    pub car: String,
    /// The kept part that it changes.
    #[serde(default)]
    pub part: Option<String>,
    /// What the person calls it.
    #[serde(default)]
    pub label: String,
    /// What it takes the place of: parts of one slot exclude one another.
    #[serde(default)]
    pub slot: String,
    /// What fitting it does.
    #[serde(default)]
    pub steps: Vec<StepForm>,
    /// In the person's money, as typed.
    #[serde(default)]
    pub price: String,
    /// Hours of work, as typed.
    #[serde(default)]
    pub hours: String,
}

/// A part that there is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PartRow {
    /// Its name.
    pub id: String,
    /// What the person calls it.
    pub label: String,
    /// "front spring; 120, 5 hours"
    pub detail: String,
    /// The form that would change it.
    pub form: PartForm,
}

/// Asks which parts reach a target.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct SearchAsk {
    /// The car.
    pub car: String,
    /// The snapshot to set out from; empty: the newest.
    #[serde(default)]
    pub from: String,
    /// The target; empty: the newest.
    #[serde(default)]
    pub target: String,
    /// Leave out what touches.
    #[serde(default)]
    pub no_touch: bool,
    /// Least height of every low point, as typed; empty: none.
    #[serde(default)]
    pub clearance: String,
    /// Caster not below, degrees, as typed; empty: none.
    #[serde(default)]
    pub caster_low: String,
    /// Caster not above.
    #[serde(default)]
    pub caster_high: String,
    /// Travel that an axle may lose, as typed; empty: any.
    #[serde(default)]
    pub travel_lost: String,
    /// Parts fitted at most, as typed; empty: any.
    #[serde(default)]
    pub most_parts: String,
    /// Price at most, as typed; empty: any.
    #[serde(default)]
    pub most_price: String,
    /// How far it goes before it reports: 1 at first, then twice as far each time it is asked again.
    #[serde(default)]
    pub effort: u32,
}

/// What a search found.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SearchView {
    /// "Two of these parts reach it."
    pub headline: String,
    /// The sentence under it.
    pub detail: String,
    /// How far it is, 0 to 1; 1 where it is done.
    pub done: f64,
    /// True where nothing better can be left.
    pub proved: bool,
    /// True where the first answer is within every tolerance.
    pub reaches: bool,
    /// Best first.
    pub answers: Vec<SearchAnswer>,
    /// The nearest without what is to be kept, and what it would break; empty where there is none.
    pub nearest_but: String,
    /// Parts that cannot be fitted to this car, and why.
    pub left_out: Vec<String>,
}

/// One combination of parts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SearchAnswer {
    /// "One front leaf out, front tires 20 mm smaller"
    pub label: String,
    /// "2 parts, 340, 5 hours"
    pub detail: String,
    /// Worst |difference|/tolerance.
    pub worst: f64,
    /// "rear right 4 mm higher, 0.7 of its tolerance"
    pub fit: String,
    /// True where it is within every tolerance.
    pub reaches: bool,
    /// What it breaks, sentence by sentence.
    pub breaks: Vec<String>,
    /// The plan that it is.
    pub plan: PlanForm,
}

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
    /// True where that day has come.
    pub due_now: bool,
    /// Its list.
    pub tasks: Vec<TaskRow>,
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
