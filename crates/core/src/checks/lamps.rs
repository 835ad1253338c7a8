//! Lamps: how high they stand, which rules have a number for it, and where the low beam now points.
//!
//! # Source
//! 49 CFR 571.108, table I-a: height of the lamp's centre above the road, vehicle at curb weight. UN Regulation 48, 6.2: dipped beam 500 to 1200 mm
//! (seen in the like directive for two- and three-wheelers; for cars from memory).

use super::at_stance::{AtStance, Rule};
use super::finding::{Finding, Verdict, mm};
use crate::car::{LOW_BEAM, Lamp};
use crate::uncertainty::Quantity;
use crate::units::{Angle, MM_PER_INCH};
use crate::wording::shown;

/// Lamps of 49 CFR 571.108, table I-a, with their lowest and highest centre, inches.
const TABLE_IN: [(&str, Option<f64>, Option<f64>); 13] = [
    (LOW_BEAM, Some(22.0), Some(54.0)),
    ("upper beam headlamp", Some(22.0), Some(54.0)),
    ("front turn signal", Some(15.0), Some(83.0)),
    ("rear turn signal", Some(15.0), Some(83.0)),
    ("taillamp", Some(15.0), Some(72.0)),
    ("stop lamp", Some(15.0), Some(72.0)),
    ("parking lamp", Some(15.0), Some(72.0)),
    ("front side marker lamp", Some(15.0), None),
    ("rear side marker lamp", Some(15.0), None),
    ("reflex reflectors", Some(15.0), Some(60.0)),
    ("backup lamp", None, None),
    ("license plate lamp", None, None),
    ("high-mounted stop lamp (not passenger cars)", Some(34.0), None),
];

/// Their names, in the order of the table.
pub const KINDS: [&str; TABLE_IN.len()] = {
    let mut kinds = [""; TABLE_IN.len()];
    let mut at = 0;
    while at < TABLE_IN.len() {
        kinds[at] = TABLE_IN[at].0;
        at += 1;
    }
    kinds
};

/// Dipped beam of UN Regulation 48, mm.
const UN_R48_MM: [f64; 2] = [500.0, 1_200.0];

/// How well a beam's drop is set and read, percent [common practice, no source].
const DROP_U_PERCENT: f64 = 0.1;

/// Lowest and highest centre of a lamp by 49 CFR 571.108, mm, exactly; `None` for a lamp the table does not name.
pub fn fmvss108_mm(kind: &str) -> Option<[Option<f64>; 2]> {
    let row = TABLE_IN.iter().find(|(name, ..)| name.eq_ignore_ascii_case(kind.trim()))?;
    Some([row.1, row.2].map(|inches| inches.map(|inches| inches * MM_PER_INCH)))
}

/// One finding a lamp and rule, and one for the low beam's aim.
pub(super) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for lamp in car.vehicle.all_lamps() {
        let height = car.height_since([lamp.x_mm, lamp.y_mm, lamp.z_mm], lamp.attach, lamp.measured_in.as_deref());
        if car.rules.contains(&Rule::Fmvss108) || !car.rules.contains(&Rule::UnR48) {
            let bounds = fmvss108_mm(&lamp.kind).unwrap_or([None, None]);
            findings.push(by_rule(
                lamp,
                height,
                bounds,
                "49 CFR 571.108, table I-a",
                car.rules.contains(&Rule::Fmvss108),
            ));
        }
        if car.rules.contains(&Rule::UnR48) && lamp.kind == LOW_BEAM {
            findings.push(by_rule(lamp, height, UN_R48_MM.map(Some), "UN Regulation 48, 6.2 (from memory)", true));
        }
        // With a rule asked for, only what the rule speaks of.
        if let Some(drop) = lamp.beam_drop_percent.filter(|_| car.rules.is_empty()) {
            findings.push(aim(car, lamp, drop));
        }
    }
    findings
}

fn by_rule(lamp: &Lamp, height: Quantity, [low, high]: [Option<f64>; 2], source: &str, asked: bool) -> Finding {
    let nearer = match (low, high) {
        (Some(low), Some(high)) => Some(if height.value - low <= high - height.value { low } else { high }),
        (low, high) => low.or(high),
    };
    let verdict = nearer.map(|limit| {
        if Some(limit) == low {
            Verdict::above(height, limit, Verdict::Within, Verdict::Outside)
        } else {
            Verdict::below(height, limit, Verdict::Within, Verdict::Outside)
        }
    });
    let says = match (low, high) {
        (Some(low), Some(high)) => format!("{} to {}", mm(low), mm(high)),
        (Some(low), None) => format!("{} or more", mm(low)),
        (None, Some(high)) => format!("{} or less", mm(high)),
        (None, None) => "no height".to_owned(),
    };
    Finding {
        check: "lamps",
        what: lamp.id.clone(),
        value: height.value,
        u: height.u,
        unit: "mm",
        limit: nearer,
        source: source.to_owned(),
        verdict: verdict.filter(|_| asked),
        sentence: format!(
            "{} ({}) stands {} high at its centre; {source} has {says}.",
            shown(&lamp.id),
            shown(&lamp.kind),
            mm(height.value)
        ),
    }
}

/// Whether its beam's drop is known.
pub(super) const fn aimed(lamp: &Lamp) -> bool {
    lamp.beam_drop_percent.is_some()
}

fn aim(car: &AtStance<'_>, lamp: &Lamp, drop: f64) -> Finding {
    let rake = car.nose_down_deg(&car.since(lamp.measured_in.as_deref()), lamp.x_mm);
    let more = 100.0 * Angle::deg(rake.value).tan();
    let (now, u) = (drop + more, (100.0 * rake.u.to_radians()).hypot(DROP_U_PERCENT));
    let way = if more < 0.0 { "less" } else { "more" };
    Finding {
        check: "lamps",
        what: format!("{}, beam", lamp.id),
        value: now,
        u,
        unit: "percent",
        limit: None,
        source: "no limit asked for".to_owned(),
        verdict: None,
        sentence: format!(
            "The beam of {} falls {now:.1} %, {:.1} % {way} than when it was aimed: {} at 10 m.",
            shown(&lamp.id),
            more.abs(),
            mm(more.abs() * 100.0)
        ),
    }
}
