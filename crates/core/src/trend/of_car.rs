//! The settling of a car: one series for the front and one for the rear of each kind of point, from its snapshots.

use super::answer::{Model, Settling, settle};
use super::series::{Height, Series};
use crate::bench::Refusal;
use crate::capture::{CarFile, Event, Snapshot};
use crate::car::PointKind;
use crate::level::Solution;
use crate::stance::Figure;
use chrono::NaiveDate;
use serde::Serialize;

/// Which end of the car.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum End {
    /// Mean of left and right in front.
    Front,
    /// The same behind.
    Rear,
}

impl End {
    const ALL: [Self; 2] = [Self::Front, Self::Rear];

    const fn mean(self) -> &'static str {
        match self {
            Self::Front => "front_mean_mm",
            Self::Rear => "rear_mean_mm",
        }
    }
}

/// One height of a line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SnapshotHeight {
    /// The snapshot's name.
    pub snapshot: String,
    /// Its day, `YYYY-MM-DD`.
    pub date: String,
    /// Days since the settling began; negative before it.
    pub day: f64,
    /// At nominal load and pressures, mm.
    pub height_mm: f64,
    /// Its standard uncertainty (k = 1), mm.
    pub u_mm: f64,
    /// What load and pressures of the day were taken out, mm; 0 where nothing was.
    pub taken_out_mm: f64,
    /// Kilometres on the clock since the settling began, where both were booked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub km: Option<f64>,
}

/// How one end of one kind of point settles.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LineSettling {
    /// The kind of point.
    pub kind: PointKind,
    /// Which end.
    pub end: End,
    /// The day on which the settling began, `YYYY-MM-DD`.
    pub day_0: String,
    /// Every height of the line in order, those before day 0 too.
    pub heights: Vec<SnapshotHeight>,
    /// What they say.
    #[serde(flatten)]
    pub settling: Settling,
}

/// Works out the settling of every line of a car.
///
/// Day 0 is that of the last event with `resets_settling`, else of the first snapshot; earlier snapshots take no part. Every height
/// has its full uncertainty, with what it shares with the others (the tape's zero, a floor's levelling): for the law's bend that
/// is too much by a little, for the final height about right.
///
/// # Errors
/// A day that is no date, or heights that no law can be laid through.
pub fn settle_car(file: &CarFile, solution: &Solution, model: Model) -> Result<Vec<LineSettling>, Refusal> {
    let dated = on_its_wheels(file)?;
    let reset = last_reset(file)?;
    let Some(day_0) = reset.map(|(date, _)| date).or_else(|| dated.first().map(|(date, _)| *date)) else {
        return Ok(Vec::new());
    };
    let mut lines = Vec::new();
    for kind in PointKind::ALL {
        for end in End::ALL {
            let heights = Heights::of(solution, &dated, kind, end, day_0, reset.map(|(_, event)| event));
            if let Some(line) = heights.settling(kind, end, day_0, model)? {
                lines.push(line);
            }
        }
    }
    Ok(lines)
}

/// Snapshots with their days, in order. A mock-up on stands is no ride height.
pub(super) fn on_its_wheels(file: &CarFile) -> Result<Vec<(NaiveDate, &Snapshot)>, Refusal> {
    let mut dated = Vec::new();
    for (i, snapshot) in file.snapshots.iter().enumerate().filter(|(_, snapshot)| snapshot.on_wheels()) {
        dated.push((date(&snapshot.date, &format!("snapshots[{i}].date"))?, snapshot));
    }
    dated.sort_by_key(|(date, _)| *date);
    Ok(dated)
}

fn date(text: &str, path: &str) -> Result<NaiveDate, Refusal> {
    text.parse().map_err(|_| {
        let message = format!("{path} is {}, not a day.", crate::wording::shown(text));
        Refusal::new(message, "Write it as 2031-05-03.")
    })
}

/// The last work after which springs settle anew.
pub(super) fn last_reset(file: &CarFile) -> Result<Option<(NaiveDate, &Event)>, Refusal> {
    let mut last: Option<(NaiveDate, &Event)> = None;
    for (i, event) in file.events.iter().enumerate().filter(|(_, event)| event.resets_settling) {
        let on = date(&event.date, &format!("events[{i}].date"))?;
        if last.is_none_or(|(before, _)| before <= on) {
            last = Some((on, event));
        }
    }
    Ok(last)
}

/// True for a snapshot taken before the work: of an earlier day, or of the same with fewer kilometres on the clock.
fn before(snapshot: &Snapshot, day: f64, reset: Option<&Event>) -> bool {
    let fewer = || {
        let clocks = snapshot.odometer_km.zip(reset.and_then(|event| event.odometer_km));
        clocks.is_some_and(|(then, work)| then < work)
    };
    day < 0.0 || (day == 0.0 && fewer())
}

/// Heights of one line in order, and which of them take part.
struct Heights {
    path: String,
    all: Vec<SnapshotHeight>,
    taking_part: Vec<usize>,
}

impl Heights {
    fn of(
        solution: &Solution,
        dated: &[(NaiveDate, &Snapshot)],
        kind: PointKind,
        end: End,
        day_0: NaiveDate,
        reset: Option<&Event>,
    ) -> Self {
        let path = format!("lines_nominal.{}.{}", kind.code(), end.mean());
        let mut heights = Self { path, all: Vec::new(), taking_part: Vec::new() };
        for (date, snapshot) in dated {
            let Some(stance) = solution.snapshots.iter().find(|stance| stance.id == snapshot.id) else { continue };
            let at_end = |line: Option<&crate::stance::Line>| -> Option<Figure> {
                line.map(|line| if end == End::Front { line.front_mean_mm } else { line.rear_mean_mm })
            };
            let nominal = at_end(stance.lines_nominal.get(kind.code()));
            let loaded = at_end(stance.lines.get(kind.code()));
            let Some((value, u)) = nominal.and_then(|figure| figure.value.zip(figure.u)) else { continue };
            let day = (*date - day_0).num_days() as f64;
            let km = snapshot.odometer_km.zip(reset.and_then(|event| event.odometer_km)).map(|(now, then)| now - then);
            let taken_out_mm = loaded.and_then(|figure| figure.value).map_or(0.0, |loaded| value - loaded);
            let height = SnapshotHeight {
                snapshot: snapshot.id.clone(),
                date: date.to_string(),
                day,
                height_mm: value,
                u_mm: u,
                taken_out_mm,
                km,
            };
            if heights.repeats_the_last(solution, &height) {
                continue;
            }
            if !before(snapshot, day, reset) {
                heights.taking_part.push(heights.all.len());
            }
            heights.all.push(height);
        }
        heights
    }

    /// True for a second placement of the same stance: its heights are the same unknowns.
    fn repeats_the_last(&self, solution: &Solution, height: &SnapshotHeight) -> bool {
        self.all.last().is_some_and(|last| {
            let change = solution.change(&last.snapshot, &height.snapshot, &self.path);
            last.day == height.day && change.and_then(|change| change.u).is_some_and(|u| u < 1e-9)
        })
    }

    fn settling(
        self,
        kind: PointKind,
        end: End,
        day_0: NaiveDate,
        model: Model,
    ) -> Result<Option<LineSettling>, Refusal> {
        if self.taking_part.is_empty() {
            return Ok(None);
        }
        let heights = self.taking_part.iter().map(|at| &self.all[*at]);
        let heights = heights.map(|h| Height { day: h.day, height_mm: h.height_mm, u_mm: h.u_mm }).collect();
        let series = Series { heights, ..Series::default() };
        let settling = settle(&series, model)?;
        Ok(Some(LineSettling { kind, end, day_0: day_0.to_string(), heights: self.all, settling }))
    }
}
