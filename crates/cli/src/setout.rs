//! `trueground setout`: what the tape must read on a floor for a target or an earlier stance, and the plates that even it out.

use crate::Answer;
use crate::car_file::{read, sentence};
use crate::output::{Problem, json};
use crate::table::{Column, Table, plus_minus, whole};
use crate::target_choice::FileAndTarget;
use clap::{Args, ValueEnum};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use trueground_core::capture;
use trueground_core::compare::Target;
use trueground_core::setout::{Length, SetOut, Shim, Wanted, set_out};
use trueground_core::wording::shown;

/// What the tape must read on a floor for a target or an earlier stance
///
/// The car stands as first or turned end for end, at nominal load and pressures. Plates: wider than the tire, wheels chocked; never boards or
/// loose shims to go under a car.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileAndTarget,
    /// The floor, levelled
    #[arg(long, value_name = "ID")]
    floor: String,
    /// Which way round the car will stand: A as first, B turned end for end
    #[arg(long, value_enum, default_value_t = Facing::A)]
    facing: Facing,
    /// Set out the heights of this snapshot
    #[arg(long, value_name = "ID", required_unless_present = "target", conflicts_with = "target")]
    snapshot: Option<String>,
}

/// Which way round.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum Facing {
    #[value(name = "A", alias = "a")]
    A,
    #[value(name = "B", alias = "b")]
    B,
}

impl Facing {
    const fn of(self) -> capture::Facing {
        match self {
            Self::A => capture::Facing::A,
            Self::B => capture::Facing::B,
        }
    }
}

impl Arguments {
    pub(crate) fn check(&self) -> Result<(), clap::Error> {
        self.input.check("setout")
    }
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let input = arguments.input.input()?;
    let (file, name) = (read(&input)?, input.name());
    let refused =
        |e: trueground_core::level::Problem| Problem::new(sentence(e.message()), sentence(e.hint())).at(&name);
    let target;
    let wanted = match &arguments.snapshot {
        Some(snapshot) => Wanted::Snapshot(snapshot),
        None => {
            target = Target::named(&file, arguments.input.name()).map_err(refused)?;
            Wanted::Target(&target)
        }
    };
    let set_out = set_out(&file, &arguments.floor, arguments.facing.of(), wanted).map_err(refused)?;
    if arguments.input.json { json(&set_out) } else { Ok(words(&set_out)) }
}

fn words(set_out: &SetOut) -> String {
    let mut table = Table::new(&[
        (Column::Words, "point"),
        (Column::Numbers, "the tape must read here, mm"),
        (Column::Numbers, "±"),
    ]);
    for (point, reading) in &set_out.readings {
        let [value, band] = match reading.value.zip(reading.u) {
            Some((value, u)) => [whole(value), plus_minus(u)],
            None => ["can't tell".to_owned(), String::new()],
        };
        table.row([shown(point), value, band]);
    }
    let mut out = table.lines();
    let plate = |shim: &Shim| format!("{} mm (± {}) under {}", whole(shim.thickness_mm), plus_minus(shim.u), shim.spot);
    out.push('\n');
    match (set_out.shims.first(), set_out.shims_instead.first()) {
        (Some(shim), Some(other)) => {
            let _ = writeln!(
                out,
                "One plate takes the floor's twist out: {}, or the same under {}.",
                plate(shim),
                other.spot
            );
        }
        _ => out.push_str("The floor's twist is within its own doubt: no plate is worth it.\n"),
    }
    if !set_out.shims_level.is_empty() {
        let four: Vec<String> = set_out.shims_level.iter().map(plate).collect();
        let _ = writeln!(out, "Four plates make it level: {}.", four.join(", "));
    }
    mock_up(set_out, &mut out);
    out.push_str("Plates wider than the tire, wheels chocked; never boards or loose shims to go under a car.\n");
    out
}

/// What a mock-up on rated stands needs.
fn mock_up(set_out: &SetOut, out: &mut String) {
    if set_out.stands.is_empty() {
        return;
    }
    let length = |(name, length): (&String, &Length)| {
        format!("{} {} mm (± {})", shown(name), whole(length.value), plus_minus(length.u))
    };
    let each = |all: &BTreeMap<String, Length>| all.iter().map(length).collect::<Vec<_>>().join(", ");
    let _ = writeln!(out, "Mock-up on rated stands, no ride height: stands hold {}.", each(&set_out.stands));
    if !set_out.wheel_centres.is_empty() {
        let _ = writeln!(out, "Blocks hold the wheel centres at {}.", each(&set_out.wheel_centres));
    }
}
