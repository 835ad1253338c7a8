//! A filled booking sheet that is entered afterwards.

use super::walk::Differs;
use serde::{Deserialize, Serialize};
use trueground_core::corner::Corner;

/// The sheet an unfinished snapshot is entered from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SheetView {
    /// "12 Apr 2031, 09:30": when it was read.
    pub read_at: String,
    /// Its rows from top to bottom, the same in each bounce.
    pub rows: Vec<SheetRow>,
}

/// One row of the sheet.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SheetRow {
    /// Its number on paper; absent where the paper has none.
    pub number: Option<u32>,
    /// Its corner.
    pub corner: Corner,
    /// As on paper: "frame rail, painted mark".
    pub words: String,
    /// Places of its cells in `WalkView::steps`, by bounce and round.
    pub steps: Vec<u32>,
}

/// What on a sheet looks like a slip. Everything is stored all the same.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SheetSlips {
    /// One a mark and bounce at most, from the top of the sheet.
    pub slips: Vec<Differs>,
}
