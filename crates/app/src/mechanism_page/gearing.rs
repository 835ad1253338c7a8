//! The gearing's page: engine speed over road speed, gear by gear, with others beside it.

use super::{band, length, not_described};
use crate::wire::{DriveTable, GearLine, GearingView, MechanismWords};
use crate::words::whole;
use trueground_core::bench::Refusal;
use trueground_core::checks::AtStance;
use trueground_core::checks::gearing::{GearRow, Gearing, GearingTable, work_out};
use trueground_core::tire::TireFigure;

const KMH: [f64; 5] = [40.0, 60.0, 80.0, 100.0, 120.0];
const MPH: [f64; 5] = [30.0, 40.0, 50.0, 60.0, 70.0];
/// The speed of the headline, by its place.
const ROAD: usize = 3;
/// A statute mile, km (exact by definition).
const KM_PER_MILE: f64 = 1.609_344;

/// What the page needs of the car.
pub(crate) type Looked = Option<Result<(Gearing, GearingTable), Refusal>>;

/// Looks.
pub(crate) fn look(car: &AtStance<'_>, miles: bool) -> Looked {
    let speeds = if miles { MPH.map(|mph| mph * KM_PER_MILE) } else { KMH };
    Some(Gearing::of_car(car, speeds.to_vec())?.map(|gearing| {
        let table = work_out(&gearing);
        (gearing, table)
    }))
}

/// The page.
pub(crate) fn page(car: String, looked: Looked, miles: bool, inches: bool) -> GearingView {
    let (speed_unit, speeds) = if miles { ("mph", MPH) } else { ("km/h", KMH) };
    let (words, drives) = match looked {
        None => {
            let detail = "Type the axle ratio and the gears: the engine\u{2019}s speed follows for every road speed, also with other \
                          axles and tires.";
            (not_described("No gearing yet.", detail), Vec::new())
        }
        Some(Err(refusal)) => {
            (MechanismWords { described: true, ..not_described(&refusal.message, &refusal.hint) }, Vec::new())
        }
        Some(Ok((gearing, answer))) => {
            let drives = drives(&gearing, &answer, inches);
            (words(&answer, &drives, (speed_unit, speeds), inches), drives)
        }
    };
    GearingView { car, words, speed_unit: speed_unit.to_owned(), speeds: speeds.to_vec(), drives }
}

fn drives(gearing: &Gearing, answer: &GearingTable, inches: bool) -> Vec<DriveTable> {
    let own = table("as it is", gearing.drive.axle_ratio, &gearing.drive.gears, answer, inches);
    let others = gearing.beside.iter().zip(&answer.beside);
    let others =
        others.map(|((label, drive), answer)| table(label, drive.axle_ratio, &drive.gears, &answer.answer, inches));
    std::iter::once(own).chain(others).collect()
}

fn table(label: &str, axle_ratio: f64, gears: &[(String, f64)], answer: &GearingTable, inches: bool) -> DriveTable {
    let rolling = answer.rolling_diameter_mm;
    let rows = answer.table.chunks(answer.table.len().max(1) / gears.len().max(1));
    let gears = gears.iter().zip(rows).map(|((gear, ratio), rows): (_, &[GearRow])| GearLine {
        gear: gear.clone(),
        ratio: *ratio,
        rpm: rows.iter().map(|row| row.rpm).collect(),
        rpm_u: rows.iter().map(|row| row.rpm_u).collect(),
    });
    DriveTable {
        label: label.to_owned(),
        detail: format!(
            "{axle_ratio} axle, rolls on {} {}",
            length(rolling.value, inches),
            band(rolling.u, "mm", inches)
        ),
        axle_ratio,
        rolling_mm: rolling.value,
        rolling_u_mm: rolling.u,
        across_mm: answer.free_diameter_mm.map(|across| across.value),
        gears: gears.collect(),
    }
}

fn words(
    answer: &GearingTable,
    drives: &[DriveTable],
    (unit, speeds): (&str, [f64; 5]),
    inches: bool,
) -> MechanismWords {
    let own = &drives[0];
    // Top is the gear that turns the engine least.
    let top = own.gears.iter().min_by(|a, b| a.ratio.total_cmp(&b.ratio));
    let rolling = answer.rolling_diameter_mm;
    let percent = 200.0 * rolling.u / rolling.value;
    let headline = top
        .map_or_else(String::new, |top| format!("{} turns a minute at {} {unit}.", whole(top.rpm[ROAD]), speeds[ROAD]));
    let beside = drives.iter().skip(1).filter_map(|other| {
        let top = other.gears.iter().min_by(|a, b| a.ratio.total_cmp(&b.ratio))?;
        Some(format!("{}: {}", other.label, whole(top.rpm[ROAD])))
    });
    let beside: Vec<String> = beside.collect();
    let mut detail =
        format!("In {} with the {} axle. Every number \u{b1}{percent:.0} %.", gear_words(top), own.axle_ratio);
    if !beside.is_empty() {
        detail.push_str(&format!(" Beside it at the same speed: {}.", beside.join(", ")));
    }
    let mut text: Vec<String> = Vec::new();
    for drive in drives {
        let gears = drive.gears.iter().map(|gear| {
            let rpm: Vec<String> =
                gear.rpm.iter().zip(speeds).map(|(rpm, speed)| format!("{} at {speed}", whole(*rpm))).collect();
            format!("gear {} {}", gear.gear, rpm.join(", "))
        });
        text.push(format!("{}: {}", drive.label, gears.collect::<Vec<_>>().join("; ")));
    }
    MechanismWords {
        described: true,
        headline,
        detail,
        rows: Vec::new(),
        cautions: Vec::new(),
        notes: notes(rolling, answer.free_diameter_mm, inches),
        text: format!("Turns of the engine a minute over {unit}. {}.", text.join(". ")),
    }
}

fn gear_words(top: Option<&GearLine>) -> String {
    top.map_or_else(
        || "top gear".to_owned(),
        |top| if top.gear == "top" { "top gear".to_owned() } else { format!("gear {}", top.gear) },
    )
}

fn notes(rolling: TireFigure, across: Option<TireFigure>, inches: bool) -> Vec<String> {
    let mut notes = vec![format!(
        "The rear tires roll on {} {}: from their loaded and their free radius, common practice, no source.",
        length(rolling.value, inches),
        band(rolling.u, "mm", inches)
    )];
    if let Some(across) = across {
        let slower = 100.0 * (1.0 - rolling.value / across.value);
        notes.push(format!(
            "Across the tire without load it is {}. With that the engine would seem {slower:.1} % slower than it turns.",
            length(across.value, inches)
        ));
    }
    notes
}
