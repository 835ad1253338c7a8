//! Bench sums of a car in words and numbers: steering box, wedge for a caster, pedal, radiator, weights.
//!
//! A number has its ± where an input was read with a rule or a gauge; what was stamped, counted or wished for is taken as typed, and a note
//! says so.

mod pedal;
mod radiator;
mod steering_box;
mod wedge;
mod weight;

use crate::mechanism_page::not_described;
use crate::wire::{BenchPicture, BenchSum, BenchSumView, MechanismRow, MechanismWords, Problem};
use trueground_core::bench::Refusal;
use trueground_core::car::Vehicle;

/// All of them, in the order of the page.
///
/// # Errors
/// A part of the car's file that its sum refuses.
pub(crate) fn sums(vehicle: &Vehicle, inches: bool) -> Result<Vec<BenchSumView>, Problem> {
    Ok(vec![
        steering_box::sum(vehicle, inches)?,
        wedge::sum(vehicle, inches)?,
        pedal::sum(vehicle, inches)?,
        radiator::sum(vehicle, inches),
        weight::sum(vehicle, inches),
    ])
}

/// One that was typed, or what to do first.
fn view(sum: BenchSum, title: &str, empty: [&str; 2], told: Option<(MechanismWords, BenchPicture)>) -> BenchSumView {
    let (words, picture) = match told {
        Some((words, picture)) => (words, Some(picture)),
        None => (not_described(empty[0], empty[1]), None),
    };
    BenchSumView { sum, title: title.to_owned(), words, picture }
}

fn refused(refusal: Refusal) -> Problem {
    Problem::new("part_unworkable", refusal.message, refusal.hint)
}

/// A row without verdict; the band is empty where there is no ±.
fn row(of: &str, bold: &str, line: &str, [value, band]: [String; 2], [number, u]: [f64; 2]) -> MechanismRow {
    MechanismRow {
        of: of.to_owned(),
        bold: bold.to_owned(),
        line: line.to_owned(),
        value,
        band,
        verdict: String::new(),
        number,
        u,
    }
}

/// Value and ±2u with so many decimals; the ± is never rounded away.
fn with_band(value: f64, u: f64, decimals: usize) -> [String; 2] {
    let least = 0.1_f64.powi(i32::try_from(decimals).unwrap_or(0));
    let minus = |text: String| text.replace('-', "\u{2212}");
    [minus(format!("{value:.decimals$}")), format!("\u{b1}{:.decimals$}", (2.0 * u).max(least))]
}
