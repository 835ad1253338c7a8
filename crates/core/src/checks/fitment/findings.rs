//! Fitment as findings: every wheel that was measured, with its own tire and with each other wheel for its axle.

use super::{GapBasis, GapIn, InOpening, Standing, WheelState, in_opening, load};
use crate::car::OtherWheel;
use crate::checks::at_stance::AtStance;
use crate::checks::finding::{Finding, Verdict, mm};
use crate::corner::Corner;
use crate::uncertainty::Quantity;
use crate::wording::{capital, shown};

const CHECK: &str = "fitment";
/// Left against right [common practice, no source].
const SIDES_MM: f64 = 6.0;

pub(in crate::checks) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    let Some(fitment) = &car.vehicle.fitment else { return Vec::new() };
    let mut findings = Vec::new();
    for corner in Corner::ALL {
        let standing = opening_standing(car, corner);
        let none: [Option<&OtherWheel>; 1] = [None];
        let others = fitment.others.iter().filter(|other| other.is_for(corner)).map(Some);
        for other in none.into_iter().chain(others) {
            let Some(found) = in_opening(car.vehicle, corner, other, &standing) else { continue };
            if other.is_some() && found.other.is_none() {
                continue;
            }
            of_wheel(car, &found, other, &mut findings);
        }
    }
    findings.extend(sides(car));
    findings
}

/// How a wheel stands in its opening at a stance.
pub fn opening_standing(car: &AtStance<'_>, corner: Corner) -> Standing {
    Standing { spring_rise: spring_rise(car, corner), loaded_radius: Some(*car.loaded_radius.at(corner)) }
}

/// How far the body rose off an axle at a wheel, mm.
fn spring_rise(car: &AtStance<'_>, corner: Corner) -> Quantity {
    let (x, track, axle) = if corner.is_front() {
        (0.0, car.vehicle.track_front_mm, car.axle_rise[0])
    } else {
        (-car.vehicle.wheelbase_mm, car.vehicle.track_rear_mm, car.axle_rise[1])
    };
    let y = if corner.is_left() { track / 2.0 } else { -track / 2.0 };
    let body = car.frame_rise(&car.since(None), [x, y]);
    Quantity::new(body.value - axle.value, body.u.hypot(axle.u))
}

fn of_wheel(car: &AtStance<'_>, found: &InOpening, other: Option<&OtherWheel>, findings: &mut Vec<Finding>) {
    let with = other.map_or_else(String::new, |other| format!(", {}", shown(&other.label)));
    for gap in &found.gaps {
        let Some((value, verdict)) = gap.told(other.is_some()).zip(gap.verdict(other.is_some())) else { continue };
        findings.push(Finding {
            check: CHECK,
            what: format!("{}, {}, {}{with}", found.corner, gap.place.words(), gap.state.words()),
            value: value.value,
            u: value.u,
            unit: "mm",
            limit: Some(0.0),
            source: source(gap, other.is_some()).to_owned(),
            verdict: Some(verdict),
            sentence: sentence(found, gap, value, other),
        });
    }
    if let (Some((scrub, then)), true) = (&found.scrub, found.corner.is_left()) {
        let told = if other.is_some() { then.as_ref() } else { Some(scrub) };
        findings.extend(told.map(|told| scrub_radius(found, *scrub, *told, other)));
    }
    if let (Some(behind), None) = (found.behind_middle, other) {
        let way = if behind.value < 0.0 { "ahead of" } else { "behind" };
        findings.push(Finding {
            limit: Some(if behind.value < 0.0 { -SIDES_MM } else { SIDES_MM }),
            verdict: Some(Verdict::below(
                Quantity::new(behind.value.abs(), behind.u),
                SIDES_MM,
                Verdict::Within,
                Verdict::Outside,
            )),
            sentence: format!(
                "{} stands {} {way} the middle of its opening.",
                capital(found.corner.words()),
                mm(behind.value.abs())
            ),
            ..told(format!("{}, middle of the opening", found.corner), behind, "common practice, no source")
        });
    }
    findings.extend(load::finding(car, found, other));
}

fn told(what: String, value: Quantity, source: &str) -> Finding {
    Finding {
        check: CHECK,
        what,
        value: value.value,
        u: value.u,
        unit: "mm",
        limit: None,
        source: source.to_owned(),
        verdict: None,
        sentence: String::new(),
    }
}

const fn source(gap: &GapIn, other: bool) -> &'static str {
    match (gap.basis, gap.state, other) {
        (GapBasis::Measured, _, false) => "measured on the car",
        (GapBasis::Measured, ..) => "measured with the wheel that is on it, changed by width, offset and diameter",
        (_, WheelState::FullLockAndBump, _) => {
            "reckoned at full bump, the tire as long as at the wheel centre and what stands beside it straight up: that much or more"
        }
        (_, WheelState::FullBump, _) => "reckoned from the gap at rest, both wheels up together",
        (GapBasis::AtLeast, ..) => {
            "reckoned about an upright kingpin, the tire as long as at the wheel centre: that much or more"
        }
        _ => "reckoned about an upright kingpin at the height of the wheel centre",
    }
}

fn sentence(found: &InOpening, gap: &GapIn, value: Quantity, other: Option<&OtherWheel>) -> String {
    let wheel = capital(found.corner.words());
    let with = other.map_or_else(String::new, |other| format!(" with {}", shown(&other.label)));
    let now = other.map_or_else(String::new, |_| format!(", now {:.0}", gap.now.value.round() + 0.0));
    let (place, state) = (gap.place.words(), gap.state.words());
    let from = gap.from_deg.map_or_else(String::new, |[from, lock]| format!(" from {from:.0}° of {lock:.0}° on"));
    if gap.basis == GapBasis::AtLeast {
        let least = mm(value.value.abs());
        return if value.value < 0.0 {
            format!(
                "{wheel}, {place}, {state}{with}: that it clears cannot be told; at worst it overlaps by {least}{now}."
            )
        } else {
            format!("{wheel}, {place}, {state}{with}: a gap of {least} or more{now}.")
        };
    }
    if value.value < 0.0 {
        return format!("{wheel}, {place}, {state}{with}: overlaps by {}{from}{now}.", mm(-value.value));
    }
    format!("{wheel}, {place}, {state}{with}: a gap of {}{now}.", mm(value.value))
}

fn scrub_radius(found: &InOpening, now: Quantity, then: Quantity, other: Option<&OtherWheel>) -> Finding {
    let with = other.map_or_else(String::new, |other| format!(" with {}", shown(&other.label)));
    let change = other.map_or_else(String::new, |_| {
        let by = then.value - now.value;
        format!(", {} {} than now", mm(by.abs()), if by < 0.0 { "less" } else { "more" })
    });
    Finding {
        sentence: format!("Scrub radius{with} is {}{change}.", mm(then.value)),
        ..told(
            format!("{}, scrub radius{with}", found.corner),
            then,
            "no limit: the change is what is felt at the wheel",
        )
    }
}

/// Whether the body stands in the middle over an axle: left fender gap against the right one.
fn sides(car: &AtStance<'_>) -> Vec<Finding> {
    let of = |left: Corner, right: Corner, axle: &str| {
        let gap = |corner| {
            let found = in_opening(car.vehicle, corner, None, &Standing::AS_MEASURED)?;
            let gap = found.gaps.iter().find(|gap| gap.place == crate::car::GapPlace::FenderOuter)?;
            Some(gap.now)
        };
        let (left, right) = (gap(left)?, gap(right)?);
        let off = Quantity::new((right.value - left.value) / 2.0, left.u.hypot(right.u) / 2.0);
        let side = if off.value < 0.0 { "right" } else { "left" };
        let size = Quantity::new(off.value.abs(), off.u);
        Some(Finding {
            limit: Some(if off.value < 0.0 { -SIDES_MM } else { SIDES_MM }),
            verdict: Some(Verdict::below(size, SIDES_MM, Verdict::Within, Verdict::Outside)),
            sentence: format!("The {axle} axle stands {} to the {side} between its fenders.", mm(size.value)),
            ..told(format!("{axle} axle between the fenders"), off, "common practice, no source")
        })
    };
    [of(Corner::FL, Corner::FR, "front"), of(Corner::RL, Corner::RR, "rear")].into_iter().flatten().collect()
}
