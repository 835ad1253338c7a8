//! Clearance: low points over the ground, and against the rim line and the scrub line where those are asked for.

use super::at_stance::{AtStance, Rule};
use super::finding::{Finding, Verdict, mm};
use crate::car::LowPoint;
use crate::corner::Corner;
use crate::uncertainty::Quantity;
use crate::wording::shown;

const CHECK: &str = "clearance";

/// Which points a line is for.
type Sort = fn(&LowPoint) -> bool;
/// Height of a line over a place; `None` where it does not reach.
type Line<'l> = &'l dyn Fn(&LowPoint) -> Option<Quantity>;

/// One finding a point, and one for each line.
pub(super) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    let heights: Vec<(&LowPoint, Quantity)> =
        car.vehicle.clearance_points.iter().map(|point| (point, car.height_of(point))).collect();
    let mut findings = Vec::new();
    for (point, height) in &heights {
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
            sentence: format!("{} stands {} over the ground{against}.", shown(point.called()), mm(height.value)),
        });
    }
    let edge =
        Corner::ALL.into_iter().filter_map(|corner| car.rim_edge_mm(corner)).min_by(|a, b| a.value.total_cmp(&b.value));
    let body = |point: &LowPoint| !point.attach.is_axle();
    let axle = |point: &LowPoint| point.attach.is_axle();
    let any = |_: &LowPoint| true;
    let rows: [(Rule, &str, Sort, Line<'_>); 4] = [
        (Rule::RimLine, "rim line", body, &|_| edge),
        (Rule::RimLine, "rim line, axles", axle, &|_| edge),
        (Rule::ScrubLine, "scrub line across", any, &|point| across(car, point)),
        (Rule::ScrubLine, "scrub line front to rear", any, &|point| front_to_rear(car, point)),
    ];
    for (rule, what, of, line) in rows {
        let gaps = heights.iter().filter(|(point, _)| of(point)).filter_map(|(point, height)| {
            let line = line(point)?;
            Some((point, Quantity::new(height.value - line.value, height.u.hypot(line.u))))
        });
        let Some((point, gap)) = gaps.min_by(|a, b| a.1.value.total_cmp(&b.1.value)) else { continue };
        let asked = car.rules.contains(&rule);
        let side = if gap.value < 0.0 { "below" } else { "over" };
        let name = what.trim_end_matches(", axles");
        let of_what = if what == name { "the lowest" } else { "of what goes with the axles the lowest" };
        findings.push(Finding {
            check: CHECK,
            what: what.to_owned(),
            value: gap.value,
            u: gap.u,
            unit: "mm",
            limit: asked.then_some(0.0),
            source: format!("{name}: a common form of local rules, whose wording differs from place to place"),
            verdict: asked.then(|| Verdict::clearing(gap, 0.0)),
            sentence: format!(
                "{} is {of_what} against the {name}: {} {side} it.",
                shown(point.called()),
                mm(gap.value.abs())
            ),
        });
    }
    findings
}

/// Height over a place of the higher of the two strings across the car, each from a rim's lowest edge to the bottom of the
/// opposite tire, mm. They are held as far ahead and behind an axle as a wheel reaches.
fn across(car: &AtStance<'_>, point: &LowPoint) -> Option<Quantity> {
    let back = -point.x_mm / car.vehicle.wheelbase_mm;
    let front = back < 0.5;
    let (axle_x, track, [left, right]) = if front {
        (0.0, car.vehicle.track_front_mm, [Corner::FL, Corner::FR])
    } else {
        (-car.vehicle.wheelbase_mm, car.vehicle.track_rear_mm, [Corner::RL, Corner::RR])
    };
    let aside = point.y_mm / track;
    let reach = car.vehicle.tires.as_ref()?.at(left).rim_diameter_mm / 2.0;
    if (point.x_mm - axle_x).abs() > reach || aside.abs() > 0.5 {
        return None;
    }
    let string = |corner, part: f64| car.rim_edge_mm(corner).map(|edge| Quantity::new(edge.value * part, edge.u));
    higher(string(left, 0.5 + aside)?, string(right, 0.5 - aside)?)
}

/// The same along a side of the car: from the front rim's edge to the bottom of the rear tire, and from the rear rim's to the front.
fn front_to_rear(car: &AtStance<'_>, point: &LowPoint) -> Option<Quantity> {
    let back = -point.x_mm / car.vehicle.wheelbase_mm;
    if !(0.0..=1.0).contains(&back) {
        return None;
    }
    let [front, rear] = if point.y_mm < 0.0 { [Corner::FR, Corner::RR] } else { [Corner::FL, Corner::RL] };
    let string = |corner, part: f64| car.rim_edge_mm(corner).map(|edge| Quantity::new(edge.value * part, edge.u));
    higher(string(front, 1.0 - back)?, string(rear, back)?)
}

fn higher(a: Quantity, b: Quantity) -> Option<Quantity> {
    [a, b].into_iter().max_by(|a, b| a.value.total_cmp(&b.value))
}
