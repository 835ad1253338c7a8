//! The printed history of a car: a row an entry under its month, newest first, in words only.

use super::printed::Printed;
use crate::wire::{HistoryEntry, HistoryView};
use maud::{Markup, html};

/// Above the sheet's own style: days keep to their column, and no entry is torn between two pages.
const STYLE: &str = concat!(
    include_str!("sheet.css"),
    include_str!("card.css"),
    ".log .rows td { padding: 5px 0; text-align: left; font-weight: 400; } .log .rows th { width: 110px; vertical-align: top; padding: 5px 8px 5px 0; }
.log tr { break-inside: avoid; } .log h2 { break-after: avoid; } .log s { text-decoration-thickness: 2px; }"
);

/// The page; `day` is when it was printed.
pub(crate) fn of(history: &HistoryView, day: &str) -> String {
    let mut months: Vec<(&str, Vec<&HistoryEntry>)> = Vec::new();
    for entry in &history.entries {
        match months.last_mut() {
            Some((month, entries)) if *month == entry.month => entries.push(entry),
            _ => months.push((&entry.month, vec![entry])),
        }
    }
    let content = html! {
        @if months.is_empty() { p { "Nothing happened yet." } }
        @for (month, entries) in &months {
            section {
                h2 { (month) }
                table.rows { @for entry in entries { (row(entry)) } }
            }
        }
    };
    let cells = [("Printed", day.to_owned()), ("Units", "mm, degrees".to_owned())];
    Printed {
        label: &history.label,
        what: "history",
        cells: &cells,
        class: "log",
        style: STYLE,
        foot: "± holds 19 times in 20. Struck through: withdrawn, and kept in the book. This page measures; it does not say a car is roadworthy.",
    }
    .page(&content)
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
