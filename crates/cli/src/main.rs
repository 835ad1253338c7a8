//! The command line: one verb a job, text for people by default, stable JSON with `--json`.
//!
//! Exit 0 fine, 1 a problem with the input (nothing is printed on standard output), 2 usage.

mod bench_sum;
mod bumpsteer;
mod car_file;
mod check;
mod compare;
mod fit;
mod floor;
mod gearing;
mod history;
mod input;
mod manual;
mod output;
mod pedal;
mod plan;
mod radiator;
mod ramp;
mod setout;
mod settle;
mod sheet;
mod spring;
mod square;
mod stance;
mod stance_choice;
mod steering;
mod table;
mod target;
mod target_choice;
mod tire;
mod wedge;
mod weight;

use clap::{Parser, Subcommand};
use output::Problem;
use std::process::ExitCode;

/// Where a car stands on level ground, from what the tape read on your own floor.
#[derive(Debug, Parser)]
#[command(
    name = "trueground",
    version,
    arg_required_else_help = true,
    after_help = "± in what is printed is two standard uncertainties; u in JSON is one."
)]
struct Arguments {
    #[command(subcommand)]
    verb: Verb,
}

impl Arguments {
    /// What the parser cannot say in words.
    fn checked(self) -> Result<Self, clap::Error> {
        match &self.verb {
            Verb::Sheet(arguments) => arguments.check()?,
            Verb::Compare(arguments) => arguments.check()?,
            Verb::Setout(arguments) => arguments.check()?,
            Verb::Check(arguments) => arguments.check()?,
            Verb::Ramp(arguments) => arguments.check()?,
            Verb::Plan(arguments) => arguments.check()?,
            _ => {}
        }
        Ok(self)
    }
}

#[derive(Debug, Subcommand)]
enum Verb {
    Stance(stance::Arguments),
    Compare(compare::Arguments),
    Setout(setout::Arguments),
    Target(target::Arguments),
    Floor(floor::Arguments),
    Settle(settle::Arguments),
    History(history::Arguments),
    Sheet(sheet::Arguments),
    Tire(tire::Arguments),
    Gearing(gearing::Arguments),
    Spring(spring::Arguments),
    Ramp(ramp::Arguments),
    Bumpsteer(bumpsteer::Arguments),
    Check(check::Arguments),
    Plan(plan::Arguments),
    Fit(fit::Arguments),
    Square(square::Arguments),
    Steering(steering::Arguments),
    Pedal(pedal::Arguments),
    Wedge(wedge::Arguments),
    Radiator(radiator::Arguments),
    Weight(weight::Arguments),
    Manual(manual::Arguments),
}

fn main() -> ExitCode {
    let arguments = match Arguments::try_parse().and_then(Arguments::checked) {
        Ok(arguments) => arguments,
        Err(usage) => return output::usage(&usage),
    };
    let answer = match &arguments.verb {
        Verb::Stance(arguments) => stance::run(arguments),
        Verb::Compare(arguments) => compare::run(arguments),
        Verb::Setout(arguments) => setout::run(arguments),
        Verb::Target(arguments) => target::run(arguments),
        Verb::Floor(arguments) => floor::run(arguments),
        Verb::Settle(arguments) => settle::run(arguments),
        Verb::History(arguments) => history::run(arguments),
        Verb::Sheet(arguments) => sheet::run(arguments),
        Verb::Tire(arguments) => tire::run(arguments),
        Verb::Gearing(arguments) => gearing::run(arguments),
        Verb::Spring(arguments) => spring::run(arguments),
        Verb::Ramp(arguments) => ramp::run(arguments),
        Verb::Bumpsteer(arguments) => bumpsteer::run(arguments),
        Verb::Check(arguments) => check::run(arguments),
        Verb::Plan(arguments) => plan::run(arguments),
        Verb::Fit(arguments) => fit::run(arguments),
        Verb::Square(arguments) => square::run(arguments),
        Verb::Steering(arguments) => steering::run(arguments),
        Verb::Pedal(arguments) => pedal::run(arguments),
        Verb::Wedge(arguments) => wedge::run(arguments),
        Verb::Radiator(arguments) => radiator::run(arguments),
        Verb::Weight(arguments) => weight::run(arguments),
        Verb::Manual(arguments) => manual::run(arguments),
    };
    match answer.and_then(|text| output::print(&text)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(problem) => output::refuse(&problem),
    }
}

/// What a verb prints, or why it cannot.
type Answer = Result<String, Problem>;
