//! A finding in words: its subject, its line, its number and what is left before its limit.

use super::rows::group;
use crate::words::{band_deg, band_mm, capital, degrees, whole};
use trueground_core::car::{Attached, LowPoint};
use trueground_core::checks::lamps::fmvss108_mm;
use trueground_core::checks::{AtStance, Finding, Verdict};
use trueground_core::corner::Corner;

/// Number and ±, as set.
pub(super) fn printed(finding: &Finding) -> (String, String) {
    match finding.unit {
        "deg" => (degrees(finding.value), format!("±{:.1}°", band_deg(finding.u))),
        "percent" => {
            (format!("{:.1} %", finding.value + 0.0).replace('-', "\u{2212}"), format!("±{:.1}", 2.0 * finding.u))
        }
        "rpm" => (whole(finding.value), format!("±{}", whole(2.0 * finding.u))),
        _ => (whole(finding.value), format!("±{}", whole(band_mm(finding.u)))),
    }
}

pub(super) fn unit(finding: &Finding) -> &'static str {
    match finding.unit {
        "mm" => " mm",
        "rpm" => " rpm",
        _ => "",
    }
}

pub(super) fn margin(finding: &Finding) -> String {
    let Some(limit) = finding.limit else {
        return match finding.unit {
            "rpm" => "rpm".to_owned(),
            _ => String::new(),
        };
    };
    let size = |by: f64| match finding.unit {
        "deg" => degrees(by.abs()),
        "mm" => format!("{} mm", whole(by.abs())),
        _ => whole(by.abs()),
    };
    let side = match finding.verdict {
        Some(Verdict::Within) => "inside",
        Some(Verdict::Outside) => "outside",
        Some(Verdict::Clears | Verdict::Touches | Verdict::CantTell) if gap(finding) => {
            if finding.value < limit {
                "short"
            } else {
                "spare"
            }
        }
        _ => return String::new(),
    };
    // The ground itself needs no second number.
    if limit == 0.0 && finding.check == "flat_tire" && finding.value >= 0.0 {
        return String::new();
    }
    format!("{} {side}", size(finding.value.abs() - limit.abs()))
}

/// Whether more is better: a gap, or an angle that must stay above the ground's.
fn gap(finding: &Finding) -> bool {
    !matches!(finding.check, "caster" | "driveline" | "attitude" | "lamps")
}

pub(super) fn subject(car: &AtStance<'_>, finding: &Finding) -> String {
    match finding.check {
        "clearance" => match point(car, &finding.what) {
            Some(point) => capital(point.called()),
            None => capital(&finding.what),
        },
        "flat_tire" => match group(finding).as_str() {
            "one" => "Any one tire flat",
            "side" => "Both of a side flat",
            _ => "On a rim, the rubber gone",
        }
        .to_owned(),
        "ramp" if finding.unit == "deg" => match (finding.what.split_once(", "), finding.limit) {
            (Some((_, ground)), Some(deg)) => format!("{} {ground}", degrees(deg).replace(".0°", "°")),
            _ => capital(&finding.what),
        },
        "caster" if finding.what == "change" => "Caster since it was measured".to_owned(),
        "lamps" => match finding.what.strip_suffix(", beam") {
            Some(lamp) => format!("Beam of {}", lamp_words(car, lamp)),
            None => capital(&lamp_words(car, &finding.what)),
        },
        "gearing" => format!("Top gear at {}", finding.what),
        "fitment" | "jacking" => capital(&in_words(&group(finding))),
        _ => capital(&finding.what),
    }
}

pub(super) fn line(car: &AtStance<'_>, finding: &Finding) -> String {
    let verdict = finding.verdict.map(|verdict| match word_of(verdict) {
        "caution" => "Caution. ".to_owned(),
        word => format!("{}. ", capital(word)),
    });
    let rest = match finding.check {
        "flat_tire" => {
            let (case, point) = flat(finding);
            format!("{}: {point}", capital(&case))
        }
        "ramp" if finding.unit == "deg" => {
            let what = finding.what.split(", ").next().unwrap_or_default();
            format!("{} at {}", capital(what), at_point(car, finding))
        }
        "ramp" => {
            let on = format!("On {} ", finding.what);
            capital(finding.sentence.strip_prefix(&on).unwrap_or(&finding.sentence).trim_end_matches('.'))
        }
        "lamps" if finding.limit.is_some() => {
            let source = finding.source.split(',').next().unwrap_or_default();
            let bounds = car.vehicle.all_lamps().iter().find(|lamp| lamp.id == finding.what);
            match bounds.and_then(|lamp| fmvss108_mm(&lamp.kind)).filter(|_| source.starts_with("49")) {
                Some([Some(low), Some(high)]) => format!("{source}: {} to {}", whole(low), whole(high)),
                Some([Some(low), None]) => format!("{source}: from {}", whole(low)),
                _ => source.to_owned(),
            }
        }
        "clearance" => match point(car, &finding.what).map(|point| point.attach) {
            Some(attach) if finding.limit.is_none() => goes_with(attach).to_owned(),
            Some(_) => format!("The target asks for {}", finding.limit.map(whole).unwrap_or_default()),
            None => lowest_words(&finding.sentence),
        },
        "gearing" => car.vehicle.drive.as_ref().map_or_else(String::new, |drive| {
            let tire = car.vehicle.tires.as_ref().map(|tires| tires.at(Corner::RL).designation.clone());
            format!("Axle {}, {} rear", drive.axle_ratio, tire.unwrap_or_default())
        }),
        "fitment" => opening(&finding.what).map_or_else(|| capital(&finding.source), |(_, gap)| capital(&gap)),
        "jacking" => match flat_too(&finding.what).1 {
            Some(corner) => format!("{}: {}", capital(&in_words(&format!("{corner} flat"))), finding.source),
            None => capital(&finding.source),
        },
        "lamps" | "caster" if finding.limit.is_none() => String::new(),
        _ => capital(&finding.source),
    };
    format!("{}{rest}", verdict.unwrap_or_default()).trim_end().to_owned()
}

const fn word_of(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Outside => "caution",
        Verdict::CantTell => "can\u{2019}t tell",
        other => other.words(),
    }
}

/// "The oil pan drain boss is the lowest" out of the sentence of a line.
fn lowest_words(sentence: &str) -> String {
    capital(sentence.split(" is ").next().unwrap_or_default())
}

const fn goes_with(attach: Attached) -> &'static str {
    match attach {
        Attached::Body => "Goes with the body",
        Attached::Frame => "Goes with the frame",
        Attached::FrontAxle => "Goes with the front axle",
        Attached::RearAxle => "Goes with the rear axle",
    }
}

pub(super) fn point<'c>(car: &'c AtStance<'_>, id: &str) -> Option<&'c LowPoint> {
    car.vehicle.clearance_points.iter().find(|point| point.id == id)
}

fn at_point(car: &AtStance<'_>, finding: &Finding) -> String {
    let ids =
        car.vehicle.clearance_points.iter().filter(|point| finding.sentence.contains(&format!("at {}", point.id)));
    ids.max_by_key(|point| point.id.len()).map_or_else(String::new, |point| point.called().to_owned())
}

/// Of a gap in a wheel's opening the wheel with the other one that is tried on it, and which gap: "FL with 205 on 7 inch" and "spring,
/// full bump" of "FL, spring, full bump, 205 on 7 inch".
pub(super) fn opening(what: &str) -> Option<(String, String)> {
    let (corner, rest) = what.split_once(", ")?;
    let states = ["at rest", "full bump", "full lock and bump", "full lock"];
    let end = states.iter().find_map(|state| Some(rest.find(state)? + state.len()))?;
    let (gap, other) = (&rest[..end], rest[end..].trim_start_matches(", "));
    let wheel = if other.is_empty() { format!("{corner} in its opening") } else { format!("{corner} with {other}") };
    Some((wheel, gap.to_owned()))
}

/// A jack and its place, and the wheel that is flat: "tall jack, cross-member" and "FL".
pub(super) fn flat_too(what: &str) -> (&str, Option<&str>) {
    match what.strip_suffix(" flat").and_then(|case| case.rsplit_once(", ")) {
        Some((jack, corner)) => (jack, Some(corner)),
        None => (what, None),
    }
}

/// Which wheels, and the point: "front left flat", "exhaust pipe".
pub(super) fn flat(finding: &Finding) -> (String, String) {
    let (case, rest) = finding.sentence.split_once(": ").unwrap_or_default();
    (in_words(case), rest.split(" stands ").next().unwrap_or_default().to_owned())
}

fn lamp_words(car: &AtStance<'_>, id: &str) -> String {
    let lamp = car.vehicle.all_lamps().iter().find(|lamp| lamp.id == id);
    match lamp {
        Some(lamp) if lamp.id == "lamp" => lamp.kind.clone(),
        Some(lamp) => format!("{}, {}", lamp.kind, lamp.id),
        None => id.to_owned(),
    }
}

/// FL, FR … as words.
pub(super) fn in_words(text: &str) -> String {
    let mut out = text.to_owned();
    for corner in Corner::ALL {
        if let Some(rest) = out.strip_prefix(corner.code()) {
            out = format!("{}{rest}", corner.words());
        }
    }
    out
}
