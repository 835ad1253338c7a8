//! `trueground compare`: what is really different between two of snapshots, a target and the end of the settling.

use crate::Answer;
use crate::car_file::{read, sentence};
use crate::output::{Problem, json};
use crate::table::{Column, Table, plus_minus, whole};
use crate::target_choice::FileAndTarget;
use clap::Args;
use std::fmt::Write as _;
use trueground_core::compare::{
    Comparison, Difference, Forecast, LimitFinding, Load, Parts, Stance, TakenOut, TakenOutOf, Target, Verdict,
    compare, in_time,
};
use trueground_core::level::{Options, solve};
use trueground_core::wording::shown;

/// What is different between two stances, and what is within the doubt
///
/// Differences are --to less --from, or the snapshot less the target, at nominal load and pressures: what unlike load and
/// pressures made of them is taken out and named. What two snapshots share, the floor's levelling and the tape, cancels.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileAndTarget,
    /// The snapshot to compare; with --target or --forecast the last if none is named
    #[arg(long, value_name = "ID", required_unless_present_any = ["target", "forecast"])]
    from: Option<String>,
    /// The later snapshot
    #[arg(long, value_name = "ID", required_unless_present_any = ["target", "forecast"], conflicts_with_all = ["target", "forecast"])]
    to: Option<String>,
    /// Where the settling will end: less the snapshot, or with --target less the target
    #[arg(long)]
    forecast: bool,
    /// As it stood: nothing is taken out
    #[arg(long)]
    as_loaded: bool,
}

impl Arguments {
    pub(crate) fn check(&self) -> Result<(), clap::Error> {
        self.input.check("compare")
    }
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let input = arguments.input.input()?;
    let (file, name) = (read(&input)?, input.name());
    let refused =
        |e: trueground_core::level::Problem| Problem::new(sentence(e.message()), sentence(e.hint())).at(&name);
    let solution = solve(&file, &Options::default()).map_err(refused)?;
    let choice = &arguments.input;
    let target = if choice.is_asked() { Some(Target::named(&file, choice.name()).map_err(refused)?) } else { None };
    let forecast = if arguments.forecast { Some(Forecast::of(&file, &solution).map_err(refused)?) } else { None };
    let snapshot = || {
        let last = in_time(&file).into_iter().rfind(|snapshot| snapshot.on_wheels()).map(|last| last.id.as_str());
        arguments.from.as_deref().or(last).ok_or_else(|| {
            let hint = "Take one: walk round the car with the tape.";
            Problem::new("The file has no snapshot to compare.", hint).at(&name)
        })
    };
    let (this, other, what) = match (&target, &forecast) {
        (Some(target), Some(forecast)) => {
            (Stance::Forecast(forecast), Stance::Target(target), "where its settling will end less the target")
        }
        (Some(target), None) => (Stance::Measured(snapshot()?), Stance::Target(target), "the car less the target"),
        (None, Some(forecast)) => {
            let what = "where its settling will end less the car";
            (Stance::Forecast(forecast), Stance::Measured(snapshot()?), what)
        }
        (None, None) => {
            let later = arguments.to.as_deref().unwrap_or_default();
            (Stance::Measured(later), Stance::Measured(snapshot()?), "the later less the earlier")
        }
    };
    let load = if arguments.as_loaded { Load::AsLoaded } else { Load::Nominal };
    let comparison = compare(&file, &solution, this, other, load).map_err(refused)?;
    if arguments.input.json { json(&comparison) } else { Ok(words(&comparison, what, load)) }
}

fn words(comparison: &Comparison, what: &str, load: Load) -> String {
    let mut out = String::new();
    for unequal in &comparison.unequal {
        let _ = writeln!(out, "{}", unequal.sentence);
    }
    for taken in &comparison.taken_out {
        let _ = writeln!(out, "{}", taken_out(taken, load));
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
    for (kind, ends) in &comparison.end_parts {
        for (end, parts) in [("front", ends.front), ("rear", ends.rear)] {
            let Some(Parts { tire, spring }) = parts else { continue };
            let [tire, spring] = [tire, spring].map(|part| in_mm(&part, "higher", "lower"));
            let _ = writeln!(out, "As it stood, {end} by {}: tire {tire}; spring {spring}.", plain(kind));
        }
    }
    for limit in &comparison.limits {
        out.push_str(&limit_line(limit));
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
    let _ = writeln!(out, "\nDifferences are {what}. ± is two standard uncertainties.");
    out
}

/// "Taken out: fuel full, front 1 mm higher, rear 6 mm lower."
fn taken_out(taken: &TakenOut, load: Load) -> String {
    let what = match &taken.of {
        TakenOutOf::Load { label, mass_kg } if label.is_empty() => format!("{mass_kg:+} kg"),
        TakenOutOf::Load { label, .. } => shown(label),
        TakenOutOf::Pressures => "tire pressures".to_owned(),
    };
    let end = |name: &str, value: f64| {
        format!("{name} {} mm {}", whole(value.abs()), if value < 0.0 { "lower" } else { "higher" })
    };
    let done = if load == Load::Nominal { "Taken out" } else { "Not taken out" };
    format!("{done}: {what}, {}, {}.", end("front", taken.front_mm.value), end("rear", taken.rear_mm.value))
}

/// "rail.FL: within, 36 ± 3 mm to spare: not below 110 mm (lowest safe height)."
fn limit_line(limit: &LimitFinding) -> String {
    let ends = [("not below", limit.lowest_mm), ("not above", limit.highest_mm)];
    let ends: Vec<String> =
        ends.into_iter().filter_map(|(word, mm)| Some(format!("{word} {} mm", whole(mm?)))).collect();
    let margin = limit.margin_mm.zip(limit.u).map_or_else(String::new, |(margin, u)| {
        let word = if margin < 0.0 { "past it" } else { "to spare" };
        format!(", {} ± {} mm {word}", whole(margin.abs()), plus_minus(u))
    });
    let verdict = word(limit.verdict);
    format!("{}: {verdict}{margin}: {} ({}).\n", shown(&limit.point), ends.join(", "), limit.says)
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
        Verdict::Within => "within",
        Verdict::Outside => "outside",
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
