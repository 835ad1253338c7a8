//! Both stances from the side: one as it is, the other on the same wheels, higher or lower by the true differences.

use super::{Chosen, Compared};
use crate::side::of_stance;
use crate::wire::{DifferenceView, OverlayView, SideView};
use trueground_core::compare::{Load, Stance, compare};
use trueground_core::stance::{Figure, SnapshotStance};

/// The two; `None` where front or rear of one is not told.
pub(super) fn overlay(of: &Compared<'_>, front: &DifferenceView, rear: &DifferenceView) -> Option<OverlayView> {
    let apart = [front.value_mm?, rear.value_mm?];
    // What was measured is drawn as a car, the newer one where both were.
    let this_is_drawn = of.this.snapshot().is_some() || of.other.snapshot().is_none();
    let (drawn, other) = if this_is_drawn { (of.this, of.other) } else { (of.other, of.this) };
    let figure = drawn_side(of, drawn)?;
    let over = moved(&figure, if this_is_drawn { apart.map(|mm| -mm) } else { apart });
    Some(OverlayView { figure, over, figure_line: drawn.line(of.asked), over_line: other.line(of.asked) })
}

/// A stance by itself: as it was measured, or as far over the newest snapshot as the core says.
fn drawn_side(of: &Compared<'_>, drawn: &Chosen) -> Option<SideView> {
    let asked = of.asked;
    let base = drawn.snapshot().or_else(|| asked.newest())?;
    let stance = asked.solved.stance(&base.id)?;
    let lines = if of.load == Load::Nominal { stance.lines_nominal.clone() } else { stance.lines.clone() };
    let stance = SnapshotStance { lines, ..stance.clone() };
    let side = of_stance(&asked.solved.file.vehicle, &stance, of.kind)?;
    if drawn.snapshot().is_some() {
        return Some(side);
    }
    let solution = asked.solved.solution.as_ref().ok()?;
    let from = Stance::Measured(&base.id);
    let over = compare(&asked.solved.file, solution, drawn.stance(), from, of.load).ok()?;
    let means = over.means.get(of.kind.code())?;
    Some(moved(&side, [means.front.value?, means.rear.value?]))
}

/// A side view with everything on the body higher by so much at its front and rear marks, and in proportion between and beyond.
fn moved(side: &SideView, [front_mm, rear_mm]: [f64; 2]) -> SideView {
    let slope = (rear_mm - front_mm) / (side.rear_s_mm - side.front_s_mm);
    let at = |s_mm: f64| front_mm + slope * (s_mm - side.front_s_mm);
    let figure = |figure: &Figure, by: f64| Figure { value: figure.value.map(|value| value + by), ..*figure };
    SideView {
        front_mm: figure(&side.front_mm, front_mm),
        rear_mm: figure(&side.rear_mm, rear_mm),
        rail_front_mm: side.rail_front_mm + at(0.0),
        rail_rear_mm: side.rail_rear_mm + at(side.wheelbase_mm),
        lip_front_mm: side.lip_front_mm.map(|mm| mm + at(0.0)),
        lip_rear_mm: side.lip_rear_mm.map(|mm| mm + at(side.wheelbase_mm)),
        text: String::new(),
        ..side.clone()
    }
}
