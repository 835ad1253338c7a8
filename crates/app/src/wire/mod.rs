//! What goes over the wire between a shell and the app: requests in, replies and problems out.
//!
//! A request is named by its verb (see [`VERBS`]); lengths are mm and angles degrees in every field. Text that a person
//! typed travels as typed, and comes back in a [`Problem`] if it cannot be read. The interface computes no result: all that it
//! draws or prints as a number stands in a reply.

mod bench_sums;
mod book;
mod car;
mod car_form;
mod checks;
mod compare;
mod condition;
mod driveline;
mod fitment;
mod floor;
mod floor_view;
mod follow_up;
mod garage;
mod gearing;
mod ground;
mod history;
mod instrument;
mod measured;
mod mechanism;
mod photo;
mod plan;
mod plan_search;
mod problem;
mod ramp;
mod result;
mod set_out;
mod settling;
mod sheet;
mod spring_pack;
mod steering;
mod target;
mod under;
mod walk;

pub use bench_sums::*;
pub use book::*;
pub use car::*;
pub use car_form::*;
pub use checks::*;
pub use compare::*;
pub use condition::*;
pub use driveline::*;
pub use fitment::*;
pub use floor::*;
pub use floor_view::*;
pub use follow_up::*;
pub use garage::*;
pub use gearing::*;
pub use ground::*;
pub use history::*;
pub use instrument::*;
pub use measured::*;
pub use mechanism::*;
pub use photo::*;
pub use plan::*;
pub use plan_search::*;
pub use problem::*;
pub use ramp::*;
pub use result::*;
pub use set_out::*;
pub use settling::*;
pub use sheet::*;
pub use spring_pack::*;
pub use steering::*;
pub use target::*;
pub use under::*;
pub use walk::*;

/// Every verb with its request and its reply, in the order a person meets them.
///
/// | verb | request | reply |
/// |---|---|---|
/// | `open_garage` | `{}` | [`GarageView`] |
/// | `open_sample_garage` | `{}` | [`GarageView`] |
/// | `set_settings` | [`Settings`] | [`GarageView`] |
/// | `add_car` | [`CarForm`] | [`CarView`] |
/// | `change_car` | [`ChangeCar`] | [`CarView`] |
/// | `sketch_car` | [`SketchCar`] | [`CarSketch`] |
/// | `open_car` | [`CarRef`] | [`CarView`] |
/// | `read_length` | [`ReadLength`] | [`LengthRead`] |
/// | `read_tire` | [`ReadTire`] | [`TireRead`] |
/// | `add_floor` | [`FloorForm`] | [`FloorView`] |
/// | `open_floor` | [`FloorRef`] | [`FloorView`] |
/// | `take_floor_reading` | [`TakeFloorReading`] | [`FloorView`] |
/// | `undo_floor_reading` | [`FloorRef`] | [`FloorView`] |
/// | `put_back_floor_reading` | [`FloorRef`] | [`FloorView`] |
/// | `add_pass` | [`FloorRef`] | [`FloorView`] |
/// | `open_instruments` | `{}` | [`InstrumentsView`] |
/// | `keep_instrument` | [`InstrumentForm`] | [`InstrumentsView`] |
/// | `put_away_instrument` | [`InstrumentRef`] | [`InstrumentsView`] |
/// | `add_pass` | [`AddPass`] | [`FloorView`] |
/// | `change_floor` | [`ChangeFloor`] | [`FloorView`] |
/// | `take_straightedge` | [`TakeStraightedge`] | [`FloorView`] |
/// | `strike_floor_reading` | [`StrikeFloorReading`] | [`FloorView`] |
/// | `use_floor` | [`UseFloor`] | [`CarView`] |
/// | `begin_snapshot` | [`SnapshotForm`] | [`WalkView`] |
/// | `read_load` | [`ReadLoad`] | [`LoadRead`] |
/// | `open_condition` | [`SnapshotRef`] | [`ConditionView`] |
/// | `change_condition` | [`ChangeCondition`] | [`WalkView`] |
/// | `keep_form` | [`KeepForm`] | `null` |
/// | `kept_forms` | `{}` | [`KeptForms`] |
/// | `open_walk` | [`SnapshotRef`] | [`WalkView`] |
/// | `go_to_step` | [`GoToStep`] | [`WalkView`] |
/// | `keep_draft` | [`KeepDraft`] | `null` |
/// | `take_reading` | [`TakeReading`] | [`WalkView`] |
/// | `enter_reading` | [`TakeReading`] | [`WalkView`] |
/// | `check_sheet` | [`SnapshotRef`] | [`SheetSlips`] |
/// | `undo_reading` | [`SnapshotRef`] | [`WalkView`] |
/// | `put_back` | [`SnapshotRef`] | [`WalkView`] |
/// | `strike_reading` | [`StrikeReading`] | [`WalkView`] |
/// | `unstrike_reading` | [`UnstrikeReading`] | [`WalkView`] |
/// | `skip_step` | [`SkipStep`] | [`WalkView`] |
/// | `order_walk` | [`OrderWalk`] | [`WalkView`] |
/// | `finish_snapshot` | [`SnapshotRef`] | [`CarView`] |
/// | `see_result` | [`SeeResult`] | [`ResultView`] |
/// | `see_settling` | [`SeeSettling`] | [`SettlingView`] |
/// | `why` | [`AskWhy`] | [`WhyView`] |
/// | `compare` | [`CompareAsk`] | [`CompareView`] |
/// | `see_checks` | [`SeeChecks`] | [`ChecksView`] |
/// | `print_checks` | [`SeeChecks`] | [`BlankSheet`] |
/// | `open_under` | [`CarRef`] | [`UnderView`] |
/// | `keep_under` | [`UnderForm`] | [`CarView`] |
/// | `open_photos` | [`SnapshotRef`] | [`PhotosView`] |
/// | `see_photo` | [`PhotoRef`] | [`PhotoPicture`] |
/// | `add_photo` | [`AddPhoto`] | [`PhotosView`] |
/// | `take_off_photo` | [`PhotoRef`] | [`PhotosView`] |
/// | `put_back_photo` | [`PhotoRef`] | [`PhotosView`] |
/// | `keep_twist` | [`KeepTwist`] | [`CarView`] |
/// | `withdraw_twist` | [`WithdrawTwist`] | [`CarView`] |
/// | `body_remounted` | [`CarRef`] | [`CarView`] |
/// | `open_book` | [`SnapshotRef`] | [`BookView`] |
/// | `correct_reading` | [`CorrectReading`] | [`BookView`] |
/// | `add_missed_reading` | [`AddMissedReading`] | [`BookView`] |
/// | `correct_condition` | [`CorrectCondition`] | [`BookView`] |
/// | `take_back_correction` | [`TakeBackCorrection`] | [`BookView`] |
/// | `open_history` | [`OpenHistory`] | [`HistoryView`] |
/// | `keep_event` | [`KeepEvent`] | [`HistoryView`] |
/// | `withdraw_event` | [`EventRef`] | [`HistoryView`] |
/// | `bring_back_event` | [`EventRef`] | [`HistoryView`] |
/// | `measure_again` | [`MeasureAgain`] | [`AgainView`] |
/// | `blank_sheet` | [`CarRef`] | [`BlankSheet`] |
/// | `print_card` | [`SnapshotRef`] | [`BlankSheet`] |
/// | `print_comparison` | [`CompareAsk`] | [`BlankSheet`] |
/// | `open_targets` | [`CarRef`] | [`TargetsView`] |
/// | `sketch_target` | [`TargetForm`] | [`TargetSketch`] |
/// | `keep_target` | [`TargetForm`] | [`TargetsView`] |
/// | `put_away_target` | [`PutAwayTarget`] | [`TargetsView`] |
/// | `copy_target` | [`CopyTarget`] | [`TargetsView`] |
/// | `write_target` | [`TargetRef`] | [`Exported`] |
/// | `open_target_file` | [`OpenTargetFile`] | [`TargetsView`] |
/// | `print_history` | [`CarRef`] | [`BlankSheet`] |
/// | `print_settling` | [`SeeSettling`] | [`BlankSheet`] |
/// | `set_out` | [`SetOutAsk`] | [`SetOutView`] |
/// | `open_plans` | [`CarRef`] | [`PlansView`] |
/// | `sketch_plan` | [`PlanForm`] | [`PlanView`] |
/// | `keep_plan` | [`PlanForm`] | [`PlansView`] |
/// | `mark_plan` | [`MarkPlan`] | [`PlansView`] |
/// | `keep_part` | [`PartForm`] | [`PlansView`] |
/// | `search_plan` | [`SearchAsk`] | [`SearchView`] |
/// | `tick_task` | [`TickTask`] | [`PlansView`] |
/// | `print_plan` | [`PlanForm`] | [`BlankSheet`] |
/// | `open_mechanism` | [`MechanismRef`] | [`MechanismFormView`] |
/// | `keep_mechanism` | [`MechanismForm`] | [`CarView`] |
/// | `see_gearing` | [`SeeGearing`] | [`GearingView`] |
/// | `see_steering` | [`SeeMechanism`] | [`SteeringView`] |
/// | `see_driveline` | [`SeeMechanism`] | [`DrivelineView`] |
/// | `see_spring` | [`SeeSpring`] | [`SpringView`] |
/// | `see_fitment` | [`SeeFitment`] | [`FitmentView`] |
/// | `see_bench_sums` | [`SeeBenchSums`] | [`BenchSumsView`] |
/// | `open_measured` | [`MeasuredRef`] | [`MeasuredForm`] |
/// | `keep_measured` | [`KeepMeasured`] | [`MeasuredForm`] |
/// | `leave_measured_out` | [`MeasuredRef`] | `null` |
/// | `open_grounds` | `{}` | [`GroundsView`] |
/// | `open_ground` | [`GroundRef`] | [`GroundView`] |
/// | `keep_ground` | [`GroundForm`] | [`GroundView`] |
/// | `put_away_ground` | [`PutAwayGround`] | [`GroundsView`] |
/// | `take_station` | [`TakeStation`] | [`GroundView`] |
/// | `undo_station` | [`GroundRef`] | [`GroundView`] |
/// | `put_back_station` | [`GroundRef`] | [`GroundView`] |
/// | `see_ramp` | [`SeeRamp`] | [`RampView`] |
/// | `print_ramp` | [`SeeRamp`] | [`BlankSheet`] |
/// | `count_photos` | [`CarRef`] | [`PhotoCount`] |
/// | `export_car` | [`ExportCar`] | [`Exported`] |
/// | `import_file` | [`ImportFile`] | [`GarageView`] |
pub const VERBS: &[&str] = &[
    "open_garage",
    "open_sample_garage",
    "set_settings",
    "add_car",
    "change_car",
    "sketch_car",
    "open_car",
    "read_length",
    "read_tire",
    "add_floor",
    "open_floor",
    "take_floor_reading",
    "undo_floor_reading",
    "put_back_floor_reading",
    "add_pass",
    "open_instruments",
    "keep_instrument",
    "put_away_instrument",
    "change_floor",
    "take_straightedge",
    "strike_floor_reading",
    "use_floor",
    "begin_snapshot",
    "read_load",
    "open_condition",
    "change_condition",
    "keep_form",
    "kept_forms",
    "open_walk",
    "go_to_step",
    "keep_draft",
    "take_reading",
    "enter_reading",
    "check_sheet",
    "undo_reading",
    "put_back",
    "strike_reading",
    "unstrike_reading",
    "skip_step",
    "order_walk",
    "finish_snapshot",
    "see_result",
    "see_settling",
    "why",
    "compare",
    "see_checks",
    "print_checks",
    "open_under",
    "keep_under",
    "open_photos",
    "see_photo",
    "add_photo",
    "take_off_photo",
    "put_back_photo",
    "keep_twist",
    "withdraw_twist",
    "body_remounted",
    "open_book",
    "correct_reading",
    "add_missed_reading",
    "correct_condition",
    "take_back_correction",
    "open_history",
    "keep_event",
    "withdraw_event",
    "bring_back_event",
    "measure_again",
    "blank_sheet",
    "print_card",
    "print_comparison",
    "open_targets",
    "sketch_target",
    "keep_target",
    "put_away_target",
    "copy_target",
    "write_target",
    "open_target_file",
    "print_history",
    "print_settling",
    "set_out",
    "open_plans",
    "sketch_plan",
    "keep_plan",
    "mark_plan",
    "keep_part",
    "search_plan",
    "tick_task",
    "print_plan",
    "open_mechanism",
    "keep_mechanism",
    "see_gearing",
    "see_steering",
    "see_driveline",
    "see_spring",
    "see_bench_sums",
    "see_fitment",
    "open_measured",
    "keep_measured",
    "leave_measured_out",
    "open_grounds",
    "open_ground",
    "keep_ground",
    "put_away_ground",
    "take_station",
    "undo_station",
    "put_back_station",
    "see_ramp",
    "print_ramp",
    "count_photos",
    "export_car",
    "import_file",
];
