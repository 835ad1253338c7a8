//! Which law the curve is, which one comes next, and which can be asked for instead.

use super::{Shown, end_words, ends};
use crate::wire::{SettlingLaw, SettlingModel, SettlingWord};
use crate::words::capital;
use trueground_core::trend::{Candidate, Law, LineSettling};

/// An AICc within this of the best one's is a tie.
const TIE: f64 = 2.0;

/// "The curve: ever slower, to a rest. Runner-up: ever slower, without end." Empty where no curve is drawn and none was asked for.
pub(super) fn line(shown: &Shown<'_>, asked: SettlingModel) -> String {
    let told = shown.lines.iter().filter(|line| ends::word(line) != SettlingWord::CantTell);
    let laid: Vec<(&LineSettling, Law)> = told.filter_map(|line| Some((*line, line.answer().model?))).collect();
    let Some((_, first)) = laid.first() else {
        return asked_law(asked).map_or(String::new(), |law| format!("Asked for: {}.", words(law)));
    };
    let curve = if laid.iter().all(|(_, law)| law == first) {
        words(*first).to_owned()
    } else {
        let each: Vec<String> =
            laid.iter().map(|(line, law)| format!("{} {}", end_words(line.end), words(*law))).collect();
        each.join("; ")
    };
    if asked != SettlingModel::Best {
        return format!("Asked for: {curve}.");
    }
    let next = laid.iter().find_map(|(line, law)| line.candidates.iter().find(|other| other.model != *law));
    let runner_up = next.map_or(String::new(), |next| format!(" Runner-up: {}.", words(next.model)));
    format!("The curve: {curve}.{runner_up}")
}

/// All that can be asked for.
pub(super) fn choices(shown: &Shown<'_>) -> Vec<SettlingLaw> {
    if shown.lines.is_empty() {
        return Vec::new();
    }
    [SettlingModel::Best, SettlingModel::Exponential, SettlingModel::Logarithmic, SettlingModel::Both]
        .into_iter()
        .map(|model| match asked_law(model) {
            None => SettlingLaw { model, words: "The one that fits best".to_owned(), detail: String::new() },
            Some(law) => SettlingLaw { model, words: capital(words(law)), detail: detail(shown, law) },
        })
        .collect()
}

const fn asked_law(asked: SettlingModel) -> Option<Law> {
    match asked {
        SettlingModel::Best => None,
        SettlingModel::Exponential => Some(Law::Exponential),
        SettlingModel::Logarithmic => Some(Law::Logarithmic),
        SettlingModel::Both => Some(Law::Both),
    }
}

const fn words(law: Law) -> &'static str {
    match law {
        Law::Exponential => "ever slower, to a rest",
        Law::Logarithmic => "ever slower, without end",
        Law::Both => "fast, then ever slower without end",
    }
}

/// "Exponential. Front fits best, rear fits as well."
fn detail(shown: &Shown<'_>, law: Law) -> String {
    let name = match law {
        Law::Exponential => "Exponential",
        Law::Logarithmic => "Logarithm",
        Law::Both => "Exponential and logarithm",
    };
    let fits: Vec<String> = shown.lines.iter().filter_map(|line| fits(line, law)).collect();
    if fits.is_empty() { format!("{name}.") } else { format!("{name}. {}.", capital(&fits.join(", "))) }
}

/// How it fits an end by itself; none where it was not laid beside another.
fn fits(line: &LineSettling, law: Law) -> Option<String> {
    let of = |candidate: &&Candidate| candidate.model == law;
    let by = line.candidates.iter().find(of).filter(|_| line.candidates.iter().any(|other| !of(&other)))?.delta_aicc;
    let how = if by <= 0.0 {
        "fits best"
    } else if by < TIE {
        "fits as well"
    } else {
        "fits less well"
    };
    Some(format!("{} {how}", end_words(line.end)))
}
