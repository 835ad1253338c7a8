//! Every ground that is kept with the car: where the stance comes nearest on it, nose first or backed in, whichever is nearer.

use super::at_stance::AtStance;
use super::finding::{Finding, mm};
use super::over_ground::{Facing, KEPT_MM, drive};
use crate::ground::OwnGround;
use crate::wording::shown;

/// One finding a ground; one that cannot be driven over yet is left out.
pub(super) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    car.grounds.iter().filter(|ground| !ground.put_away).filter_map(|ground| finding(car, ground)).collect()
}

fn finding(car: &AtStance<'_>, ground: &OwnGround) -> Option<Finding> {
    let both = Facing::ALL.into_iter().filter_map(|facing| {
        let drive = drive(car, ground, facing).ok()?;
        let over = drive.over().ok()?;
        Some((facing, drive.called(&over.run.point).to_owned(), over))
    });
    let both: Vec<_> = both.collect();
    let (facing, point, over) = both.iter().min_by(|a, b| a.2.gap.value.total_cmp(&b.2.gap.value))?;
    let matters = both
        .iter()
        .any(|(_, other, otherwise)| other != point || (otherwise.gap.value - over.gap.value).abs() > over.gap.u);
    let way = if matters { format!(", {}", facing.words()) } else { String::new() };
    let gap = over.gap.value;
    let (ground, point) = (ground.words(), shown(point));
    let sentence = if gap < 0.0 {
        format!("On {ground} {point} is {} in the ground{way}.", mm(-gap))
    } else if gap < KEPT_MM {
        format!(
            "On {ground} {point} comes to {}{way}: {} less than the 25 mm kept for bounce.",
            mm(gap),
            mm(KEPT_MM - gap)
        )
    } else {
        format!("On {ground} {point} comes nearest: {}{way}.", mm(gap))
    };
    Some(Finding {
        check: "ramp",
        what: ground,
        value: gap,
        u: over.gap.u,
        unit: "mm",
        limit: Some(0.0),
        source: "the ground as measured or typed; standing still".to_owned(),
        verdict: Some(over.verdict),
        sentence,
    })
}
