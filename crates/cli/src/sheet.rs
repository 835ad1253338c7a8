//! `trueground sheet`: a page of a car to print.

use crate::Answer;
use crate::car_file::{read, sentence};
use crate::input::InputFile;
use crate::output::Problem;
use clap::error::ErrorKind;
use clap::{Args, CommandFactory};
use trueground_app::sheet;
use trueground_core::validate::faults;

/// An empty booking sheet of a car, to print and fill in with a pencil
///
/// FILE is a car's exchange file, or a scenario with one under "input". The sheet is an HTML page that stands alone; print
/// it from any browser, on A4 or Letter: trueground sheet car.json --blank > sheet.html
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    file: InputFile,
    /// The empty booking sheet, the one sheet there is
    #[arg(long)]
    blank: bool,
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
        if !self.blank {
            let words = "Which sheet? --blank is the empty booking sheet, the only one there is; the card of a stance is not made yet.";
            return wrong(ErrorKind::MissingRequiredArgument, words);
        }
        Ok(())
    }
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let file = read(&arguments.file)?;
    if let Some(fault) = faults(&file).first() {
        return Err(Problem::new(sentence(&fault.to_string()), sentence(&fault.hint)).at(&arguments.file.name()));
    }
    Ok(sheet::blank(&file))
}
