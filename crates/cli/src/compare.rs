//! `trueground compare`: what is really different between two snapshots, or between one and a target.

use crate::Answer;
use crate::car_file::{read, sentence};
use crate::input::FileArguments;
use crate::output::{Problem, json};
use crate::table::{Column, Table, plus_minus, whole};
use clap::Args;
use std::fmt::Write as _;
use trueground_core::compare::{Against, Comparison, Difference, Target, Verdict, compare};
use trueground_core::level::{Options, solve};
use trueground_core::wording::shown;

/// What is different between two snapshots, or from a target, and what is within the doubt
///
/// Differences are --to less --from, or the snapshot less the target, at nominal load and pressures. What two snapshots
/// share, the floor's levelling and the tape, cancels.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileArguments,
    /// The snapshot to compare; with --target the last if none is named
    #[arg(long, value_name = "ID", required_unless_present = "target")]
    from: Option<String>,
    /// The later snapshot
    #[arg(long, value_name = "ID", required_unless_present = "target", conflicts_with = "target")]
    to: Option<String>,
    /// Compare with the target in the file
    #[arg(long)]
    target: bool,
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let file = read(&arguments.input.file)?;
    let name = arguments.input.file.name();
    let refused =
        |e: trueground_core::level::Problem| Problem::new(sentence(e.message()), sentence(e.hint())).at(&name);
    let solution = solve(&file, &Options::default()).map_err(refused)?;
    let target = if arguments.target { Some(Target::of(&file).map_err(refused)?) } else { None };
    let last = || file.snapshots.last().map(|snapshot| snapshot.id.clone());
    let (snapshot, against) = match (&target, &arguments.from, &arguments.to) {
        (Some(target), from, _) => (from.clone().or_else(last), Against::Target(target)),
        (None, Some(from), Some(to)) => (Some(to.clone()), Against::Snapshot(from)),
        // The parser asks for both.
        (None, ..) => (None, Against::Snapshot("")),
    };
    let Some(snapshot) = snapshot else {
        let hint = "Take one: walk round the car with the tape.";
        return Err(Problem::new("The file has no snapshot to compare.", hint).at(&name));
    };
    let comparison = compare(&file, &solution, &snapshot, against).map_err(refused)?;
    if arguments.input.json { json(&comparison) } else { Ok(words(&comparison, target.is_some())) }
}

fn words(comparison: &Comparison, target: bool) -> String {
    let mut out = String::new();
    for unequal in &comparison.unequal {
        let _ = writeln!(out, "{}", unequal.sentence);
    }
    if !out.is_empty() {
        out.push('\n');
    }
    let head = [(Column::Words, "point"), (Column::Numbers, "mm"), (Column::Numbers, "±"), (Column::Words, "")];
    let mut table = Table::new(&head);
    for (point, difference) in &comparison.differences {
        let [value, band] = numbers(difference);
        table.row([shown(point), value, band, in_words(difference, "higher", "lower")]);
    }
    out.push_str(&table.lines());
    out.push('\n');
    for (kind, means) in &comparison.means {
        let [front, rear] = [&means.front, &means.rear].map(|mean| in_mm(mean, "higher", "lower"));
        let _ = writeln!(out, "Front by {}: {front}; rear: {rear}.", plain(kind));
    }
    for (kind, rake) in &comparison.rake {
        let _ = writeln!(out, "Rake by {}: {}.", plain(kind), angle(&rake.deg, "nose-down", "nose-up"));
    }
    for (kind, lean) in &comparison.lean {
        let _ = writeln!(out, "Lean by {}: {}.", plain(kind), in_mm(&lean.mm, "left higher", "right higher"));
    }
    for (kind, twist) in &comparison.twist {
        let _ =
            writeln!(out, "Twist by {}: {}.", plain(kind), in_mm(twist, "more at front left", "less at front left"));
    }
    if let Some(split) = comparison.split {
        let (heave, twist) = (split.heave_mm, split.twist_mm);
        let _ = writeln!(
            out,
            "All together: {} mm {}, the rest a twist of {} ± {} mm, which no shim takes out.",
            whole(heave.value.abs()),
            if heave.value < 0.0 { "lower" } else { "higher" },
            whole(twist.value),
            plus_minus(twist.u)
        );
    }
    out.push_str(if target {
        "\nDifferences are the car less the target. ± is two standard uncertainties.\n"
    } else {
        "\nDifferences are the later less the earlier. ± is two standard uncertainties.\n"
    });
    out
}

fn plain(kind: &str) -> String {
    kind.replace('_', " ")
}

fn numbers(difference: &Difference) -> [String; 2] {
    match difference.value.zip(difference.u) {
        Some((value, u)) => [whole(value), plus_minus(u)],
        None => [String::new(), String::new()],
    }
}

fn word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Same => "same",
        Verdict::Changed => "changed",
        Verdict::On => "on",
        Verdict::Off => "off",
        Verdict::CantTell => "can't tell",
    }
}

fn in_words(difference: &Difference, more: &str, less: &str) -> String {
    match difference.value.filter(|_| matches!(difference.verdict, Verdict::Changed | Verdict::Off)) {
        Some(value) => format!("{}, {}", word(difference.verdict), if value > 0.0 { more } else { less }),
        None => word(difference.verdict).to_owned(),
    }
}

fn in_mm(difference: &Difference, more: &str, less: &str) -> String {
    match difference.value.zip(difference.u) {
        Some((value, u)) => format!("{} ± {} mm, {}", whole(value), plus_minus(u), in_words(difference, more, less)),
        None => word(difference.verdict).to_owned(),
    }
}

fn angle(difference: &Difference, more: &str, less: &str) -> String {
    match difference.value.zip(difference.u) {
        Some((value, u)) => {
            format!("{:.1}° ± {:.1}°, {}", value + 0.0, (2.0 * u).max(0.1), in_words(difference, more, less))
        }
        None => word(difference.verdict).to_owned(),
    }
}
