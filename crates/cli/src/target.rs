//! `trueground target`: the targets of a car's file, one of them as a small file, and a small file taken into a car's.

use crate::Answer;
use crate::car_file::{read, sentence};
use crate::input::InputFile;
use crate::output::{Problem, json};
use crate::table::{Column, Table, whole};
use clap::{Args, ValueEnum};
use serde_json::Value;
use std::fmt::Write as _;
use trueground_core::capture::CarFile;
use trueground_core::target::{Keep, Target, TargetFile};
use trueground_core::wording::shown;

/// The targets of a car's file; one of them as a small file to share, or such a file taken in
///
/// trueground target car.json --write --target low > low.target.json, and
/// trueground target other.json --open low.target.json > other-with-target.json: heights go over by kind of point and
/// corner. Opened twice it is there once; what could not be carried over stands in its note.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    file: InputFile,
    /// Which target, where there are several
    #[arg(long, value_name = "NAME")]
    target: Option<String>,
    /// Print it as a small file
    #[arg(long, conflicts_with = "open")]
    write: bool,
    /// Print the car's file with the target of this small file in it
    #[arg(long, value_name = "SMALL FILE")]
    open: Option<String>,
    /// What stays where the marks lie at another distance
    #[arg(long, value_enum, default_value_t = Kept::Heights, requires = "open")]
    keep: Kept,
    /// Print JSON, numbers in full
    #[arg(long)]
    json: bool,
}

/// What stays as it is on another car.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum Kept {
    /// The heights
    Heights,
    /// The front heights and the rake
    Rake,
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let name = arguments.file.name();
    if let Some(small) = &arguments.open {
        return open(arguments, &InputFile::named(small));
    }
    let file = read(&arguments.file)?;
    if arguments.write {
        let target = Target::named(&file, arguments.target.as_deref()).map_err(|e| refused(&e, &name))?;
        return json(&TargetFile::of(&file.vehicle, &target));
    }
    let targets = match &arguments.target {
        Some(_) => vec![Target::named(&file, arguments.target.as_deref()).map_err(|e| refused(&e, &name))?],
        None => offered(&file, &name)?,
    };
    if arguments.json { json(&targets) } else { Ok(words(&targets)) }
}

/// Every target of a file; one that cannot be read is said, since here the file can be corrected.
fn offered(file: &CarFile, name: &str) -> Result<Vec<Target>, Problem> {
    match Target::only(file) {
        Some(Err(unreadable)) => {
            let hint = "Correct it there; heights and tolerances are in mm.";
            Err(Problem::new(sentence(&unreadable.to_string()), hint).at(name))
        }
        _ => Ok(Target::offered(file)),
    }
}

fn refused(error: &trueground_core::level::Problem, name: &str) -> Problem {
    Problem::new(sentence(error.message()), sentence(error.hint())).at(name)
}

fn words(targets: &[Target]) -> String {
    if targets.is_empty() {
        return "The file has no target.\n".to_owned();
    }
    let mut out = String::new();
    for target in targets {
        let label = if target.label.is_empty() { &target.id } else { &target.label };
        let _ = writeln!(out, "{}", shown(label));
        let head = [(Column::Words, "point"), (Column::Numbers, "mm"), (Column::Numbers, "within")];
        let mut table = Table::new(&head);
        for (point, height) in &target.heights_mm {
            table.row([shown(point), whole(*height), whole(target.tolerance_of(point))]);
        }
        if !target.heights_mm.is_empty() {
            out.push_str(&table.lines());
        }
        for limit in &target.limits {
            let ends = [("not below", limit.lowest_mm), ("not above", limit.highest_mm)];
            let ends: Vec<String> =
                ends.into_iter().filter_map(|(word, mm)| Some(format!("{word} {} mm", whole(mm?)))).collect();
            let points: Vec<String> = limit.points.iter().map(|point| shown(point)).collect();
            let _ = writeln!(out, "{}: {} ({})", points.join(", "), ends.join(", "), limit.words());
        }
        if let Some(rake) = target.rake_deg {
            let _ = writeln!(out, "Rake {rake:.2}°");
        }
        if !target.note.is_empty() {
            let _ = writeln!(out, "{}", shown(&target.note));
        }
        out.push('\n');
    }
    out
}

/// The car's file, every key of it kept, with the target added; as it was where it is there already.
fn open(arguments: &Arguments, small: &InputFile) -> Answer {
    let text = arguments.file.read()?;
    let file: CarFile = crate::car_file::of(&text).map_err(|problem| problem.at(&arguments.file.name()))?;
    let shared = TargetFile::read(&small.read()?).map_err(|e| refused(&e, &small.name()))?;
    let keep = if matches!(arguments.keep, Kept::Rake) { Keep::Rake } else { Keep::Heights };
    let carried = shared.on(&file.vehicle, keep);
    if carried.target.is_empty() {
        let hint = "Mark the same kinds of point on the car first.";
        return Err(Problem::new("The car has none of the points of this target.", hint).at(&small.name()));
    }
    // What was not carried over stands in the target's own note.
    let said = std::iter::once(carried.target.note.clone()).chain(carried.left_out).filter(|said| !said.is_empty());
    let target = Target { note: said.collect::<Vec<_>>().join(" "), ..carried.target };
    let mut document: Value = serde_json::from_str(text.trim_start_matches('\u{feff}'))
        .map_err(|error| Problem::new(format!("The file is not JSON: {error}."), "Export the car anew."))?;
    if let Some(input) = document.get_mut("input").filter(|input| input.is_object()) {
        document = input.take();
    }
    let nameless = |target: &Target| Target { id: String::new(), ..target.clone() };
    let here = offered(&file, &arguments.file.name())?;
    if here.iter().any(|known| nameless(known) == nameless(&target)) {
        return json(&document);
    }
    let mut id = if shared.target.id.is_empty() { "shared".to_owned() } else { shared.target.id.clone() };
    while id == "target" || file.targets.iter().any(|target| target.id == id) {
        id.push('+');
    }
    let added = serde_json::to_value(Target { id, ..target })
        .map_err(|error| Problem::new(format!("The target cannot be written: {error}."), "Try again."))?;
    match &mut document["targets"] {
        Value::Array(targets) => targets.push(added),
        none => *none = Value::Array(vec![added]),
    }
    json(&document)
}
