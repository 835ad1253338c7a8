//! Pages of a part that is described: gearing, steering, driveline, spring packs. What they share: how the car stands, and numbers in
//! words.

mod driveline;
mod gearing;
mod spring;
mod stance;
mod steering;

pub(crate) use driveline::{look as look_at_driveline, page as driveline};
pub(crate) use gearing::{look as look_at_gearing, page as gearing};
pub(crate) use spring::page_at as spring;
pub(crate) use stance::{Seen, seen};
pub(crate) use steering::{look as look_at_steering, page as steering};

use crate::wire::{MechanismRow, MechanismWords, TapeUnit};
use crate::words::{band_mm, capital, on_tape_with_unit, whole};
use trueground_core::checks::Finding;

/// A length in the person's unit.
pub(crate) fn length(mm: f64, inches: bool) -> String {
    let (sign, size) = if mm < 0.0 { ("\u{2212}", -mm) } else { ("", mm) };
    let text = on_tape_with_unit(size, if inches { TapeUnit::In } else { TapeUnit::Mm });
    if text.starts_with("0 ") { text } else { format!("{sign}{text}") }
}

fn band(u: f64, unit: &str, inches: bool) -> String {
    match unit {
        _ if u == 0.0 => String::new(),
        "mm" if inches => format!("\u{b1}{} mm", whole(band_mm(u))),
        "mm" => format!("\u{b1}{}", whole(band_mm(u))),
        "deg" => format!("\u{b1}{:.1}°", (2.0 * u).max(0.1)),
        _ => format!("\u{b1}{}", whole((2.0 * u).max(1.0))),
    }
}

/// Number and unit as they are printed.
fn printed(value: f64, unit: &str, inches: bool) -> String {
    match unit {
        "mm" => length(value, inches),
        "deg" => crate::words::degrees(value),
        "percent" => format!("{value:.1} %"),
        _ => whole(value),
    }
}

/// A finding as a row: verdict and limit under its subject, or its sentence where there is none.
fn row(finding: &Finding, inches: bool) -> MechanismRow {
    let line = match finding.verdict.zip(finding.limit) {
        Some((verdict, limit)) => {
            let verdict = capital(verdict.words());
            // Nothing left is no number to hold a gap against.
            if limit == 0.0 {
                format!("{verdict}: {}", finding.source)
            } else {
                format!("{verdict}. Up to {}, {}", printed(limit.abs(), finding.unit, inches), finding.source)
            }
        }
        None => finding.sentence.clone(),
    };
    MechanismRow {
        of: finding.what.replace(' ', "_"),
        bold: capital(&finding.what),
        line,
        value: printed(finding.value, finding.unit, inches),
        band: band(finding.u, finding.unit, inches),
        verdict: finding.verdict.map(|verdict| verdict.words().replace(' ', "_")).unwrap_or_default(),
        number: finding.value,
        u: finding.u,
    }
}

/// Words of a page whose part nobody has described.
pub(crate) fn not_described(headline: &str, detail: &str) -> MechanismWords {
    MechanismWords {
        described: false,
        headline: headline.to_owned(),
        detail: detail.to_owned(),
        rows: Vec::new(),
        cautions: Vec::new(),
        notes: Vec::new(),
        text: format!("{headline} {detail}"),
    }
}

/// The limits of the law are the owner's to know.
pub(crate) const MEASURES: &str = "This app measures. It does not say a car is roadworthy.";
