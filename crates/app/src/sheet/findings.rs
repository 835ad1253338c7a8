//! What follows from a stance on one page to print: the findings in their order, every check under every load, the rules by name.

use super::printed::Printed;
use super::side_view::side_view;
use crate::wire::{CheckPart, CheckRow, CheckTable, CheckWord, CheckedView};
use crate::words::{capital, day};
use maud::{Markup, html};
use trueground_core::wording::shown;

const STYLE: &str = concat!(include_str!("sheet.css"), include_str!("card.css"), include_str!("findings.css"));

/// The page.
pub(crate) fn page(label: &str, view: &CheckedView) -> String {
    let loaded = view.loads.iter().find(|choice| choice.load == view.load);
    let held: Vec<&str> = view.rules.iter().filter(|rule| rule.on).map(|rule| rule.words.as_str()).collect();
    let content = html! {
        p.result { b { (view.headline) } " " (view.detail) }
        @if let Some(scene) = &view.scene {
            @let (picture, _) = side_view(&scene.side);
            div.seen { (picture) }
            p { (scene.text) }
        }
        section {
            h2 { "Findings " span { (view.counted) } }
            (rows(&view.rows))
        }
        @if !view.table.rows.is_empty() { (loads(&view.table)) }
        section {
            h2 { "How it was checked" }
            p { "Aboard: " (loaded.map_or("", |choice| choice.aboard.as_str())) "." }
            p { "Held against: " @if held.is_empty() { "no rule" } @else { (held.join(", ")) } ". Whether a rule holds for this car is for its owner to know." }
            @for caution in &view.cautions { p { b { "Caution: " } (caution) } }
        }
    };
    let stands =
        if view.predicted { ("Predicted", view.stance.label.clone()) } else { ("Date", day(&shown(&view.date))) };
    let cells = [stands, ("Floor", capital(&view.floor)), ("Units", "mm, degrees".to_owned())];
    Printed {
        label,
        what: "what follows",
        cells: &cells,
        class: "findings",
        style: STYLE,
        foot: "± holds 19 times in 20. This page measures; it does not say a car is roadworthy.",
    }
    .page(&content)
}

pub(super) const fn words(word: CheckWord) -> &'static str {
    match word {
        CheckWord::Touches => "touches",
        CheckWord::Caution => "caution",
        CheckWord::CantTell | CheckWord::NotRead => "can\u{2019}t tell",
        CheckWord::Clears => "clears",
        CheckWord::Within => "within",
        CheckWord::Same => "same",
        CheckWord::Number => "",
    }
}

/// What is left before the limit or where it comes from, and what it is now.
fn after(row: &CheckRow) -> String {
    let own = if row.margin.is_empty() { &row.line } else { &row.margin };
    let now = if row.now == row.number { "as now".to_owned() } else { format!("now {}", row.now) };
    match (own.is_empty(), row.now.is_empty()) {
        (_, true) => own.clone(),
        (true, false) => now,
        (false, false) => format!("{}; {now}", own.trim_end_matches('.')),
    }
}

/// One row a finding; what belongs under it follows smaller.
pub(crate) fn rows(rows: &[CheckRow]) -> Markup {
    html! {
        table.rows.found {
            tbody {
                @for row in rows {
                    tr {
                        th scope="row" { b { (shown(&row.subject)) } }
                        td { (words(row.word)) }
                        td.number { @if !row.number.is_empty() { b { (row.number) } " " (row.band) @if row.unit == "mm" { " mm" } } }
                        td { (after(row)) }
                    }
                    @if row.parts.len() > 1 { tr.part { th scope="row" colspan="4" { (one_by_one(&row.parts[1..])) } } }
                }
            }
        }
    }
}

/// "Front left flat: exhaust 94 ±4 mm, clears; …": the others of a row on one line.
fn one_by_one(parts: &[CheckPart]) -> String {
    let part = |part: &CheckPart| {
        let word = words(part.word);
        format!("{} {}{}{word}", part.words, part.number, if word.is_empty() { "" } else { ", " })
    };
    parts.iter().map(part).collect::<Vec<_>>().join("; ")
}

fn loads(table: &CheckTable) -> Markup {
    html! {
        section {
            h2 { "Under every load " span { "x touches or is outside, ? can\u{2019}t tell" } }
            table.rows.loads {
                thead { tr { th scope="col" {} @for load in &table.loads { th scope="col" { (load) } } } }
                tbody {
                    @for row in &table.rows {
                        tr {
                            th scope="row" { (shown(&row.subject)) @if row.unit == "mm" { ", mm" } }
                            @for cell in &row.cells {
                                td { (cell.number) @match cell.word { CheckWord::Touches | CheckWord::Caution => " x", CheckWord::CantTell => " ?", _ => "" } }
                            }
                        }
                    }
                }
            }
        }
    }
}
