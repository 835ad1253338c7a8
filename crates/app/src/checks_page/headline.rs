//! What the checks of a stance say in one sentence, and what has to be looked after before driving.

use super::rows::Row;
use crate::wire::{CheckWord, StanceChoice};
use crate::words::{capital, counted as counted_words};
use trueground_core::checks::LoadCase;

/// The result, and the sentence under it.
pub(super) fn headline(rows: &[Row], stance: &StanceChoice, load: LoadCase) -> (String, String) {
    let of = |word: CheckWord| rows.iter().filter(move |row| row.view.word == word);
    let first = |word: CheckWord| {
        let first = of(word).next()?;
        let more = of(word).count() - 1;
        let and = if more == 0 { String::new() } else { format!(", and {more} more") };
        Some((first.view.subject.as_str(), and))
    };
    let touches = of(CheckWord::Touches).next().map(|first| {
        let more = of(CheckWord::Touches).count() - 1;
        let and = if more == 0 { String::new() } else { format!(", and {more} more") };
        match (first.view.check.as_str(), more) {
            ("ramp", 0) => format!("Touches the {}.", first.view.subject),
            ("ramp", _) => format!("Touches the {}{and}.", first.view.subject),
            _ => format!("{}: touches{and}.", first.view.subject),
        }
    });
    let headline = touches
        .or_else(|| first(CheckWord::Caution).map(|(subject, and)| format!("{subject} is outside{and}.")))
        .or_else(|| first(CheckWord::CantTell).map(|(subject, and)| format!("Can\u{2019}t tell: {subject}{and}.")))
        .or_else(|| of(CheckWord::Clears).next().map(|_| "Nothing touches.".to_owned()))
        .or_else(|| of(CheckWord::Within).next().map(|_| "All of it is inside its limits.".to_owned()))
        .or_else(|| {
            of(CheckWord::Number)
                .chain(of(CheckWord::Same))
                .next()
                .map(|_| "Numbers, and no limit to hold them against.".to_owned())
        })
        .unwrap_or_else(|| "Nothing is measured that could be checked.".to_owned());
    let how = if super::is_predicted(stance) { "Predicted, not measured" } else { "As measured" };
    let when = if super::is_predicted(stance) { stance.label.clone() } else { format!("on {}", stance.label) };
    let detail = match load {
        LoadCase::AsLoaded => format!("{how} {when}, as it was loaded."),
        LoadCase::Nominal => {
            format!("{how}{} {when}, at its nominal load.", if super::is_predicted(stance) { ":" } else { "" })
        }
        other => format!("{how}{} {when}; with {}.", if super::is_predicted(stance) { ":" } else { "" }, other.words()),
    };
    (headline, capital(&detail))
}

/// "12 findings, 2 cautions"
pub(super) fn counted(rows: &[Row]) -> String {
    let read = rows.iter().filter(|row| row.view.word != CheckWord::NotRead).count();
    let cautions = rows.iter().filter(|row| matches!(row.view.word, CheckWord::Touches | CheckWord::Caution)).count();
    let findings = counted_words(read, "finding", "findings");
    match cautions {
        0 => capital(&findings),
        _ => format!("{}, {}", capital(&findings), counted_words(cautions, "caution", "cautions")),
    }
}

/// Where the work is: what has to be looked after where something touches or is near it.
pub(super) fn cautions(rows: &[Row]) -> Vec<String> {
    let bad = |check: &str| {
        let rows = rows.iter().filter(|row| row.view.check == check);
        rows.filter(|row| matches!(row.view.word, CheckWord::Touches | CheckWord::Caution | CheckWord::CantTell))
            .count()
            > 0
    };
    let all = [
        (
            bad("clearance") || bad("flat_tire") || bad("ramp"),
            "Measure again under the car only with its wheels on the ground or on rated stands on solid floor. Never put any part of you under a car held by a jack.",
        ),
        (
            bad("caster") || bad("driveline"),
            "Wishbones, rods and shafts are steering and structure: work on them belongs to a qualified person.",
        ),
        (
            bad("lamps"),
            "Lamp rules are local and speak of a car at curb weight: the numbers stand here with the rule\u{2019}s name, and no verdict of law.",
        ),
    ];
    all.into_iter().filter(|(holds, _)| *holds).map(|(_, words)| words.to_owned()).collect()
}
