//! `trueground floor`: heights of a floor's points from staff readings and height differences.

use crate::input::FileArguments;
use crate::table::{Column, Table, plus_minus, whole};
use crate::{Answer, bench_sum};
use clap::Args;
use std::fmt::Write as _;
use trueground_core::network::{AdjustedNetwork, Datum, Network, ReadingOf, ResidualRow, adjust};
use trueground_core::wording::shown;

/// Heights of a floor's points from staff readings and differences
///
/// FILE is JSON: {"fixed": {"A": 0}, "differences": [{"from", "to", "rise_mm", "u_mm"}]} or
/// {"setups": [{"id", "readings": [{"point", "staff_mm", "u_mm"}]}]}, or both. Where nothing is fixed, the mean of all
/// points, or of "datum_points": ["A", "B"], stays zero.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileArguments,
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    bench_sum::run(&arguments.input, Network::read, adjust, readable)
}

fn readable(network: &Network, adjusted: &AdjustedNetwork) -> String {
    let held = |point: &str| network.fixed.iter().any(|fixed| fixed.point == point && fixed.u_mm.is_none());
    let mut table = Table::new(&[(Column::Words, "point"), (Column::Numbers, "height mm"), (Column::Numbers, "±")]);
    for (point, elevation) in &adjusted.elevations {
        let band = if held(point) { "given".to_owned() } else { plus_minus(elevation.u) };
        table.row([shown(point), whole(elevation.value), band]);
    }
    let mut out = table.lines();
    out.push('\n');
    out.push_str(match adjusted.datum {
        Datum::Fixed => "Heights are counted from the given ones.",
        Datum::MeanZero => "Nothing is fixed: the mean of all points is zero.",
        Datum::DatumPoints => "Nothing is fixed: the mean of the datum points is zero.",
    });
    let checks = adjusted.degrees_of_freedom;
    let _ = match checks {
        0 => writeln!(out, " No reading is checked by another: a slip would not show."),
        1 => writeln!(out, " One reading more than needed checks the others."),
        _ => writeln!(out, " {checks} readings more than needed check each other."),
    };
    for row in &adjusted.doubtful {
        let _ = writeln!(out, "{}", doubt(row));
    }
    out
}

fn doubt(row: &ResidualRow) -> String {
    let place = match &row.of {
        ReadingOf::Difference { from, to } => format!("From {} to {}", shown(from), shown(to)),
        ReadingOf::Staff { setup, point } => format!("Set-up {}, {}", shown(setup), shown(point)),
    };
    let (read, others) = (whole(row.observed_mm), whole(row.adjusted_mm));
    format!("{place}: read {read}, with all others it comes to {others}. Read it again. It was not left out.")
}
