//! Whether a target makes sense: every number in its range, every limit with an end.

use super::{Limit, Target};
use crate::wording::shown;

/// Largest height of a point, mm.
const MOST_MM: f64 = 5_000.0;

/// Finds what is wrong with a target's numbers: where in it, and what, with the value and the range.
pub(crate) fn check_numbers(target: &Target, mut found: impl FnMut(String, String)) {
    let mut height = |place: String, mm: f64| {
        if !(mm > 0.0 && mm <= MOST_MM) {
            found(place, format!("{mm} mm is outside 0 to 5000 mm"));
        }
    };
    for (point, mm) in &target.heights_mm {
        height(format!("heights_mm.{}", shown(point)), *mm);
    }
    let own =
        target.tolerances_mm.iter().map(|(point, mm)| (format!("tolerances_mm.{}", shown(point)), Some(*mm), 1_000.0));
    let tolerances = [
        ("tolerance_mm", Some(target.tolerance_mm), 1_000.0),
        ("rake_tolerance_deg", target.rake_tolerance_deg, 45.0),
        ("side_to_side_tolerance_mm", target.side_to_side_tolerance_mm, 1_000.0),
    ];
    let tolerances = tolerances.into_iter().map(|(name, value, most)| (name.to_owned(), value, most));
    for (name, value, most) in tolerances.chain(own) {
        if let Some(value) = value.filter(|value| !(*value > 0.0 && *value <= most)) {
            found(name, format!("{value} is outside 0 to {most}"));
        }
    }
    if let Some(rake) = target.rake_deg.filter(|rake| !(-45.0..=45.0).contains(rake)) {
        found("rake_deg".to_owned(), format!("{rake} is outside -45 to 45"));
    }
}

/// The same for its limits.
pub(crate) fn check_limits(limits: &[Limit], mut found: impl FnMut(String, String)) {
    for (number, limit) in limits.iter().enumerate() {
        let place = format!("limits[{number}]");
        if limit.points.is_empty() {
            found(format!("{place}.points"), "names no point".to_owned());
        }
        let ends = [("lowest_mm", limit.lowest_mm), ("highest_mm", limit.highest_mm)];
        for (name, mm) in ends.into_iter().filter_map(|(name, mm)| Some((name, mm?))) {
            if !(mm > 0.0 && mm <= MOST_MM) {
                found(format!("{place}.{name}"), format!("{mm} mm is outside 0 to 5000 mm"));
            }
        }
        match (limit.lowest_mm, limit.highest_mm) {
            (None, None) => found(place, "has neither lowest_mm nor highest_mm".to_owned()),
            (Some(low), Some(high)) if low > high => {
                found(place, format!("the lowest height, {low} mm, is above the highest, {high} mm"));
            }
            _ => {}
        }
    }
}
