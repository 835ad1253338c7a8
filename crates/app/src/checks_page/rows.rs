//! Findings as rows: what belongs together in one row under its worst, in the order of how it stands.

use super::wording::{flat, flat_too, in_words, line, margin, opening, printed, subject, unit};
use crate::wire::{CheckPart, CheckRow, CheckWord};
use crate::words::capital;
use trueground_core::checks::{AtStance, Finding, Unread, Verdict};

/// A row, with the finding that it shows.
#[derive(Clone, Debug)]
pub(crate) struct Row {
    pub(crate) finding: Option<Finding>,
    pub(crate) view: CheckRow,
}

/// All rows of a stance.
pub(crate) fn rows(car: &AtStance<'_>, found: &[Finding], unread: &[Unread]) -> Vec<Row> {
    let mut groups: Vec<(String, Vec<&Finding>)> = Vec::new();
    for finding in found {
        let key = format!("{}/{}", finding.check, group(finding));
        match groups.iter_mut().find(|(known, _)| *known == key) {
            Some((_, findings)) => findings.push(finding),
            None => groups.push((key, vec![finding])),
        }
    }
    let mut rows: Vec<Row> = groups.into_iter().filter_map(|(_, findings)| row(car, findings)).collect();
    rows.extend(unread.iter().map(not_read));
    rows.sort_by_key(|row| rank(row.view.word));
    rows
}

/// What stands in one row: all tires one by one, all sides, all rims; all angles of one ground; all gaps of a wheel; a jack on all
/// its tires and on a flat one.
pub(super) fn group(finding: &Finding) -> String {
    let what = finding.what.as_str();
    match finding.check {
        "flat_tire" if what.ends_with("on the rim") => "rim",
        "flat_tire" if what.contains("side flat") => "side",
        "flat_tire" => "one",
        "ramp" if finding.unit == "deg" => what.split_once(", ").map_or(what, |(_, ground)| ground),
        "gearing" => "speed",
        "fitment" => return opening(what).map_or_else(|| what.to_owned(), |(wheel, _)| wheel),
        "jacking" => flat_too(what).0,
        _ => what,
    }
    .to_owned()
}

fn row(car: &AtStance<'_>, mut findings: Vec<&Finding>) -> Option<Row> {
    // Engine speeds stand in their order; of all else the worst comes first.
    if findings.first()?.check == "gearing" {
        findings.reverse();
    } else {
        findings.sort_by(|a, b| rank(word(a)).cmp(&rank(word(b))).then(spare(a).total_cmp(&spare(b))));
    }
    let worst = *findings.first()?;
    let parts = if findings.len() > 1 { lowest_of_each(&findings).into_iter().map(part).collect() } else { Vec::new() };
    let (number, band) = printed(worst);
    let view = CheckRow {
        check: worst.check.to_owned(),
        what: worst.what.clone(),
        word: word(worst),
        subject: subject(car, worst),
        line: line(car, worst),
        value: Some(worst.value),
        u: Some(worst.u),
        unit: worst.unit.to_owned(),
        limit: worst.limit,
        source: worst.source.clone(),
        number,
        band,
        margin: margin(worst),
        now: String::new(),
        sentence: capital(&in_words(&worst.sentence)),
        sum: Vec::new(),
        doubts: Vec::new(),
        parts,
        picture: None,
    };
    Some(Row { finding: Some(worst.clone()), view })
}

/// Of flat tires the lowest point of each case; all else as it is.
fn lowest_of_each<'f>(sorted: &[&'f Finding]) -> Vec<&'f Finding> {
    let case = |finding: &Finding| match finding.check {
        "flat_tire" => finding.what.rsplit(", ").next().unwrap_or_default().to_owned(),
        _ => finding.what.clone(),
    };
    let mut seen: Vec<String> = Vec::new();
    let mut kept = Vec::new();
    for finding in sorted {
        let case = case(finding);
        if !seen.contains(&case) {
            seen.push(case);
            kept.push(*finding);
        }
    }
    kept
}

fn part(finding: &Finding) -> CheckPart {
    let (number, band) = printed(finding);
    let words = match finding.check {
        "ramp" => capital(finding.what.split(", ").next().unwrap_or_default()),
        "flat_tire" => {
            let (case, point) = flat(finding);
            format!("{}: {point}", capital(&case))
        }
        "fitment" => opening(&finding.what).map_or_else(|| capital(&finding.what), |(_, gap)| capital(&gap)),
        "jacking" => match flat_too(&finding.what) {
            (_, Some(corner)) => capital(&in_words(&format!("{corner} flat"))),
            (jack, None) => capital(jack),
        },
        _ => capital(&finding.what),
    };
    CheckPart { word: word(finding), words, number: format!("{number} {band}{}", unit(finding)).replace("  ", " ") }
}

fn not_read(unread: &Unread) -> Row {
    let view = CheckRow {
        check: unread.check.to_owned(),
        what: unread.subject.to_owned(),
        word: CheckWord::NotRead,
        subject: unread.subject.to_owned(),
        line: format!("Can\u{2019}t tell. {}", unread.measure),
        value: None,
        u: None,
        unit: String::new(),
        limit: None,
        source: String::new(),
        number: String::new(),
        band: String::new(),
        margin: String::new(),
        now: String::new(),
        sentence: format!("{}: can\u{2019}t tell. {}", unread.subject, unread.measure),
        sum: Vec::new(),
        doubts: Vec::new(),
        parts: Vec::new(),
        picture: None,
    };
    Row { finding: None, view }
}

/// Says beside each number of a stance that was not measured what it is now.
pub(crate) fn beside(rows: &mut [Row], now: &[Row]) {
    for row in rows {
        let same = |other: &&Row| (&other.view.check, &other.view.subject) == (&row.view.check, &row.view.subject);
        let Some(other) = now.iter().find(same).filter(|other| other.view.value.is_some()) else { continue };
        let unchanged = other.view.number == row.view.number;
        if row.view.word == CheckWord::Number && unchanged {
            row.view.word = CheckWord::Same;
        }
        row.view.now.clone_from(&other.view.number);
    }
}

pub(crate) const fn rank(word: CheckWord) -> u8 {
    match word {
        CheckWord::Touches => 0,
        CheckWord::Caution => 1,
        CheckWord::CantTell => 2,
        CheckWord::Clears | CheckWord::Within => 3,
        CheckWord::Number | CheckWord::Same => 4,
        CheckWord::NotRead => 5,
    }
}

pub(crate) const fn word(finding: &Finding) -> CheckWord {
    match finding.verdict {
        Some(Verdict::Touches) => CheckWord::Touches,
        Some(Verdict::Outside) => CheckWord::Caution,
        Some(Verdict::CantTell) => CheckWord::CantTell,
        Some(Verdict::Clears) => CheckWord::Clears,
        Some(Verdict::Within) => CheckWord::Within,
        None => CheckWord::Number,
    }
}

/// How much is left before the limit, so that the least comes first.
fn spare(finding: &Finding) -> f64 {
    finding.value - finding.limit.unwrap_or(0.0)
}
