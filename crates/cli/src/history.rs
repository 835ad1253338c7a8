//! `trueground history`: what happened to a car on one line of time, and what changed from one snapshot to the next.

use crate::Answer;
use crate::car_file::{read, sentence};
use crate::input::FileArguments;
use crate::output::{Problem, json};
use clap::Args;
use serde::Serialize;
use std::fmt::Write as _;
use trueground_core::capture::{CarFile, Event, Snapshot};
use trueground_core::compare::{Changed, Difference, Neighbours, Verdict, in_time, neighbours};
use trueground_core::level::{Options, Solution, solve};
use trueground_core::wording::{day, shown};

/// What happened to a car, newest first
///
/// Snapshots with what changed since the one before, at nominal load and pressures, or why the two cannot be compared; and the work
/// between them. In JSON the changes are later less earlier, mm and degrees.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileArguments,
}

/// One thing on the line of time.
#[derive(Serialize)]
#[serde(tag = "entry", rename_all = "snake_case")]
enum Entry<'f> {
    Snapshot {
        date: &'f str,
        snapshot: &'f str,
        label: &'f str,
        #[serde(skip_serializing_if = "Option::is_none")]
        odometer_km: Option<f64>,
        /// Against the one before it.
        #[serde(skip_serializing_if = "Option::is_none")]
        step: Option<Box<Neighbours>>,
    },
    Work {
        #[serde(flatten)]
        event: &'f Event,
    },
}

#[derive(Serialize)]
struct History<'f> {
    entries: Vec<Entry<'f>>,
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let input = &arguments.input.file;
    let file = read(input)?;
    let refused =
        |e: trueground_core::level::Problem| Problem::new(sentence(e.message()), sentence(e.hint())).at(&input.name());
    let solution = solve(&file, &Options::default()).map_err(refused)?;
    let history = History { entries: entries(&file, &solution) };
    if arguments.input.json { json(&history) } else { Ok(words(&file, &history)) }
}

/// Newest first. Work stands before the snapshots of its day unless the kilometres say otherwise.
fn entries<'f>(file: &'f CarFile, solution: &Solution) -> Vec<Entry<'f>> {
    let snapshots = in_time(file);
    let mut entries = Vec::new();
    let mut events: Vec<&Event> = file.events.iter().collect();
    events.sort_by(|a, b| a.date.cmp(&b.date));
    let mut events = events.into_iter().peekable();
    for (place, snapshot) in snapshots.iter().enumerate() {
        while let Some(event) = events.next_if(|event| before(event, snapshot)) {
            entries.push(Entry::Work { event });
        }
        let earlier = place.checked_sub(1).map(|place| snapshots[place]);
        entries.push(Entry::Snapshot {
            date: &snapshot.date,
            snapshot: &snapshot.id,
            label: &snapshot.label,
            odometer_km: snapshot.odometer_km,
            step: earlier.and_then(|earlier| neighbours(file, solution, &earlier.id, &snapshot.id)).map(Box::new),
        });
    }
    entries.extend(events.map(|event| Entry::Work { event }));
    entries.reverse();
    entries
}

fn before(event: &Event, snapshot: &Snapshot) -> bool {
    let more = || event.odometer_km.zip(snapshot.odometer_km).is_some_and(|(work, read)| work > read);
    event.date < snapshot.date || (event.date == snapshot.date && !more())
}

fn words(file: &CarFile, history: &History<'_>) -> String {
    let mut out = format!("{}\n", shown(&file.vehicle.label));
    if history.entries.is_empty() {
        out.push_str("Nothing happened yet.\n");
    }
    for entry in &history.entries {
        match entry {
            Entry::Snapshot { date, snapshot, label, step, .. } => {
                let label = if label.trim().is_empty() { snapshot } else { label };
                let _ = writeln!(out, "\n{}  snapshot {}", day(date), shown(label));
                if let Some(step) = step {
                    out.push_str(&step_words(step));
                }
            }
            Entry::Work { event } => {
                let settles = if event.resets_settling { "; springs settle anew from here" } else { "" };
                let _ = writeln!(out, "\n{}  {}{settles}", day(&event.date), shown(&event.what));
                if let Some(note) = &event.note {
                    let _ = writeln!(out, "  {}", shown(note));
                }
            }
        }
    }
    out.push_str("\n± is two standard uncertainties: 95 in 100 lie within it.\n");
    out
}

fn step_words(step: &Neighbours) -> String {
    let mut out = String::new();
    match (&step.incomparable, &step.changed) {
        (Some(reason), _) => {
            let _ = writeln!(out, "  cannot be compared: {}", reason.sentence);
        }
        (None, Some(changed)) => {
            let _ = writeln!(out, "  {}", changed_words(changed));
        }
        (None, None) => {}
    }
    for unequal in &step.unequal {
        let _ = writeln!(out, "  {}", unequal.sentence);
    }
    out
}

fn changed_words(changed: &Changed) -> String {
    let mm = |name: &str, difference: &Difference| figure(name, difference, "mm", ("higher", "lower"));
    let mut parts = Vec::new();
    for (name, difference) in [("front", &changed.front), ("rear", &changed.rear)] {
        parts.extend(difference.as_ref().map(|difference| mm(name, difference)));
    }
    let rake = changed.rake_deg.as_ref();
    parts.extend(rake.map(|rake| figure("rake", rake, "°", ("more nose-down", "less nose-down"))));
    parts.extend(changed.points.iter().map(|(id, difference)| mm(&shown(id), difference)));
    format!("{}: {}", changed.kind.words(), parts.join("; "))
}

/// "front 18 mm lower ±3, changed"
fn figure(name: &str, difference: &Difference, unit: &str, (up, down): (&str, &str)) -> String {
    let Some((value, u)) = difference.value.zip(difference.u) else { return format!("{name} can't tell") };
    let verdict = match difference.verdict {
        Verdict::Changed | Verdict::Off | Verdict::Outside => "changed",
        Verdict::Same | Verdict::On | Verdict::Within => "same",
        Verdict::CantTell => "can't tell",
    };
    let (size, band, printed_as_nothing) = match unit {
        "mm" => (format!("{:.0} mm", value.abs()), format!("{:.0}", (2.0 * u).max(1.0)), value.abs() < 0.5),
        _ => (format!("{:.1}{unit}", value.abs()), format!("{:.1}", (2.0 * u).max(0.1)), value.abs() < 0.05),
    };
    let way = match value {
        _ if printed_as_nothing => String::new(),
        value if value < 0.0 => format!(" {down}"),
        _ => format!(" {up}"),
    };
    format!("{name} {size}{way} ±{band}, {verdict}")
}
