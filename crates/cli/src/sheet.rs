//! `trueground sheet`: a page of a car to print.

use crate::Answer;
use crate::car_file::{read, sentence};
use crate::input::InputFile;
use crate::output::Problem;
use clap::error::ErrorKind;
use clap::{Args, CommandFactory};
use trueground_app::sheet;
use trueground_core::validate::faults;

/// The card of a stance, or an empty booking sheet to fill in with a pencil, to print
///
/// FILE is a car's exchange file, or a scenario with one under "input". The sheet is an HTML page that stands alone; print
/// it from any browser, on A4 or Letter: trueground sheet car.json --blank > sheet.html, or
/// trueground sheet car.json --snapshot ID > card.html, or trueground sheet car.json --compare ID ID > compared.html
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    file: InputFile,
    /// The empty booking sheet
    #[arg(long)]
    blank: bool,
    /// The card of this snapshot's stance: its id in the file
    #[arg(long, value_name = "ID")]
    snapshot: Option<String>,
    /// Two stances against each other: ids of snapshots or targets in the file, "settled" for the end of the settling, or a day to come
    #[arg(long, num_args = 2, value_names = ["ID", "ID"])]
    compare: Vec<String>,
    /// How far height differences are drawn apart in it, 1 to 10
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = clap::value_parser!(u8).range(1..=10))]
    times: u8,
    /// A page has no JSON
    #[arg(long, hide = true)]
    json: bool,
}

impl Arguments {
    /// Whether it was asked for what there is.
    pub(crate) fn check(&self) -> Result<(), clap::Error> {
        let wrong = |kind, words: &str| {
            let mut command = crate::Arguments::command();
            command.build();
            match command.find_subcommand_mut("sheet") {
                Some(sheet) => Err(sheet.error(kind, words)),
                None => Err(command.error(kind, words)),
            }
        };
        if self.json {
            return wrong(ErrorKind::ArgumentConflict, "A sheet is a page to print and has no JSON: leave --json out.");
        }
        match (self.blank, self.snapshot.is_some(), self.compare.len() == 2) {
            (true, false, false) | (false, true, false) | (false, false, true) => Ok(()),
            (false, false, false) => {
                let words = "Which sheet? --blank is the empty booking sheet, --snapshot ID the card of a stance, --compare ID ID two stances against each other.";
                wrong(ErrorKind::MissingRequiredArgument, words)
            }
            _ => {
                let words = "Which sheet? --blank, --snapshot ID or --compare ID ID, one at a time.";
                wrong(ErrorKind::ArgumentConflict, words)
            }
        }
    }
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let file = read(&arguments.file)?;
    if let Some(fault) = faults(&file).first() {
        return Err(Problem::new(sentence(&fault.to_string()), sentence(&fault.hint)).at(&arguments.file.name()));
    }
    let refused = |problem: trueground_app::wire::Problem| {
        Problem::new(problem.sentence, problem.hint).at(&arguments.file.name())
    };
    match (&arguments.snapshot, &arguments.compare[..]) {
        (_, [this, other]) => sheet::comparison(&file, this, other, arguments.times).map_err(refused),
        (Some(id), _) => sheet::card(&file, id).map_err(refused),
        (None, _) => Ok(sheet::blank(&file)),
    }
}
