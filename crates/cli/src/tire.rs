//! `trueground tire`: what a sidewall marking says.

use crate::Answer;
use crate::output::{Problem, json};
use crate::table::{Column, Table, plus_minus, whole};
use clap::Args;
use trueground_core::tire::{Basis, Construction, Measured, TireDimensions, TireFigure, dimensions, read_marking};
use trueground_core::wording::shown;

/// Diameter, width, radius and rolling of a tire from its sidewall marking
///
/// Markings of every era: 30x3 1/2, 6.00-16, G78-15, 155R15, P205/75R15, "205/55 R16 91V", 31x10.50R15LT.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// The marking as it stands on the sidewall
    #[arg(value_name = "MARKING", required = true, num_args = 1..)]
    marking: Vec<String>,
    /// Print JSON, numbers in full
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let marking = read_marking(&arguments.marking.join(" ")).map_err(|e| Problem::new(e.message(), e.hint() + "."))?;
    let tire = dimensions(&marking, &Measured::default());
    if arguments.json { json(&tire) } else { Ok(readable(&tire)) }
}

fn readable(tire: &TireDimensions) -> String {
    let mut table =
        Table::new(&[(Column::Words, ""), (Column::Numbers, ""), (Column::Numbers, "±"), (Column::Words, "")]);
    let mut row = |what: &str, figure: TireFigure| {
        let basis = match figure.basis {
            Basis::Standard => "standard",
            Basis::Formula => "formula",
            Basis::Estimate => "estimate",
            Basis::Measured => "measured",
        };
        table.row([what.to_owned(), whole(figure.value), plus_minus(figure.u), basis.to_owned()]);
    };
    row("diameter mm", tire.diameter_mm);
    row("section width mm", tire.section_width_mm);
    row("rim diameter mm", tire.rim_diameter_mm);
    row("loaded radius mm", tire.loaded_radius_mm);
    row("turns per km", tire.revs_per_km);
    let construction = match tire.construction {
        Construction::Radial => "radial",
        Construction::Diagonal => "diagonal",
        Construction::BiasBelted => "bias belted",
    };
    let marking = shown(&tire.marking);
    format!("{marking}, {construction}\n{}\nA tape round the tire is better than its marking.\n", table.lines())
}
