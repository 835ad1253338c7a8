//! Small tables in columns, for a terminal: words to the left, numbers to the right.

/// Rows of cells under a head.
#[derive(Debug)]
pub(crate) struct Table {
    columns: Vec<Column>,
    rows: Vec<Vec<String>>,
}

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Column {
    Words,
    Numbers,
}

impl Table {
    pub(crate) fn new(head: &[(Column, &str)]) -> Self {
        let columns = head.iter().map(|(column, _)| *column).collect();
        Self { columns, rows: vec![head.iter().map(|(_, text)| (*text).to_owned()).collect()] }
    }

    /// As many cells as the head has.
    pub(crate) fn row(&mut self, cells: impl Into<Vec<String>>) {
        let cells = cells.into();
        debug_assert_eq!(cells.len(), self.columns.len());
        self.rows.push(cells);
    }

    /// The lines, each ended, blanks at the end of a line left out.
    pub(crate) fn lines(&self) -> String {
        let width = |column: usize| self.rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0);
        let widths: Vec<usize> = (0..self.columns.len()).map(width).collect();
        let mut out = String::new();
        for row in &self.rows {
            let mut line = String::new();
            for (column, cell) in row.iter().enumerate() {
                let gap = if column == 0 { "" } else { "  " };
                let pad = " ".repeat(widths[column] - cell.chars().count());
                let (before, after) =
                    if self.columns[column] == Column::Words { ("", pad.as_str()) } else { (pad.as_str(), "") };
                line.push_str(&[gap, before, cell, after].concat());
            }
            out.push_str(line.trim_end());
            out.push('\n');
        }
        out
    }
}

/// A value in whole units, half away from zero, never `-0`.
pub(crate) fn whole(value: f64) -> String {
    format!("{:.0}", value.round() + 0.0)
}

/// What stands behind ±: twice the standard uncertainty in whole units, at least 1.
pub(crate) fn plus_minus(u: f64) -> String {
    whole((2.0 * u).max(1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stand_left_and_numbers_right() {
        let mut table = Table::new(&[(Column::Words, "point"), (Column::Numbers, "mm"), (Column::Numbers, "±")]);
        table.row(["A".to_owned(), whole(-0.3), plus_minus(0.1)]);
        table.row(["under B".to_owned(), whole(-12.5), plus_minus(2.6)]);
        assert_eq!(table.lines(), "point     mm  ±\nA          0  1\nunder B  -13  5\n");
    }
}
