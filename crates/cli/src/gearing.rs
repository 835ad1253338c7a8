//! `trueground gearing`: engine speed for every gear and road speed.

use crate::input::FileArguments;
use crate::table::{Column, Table, plus_minus, whole};
use crate::{Answer, bench_sum};
use clap::Args;
use std::fmt::Write as _;
use trueground_core::bench::Refusal;
use trueground_core::car::Vehicle;
use trueground_core::checks::AtStance;
use trueground_core::checks::gearing::{Gearing, GearingTable, work_out};
use trueground_core::wording::shown;

/// Engine speed for every gear and road speed
///
/// FILE is JSON: {"axle_ratio", "gears": {"1": 2.82, "3": 1}, "tire": {"marking"}, "speeds_kmh": [60, 100]}. In the place of the
/// marking: "rolling_diameter_mm", "one_turn_mm" (chalked on the floor) or "revs_per_km"; with the marking what was measured:
/// "free_diameter_mm", "loaded_radius_mm". "beside": [{"label", "axle_ratio", "gears", "tire"}] sets others beside it. Of a car's
/// file "drive" under "vehicle" is taken, with the car's rear tires.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileArguments,
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    bench_sum::run_or_of_car(&arguments.input, Gearing::read, of_car, |gearing| Ok(work_out(gearing)), words)
}

/// Road speeds of a car's table, km/h.
const SPEEDS_KMH: [f64; 5] = [40.0, 60.0, 80.0, 100.0, 120.0];

/// The car's own gears on its rear tires.
fn of_car(vehicle: &Vehicle) -> Result<Gearing, Refusal> {
    let hint = "Type axle ratio and gears: in the app under Car, Gearing, or as vehicle.drive in the file.";
    let nothing = || Err(Refusal::new("The car\u{2019}s gearing is not described.", hint));
    Gearing::of_car(&AtStance::as_described(vehicle), SPEEDS_KMH.to_vec()).unwrap_or_else(nothing)
}

fn words(gearing: &Gearing, answer: &GearingTable) -> String {
    let mut out = String::new();
    if answer.beside.is_empty() {
        one(&mut out, &gearing.speeds_kmh, answer);
        return out;
    }
    let _ = writeln!(out, "As it stands, axle {}", gearing.drive.axle_ratio);
    one(&mut out, &gearing.speeds_kmh, answer);
    for other in &answer.beside {
        let _ = writeln!(out, "\n{}, axle {}", shown(&other.label), other.axle_ratio);
        one(&mut out, &gearing.speeds_kmh, &other.answer);
    }
    out
}

fn one(out: &mut String, speeds_kmh: &[f64], answer: &GearingTable) {
    let speeds: Vec<String> = speeds_kmh.iter().map(|speed| format!("{speed} km/h")).collect();
    let mut head = vec![(Column::Words, "gear")];
    head.extend(speeds.iter().map(|speed| (Column::Numbers, speed.as_str())));
    let mut table = Table::new(&head);
    for rows in answer.table.chunks(speeds_kmh.len()) {
        let mut cells = vec![shown(&rows[0].gear)];
        cells.extend(rows.iter().map(|row| whole(row.rpm)));
        table.row(cells);
    }
    out.push_str(&table.lines());
    let rolling = answer.rolling_diameter_mm;
    let _ = write!(out, "Engine turns a minute, rolling on {} mm", whole(rolling.value));
    if rolling.u > 0.0 {
        let percent = 200.0 * rolling.u / rolling.value;
        let _ = writeln!(out, " (± {}): every number ± {percent:.1} %.", plus_minus(rolling.u));
    } else {
        out.push_str(", taken as exact.\n");
    }
    if let Some(free) = answer.free_diameter_mm {
        let less = 100.0 * (1.0 - rolling.value / free.value);
        let free = whole(free.value);
        let _ = writeln!(
            out,
            "Across the tire without load {free} mm: with that the engine would seem {less:.1} % slower."
        );
    }
}
