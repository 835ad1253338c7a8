//! The readable marking nearest to one that cannot be read.

use super::marking::{Rim, Size};
use super::reader::parse;

/// One marking of each era, for a text that none of the repairs makes readable.
const EXAMPLES: [&str; 10] = [
    "6.00-16",
    "7.00-16",
    "205/55R16",
    "P205/75R15",
    "155R15",
    "165SR15",
    "G78-15",
    "31x10.50R15LT",
    "30x3 1/2",
    "880x120",
];

/// What is missing where a marking stops too early.
const ENDINGS: [&str; 8] = ["5", "15", "R15", "-15", "0-16", "0R15", "5R15", "/75R15"];

/// The same behind a load letter, and behind an x.
const LETTER_ENDINGS: [&str; 3] = ["-15", "15", "78-15"];
const BY_ENDINGS: [&str; 3] = ["3 1/2", "4", "120"];

/// The nearest marking that [`parse`] accepts; reading stopped `at` characters into `text`.
pub(super) fn nearest_readable(text: &str, at: usize) -> String {
    let typed: String = text.trim().chars().take(60).collect();
    let understood: String = text.chars().take(at).collect();
    let understood = understood.trim();
    let rest: String = text.chars().skip(at).collect();
    let behind: String = rest.chars().skip(1).take(60).collect();

    let mended = lookalikes(&typed);
    let mut candidates = vec![mended.clone()];
    if !rest.is_empty() {
        // One wrong character: left out, or another in its place.
        candidates.extend(["", "R", "-"].map(|instead| format!("{understood}{instead}{behind}")));
    }
    candidates.extend(with_a_mark(&mended));
    candidates.push(mended.trim_start_matches(|c: char| !c.is_ascii_alphanumeric()).to_owned());
    candidates.push(understood.to_owned());
    candidates.extend((1..=3).filter_map(|cut| Some(typed[..typed.char_indices().rev().nth(cut - 1)?.0].to_owned())));
    let by_letter = understood.starts_with(|c: char| c.is_ascii_alphabetic()) && !understood.contains('/');
    let endings = match (by_letter, understood.ends_with(['x', 'X', '×'])) {
        (_, true) => &BY_ENDINGS[..],
        (true, _) => &LETTER_ENDINGS[..],
        _ => &ENDINGS[..],
    };
    if understood.len() > 2 {
        candidates.extend(endings.iter().chain(&ENDINGS).map(|ending| format!("{understood}{ending}")));
    }
    let readable: Vec<String> = candidates.iter().filter_map(|candidate| as_marked(candidate)).collect();
    readable.iter().find(|candidate| has_a_usual_rim(candidate)).or(readable.first()).cloned().unwrap_or_else(|| {
        let upper = typed.to_uppercase();
        crate::wording::nearest(&upper, &EXAMPLES).unwrap_or(EXAMPLES[0]).to_owned()
    })
}

/// A readable text as it stands on a sidewall: capitals but a small x, no space beside a dash, stroke or x. What it says
/// stays the same, and it is read once more before it is offered.
fn as_marked(candidate: &str) -> Option<String> {
    let said = parse(candidate).ok()?;
    let capitals = candidate.trim().to_uppercase().replace('X', "x");
    let mut close = String::new();
    for word in capitals.split_whitespace() {
        let joined = close.is_empty() || close.ends_with(['-', '/', 'x']) || word.starts_with(['-', '/', 'x']);
        close.push_str(if joined { "" } else { " " });
        close.push_str(word);
    }
    let same =
        |text: &String| parse(text).is_ok_and(|read| (read.size, read.construction) == (said.size, said.construction));
    [close, capitals].into_iter().find(same)
}

/// Rims of one digit belong to small trailers: the last guess, not the first.
fn has_a_usual_rim(marking: &str) -> bool {
    parse(marking).is_ok_and(|read| match read.size {
        Size::Metric { rim, .. }
        | Size::Numeric { rim, .. }
        | Size::Letter { rim, .. }
        | Size::Flotation { rim, .. } => !matches!(rim, Rim::Code(code) if code < 10.0),
        Size::EarlyInch { .. } | Size::EarlyMetric { .. } => true,
    })
}

/// Letters that stand for digits, and marks that stand for others, set right.
fn lookalikes(typed: &str) -> String {
    let characters: Vec<char> = typed.chars().collect();
    let beside_a_digit = |i: usize| {
        let digit = |c: Option<&char>| c.is_some_and(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | 'O' | 'o'));
        digit(i.checked_sub(1).and_then(|i| characters.get(i))) || digit(characters.get(i + 1))
    };
    characters
        .iter()
        .enumerate()
        .map(|(i, c)| match c {
            'O' | 'o' if beside_a_digit(i) => '0',
            'I' | 'l' | '|' if beside_a_digit(i) => '1',
            'S' | 's' if beside_a_digit(i) && !characters.get(i + 1).is_some_and(|c| matches!(c, 'R' | 'r')) => '5',
            '\\' | ':' => '/',
            '_' | '~' | '=' => '-',
            c => *c,
        })
        .collect()
}

/// The text with one separator put in, likeliest first; for a marking typed without it.
fn with_a_mark(typed: &str) -> Vec<String> {
    let characters: Vec<char> = typed.chars().collect();
    let mut out = Vec::new();
    // A marked aspect ratio belongs to the time of the radials.
    for mark in if typed.contains('/') { ["R", "-", "/"] } else { ["-", "R", "/"] } {
        // The rim is the shortest part and stands last: try from the end.
        for at in (1..characters.len()).rev() {
            let (before, after) = characters.split_at(at);
            out.push(format!("{}{mark}{}", before.iter().collect::<String>(), after.iter().collect::<String>()));
        }
    }
    out.retain(|candidate| parse(candidate).is_ok());
    // A rim of two digits is likelier than one of three, a section of three digits likelier than of two.
    out.sort_by_key(|candidate| {
        let last = candidate.chars().rev().take_while(char::is_ascii_digit).count();
        last.abs_diff(2)
    });
    out
}
