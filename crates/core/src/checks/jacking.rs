//! Jacking and tying down: does a jack go under, with a tire flat too, and how far straps pull the car down on its springs.

use super::at_stance::AtStance;
use super::finding::{Finding, Verdict, mm};
use super::flat_tire;
use crate::capture::LoadChange;
use crate::car::{Attached, Jack, JackPoint, Jacking};
use crate::corner::{Corner, Corners};
use crate::level::load_drop_mm;
use crate::uncertainty::Quantity;
use crate::units::Angle;
use crate::wording::shown;

const CHECK: &str = "jacking";
/// A saddle by rule, mm [common practice, no source].
const SADDLE_U_MM: f64 = 2.0;
/// Of a strap's pull, which few people measure [common practice, no source].
pub(super) const PULL_REL_U: f64 = 0.2;

/// One finding a jack, point and state; one an end for the straps.
pub(super) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    let Some(jacking) = &car.vehicle.jacking else { return Vec::new() };
    let mut findings = Vec::new();
    let points = points(car, jacking);
    for jack in &jacking.jacks {
        for point in &points {
            under(car, jack, point, &mut findings);
        }
    }
    if jacking.jacks.is_empty() {
        findings.extend(points.iter().map(|point| height(car, point)));
    }
    findings.extend(straps(car, jacking));
    findings
}

/// Points named for lifting, and the lowest measured point of each axle, which a jack rolls under.
fn points(car: &AtStance<'_>, jacking: &Jacking) -> Vec<JackPoint> {
    let lowest = |attach: Attached, label: &str| {
        let of_axle = car.vehicle.clearance_points.iter().filter(|point| point.attach == attach);
        let lowest = of_axle.min_by(|a, b| a.z_mm.total_cmp(&b.z_mm))?;
        let named = jacking.points.iter().any(|point| point.attach == attach && point.z_mm <= lowest.z_mm);
        (!named).then(|| JackPoint {
            label: label.to_owned(),
            attach,
            x_mm: lowest.x_mm,
            y_mm: lowest.y_mm,
            z_mm: lowest.z_mm,
            measured_in: lowest.measured_in.clone(),
            extra: serde_json::Map::new(),
        })
    };
    let axles = [
        lowest(Attached::FrontAxle, "lowest point of the front axle"),
        lowest(Attached::RearAxle, "lowest point of the rear axle"),
    ];
    jacking.points.iter().cloned().chain(axles.into_iter().flatten()).collect()
}

fn under(car: &AtStance<'_>, jack: &Jack, point: &JackPoint, findings: &mut Vec<Finding>) {
    let stands = car.height_since([point.x_mm, point.y_mm, point.z_mm], point.attach, point.measured_in.as_deref());
    let (saddle, name) = (jack.saddle_low_mm, shown(&jack.label));
    let mut of = |case: &str, height: Quantity| {
        let room = Quantity::new(height.value - saddle, height.u.hypot(SADDLE_U_MM));
        let with = if case.is_empty() { String::new() } else { format!(", {case}") };
        let says = if room.value < 0.0 {
            format!("{name} is {} too high for {}{with}.", mm(-room.value), shown(&point.label))
        } else {
            format!("{name} goes under {}{with}, with {} over its saddle.", shown(&point.label), mm(room.value))
        };
        findings.push(Finding {
            check: CHECK,
            what: format!("{name}, {}{with}", shown(&point.label)),
            value: room.value,
            u: room.u,
            unit: "mm",
            limit: Some(0.0),
            source: format!("its saddle at {}", mm(saddle)),
            verdict: Some(Verdict::clearing(room, 0.0)),
            sentence: says,
        });
    };
    of("", stands);
    if let Some((corner, height)) = flattest(car, point, stands) {
        of(&format!("{corner} flat"), height);
    }
}

/// The flat tire that lets the point down most, and its height then.
fn flattest(car: &AtStance<'_>, point: &JackPoint, stands: Quantity) -> Option<(Corner, Quantity)> {
    let lower = Corner::ALL.into_iter().filter_map(|flat| {
        let drop = car.flat_drop_mm(flat)?;
        let drops = Corners::from_fn(|corner| if corner == flat { drop } else { Quantity::exact(0.0) });
        let down = flat_tire::down(car, &drops, [point.x_mm, point.y_mm], point.attach);
        Some((flat, Quantity::new(stands.value - down.value, stands.u.hypot(down.u).hypot(flat_tire::FLAT_U_MM))))
    });
    lower.min_by(|a, b| a.1.value.total_cmp(&b.1.value))
}

fn height(car: &AtStance<'_>, point: &JackPoint) -> Finding {
    let stands = car.height_since([point.x_mm, point.y_mm, point.z_mm], point.attach, point.measured_in.as_deref());
    Finding {
        check: CHECK,
        what: shown(&point.label),
        value: stands.value,
        u: stands.u,
        unit: "mm",
        limit: None,
        source: "no jack described".to_owned(),
        verdict: None,
        sentence: format!("{} stands {} over the ground.", shown(&point.label), mm(stands.value)),
    }
}

/// What straps weigh down at both ends: their pull straight down counts as a mass at their place.
pub(super) fn strapped(jacking: &Jacking) -> Vec<LoadChange> {
    let mass = |pull_kg: f64, down_deg: f64| pull_kg * Angle::deg(down_deg).sin();
    let straps = jacking.straps.iter().map(|strap| LoadChange {
        label: strap.label.clone(),
        mass_kg: mass(strap.pull_kg, strap.down_deg),
        x_mm: strap.x_mm,
        y_mm: 0.0,
    });
    straps.collect()
}

fn straps(car: &AtStance<'_>, jacking: &Jacking) -> Vec<Finding> {
    if jacking.straps.is_empty() {
        return Vec::new();
    }
    let [front, rear] = load_drop_mm(car.vehicle, &strapped(jacking));
    let of = |end: &str, down: f64| Finding {
        check: CHECK,
        what: format!("tied down, {end}"),
        value: down,
        u: PULL_REL_U * down.abs(),
        unit: "mm",
        limit: None,
        source: "the straps' pull over the ride rates of both axles".to_owned(),
        verdict: None,
        sentence: if down < 0.0 {
            format!("The straps lift the {end} by {}.", mm(-down))
        } else {
            format!("The straps pull the {end} down by {}, springs and tires together.", mm(down))
        },
    };
    vec![of("front", front), of("rear", rear)]
}
