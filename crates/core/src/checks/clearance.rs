//! Clearance: low points over the ground, and against the rim line and the scrub line where those are asked for.

use super::at_stance::{AtStance, Rule};
use super::finding::{Finding, Verdict, mm};
use crate::corner::Corner;
use crate::uncertainty::Quantity;
use crate::wording::shown;

const CHECK: &str = "clearance";

/// One finding a point, and one for each line.
pub(super) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    let points = &car.vehicle.clearance_points;
    let heights = points.iter().map(|point| {
        let height = car.height(point.place_mm(), point.attach);
        (point.called(), point, height)
    });
    let heights: Vec<_> = heights.collect();
    let mut findings = Vec::new();
    for (name, point, height) in &heights {
        let verdict = car.wanted_clearance_mm.map(|wanted| Verdict::clearing(*height, wanted));
        let against =
            car.wanted_clearance_mm.map_or_else(String::new, |wanted| format!("; the target asks for {}", mm(wanted)));
        findings.push(Finding {
            check: CHECK,
            what: point.id.clone(),
            value: height.value,
            u: height.u,
            unit: "mm",
            limit: car.wanted_clearance_mm,
            source: if verdict.is_some() { "the target" } else { "no limit asked for" }.to_owned(),
            verdict,
            sentence: format!("{} stands {} over the ground{against}.", shown(name), mm(height.value)),
        });
    }
    let least = |over: &dyn Fn(f64, f64) -> Option<Quantity>| {
        let gaps = heights.iter().filter_map(|(name, point, height)| {
            let line = over(point.x_mm, point.y_mm)?;
            Some((name, Quantity::new(height.value - line.value, height.u.hypot(line.u))))
        });
        gaps.min_by(|a, b| a.1.value.total_cmp(&b.1.value))
    };
    let edge =
        Corner::ALL.into_iter().filter_map(|corner| car.rim_edge_mm(corner)).min_by(|a, b| a.value.total_cmp(&b.value));
    for (rule, line, gap) in [
        (Rule::RimLine, "rim line", least(&|_, _| edge)),
        (Rule::ScrubLine, "scrub line", least(&|x, y| scrub_line(car, x, y))),
    ] {
        let Some((name, gap)) = gap else { continue };
        let asked = car.rules.contains(&rule);
        let side = if gap.value < 0.0 { "below" } else { "over" };
        findings.push(Finding {
            check: CHECK,
            what: line.to_owned(),
            value: gap.value,
            u: gap.u,
            unit: "mm",
            limit: asked.then_some(0.0),
            source: format!("{line}: a common form of local rules, whose wording differs from place to place"),
            verdict: asked.then(|| Verdict::clearing(gap, 0.0)),
            sentence: format!("{} is the lowest against the {line}: {} {side} it.", shown(name), mm(gap.value.abs())),
        });
    }
    findings
}

/// Height of the higher of the strings over a place between the wheels, each from a rim's lowest edge to the bottom of the opposite
/// tire: across, front to rear, mm.
fn scrub_line(car: &AtStance<'_>, x: f64, y: f64) -> Option<Quantity> {
    let back = -x / car.vehicle.wheelbase_mm;
    let edge = |left: Corner, right: Corner| -> Option<[Quantity; 2]> {
        Some([car.rim_edge_mm(left)?, car.rim_edge_mm(right)?])
    };
    let mut strings = Vec::new();
    if (0.0..=1.0).contains(&back) {
        let [front, _] = edge(Corner::FL, Corner::FR)?;
        let [rear, _] = edge(Corner::RL, Corner::RR)?;
        strings.push(Quantity::new(front.value * (1.0 - back), front.u));
        strings.push(Quantity::new(rear.value * back, rear.u));
    }
    // Strings across hang under each axle, as far as a wheel reaches ahead and behind.
    for (axle_x, track, [left, right]) in [
        (0.0, car.vehicle.track_front_mm, edge(Corner::FL, Corner::FR)?),
        (-car.vehicle.wheelbase_mm, car.vehicle.track_rear_mm, edge(Corner::RL, Corner::RR)?),
    ] {
        let aside = y / track;
        if (x - axle_x).abs() <= left.value + FLAT_REACH_MM && aside.abs() <= 0.5 {
            strings.push(Quantity::new(left.value * (0.5 + aside), left.u));
            strings.push(Quantity::new(right.value * (0.5 - aside), right.u));
        }
    }
    strings.into_iter().max_by(|a, b| a.value.total_cmp(&b.value))
}

/// Half of a rim, about: how far ahead and behind an axle the strings across are held, mm.
const FLAT_REACH_MM: f64 = 200.0;
