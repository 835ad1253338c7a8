//! Plans: changes of a car as they are typed, the stance they would make, and the parts there are.

use super::checks::CheckRow;
use super::compare::{OverlayView, StanceChoice};
use super::follow_up::FollowUp;
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

/// The plan of a car that is being drawn up, as the window keeps it half filled in under `plan <car>`; every page can stand the car
/// on it, as the planned stance without an id.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PlanDraft {
    /// As it is typed.
    pub form: PlanForm,
    /// How far heights are drawn apart.
    #[serde(default)]
    pub times: u8,
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
    /// Where the drop comes from: front, rear, and the body where it moves over its frame; empty where nothing moves.
    pub drops: Vec<DropPlace>,
    /// What follows, as the checks tell it, each with what it is now; worst first.
    pub follows: Vec<CheckRow>,
    /// "6 findings, 2 cautions"
    pub counted: String,
    /// Against the target; empty without one.
    pub against: String,
    /// What has to be said where the work is.
    pub cautions: Vec<CautionView>,
    /// What is left to do afterwards.
    pub tasks: Vec<String>,
    /// Fields that cannot be read, and changes that cannot be done, each at its field or at `changes.0.kind`.
    pub problems: Vec<FieldProblem>,
    /// What was measured after the work, sentence by sentence; empty where nothing was.
    pub after: Vec<String>,
    /// What earlier work taught; empty where it taught nothing.
    pub taught: Vec<String>,
    /// What is to be said before driving.
    pub before_driving: String,
}

/// Where the drop of one place comes from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct DropPlace {
    /// "front"
    pub words: String,
    /// "−26"
    pub number: String,
    /// All of it, mm, + is up.
    pub mm: f64,
    /// From the ground up.
    pub parts: Vec<DropPart>,
    /// "front: −26 mm, from tires −10, spring −16"
    pub text: String,
}

/// What one source does to a place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct DropPart {
    /// "spring"
    pub words: String,
    /// mm, + is up.
    pub mm: f64,
    /// "−16"
    pub number: String,
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
