//! The answer of `trueground plan` for people.

use super::answer::{Measured, Ranked, Reply, Row, Search, takes};
use crate::table::{Column, Table, plus_minus, whole};
use std::fmt::Write as _;
use trueground_core::checks::{Finding, Verdict};
use trueground_core::plan::{BEFORE_DRIVING, KINDS, PlannedFigure};
use trueground_core::stance::Figure;

pub(super) fn words(reply: &Reply) -> String {
    let mut out = format!("Predicted from snapshot {}, not measured.\n\n", reply.from);
    for row in &reply.planned {
        let _ = writeln!(out, "{}", row.label);
        out.push_str(&stance(row));
        out.push_str(&drops(row));
        out.push_str(&follows(row));
        out.push('\n');
    }
    if let Some(measured) = &reply.measured {
        out.push_str(&after(measured));
    }
    if let Some(search) = &reply.search {
        out.push_str(&searched(search));
    }
    let _ = writeln!(out, "{BEFORE_DRIVING}");
    out
}

fn height(figure: &Figure) -> [String; 2] {
    match figure.value.zip(figure.u) {
        Some((value, u)) => [whole(value), plus_minus(u)],
        None => ["can't tell".to_owned(), String::new()],
    }
}

fn stance(row: &Row) -> String {
    let head = [
        (Column::Words, ""),
        (Column::Numbers, "front mm"),
        (Column::Numbers, "±"),
        (Column::Numbers, "rear mm"),
        (Column::Numbers, "±"),
        (Column::Numbers, "rake °"),
    ];
    let mut table = Table::new(&head);
    for (kind, line) in &row.stance.lines {
        let ([front, front_u], [rear, rear_u]) = (height(&line.front_mean_mm), height(&line.rear_mean_mm));
        let rake = line.rake_deg.value.map_or_else(|| "can't tell".to_owned(), |rake| format!("{rake:.1}"));
        table.row([kind.replace('_', " "), front, front_u, rear, rear_u, rake]);
    }
    table.lines()
}

fn drops(row: &Row) -> String {
    let head = [
        (Column::Words, "where it comes from"),
        (Column::Numbers, "front mm"),
        (Column::Numbers, "rear mm"),
        (Column::Numbers, "frame"),
        (Column::Numbers, "body"),
        (Column::Words, ""),
    ];
    let mut table = Table::new(&head);
    let mm = |figure: PlannedFigure| whole(figure.value);
    for step in &row.drop_by_step {
        let from = format!("{} ({})", step.label, step.comes_from);
        table.row([from, mm(step.front_mm), mm(step.rear_mm), mm(step.frame_mm), mm(step.body_mm), step.sum.clone()]);
    }
    let mut out = table.lines();
    for step in &row.drop_by_step {
        for line in &step.follows {
            let _ = writeln!(out, "{}: {line}", step.label);
        }
    }
    for caution in &row.cautions {
        let _ = writeln!(out, "{}: {}", caution.headline(), caution.words());
    }
    out
}

/// In the order of a finding row: touches, can't tell, clears, the rest.
fn follows(row: &Row) -> String {
    let rank = |finding: &Finding| match finding.verdict {
        Some(Verdict::Touches) => 0,
        Some(Verdict::Outside) => 1,
        Some(Verdict::CantTell) => 2,
        Some(Verdict::Clears) => 3,
        Some(Verdict::Within) => 4,
        None => 5,
    };
    let mut found: Vec<&Finding> = row.findings.iter().collect();
    found.sort_by_key(|finding| rank(finding));
    let mut table = Table::new(&[(Column::Words, ""), (Column::Words, "what follows")]);
    for finding in found {
        table.row([finding.verdict.map_or("", |verdict| verdict.words()).to_owned(), finding.sentence.clone()]);
    }
    if row.findings.is_empty() { String::new() } else { table.lines() }
}

fn after(measured: &Measured) -> String {
    let mut out = format!("Measured in snapshot {}, against what was predicted:\n", measured.snapshot);
    for end in &measured.ends {
        let way = |mm: f64| format!("{} mm {}", whole(mm.abs()), if mm < 0.0 { "lower" } else { "higher" });
        let _ = write!(
            out,
            "{}: predicted {}, measured {} (± {}).",
            end.end.words(),
            way(end.predicted_mm),
            way(end.measured_mm),
            plus_minus(end.measured_u_mm)
        );
        match end.ratio {
            Some(ratio) => {
                let _ = writeln!(
                    out,
                    " These springs go {ratio:.2} times the way the sum says; a plan that was kept and carried out makes the next one reckon with it."
                );
            }
            None => out.push('\n'),
        }
    }
    for (point, difference) in &measured.comparison.differences {
        if let Some((value, u)) = difference.value.zip(difference.u) {
            let _ = writeln!(
                out,
                "{point}: {} mm {} than predicted (± {})",
                whole(value.abs()),
                if value < 0.0 { "lower" } else { "higher" },
                plus_minus(u)
            );
        }
    }
    out.push('\n');
    out
}

fn searched(search: &Search) -> String {
    let mut out = String::new();
    let all =
        if search.combinations < 1e15 { whole(search.combinations) } else { format!("{:.1e}", search.combinations) };
    let _ = match (search.answers.first(), search.reaches) {
        (None, _) => writeln!(out, "Nothing is left of {all} combinations that keeps what you ask for."),
        (Some(_), true) => writeln!(out, "These come nearest to {} out of {all} combinations.", search.target),
        (Some(best), false) => writeln!(
            out,
            "No combination of these parts reaches {}: of {all}, the nearest leaves {} off by {:.1} times its tolerance.",
            search.target, best.worst_point, best.worst
        ),
    };
    if !search.proved {
        out.push_str("The search was stopped before everything was looked at: something better may be left.\n");
    }
    for left_out in &search.left_out {
        let _ = writeln!(out, "Left out: {}. {}", left_out.part, left_out.why);
    }
    for ranked in &search.answers {
        out.push('\n');
        out.push_str(&ranked_words(ranked));
    }
    if let Some(nearest) = &search.nearest_but {
        let _ = writeln!(
            out,
            "\nNearer, with {}: {:.1} times the tolerance; but {}.",
            parts(&nearest.parts),
            nearest.worst,
            nearest.breaks
        );
    }
    out.push('\n');
    out
}

fn parts(parts: &[String]) -> String {
    if parts.is_empty() { "nothing changed".to_owned() } else { parts.join(", ") }
}

fn ranked_words(ranked: &Ranked) -> String {
    let mut out = format!(
        "{}. {}: worst {} at {:.2} of its tolerance",
        ranked.rank,
        parts(&ranked.parts),
        ranked.worst_point,
        ranked.worst
    );
    if ranked.price > 0.0 || ranked.hours > 0.0 {
        let _ = write!(out, "; price {}, {} hours", whole(ranked.price), ranked.hours);
    }
    out.push('\n');
    let off = ranked.differences_mm.iter().map(|(point, mm)| format!("{point} {:+.0}", mm.round() + 0.0));
    let _ = writeln!(out, "   off the target, mm: {}", off.collect::<Vec<_>>().join(", "));
    for finding in ranked
        .planned
        .findings
        .iter()
        .filter(|finding| matches!(finding.verdict, Some(Verdict::Touches | Verdict::Outside)))
    {
        let _ = writeln!(out, "   {}: {}", finding.verdict.map_or("", |verdict| verdict.words()), finding.sentence);
    }
    out
}

pub(super) fn kinds() -> String {
    let mut out = String::new();
    for kind in &KINDS {
        let _ = writeln!(out, "{}: {}. {}", kind.code, kind.words, kind.does);
        for field in kind.fields {
            let _ = writeln!(out, "    {}: {} ({})", field.key, field.words, takes(field.takes));
        }
    }
    out.push_str("Every step has \"end\": \"front\" or \"rear\", and takes amount_mm (+ lifts) in place of its fields, and u_mm.\n");
    out
}
