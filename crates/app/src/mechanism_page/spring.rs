//! The page of a spring pack: rate, arch and stress, whole and without the leaves that come out, as the car or a plan has it.

use super::{MEASURES, length, not_described};
use crate::Garage;
use crate::compare_page::{Chosen, asked};
use crate::wire::{
    CompareAsk, DrawnLeaf, LeafLine, MechanismRow, MechanismWords, PackSide, Problem, SeeSpring, SpringView,
    StanceChoices,
};
use crate::words::{band_mm, capital, whole};
use trueground_core::car::LeafPack;
use trueground_core::checks::Which;
use trueground_core::plan::spring::{PackState, SpringAnswer, SpringPack, work_out};
use trueground_core::plan::{Planned, StepDrop};

/// A prediction of a drop, mm [common practice, no source].
const DROP_U_MM: f64 = 2.0;

/// The page of the pack of an axle as it is, or as a plan would have it; leaves that the request names come out in place of the plan's.
///
/// # Errors
/// No such car or plan, or a leaf that cannot come out.
pub(crate) fn page_at(garage: &mut Garage, request: &SeeSpring, today: &str) -> Result<SpringView, Problem> {
    let asked = asked(garage, &CompareAsk::of(&request.car), today)?;
    let chosen = asked.one(request.stance.as_ref())?;
    let end = usize::from(request.rear);
    let planned = match chosen.as_ref().map(Chosen::which) {
        Some(Which::Planned(planned)) => Some(planned),
        _ => None,
    };
    let out: Option<Vec<u32>> = planned.map(|planned| {
        let mut leaves = planned.leaves_out[end].clone();
        leaves.sort_unstable();
        leaves.dedup();
        leaves.into_iter().filter_map(|leaf| u32::try_from(leaf).ok()).collect()
    });
    let packs = &asked.solved.file.vehicle.leaf_packs;
    let described = if request.rear { &packs.rear } else { &packs.front };
    let remove = request.remove.as_deref().or(out.as_deref());
    let mut view = page(request.car.clone(), request.rear, described.as_ref(), remove, request.inches)?;
    view.choices = StanceChoices {
        snapshots: asked.snapshots().into_iter().take(1).collect(),
        planned: asked.planned(),
        ..StanceChoices::default()
    };
    if let Some(planned) = planned {
        view.predicted = true;
        view.words.notes.insert(0, plan_words(planned, request.rear, request.inches));
    }
    view.stance = chosen.map(|chosen| chosen.choice(&asked));
    Ok(view)
}

/// What a plan does to the springs of an axle.
fn plan_words(planned: &Planned, rear: bool, inches: bool) -> String {
    let end = if rear { "rear" } else { "front" };
    let of_spring = |step: &&StepDrop| step.comes_from == "spring" && step.end.is_some_and(|at| at.words() == end);
    let steps: Vec<String> = planned
        .steps
        .iter()
        .filter(of_spring)
        .map(|step| {
            let by = if rear { step.rear_mm.value } else { step.front_mm.value };
            format!("{} {}", step.label, length(by, inches))
        })
        .collect();
    if steps.is_empty() {
        format!("The plan leaves the {end} spring as it is.")
    } else {
        format!("The plan has: {}. What is no leaf out is not drawn here.", steps.join("; "))
    }
}

/// The page of a pack, with those leaves out.
fn page(
    car: String,
    rear: bool,
    described: Option<&LeafPack>,
    remove: Option<&[u32]>,
    inches: bool,
) -> Result<SpringView, Problem> {
    let end = if rear { "rear" } else { "front" };
    let Some(described) = described else {
        let detail = "Measure the pack: eye to eye, width, each leaf\u{2019}s thickness and the load; or its height with and without a \
                      load. What a leaf less does follows.";
        let words = not_described(&format!("No {end} spring pack yet."), detail);
        return Ok(SpringView {
            car,
            rear,
            words,
            choices: StanceChoices::default(),
            stance: None,
            predicted: false,
            before: None,
            after: None,
            leaves: Vec::new(),
        });
    };
    let mut described = described.clone();
    if let Some(remove) = remove {
        described.remove = remove.iter().map(|leaf| *leaf as usize).collect();
    }
    let pack = SpringPack::of_car(&described)
        .map_err(|refusal| Problem::new("pack_unworkable", refusal.message, refusal.hint))?;
    let answer = work_out(&pack);
    let lower_mm = answer.drop_mm + answer.arch_drop_mm.unwrap_or(0.0);
    Ok(SpringView {
        car,
        rear,
        words: words(&pack, &answer, lower_mm, end, inches),
        choices: StanceChoices::default(),
        stance: None,
        predicted: false,
        before: Some(side(&pack, &answer.before, |_| true, 0.0)),
        after: (!pack.remove.is_empty())
            .then(|| side(&pack, &answer.after, |leaf| !pack.remove.contains(&leaf), lower_mm)),
        leaves: leaves(&pack, &answer, inches),
    })
}

fn side(pack: &SpringPack, state: &PackState, stays: impl Fn(usize) -> bool, lower_mm: f64) -> PackSide {
    let whole_length = pack.size.map(|size| size.length_mm);
    let drawn = pack.leaves.iter().enumerate().filter(|(i, _)| stays(i + 1)).filter_map(|(i, leaf)| {
        let length_mm = leaf.length_mm.or(whole_length)?;
        Some(DrawnLeaf { leaf: u32::try_from(i + 1).ok()?, thickness_mm: leaf.thickness_mm, length_mm })
    });
    PackSide {
        rate_n_per_mm: state.rate_n_per_mm,
        deflection_mm: state.deflection_mm,
        stress_mpa: state.stress_mpa,
        free_arch_mm: state.free_arch_mm,
        arch_mm: state.arch_mm,
        lower_mm,
        drawn: drawn.collect(),
    }
}

fn words(pack: &SpringPack, answer: &SpringAnswer, lower_mm: f64, end: &str, inches: bool) -> MechanismWords {
    let changed = !pack.remove.is_empty();
    let out = out_words(&pack.remove);
    let headline = if changed {
        let way = if lower_mm < 0.0 { "higher" } else { "lower" };
        format!("{} {way} without {out}.", length(lower_mm.abs(), inches))
    } else {
        format!(
            "{:.1} N/mm, sinks {} under its load.",
            answer.before.rate_n_per_mm,
            length(answer.before.deflection_mm, inches)
        )
    };
    let detail = match (changed, answer.arch_drop_mm) {
        (true, Some(arch)) if whole(arch) == "0" => {
            "By the softer pack; what it loses of its arch is less than a millimetre.".to_owned()
        }
        (true, Some(arch)) => format!(
            "By the softer pack {}, by the arch it {} {}.",
            length(answer.drop_mm, inches),
            if arch < 0.0 { "gains" } else { "loses" },
            length(arch.abs(), inches)
        ),
        (true, None) => "By the softer pack alone; what it loses of its arch comes on top.".to_owned(),
        (false, _) if pack.leaves.len() > 1 => "Choose leaves below to see the pack without them.".to_owned(),
        (false, _) => format!("The {end} pack as it is."),
    };
    let mut rows = vec![row("rate", "Rate", "N/mm", answer, changed, |state| Some(state.rate_n_per_mm), &|value| {
        format!("{value:.1}")
    })];
    rows.push(row("stress", "Largest stress", "MPa", answer, changed, |state| state.stress_mpa, &whole));
    rows.push(row(
        "deflection",
        "Sinks under the load",
        "",
        answer,
        changed,
        |state| Some(state.deflection_mm),
        &|mm| length(mm, inches),
    ));
    rows.push(row("arch", "Arch under the load", "", answer, changed, |state| state.arch_mm, &|mm| length(mm, inches)));
    let mut rows: Vec<MechanismRow> = rows.into_iter().flatten().collect();
    rate_as_read(&mut rows, answer);
    if changed {
        rows.insert(
            0,
            MechanismRow {
                of: "lower".to_owned(),
                bold: "At the spring".to_owned(),
                line: "Predicted, not measured; the load the same".to_owned(),
                value: length(lower_mm.abs(), inches),
                band: if lower_mm < 0.0 { "higher".to_owned() } else { "lower".to_owned() },
                verdict: String::new(),
                number: lower_mm,
                u: DROP_U_MM.hypot(0.1 * lower_mm),
            },
        );
    }
    MechanismWords {
        described: true,
        text: format!("{headline} {detail} {} leaves.", capital(&crate::words::count(pack.leaves.len()))),
        headline,
        detail,
        rows,
        cautions: vec![
            "A clamped pack holds energy: the centre bolt comes out only with clamps on.".to_owned(),
            "A leaf less stresses the others more. Do not heat, torch or weld spring steel.".to_owned(),
            "Look at bump travel, brake lines and U-bolts before driving; re-torque the U-bolts after the first drive."
                .to_owned(),
            MEASURES.to_owned(),
        ],
        notes: notes(answer),
    }
}

fn out_words(remove: &[usize]) -> String {
    let mut all = remove.to_vec();
    all.sort_unstable();
    let all: Vec<String> = all.iter().map(ToString::to_string).collect();
    match &all[..] {
        [one] => format!("leaf {one}"),
        [before @ .., last] => format!("leaves {} and {last}", before.join(", ")),
        [] => "any leaf".to_owned(),
    }
}

/// The value after, or the one there is, with the one before under it.
fn row(
    of: &str,
    bold: &str,
    unit: &str,
    answer: &SpringAnswer,
    changed: bool,
    number: impl Fn(&PackState) -> Option<f64>,
    print: &dyn Fn(f64) -> String,
) -> Option<MechanismRow> {
    let before = number(&answer.before)?;
    let after = number(&answer.after).filter(|_| changed);
    Some(MechanismRow {
        of: of.to_owned(),
        bold: bold.to_owned(),
        line: match after {
            Some(_) => format!("{} {unit} before", print(before)).replace("  ", " "),
            None if changed => "before; after it cannot be told without the arch of every leaf".to_owned(),
            None => String::new(),
        },
        value: print(after.unwrap_or(before)),
        band: unit.to_owned(),
        verdict: String::new(),
        number: after.unwrap_or(before),
        u: 0.0,
    })
}

/// The \u{b1} of a rate that was read goes on to what the pack sinks; by its dimensions alone it has none.
fn rate_as_read(rows: &mut [MechanismRow], answer: &SpringAnswer) {
    let Some(read) = answer.measured_rate else { return };
    for row in rows {
        row.u = (row.number * read.u / read.value).abs();
        match row.of.as_str() {
            "rate" => row.band = format!("N/mm \u{b1}{:.1}", (2.0 * row.u).max(0.1)),
            "deflection" => row.band = format!("\u{b1}{} mm", whole(band_mm(row.u))),
            _ => row.u = 0.0,
        }
    }
}

fn notes(answer: &SpringAnswer) -> Vec<String> {
    let mut notes = Vec::new();
    match (answer.measured_rate, answer.rate_by_dimensions_n_per_mm) {
        (Some(rate), by_dimensions) => {
            let mut said = format!("The rate is the one read, {:.1} \u{b1}{:.1} N/mm.", rate.value, 2.0 * rate.u);
            if let Some(by_dimensions) = by_dimensions {
                said.push_str(&format!(" By its dimensions it would be {by_dimensions:.1}."));
            }
            notes.push(said);
        }
        (None, _) => notes.push(
            "By its dimensions; friction and clips make a real pack up to 10 % stiffer (common practice, no source)."
                .to_owned(),
        ),
    }
    notes.push(
        match answer.measured_rate {
            Some(_) => "Stress and arch follow from the dimensions and the load as typed: they have no \u{b1}.",
            None => {
                "Rate, stress, sinking and arch follow from the dimensions and the load as typed: they have no \u{b1}."
            }
        }
        .to_owned(),
    );
    if let Some((nip, bolt)) = answer.before.equal_stress_nip_mm.zip(answer.before.equal_stress_bolt_n) {
        notes.push(format!(
            "A nip of {nip:.1} mm under the full-length leaves evens out the stress; the centre bolt pulls {} N to close it.",
            whole(bolt)
        ));
    }
    notes
}

fn leaves(pack: &SpringPack, answer: &SpringAnswer, inches: bool) -> Vec<LeafLine> {
    let line = |row: &trueground_core::plan::spring::LeafRow| {
        let long = pack.leaves.get(row.leaf - 1).and_then(|leaf| leaf.length_mm);
        let thick = format!("{:.2} mm thick", row.thickness_mm);
        LeafLine {
            leaf: u32::try_from(row.leaf).unwrap_or_default(),
            words: match long {
                Some(long) => format!("{thick}, {} long", length(long, inches)),
                None => thick,
            },
            out: pack.remove.contains(&row.leaf),
            stress_mpa: row.stress_mpa,
            stress_after_mpa: row.stress_after_mpa.filter(|_| !pack.remove.is_empty()),
            clamping_mpa: row.clamping_stress_mpa,
            nip_mm: row.nip_mm,
        }
    };
    answer.leaves.iter().map(line).collect()
}
