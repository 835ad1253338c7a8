//! `trueground spring`: a leaf spring pack, whole and with leaves taken out.

use crate::input::FileArguments;
use crate::table::{Column, Table, whole};
use crate::{Answer, bench_sum};
use clap::Args;
use std::fmt::Write as _;
use trueground_core::bench::Refusal;
use trueground_core::car::Vehicle;
use trueground_core::plan::spring::{LeafRow, PackState, SpringAnswer, SpringPack, work_out};

/// Rate, deflection, arch and stress of a leaf spring pack, whole and with leaves taken out
///
/// FILE is JSON: {"length_mm", "width_mm", "leaves": [{"thickness_mm"}, …], "load_n", "remove": [3]}, the main leaf first; between the
/// eyes, load at the middle, transverse springs alike. Optional: "young_gpa", "clamped_mm", "full_length", "free_arch_mm", and of a
/// leaf "length_mm" and "free_arch_mm". "readings": [{"load_n", "height_mm"}, …] of the unloaded and the loaded pack may stand in
/// the place of length and width. Of a car's file "leaf_packs" under "vehicle" is taken, with --end.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileArguments,
    /// Which pack of a car's file: front or rear
    #[arg(long, value_name = "END", default_value = "front", value_parser = ["front", "rear"])]
    end: String,
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let of_car = |vehicle: &Vehicle| of_car(vehicle, &arguments.end);
    bench_sum::run_or_of_car(&arguments.input, SpringPack::read, of_car, |pack| Ok(work_out(pack)), words)
}

fn of_car(vehicle: &Vehicle, end: &str) -> Result<SpringPack, Refusal> {
    let packs = &vehicle.leaf_packs;
    let Some(pack) = (if end == "rear" { &packs.rear } else { &packs.front }) else {
        let hint = "Measure it: in the app under Car, Springs, or as vehicle.leaf_packs in the file; or name the other end with --end.";
        return Err(Refusal::new(format!("The car\u{2019}s {end} spring pack is not described."), hint));
    };
    let placed =
        |refusal: Refusal| Refusal::new(format!("vehicle.leaf_packs.{end}: {}", refusal.message), refusal.hint);
    SpringPack::of_car(pack).map_err(placed)
}

fn words(pack: &SpringPack, answer: &SpringAnswer) -> String {
    let changed = !pack.remove.is_empty();
    let mut out = pack_table(answer, changed).lines();
    if let Some(rate) = answer.measured_rate {
        let _ = write!(out, "The rate is the one read, {:.1} N/mm (± {:.1}).", rate.value, 2.0 * rate.u);
        match answer.rate_by_dimensions_n_per_mm {
            Some(by_dimensions) => {
                let _ = writeln!(out, " By its dimensions it would be {by_dimensions:.1} N/mm.");
            }
            None => out.push('\n'),
        }
    } else {
        out.push_str(
            "By its dimensions; friction and clips make a real pack up to 10 % stiffer (common practice, no source).\n",
        );
    }
    if changed {
        let lower = if answer.drop_mm < 0.0 { "higher" } else { "lower" };
        let _ = write!(out, "By the rate alone {} mm {lower}", whole(answer.drop_mm.abs()));
        match answer.arch_drop_mm {
            Some(arch) if arch < 0.0 => {
                let _ = writeln!(out, "; the pack gains {} mm of arch.", whole(-arch));
            }
            Some(arch) => {
                let _ = writeln!(out, "; the pack loses {} mm of arch besides.", whole(arch));
            }
            None => out.push_str("; what it loses of its arch comes on top.\n"),
        }
    }
    if !answer.leaves.is_empty() {
        out.push('\n');
        out.push_str(&leaf_table(&answer.leaves, changed).lines());
    }
    if let Some((nip, bolt)) = answer.before.equal_stress_nip_mm.zip(answer.before.equal_stress_bolt_n) {
        let _ = writeln!(
            out,
            "A nip of {nip:.1} mm under the full-length leaves evens out the stress; the centre bolt pulls {} N to close it.",
            whole(bolt)
        );
    }
    if changed {
        out.push_str(
            "\nA clamped pack holds energy: the centre bolt comes out only with clamps on. A leaf less stresses the others more.\n",
        );
    }
    out
}

fn pack_table(answer: &SpringAnswer, changed: bool) -> Table {
    let mut head = vec![(Column::Words, ""), (Column::Numbers, if changed { "before" } else { "" })];
    if changed {
        head.push((Column::Numbers, "after"));
    }
    let mut table = Table::new(&head);
    let mut row = |what: &str, of: &dyn Fn(&PackState) -> Option<String>| {
        let Some(before) = of(&answer.before) else { return };
        let mut cells = vec![what.to_owned(), before];
        if changed {
            cells.push(of(&answer.after).unwrap_or_default());
        }
        table.row(cells);
    };
    row("rate N/mm", &|state| Some(format!("{:.1}", state.rate_n_per_mm)));
    row("sinks under load mm", &|state| Some(whole(state.deflection_mm)));
    row("arch without load mm", &|state| state.free_arch_mm.map(whole));
    row("arch under load mm", &|state| state.arch_mm.map(whole));
    row("largest stress MPa", &|state| state.stress_mpa.map(whole));
    table
}

/// A number of a leaf, where it has one.
type OfLeaf = fn(&LeafRow) -> Option<f64>;

fn leaf_table(leaves: &[LeafRow], changed: bool) -> Table {
    let has = |of: OfLeaf| leaves.iter().any(|row| of(row).is_some());
    let mut columns: Vec<(&str, OfLeaf)> = Vec::new();
    for (name, of) in [
        ("stress MPa", (|row: &LeafRow| row.stress_mpa) as OfLeaf),
        ("after", |row| row.stress_after_mpa),
        ("from clamping", |row| row.clamping_stress_mpa),
        ("nip to the next mm", |row| row.nip_mm),
    ] {
        if has(of) && (changed || name != "after") {
            columns.push((name, of));
        }
    }
    let mut head = vec![(Column::Words, "leaf"), (Column::Numbers, "thick mm")];
    head.extend(columns.iter().map(|(name, _)| (Column::Numbers, *name)));
    let mut table = Table::new(&head);
    for row in leaves {
        let mut cells = vec![row.leaf.to_string(), format!("{:.2}", row.thickness_mm)];
        for (name, of) in &columns {
            let out = changed && *name == "after" && of(row).is_none();
            cells.push(if out { "out".to_owned() } else { of(row).map_or_else(String::new, whole) });
        }
        table.row(cells);
    }
    table
}
