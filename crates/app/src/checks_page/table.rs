//! Every check under every load: the rows of the screen, one column a load.

use super::Ready;
use super::rows::{Row, rows};
use crate::compare_page::Chosen;
use crate::wire::{CheckCell, CheckTable, CheckTableRow, CheckWord, Problem};
use trueground_core::checks::{LoadCase, Rule, findings};

/// The table; loads that the file cannot say are left out.
pub(super) fn table(ready: &Ready<'_>, chosen: &Chosen, rules: &[Rule]) -> Result<CheckTable, Problem> {
    let mut columns: Vec<(LoadCase, Vec<Row>)> = Vec::new();
    for case in LoadCase::TABLE {
        if case.masses(&ready.file.vehicle).is_err() {
            continue;
        }
        let car = ready.at(chosen.which(), case, rules)?;
        columns.push((case, rows(&car, &findings(&car, &[]), &[])));
    }
    let Some((_, first)) = columns.first() else { return Ok(CheckTable::default()) };
    let row = |row: &Row| {
        let same = |other: &&Row| (&other.view.check, &other.view.subject) == (&row.view.check, &row.view.subject);
        let cell = |(_, rows): &(LoadCase, Vec<Row>)| {
            let none = CheckCell { number: String::new(), word: CheckWord::NotRead };
            let found = rows.iter().find(same);
            found.map_or(none, |found| CheckCell { number: found.view.number.clone(), word: found.view.word })
        };
        let of_loads = columns.iter().filter_map(|(_, rows)| rows.iter().find(same));
        let widest = of_loads.max_by(|a, b| a.view.u.unwrap_or(0.0).total_cmp(&b.view.u.unwrap_or(0.0)));
        CheckTableRow {
            subject: row.view.subject.clone(),
            unit: row.view.unit.clone(),
            band: widest.map(|row| row.view.band.clone()).unwrap_or_default(),
            cells: columns.iter().map(cell).collect(),
        }
    };
    Ok(CheckTable {
        loads: columns.iter().map(|(case, _)| case.words().to_owned()).collect(),
        // Loads do not change what an engine turns.
        rows: first.iter().filter(|row| row.view.check != "gearing").map(row).collect(),
    })
}
