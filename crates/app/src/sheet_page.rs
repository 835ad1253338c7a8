//! A filled booking sheet as it is entered: the rows of the paper, each with its steps.

use crate::sheet::marks;
use crate::step::Step;
use crate::walk_page::{Walk, counted};
use crate::wire::{SheetRow, SheetView, StepKind};
use crate::words::day;

/// The sheet of a snapshot that is entered from one; the words and numbers of a row are those that are printed on the paper.
pub(crate) fn sheet(walk: &Walk) -> Option<SheetView> {
    let at = walk.plan.sheet_read_at.as_deref()?;
    let (date, clock) = (at.get(..10)?, at.get(11..16)?);
    let marks = marks(&walk.vehicle);
    let mut rows: Vec<(Step, SheetRow)> = Vec::new();
    for (place, step) in walk.steps.iter().enumerate() {
        let same =
            |other: &Step| other.kind == step.kind && other.place == step.place && other.reversed == step.reversed;
        if let Some((_, row)) = rows.iter_mut().find(|(first, _)| same(first)) {
            row.steps.push(counted(place));
            continue;
        }
        let printed = marks.iter().find(|mark| mark.place == step.place && step.kind != StepKind::Gauge);
        let row = SheetRow {
            number: printed.map(|mark| counted(mark.number)),
            corner: step.corner,
            words: printed.map_or_else(|| step.words(), |mark| mark.words.clone()),
            steps: vec![counted(place)],
        };
        rows.push((step.clone(), row));
    }
    let rows = rows.into_iter().map(|(_, row)| row).collect();
    Some(SheetView { read_at: format!("{}, {clock}", day(date)), rows })
}
