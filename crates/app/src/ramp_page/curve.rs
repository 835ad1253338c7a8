//! The gap of one point along the way, for as far as it matters.

use super::{Way, words};
use crate::compare_page::Asked;
use crate::wire::{RampCurve, RampLine, StanceChoice, StanceLine};
use crate::words::{capital, whole};
use trueground_core::checks::over_ground::{Drive, Facing, KEPT_MM};
use trueground_core::checks::ramp::curve as gaps;
use trueground_core::wording::shown;

/// Gaps above this are not drawn, mm.
const DRAWN_MM: f64 = 130.0;
/// Points of a drawn line, about.
const DRAWN_POINTS: usize = 200;
/// The least way that is drawn, mm.
const SHORTEST_MM: f64 = 1_000.0;

pub(super) fn curve(asked: &Asked, stance: &StanceChoice, way: &Way<'_>, beside: Option<&Drive<'_>>) -> RampCurve {
    let name = &way.over.run.point;
    let whole_way = counted(&way.drive, name);
    let touching = stretch(&whole_way, way.over.front_axle_at_mm, 0.0);
    let [mut from, mut to] =
        stretch(&whole_way, way.over.front_axle_at_mm, DRAWN_MM).unwrap_or([way.over.front_axle_at_mm; 2]);
    if to - from < SHORTEST_MM {
        let middle = f64::midpoint(from, to);
        (from, to) = (middle - SHORTEST_MM / 2.0, middle + SHORTEST_MM / 2.0);
    }
    let mut lines = vec![line(&stance.short, stance.line, &whole_way, [from, to])];
    if let Some(beside) = beside.filter(|beside| beside.ramp.points.len() == way.drive.ramp.points.len()) {
        let newest = asked.snapshots().into_iter().next();
        let label = newest.map_or_else(|| "now".to_owned(), |newest| newest.label);
        lines.push(line(&label, StanceLine::Now, &counted(beside, name), [from, to]));
    }
    let point = capital(&shown(way.drive.called(name)));
    let going = if way.drive.facing == Facing::NoseFirst { "driving in" } else { "backing in" };
    let place = words::at(way.ground, way.over.front_axle_at_mm);
    RampCurve {
        title: format!("{point}, {going}"),
        kept_mm: KEPT_MM,
        counted: format!("front axle past {}, mm", way.ground.counted_from()),
        span: [from, to],
        text: format!(
            "Gap of {} along the way: least {} mm with the front axle {place}.",
            point.to_lowercase(),
            whole(way.over.gap.value)
        ),
        lines,
        touching,
    }
}

/// The gap, counted as the ground is driven in.
fn counted(drive: &Drive<'_>, name: &str) -> Vec<[f64; 2]> {
    let mut all: Vec<[f64; 2]> =
        gaps(&drive.ramp, name).into_iter().map(|[s, gap]| [drive.on_ground(s), gap]).collect();
    all.sort_by(|a, b| a[0].total_cmp(&b[0]));
    all
}

/// From where to where round a place the gap stays below a limit.
fn stretch(all: &[[f64; 2]], at: f64, below: f64) -> Option<[f64; 2]> {
    let here = all.iter().position(|[s, _]| (s - at).abs() < 1e-6).filter(|here| all[*here][1] < below)?;
    let first = all[..here].iter().rposition(|[_, gap]| *gap >= below).map_or(0, |before| before + 1);
    let last = all[here..].iter().position(|[_, gap]| *gap >= below).map_or(all.len() - 1, |behind| here + behind - 1);
    Some([all[first][0], all[last][0]])
}

fn line(label: &str, line: StanceLine, all: &[[f64; 2]], [from, to]: [f64; 2]) -> RampLine {
    let inside: Vec<[f64; 2]> = all.iter().copied().filter(|[s, _]| (from..=to).contains(s)).collect();
    let every = inside.len().div_ceil(DRAWN_POINTS).max(1);
    let least = inside.iter().enumerate().min_by(|a, b| a.1[1].total_cmp(&b.1[1])).map(|(i, _)| i);
    let drawn = inside
        .iter()
        .enumerate()
        .filter(|(i, _)| i.is_multiple_of(every) || Some(*i) == least || *i + 1 == inside.len());
    RampLine { label: label.to_owned(), line, points: drawn.map(|(_, point)| *point).collect() }
}
