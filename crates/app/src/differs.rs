//! Repeats of one mark that differ more than the tape explains, and the slip that may stand behind it.

use crate::step::Step;
use crate::wire::{Differs, StepKind, TapeUnit};
use crate::words::{degrees, on_tape, whole};
use trueground_store::Reading;

/// 3·√2 times the standard uncertainty of one reading: two repeats differ by more once in 400 [domain: known noise, not a
/// test of the sample].
fn limit(kind: StepKind, tape_u_mm: f64) -> f64 {
    const GAUGE_U_DEG: f64 = 0.07;
    3.0 * std::f64::consts::SQRT_2 * if kind == StepKind::Gauge { GAUGE_U_DEG } else { tape_u_mm }
}

/// The question to ask in place, if the newest repeat lies near none of the others. `repeats` in the order of rounds.
pub(crate) fn question(
    place: u32,
    step: &Step,
    newest: &Reading,
    repeats: &[&Reading],
    tape: TapeUnit,
    tape_u_mm: f64,
) -> Option<Differs> {
    let others: Vec<&Reading> = repeats.iter().copied().filter(|other| other.taken.id != newest.taken.id).collect();
    let gap = |other: &&Reading| (other.taken.value - newest.taken.value).abs();
    let nearest = others.iter().copied().min_by(|a, b| gap(a).total_cmp(&gap(b)))?;
    if gap(&nearest) <= limit(step.kind, tape_u_mm) {
        return None;
    }
    let printed = |value: f64| match step.kind {
        StepKind::Gauge => degrees(value),
        StepKind::Plane => on_tape(value.abs(), tape),
        _ => on_tape(value, tape),
    };
    let shown = |value: f64| if step.kind == StepKind::Plane { value.abs() } else { value };
    let size = match step.kind {
        StepKind::Gauge => degrees(gap(&nearest)),
        _ => format!("{} mm", whole(gap(&nearest))),
    };
    let sentence = match others.len() {
        1 => format!("These two differ by {size}. Read it once more?"),
        _ => format!("This one is {size} from the nearest. Read it once more?"),
    };
    let pair = format!("{}, {}", printed(nearest.taken.value), printed(newest.taken.value));
    let hint = match step.kind {
        StepKind::Gauge => String::new(),
        _ => slip(nearest.taken.value, newest.taken.value, &step.place, &pair),
    };
    Some(Differs {
        step: place,
        sentence,
        hint,
        values: repeats.iter().map(|reading| shown(reading.taken.value)).collect(),
        printed: repeats.iter().map(|reading| printed(reading.taken.value)).collect(),
    })
}

/// What kind of slip a difference looks like; empty where it looks like none.
fn slip(earlier: f64, newest: f64, place: &str, pair: &str) -> String {
    let difference = newest - earlier;
    let corner = place.rsplit('.').next().unwrap_or(place);
    let more = if difference > 0.0 { "more" } else { "less" };
    let near = |size: f64| (difference.abs() - size).abs() <= 1.5;
    if swapped(earlier, newest) {
        return format!("{corner}: two digits look swapped: {pair}.");
    }
    for (size, words) in [(25.4, "an inch"), (12.7, "half an inch"), (100.0, "100 mm"), (10.0, "10 mm")] {
        if near(size) {
            return format!("{corner} reads {words} {more} than before: {pair}.");
        }
    }
    String::new()
}

/// Whether two whole numbers have the same digits in another order, by one exchange of neighbours.
fn swapped(a: f64, b: f64) -> bool {
    let (a, b) = (whole(a), whole(b));
    let (a, b) = (a.as_bytes(), b.as_bytes());
    if a.len() != b.len() {
        return false;
    }
    let differing: Vec<usize> = (0..a.len()).filter(|at| a[*at] != b[*at]).collect();
    matches!(differing[..], [first, second] if second == first + 1 && a[first] == b[second] && a[second] == b[first])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_is_named_only_where_it_looks_like_one() {
        for (earlier, newest, says) in [
            (600.1, 625.475, "FL reads an inch more than before: 1, 2."),
            (612.7, 600.0, "FL reads half an inch less than before: 1, 2."),
            (600.0, 700.0, "FL reads 100 mm more than before: 1, 2."),
            (600.0, 610.0, "FL reads 10 mm more than before: 1, 2."),
            (574.0, 547.0, "FL: two digits look swapped: 1, 2."),
            (600.0, 617.0, ""),
        ] {
            assert_eq!(slip(earlier, newest, "rail.FL", "1, 2"), says, "{earlier} {newest}");
        }
    }
}
