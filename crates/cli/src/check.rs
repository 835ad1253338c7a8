//! `trueground check`: what follows from a stance.

mod loads;

use crate::Answer;
use crate::car_file::read;
use crate::output::json;
use crate::stance_choice::{at, meant, refused};
use crate::table::{Column, Table};
use crate::target_choice::FileAndTarget;
use clap::Args;
use clap::builder::PossibleValuesParser;
use serde::Serialize;
use std::fmt::Write as _;
use trueground_core::checks::{CHECKS, Finding, LoadCase, Rule, findings, under_loads};

/// What follows from a stance: clearance, flat tires, ramps, caster, joints, lamps, attitude, engine speed
///
/// FILE is a car's exchange file with "clearance_points", "lamps", "radius_rod", "drive", "driveline" or "attitude" under "vehicle", and
/// "ground"; heights there are those of the first snapshot, or of the one each names as "measured_in", at nominal load. Checked is the last snapshot unless another or a target
/// is named. Rules are named with their numbers; whether one holds for the car is for its owner to know.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileAndTarget,
    /// The snapshot to check
    #[arg(long, value_name = "ID", conflicts_with = "target")]
    snapshot: Option<String>,
    /// Only this check; may be given again
    #[arg(long, value_name = "NAME", value_parser = PossibleValuesParser::new(CHECKS.map(|(name, _)| name)))]
    only: Vec<String>,
    /// Hold against this rule; may be given again
    #[arg(long, value_name = "NAME", value_parser = PossibleValuesParser::new(Rule::ALL.map(|(name, _)| name)))]
    rule: Vec<String>,
    /// What is aboard; all: one table of every check under every load
    #[arg(long, value_name = "NAME", default_value = "nominal", value_parser = PossibleValuesParser::new(LoadCase::ALL.map(|(name, _)| name).into_iter().chain([ALL])))]
    load: String,
}

const ALL: &str = "all";

impl Arguments {
    pub(crate) fn check(&self) -> Result<(), clap::Error> {
        self.input.check("check")
    }
}

/// The answer as JSON.
#[derive(Serialize)]
struct Findings<'f> {
    findings: &'f [Finding],
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let input = arguments.input.input()?;
    let (file, name) = (read(&input)?, input.name());
    let rules: Vec<Rule> = Rule::ALL
        .iter()
        .filter(|(name, _)| arguments.rule.iter().any(|asked| asked == name))
        .map(|(_, rule)| *rule)
        .collect();
    let only: Vec<&str> = arguments.only.iter().map(String::as_str).collect();
    let snapshot = arguments.snapshot.as_deref();
    if arguments.load == ALL {
        return meant(&file, &arguments.input, snapshot, |solution, which, predicted| {
            let table = under_loads(&file, solution, which, &rules, &only).map_err(refused)?;
            if arguments.input.json { json(&table) } else { Ok(loads::words(&table, predicted)) }
        })
        .map_err(|problem| problem.at(&name));
    }
    // The parser has taken known names only.
    let load = LoadCase::named(&arguments.load).unwrap_or(LoadCase::Nominal);
    at(&file, &arguments.input, snapshot, load, rules, |car, predicted| {
        let found = findings(car, &only);
        if arguments.input.json { findings_json(&found) } else { Ok(words(&found, predicted)) }
    })
    .map_err(|problem| problem.at(&name))
}

/// Findings as JSON.
pub(crate) fn findings_json(findings: &[Finding]) -> Answer {
    json(&Findings { findings })
}

fn words(found: &[Finding], planned: bool) -> String {
    if found.is_empty() {
        return "Nothing to check: the file describes none of it. Add clearance_points, lamps, radius_rod, drive, driveline or \
                attitude to the vehicle.\n"
            .to_owned();
    }
    let mut out = String::new();
    if planned {
        out.push_str("Predicted for the target, not measured.\n\n");
    }
    out + &finding_lines(found)
}

/// Findings in words, check by check.
pub(crate) fn finding_lines(found: &[Finding]) -> String {
    let mut out = String::new();
    let mut checks: Vec<&str> = found.iter().map(|finding| finding.check).collect();
    checks.dedup();
    for check in checks {
        let _ = writeln!(out, "{}", check.replace('_', " "));
        let mut table = Table::new(&[(Column::Words, ""), (Column::Words, ""), (Column::Numbers, "±")]);
        for finding in found.iter().filter(|finding| finding.check == check) {
            let verdict = finding.verdict.map_or("", |verdict| verdict.words());
            let decimals = if matches!(finding.unit, "mm" | "rpm") { 0 } else { 1 };
            table.row([verdict.to_owned(), finding.sentence.clone(), format!("{:.decimals$}", 2.0 * finding.u)]);
        }
        out.push_str(&table.lines());
        out.push('\n');
    }
    out.push_str("This program measures. It does not say that a car is roadworthy.\n");
    out
}
