//! What follows from a plan: the findings of every check on the planned stance, worst first, with what each is now.

use super::{Base, refused};
use crate::wire::{FindingWord, PlanFinding, Problem};
use crate::words::{capital, counted};
use trueground_core::checks::{Finding, LoadCase, Verdict, Which, at_stance, findings};
use trueground_core::plan::Planned;

/// The rows, and how many there are in words.
///
/// # Errors
/// The stance cannot be checked.
pub(super) fn follows(base: &Base, planned: &Planned) -> Result<(Vec<PlanFinding>, String), Problem> {
    let solution = base.solution()?;
    // What is half read says nothing yet.
    let mut file = base.solved.file.clone();
    file.snapshots.retain(|snapshot| solution.snapshots.iter().any(|stance| stance.id == snapshot.id));
    let of =
        |which| at_stance(&file, solution, which, LoadCase::Nominal, Vec::new()).map_err(|problem| refused(&problem));
    let (after, now) = (of(Which::Planned(planned))?, of(Which::Snapshot(&base.from.0))?);
    let before = findings(&now, &[]);
    let mut found = findings(&after, &[]);
    found.sort_by_key(|finding| rank(word(finding)));
    let cautions = found.iter().filter(|finding| rank(word(finding)) < 2).count();
    let mut words = counted(found.len(), "finding", "findings");
    if cautions > 0 {
        words += &format!(", {}", counted(cautions, "caution", "cautions"));
    }
    let row = |finding: &Finding| {
        row(finding, before.iter().find(|one| one.check == finding.check && one.what == finding.what))
    };
    Ok((found.iter().map(row).collect(), capital(&words)))
}

const fn word(finding: &Finding) -> FindingWord {
    match finding.verdict {
        Some(Verdict::Touches) => FindingWord::Touches,
        Some(Verdict::Outside) => FindingWord::Caution,
        Some(Verdict::CantTell) => FindingWord::CantTell,
        Some(Verdict::Clears) => FindingWord::Clears,
        Some(Verdict::Within) => FindingWord::Within,
        None => FindingWord::Number,
    }
}

/// Touches, cautions, can't tell, clears, the rest.
const fn rank(word: FindingWord) -> u8 {
    match word {
        FindingWord::Touches => 0,
        FindingWord::Caution => 1,
        FindingWord::CantTell => 2,
        FindingWord::Clears => 3,
        FindingWord::Within => 4,
        FindingWord::Number => 5,
    }
}

fn row(finding: &Finding, now: Option<&Finding>) -> PlanFinding {
    let (decimals, unit) = match finding.unit {
        "deg" => (1, "°"),
        "percent" => (1, " %"),
        _ => (0, ""),
    };
    let printed = |value: f64| format!("{value:.decimals$}{unit}").replace('-', "\u{2212}");
    let source = finding.source.trim_end_matches('.');
    let margin = match (finding.verdict, finding.limit, now) {
        (Some(Verdict::Touches), Some(limit), _) => format!("{} short", printed((finding.value - limit).abs())),
        (_, _, Some(now)) if printed(now.value) != printed(finding.value) => format!("now {}", printed(now.value)),
        (Some(Verdict::Clears), Some(limit), _) => format!("{} spare", printed((finding.value - limit).abs())),
        _ => String::new(),
    };
    PlanFinding {
        check: finding.check.to_owned(),
        what: finding.what.clone(),
        word: word(finding),
        sentence: finding.sentence.clone(),
        line: finding
            .verdict
            .map_or_else(|| capital(source), |verdict| format!("{}. {}", capital(verdict.words()), capital(source))),
        number: printed(finding.value),
        margin,
    }
}
