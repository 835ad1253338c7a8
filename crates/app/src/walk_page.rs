//! The walk's page: every step with what was read there, where the person is, and what can be undone.

use crate::Garage;
use crate::floor_page::{floor, slope, vehicle, with_state};
use crate::garage_row;
use crate::half_typed;
use crate::history::{Act, History};
use crate::plan::{Plan, corners};
use crate::sheet_page;
use crate::side::of_design;
use crate::slip::{Noise, Said, TooMuch, about_newest};
use crate::snapshot_row::{load_words, progress, typed};
use crate::step::Step;
use crate::steps::{next_open, steps};
use crate::wire::{Problem, StepKind, StepView, StruckView, TakenBack, TapeUnit, WalkView};
use crate::words::{as_read, degrees};
use trueground_core::capture::{Facing, Floor, Instrument, Snapshot};
use trueground_core::car::Vehicle;
use trueground_core::corner::Corners;
use trueground_store::{Reading, SnapshotRecord, Standing};
use uuid::Uuid;

/// Where the walk is when all is read.
pub(crate) const END: &str = "end";

/// A snapshot as it is walked.
#[derive(Debug)]
pub(crate) struct Walk {
    pub(crate) snapshot: SnapshotRecord,
    pub(crate) vehicle: Vehicle,
    pub(crate) plan: Plan,
    pub(crate) steps: Vec<Step>,
    pub(crate) history: History,
    pub(crate) noise: Noise,
    pub(crate) too_much: TooMuch,
}

impl Walk {
    /// Reads the snapshot.
    ///
    /// # Errors
    /// It cannot be read.
    pub(crate) fn of(garage: &Garage, id: Uuid) -> Result<Self, Problem> {
        let snapshot = garage.store.snapshot(id)?;
        let document = garage.store.car(snapshot.car)?.document;
        let vehicle = vehicle(&document)?;
        let instrument: Instrument = serde_json::from_value(document["instrument"].clone()).unwrap_or_default();
        let plan = Plan::of(&snapshot, &vehicle);
        let steps = steps(&snapshot, &plan, &vehicle);
        let history = History::of(&snapshot.readings, &plan.skips, &steps);
        let noise = Noise::of(&instrument, plan.tape);
        let too_much = TooMuch::of(garage, &snapshot)?;
        Ok(Self { snapshot, vehicle, plan, steps, history, noise, too_much })
    }

    /// The reading that counts at a step.
    pub(crate) fn read(&self, step: &Step) -> Option<&Reading> {
        self.snapshot.readings.iter().rev().find(|reading| reading.counts() && step.reads(reading))
    }

    /// What was read, mm or degrees, without what its tape is known to say too much.
    pub(crate) fn without_too_much(&self, reading: &Reading) -> f64 {
        reading.taken.value - self.too_much.in_reading(reading)
    }

    /// True where a step is neither read nor skipped.
    pub(crate) fn open(&self, step: &Step) -> bool {
        self.read(step).is_none() && !self.skipped(step)
    }

    /// True where a step was left out and not come back to.
    pub(crate) fn skipped(&self, step: &Step) -> bool {
        self.read(step).is_none() && self.history.skipped.contains(&step.key())
    }

    /// Place of a step by its name.
    pub(crate) fn place(&self, key: &str) -> Option<usize> {
        self.steps.iter().position(|step| step.key() == key)
    }

    /// Where the person is.
    pub(crate) fn at(&self) -> usize {
        let kept = self.snapshot.draft.as_ref().and_then(|draft| self.place(&draft.step));
        let first = || self.steps.iter().position(|step| self.open(step)).unwrap_or(self.steps.len());
        kept.unwrap_or_else(first)
    }

    /// The step of that place in the list.
    ///
    /// # Errors
    /// There is none such.
    pub(crate) fn step(&self, place: u32) -> Result<&Step, Problem> {
        self.steps.get(place as usize).ok_or_else(|| {
            let sentence = format!("There is no step {place}: this walk has {}.", self.steps.len());
            Problem::new("step_unknown", sentence, "Leave the walk and open it again.")
        })
    }

    /// The newest reading that counts.
    pub(crate) fn newest(&self) -> Option<&Reading> {
        self.snapshot.readings.iter().rev().find(|reading| reading.counts())
    }

    /// The step at which a reading was taken; one beyond the plan is made up for it.
    pub(crate) fn step_of(&self, reading: &Reading) -> Option<Step> {
        self.steps.iter().find(|step| step.reads(reading)).cloned().or_else(|| {
            let near = self.steps.iter().find(|step| step.same_place(reading))?;
            Some(Step { round: reading.taken.round, ..near.clone() })
        })
    }

    /// Name of the step to go to after a reading at `place`; [`END`] where all is read or skipped.
    pub(crate) fn next_key(&self, place: usize) -> String {
        self.steps.get(self.next_place(place)).map_or_else(|| END.to_owned(), Step::key)
    }

    /// Place of the step to go to after a reading at `place`; the number of steps where all is read or skipped.
    pub(crate) fn next_place(&self, place: usize) -> usize {
        next_open(&self.steps, |step| self.open(step) && *step != self.steps[place], place)
    }

    /// Name of the step to go to from `place` when these steps are left out.
    pub(crate) fn next_key_without(&self, place: usize, left_out: &[String]) -> String {
        let open = |step: &Step| self.open(step) && !left_out.contains(&step.key());
        let next = next_open(&self.steps, open, place);
        self.steps.get(next).map_or_else(|| END.to_owned(), Step::key)
    }

    /// Where the walk goes when a reading counts again: on, if the person stands at its step.
    pub(crate) fn on_from(&self, reading: &Reading) -> Option<String> {
        let place = self.place(&self.step_of(reading)?.key())?;
        (self.at() == place).then(|| self.next_key(place))
    }
}

/// The page.
///
/// # Errors
/// The snapshot cannot be read.
pub(crate) fn page(garage: &Garage, id: Uuid) -> Result<WalkView, Problem> {
    view(garage, &Walk::of(garage, id)?)
}

/// The page of a walk that is read already.
///
/// # Errors
/// The floor cannot be read.
pub(crate) fn view(garage: &Garage, walk: &Walk) -> Result<WalkView, Problem> {
    let snapshot = typed(&walk.snapshot)?;
    let standing_on = standing_on(garage, walk)?;
    let kept = garage_row::kept(&garage.store.car_head(walk.snapshot.car)?).and_then(|kept| kept.side);
    let Said { question: differs, note } = about_newest(garage, walk)?;
    let draft = walk.snapshot.draft.as_ref();
    // Half-typed text at the mark in question is its next repeat; the walk itself goes on behind it.
    let asked = differs.as_ref().map(|differs| differs.step as usize);
    let once_more = asked.filter(|place| draft.is_some_and(|draft| draft.step == walk.steps[*place].key()));
    let at = once_more.map_or_else(|| walk.at(), |place| walk.next_place(place));
    let read = walk.steps.iter().filter(|step| walk.read(step).is_some()).count();
    Ok(WalkView {
        snapshot: walk.snapshot.id.to_string(),
        car: walk.snapshot.car.to_string(),
        car_label: walk.vehicle.label.clone(),
        date: snapshot.date.clone(),
        floor: with_state(standing_on.as_ref()),
        load: load_words(&walk.vehicle, &snapshot),
        mock_up: !snapshot.on_wheels(),
        slope: standing_on.as_ref().and_then(|floor| slope(floor, &walk.vehicle)),
        facing: snapshot.facing,
        tape: walk.plan.tape,
        own_tape: walk.snapshot.document["tape"].as_str().map(str::to_owned),
        rounds: walk.plan.rounds,
        bounces: walk.plan.bounces,
        level_line: walk.plan.level_line,
        order: walk.plan.order,
        corners: corners(walk.plan.order).to_vec(),
        wheel_on_spot: snapshot.floor.is_some().then(|| wheel_on_spot(&snapshot)),
        steps: (0..walk.steps.len()).map(|place| step_view(walk, place)).collect(),
        at: counted(at),
        draft: half_typed::at(walk, asked.unwrap_or(at)),
        read: counted(read),
        skipped: counted(walk.steps.iter().filter(|step| walk.skipped(step)).count()),
        state: progress(&walk.snapshot, &walk.vehicle),
        taken_back: walk.history.undone.last().and_then(|act| taken_back(walk, act)),
        can_undo: !walk.snapshot.finished && !walk.history.done.is_empty(),
        undo_words: walk
            .history
            .done
            .last()
            .and_then(|act| taken_back(walk, act))
            .map(|act| act.words)
            .unwrap_or_default(),
        differs,
        note,
        struck: walk.snapshot.readings.iter().filter_map(|reading| struck(walk, reading)).collect(),
        side: kept.unwrap_or_else(|| of_design(&walk.vehicle)),
        sheet: sheet_page::sheet(walk),
    })
}

/// The floor it stands on; `None`: somewhere that is not levelled.
///
/// # Errors
/// The floor cannot be read.
pub(crate) fn standing_on(garage: &Garage, walk: &Walk) -> Result<Option<Floor>, Problem> {
    let Some(name) = walk.snapshot.document["floor"].as_str() else { return Ok(None) };
    let floors = garage.store.floors(walk.snapshot.car)?;
    match floors.into_iter().find(|(_, known)| known == name) {
        Some((id, _)) => Ok(Some(floor(&garage.store.floor(id)?.file())?)),
        None => Ok(None),
    }
}

fn step_view(walk: &Walk, place: usize) -> StepView {
    let step = &walk.steps[place];
    let reading = walk.read(step).map(|reading| &reading.taken);
    let skipped = walk.steps.iter().any(|other| other != step && walk.skipped(other));
    let last = if skipped { "next: what was skipped" } else { "last reading" };
    let then = walk.steps.get(walk.next_place(place)).map_or(last.to_owned(), |next| next.as_next(step));
    StepView {
        kind: step.kind,
        corner: step.corner,
        point: step.place.clone(),
        words: step.words(),
        plain: step.plain().to_owned(),
        short: step.short().to_owned(),
        bounce: step.bounce,
        round: step.round,
        reversed: step.reversed,
        s_mm: step.s_mm,
        text: reading.map(|taken| as_typed(step, &taken.text)),
        printed: reading.map(|taken| printed(step.kind, taken.value, walk.plan.tape)),
        value: reading.map(|taken| shown_value(step.kind, taken.value)),
        skipped: walk.skipped(step),
        place: step.in_one_line(&walk.plan),
        then,
    }
}

fn printed(kind: StepKind, value: f64, tape: TapeUnit) -> String {
    match kind {
        StepKind::Gauge => degrees(value),
        StepKind::Height | StepKind::Hub | StepKind::HubToLip | StepKind::Plane => {
            as_read(shown_value(kind, value), tape)
        }
    }
}

/// The sign of a reading from a level line is the plan's; on screen it stands as it was typed.
fn shown_value(kind: StepKind, value: f64) -> f64 {
    if kind == StepKind::Plane { value.abs() } else { value }
}

fn as_typed(step: &Step, text: &str) -> String {
    let bare = (step.kind == StepKind::Plane).then(|| text.strip_prefix('-')).flatten();
    bare.unwrap_or(text).to_owned()
}

/// An act in words, and where it was done.
fn taken_back(walk: &Walk, act: &Act) -> Option<TakenBack> {
    let (step, words) = match act {
        Act::Skip(steps) => {
            let at = walk.place(steps.first()?)?;
            let words = match &steps[..] {
                [_] => walk.steps[at].brief(),
                _ => format!("{}, {} readings", walk.steps[at].corner.words(), steps.len()),
            };
            return Some(TakenBack { step: counted(at), words: format!("the skipping of {words}") });
        }
        Act::Take(at) => reading_in_words(walk, *at)?,
        Act::Strike(at, _) => {
            let (step, words) = reading_in_words(walk, *at)?;
            (step, format!("the striking of {words}"))
        }
        Act::Unstrike(at, _) => {
            let (step, words) = reading_in_words(walk, *at)?;
            (step, format!("the return of {words}"))
        }
    };
    Some(TakenBack { step: counted(step), words })
}

fn reading_in_words(walk: &Walk, at: usize) -> Option<(usize, String)> {
    let reading = &walk.snapshot.readings[at];
    let step = walk.step_of(reading)?;
    let place = walk.place(&step.key()).or_else(|| walk.steps.iter().position(|near| near.same_place(reading)))?;
    Some((place, format!("{}, {}", step.brief(), printed(step.kind, reading.taken.value, walk.plan.tape))))
}

/// The spot under each wheel: as the snapshot says, else as it faces.
fn wheel_on_spot(snapshot: &Snapshot) -> Corners<String> {
    let spots = match snapshot.facing {
        Facing::A => ["S1", "S2", "S3", "S4"],
        Facing::B => ["S4", "S3", "S2", "S1"],
    };
    snapshot.wheel_on_spot.clone().unwrap_or_else(|| Corners::from_fn(|corner| spots[corner.index()].to_owned()))
}

fn struck(walk: &Walk, reading: &Reading) -> Option<StruckView> {
    let Standing::Struck { reason, at } = &reading.standing else { return None };
    let step = walk.step_of(reading)?;
    Some(StruckView {
        reading: reading.taken.id.to_string(),
        step: walk.place(&step.key()).map(counted),
        words: step.brief(),
        printed: printed(step.kind, reading.taken.value, walk.plan.tape),
        reason: reason.clone(),
        // `2031-04-12T14:24:00+02:00`: the time of day.
        at: at.as_ref().and_then(|at| at.get(11..16)).unwrap_or_default().to_owned(),
        can_unstrike: !walk.snapshot.finished && walk.read(&step).is_none(),
    })
}

pub(crate) fn counted(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}
