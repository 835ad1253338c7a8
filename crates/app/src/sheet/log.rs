//! The printed history of a car: a row an entry under its month, newest first, in words only.

use super::STYLE;
use crate::wire::{HistoryEntry, HistoryView};
use maud::{DOCTYPE, Markup, PreEscaped, html};
use trueground_core::wording::shown;

/// Above the sheet's own style: days keep to their column, and no entry is torn between two pages.
const LOG: &str = ".log td { padding: 5px 0; } .log th { width: 110px; vertical-align: top; padding: 5px 8px 5px 0; }
.log tr { break-inside: avoid; } .log h2 { break-after: avoid; } .log main > p { margin-top: 12px; } .log s { text-decoration-thickness: 2px; }";

/// The page; `day` is when it was printed.
pub(crate) fn of(history: &HistoryView, day: &str) -> String {
    let label = shown(&history.label);
    let mut months: Vec<(&str, Vec<&HistoryEntry>)> = Vec::new();
    for entry in &history.entries {
        match months.last_mut() {
            Some((month, entries)) if *month == entry.month => entries.push(entry),
            _ => months.push((&entry.month, vec![entry])),
        }
    }
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (label) ", history" }
                style { (PreEscaped(STYLE)) (PreEscaped(LOG)) }
            }
            body.log {
                main {
                    header { h1 { (label) " " span { "history, printed " (day) } } }
                    @if months.is_empty() { p { "Nothing happened yet." } }
                    @for (month, entries) in &months {
                        section {
                            h2 { (month) }
                            table.rows { @for entry in entries { (row(entry)) } }
                        }
                    }
                    p { "± is two standard uncertainties: 95 in 100 lie within it. Struck through: withdrawn, and kept in the book." }
                }
            }
        }
    };
    page.into_string()
}

fn row(entry: &HistoryEntry) -> Markup {
    let words = entry.words.strip_prefix(&format!("{}: ", entry.day)).unwrap_or(&entry.words);
    html! {
        tr {
            th scope="row" { (entry.day) }
            td { @if entry.withdrawn { s { (words) } } @else { (words) } }
        }
    }
}
