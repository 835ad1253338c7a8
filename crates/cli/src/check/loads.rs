//! Every check under every load as one table.

use crate::table::{Column, Table};
use std::fmt::Write as _;
use trueground_core::checks::{Finding, LoadTable};

pub(super) fn words(table: &LoadTable, planned: bool) -> String {
    let mut out = String::new();
    if planned {
        out.push_str("Predicted for the target, not measured.\n\n");
    }
    let mut columns = vec![(Column::Words, ""), (Column::Words, "")];
    columns.extend(table.loads.iter().map(|load| (Column::Numbers, load.words)));
    let mut printed = Table::new(&columns);
    for row in table.rows() {
        let first = row.iter().flatten().next();
        let Some(finding) = first else { continue };
        let cells = row.iter().map(|cell| cell.map_or_else(String::new, value));
        let named = [finding.check.replace('_', " "), finding.what.clone()];
        printed.row(named.into_iter().chain(cells).collect::<Vec<String>>());
    }
    out.push_str(&printed.lines());
    out.push_str("\nx touches or is outside, ? can't tell\n");
    for load in &table.loads {
        let aboard = if load.aboard.is_empty() { "nothing besides" } else { &load.aboard };
        let caution = load.caution.map_or_else(String::new, |caution| format!(" {caution}"));
        let _ = writeln!(out, "{}: {aboard}.{caution}", load.words);
    }
    for left_out in &table.left_out {
        let _ = writeln!(out, "{}: left out, {}.", left_out.words, left_out.why);
    }
    out.push_str("This program measures. It does not say that a car is roadworthy.\n");
    out
}

/// "112", "98 x", "101 ?"
fn value(finding: &Finding) -> String {
    let decimals = if matches!(finding.unit, "mm" | "rpm") { 0 } else { 1 };
    let mark = finding.verdict.map_or("", |verdict| match verdict.touches() {
        Some(true) => " x",
        None => " ?",
        Some(false) => "",
    });
    format!("{:.decimals$}{mark}", finding.value + 0.0)
}
