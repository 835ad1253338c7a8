//! Caster: what the stance did to it.
//!
//! A rod rigid with the axle turns it as its frame end rises or falls: −(rise of the ball − rise of the axle)/length. Without a rod in the
//! file the axle is taken to turn with the body: less by the rake.

use super::at_stance::AtStance;
use super::finding::{Finding, Verdict};
use crate::uncertainty::Quantity;

/// Beam axles with cross-ply tires [common practice, no source].
const USUAL_DEG: [f64; 2] = [5.0, 8.0];
/// Of the formula [common practice, no source].
const FORMULA_U_DEG: f64 = 0.1;
/// A caster gauge in a yard [common practice, no source].
const GAUGE_U_DEG: f64 = 0.25;

/// The change, and where the caster was measured, the caster itself.
pub(super) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    let Some(rod) = &car.vehicle.radius_rod else { return Vec::new() };
    let since = car.since(rod.measured_in.as_deref());
    // Its ball is the frame's.
    let (ball, axle) = (car.frame_rise(&since, [rod.frame_pivot_x_mm, 0.0]), car.axle_parts_rise_since(0, &since));
    let degrees = 1.0_f64.to_degrees() / rod.length_mm;
    let change = Quantity::new(
        -(ball.value - axle.value) * degrees + car.changed.caster_deg.value,
        (ball.u.hypot(axle.u) * degrees).hypot(FORMULA_U_DEG).hypot(car.changed.caster_deg.u),
    );
    let way = if change.value < 0.0 { "less" } else { "more" };
    let mut findings = vec![Finding {
        check: "caster",
        what: "change".to_owned(),
        value: change.value,
        u: change.u,
        unit: "deg",
        limit: None,
        source: "no limit".to_owned(),
        verdict: None,
        sentence: format!("Caster is {:.1}° {way} than when it was measured.", change.value.abs()),
    }];
    if let Some(caster) = rod.static_caster_deg {
        let now = Quantity::new(caster + change.value, change.u.hypot(GAUGE_U_DEG));
        let [low, high] = USUAL_DEG;
        let nearer = if now.value < f64::midpoint(low, high) { low } else { high };
        let verdict = if nearer == low {
            Verdict::above(now, low, Verdict::Within, Verdict::Outside)
        } else {
            Verdict::below(now, high, Verdict::Within, Verdict::Outside)
        };
        findings.push(Finding {
            check: "caster",
            what: "caster".to_owned(),
            value: now.value,
            u: now.u,
            unit: "deg",
            limit: Some(nearer),
            source: "common practice for beam axles, 5 to 8 degrees, no source".to_owned(),
            verdict: Some(verdict),
            sentence: format!("Caster is now {:.1}°; {low} to {high}° are usual for a beam axle.", now.value),
        });
    }
    findings
}
