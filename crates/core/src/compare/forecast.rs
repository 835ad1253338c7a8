//! Where a car's settling will end, as a stance: its last snapshot, with front and rear gone the rest of their way.

use super::stance::SplitFigure;
use crate::capture::CarFile;
use crate::car::PointKind;
use crate::level::{Problem, Solution};
use crate::trend::{End, LineSettling, Model, SettleFigure, Settled, settle_car};

/// The stance a car will come to rest in. Every point goes with the line through the two means; left less right stays as it is.
///
/// The rest's doubt counts as independent of the snapshot's. They share the tape's zero and the floor, so that ± is a little too
/// wide, never too narrow.
#[derive(Clone, Debug, PartialEq)]
pub struct Forecast {
    /// The snapshot it sets out from.
    pub snapshot: String,
    /// The kind of point whose settling it is.
    pub kind: PointKind,
    /// Where that kind's front marks lie, mean of x, mm.
    pub front_x_mm: f64,
    /// The same behind; less than in front.
    pub rear_x_mm: f64,
    /// The front mean's last height, mm.
    pub front_mm: SplitFigure,
    /// The rear mean's, mm.
    pub rear_mm: SplitFigure,
}

impl Forecast {
    /// The forecast of a car's file, by the kind of point that is surest; a frame's before a fender's where both are alike.
    ///
    /// # Errors
    /// Nothing settles, or it is too early to say.
    pub fn of(file: &CarFile, solution: &Solution) -> Result<Self, Problem> {
        let hint = "Measure on five days or more after the work; then the settling says where it ends.";
        let lines = settle_car(file, solution, Model::Best)
            .map_err(|refused| Problem::new(refused.to_string(), "Correct it, then ask again."))?;
        let all = PointKind::ALL.into_iter().filter_map(|kind| Self::of_kind(file, &lines, kind));
        let doubt = |forecast: &Self| forecast.front_mm.u.hypot(forecast.rear_mm.u);
        all.min_by(|a, b| doubt(a).total_cmp(&doubt(b)))
            .ok_or_else(|| Problem::new("it is too early to say where the settling ends", hint))
    }

    fn of_kind(file: &CarFile, lines: &[LineSettling], kind: PointKind) -> Option<Self> {
        let end = |end: End| lines.iter().find(|line| line.kind == kind && line.end == end);
        let (front, rear) = (end(End::Front)?, end(End::Rear)?);
        let rest = |line: &LineSettling| {
            let told = line.settling.verdict != Settled::TooEarly;
            line.settling.final_height_mm.filter(|_| told).map(|SettleFigure { value, u }| SplitFigure { value, u })
        };
        let [front_x_mm, rear_x_mm] = super::pair::marks_x_mm(&file.vehicle, kind)?;
        let snapshot = front.heights.last()?.snapshot.clone();
        Some(Self { snapshot, kind, front_x_mm, rear_x_mm, front_mm: rest(front)?, rear_mm: rest(rear)? })
    }
}
