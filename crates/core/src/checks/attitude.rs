//! Attitude: things that want to stand level, such as a carburetor flange, an oil level or an axle's fill plug.

use super::at_stance::AtStance;
use super::finding::{Finding, Verdict};
use crate::car::LevelPart;
use crate::uncertainty::Quantity;
use crate::wording::shown;

/// An angle gauge laid on [common practice, no source].
const GAUGE_U_DEG: f64 = 0.1;

/// One finding a thing.
pub(super) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    let of = |level: &LevelPart| {
        let since = car.since(level.measured_in.as_deref());
        // Where nobody said where it is, it stands behind every cut of the frame.
        let rake = level.x_mm.map_or_else(|| since.body.rake_deg(), |x_mm| car.nose_down_deg(&since, x_mm));
        let now = level.nose_down_deg + rake.value;
        let tips = Quantity::new(now.abs(), rake.u.hypot(GAUGE_U_DEG));
        let way = if now < 0.0 { "nose-up" } else { "nose-down" };
        Finding {
            check: "attitude",
            what: level.label.clone(),
            value: now,
            u: tips.u,
            unit: "deg",
            limit: Some(if now < 0.0 { -level.limit_deg } else { level.limit_deg }),
            source: "as the car's file has it, else 3 degrees, common practice, no source".to_owned(),
            verdict: Some(Verdict::below(tips, level.limit_deg, Verdict::Within, Verdict::Outside)),
            sentence: format!(
                "{} tips {:.1}° {way}; {:.1}° are taken.",
                shown(&level.label),
                now.abs(),
                level.limit_deg
            ),
        }
    };
    car.vehicle.attitude.iter().map(of).collect()
}
