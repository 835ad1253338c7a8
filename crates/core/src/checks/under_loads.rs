//! Every check under every load, side by side.

use super::asked::{Which, at_stance};
use super::at_stance::Rule;
use super::finding::Finding;
use super::load_case::LoadCase;
use crate::capture::CarFile;
use crate::level::{Problem, Solution};
use serde::Serialize;

/// The same checks under several loads.
#[derive(Clone, Debug, Serialize)]
pub struct LoadTable {
    /// Column by column.
    pub loads: Vec<UnderLoad>,
    /// Loads that the file cannot say.
    pub left_out: Vec<LeftOut>,
}

/// The checks under one load.
#[derive(Clone, Debug, Serialize)]
pub struct UnderLoad {
    /// Its name: `two_up`.
    pub load: &'static str,
    /// In words.
    #[serde(skip)]
    pub words: &'static str,
    /// What it adds to the nominal load and where the number comes from; empty: nothing.
    pub aboard: String,
    /// What can hurt under it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub caution: Option<&'static str>,
    /// In the order of the checks.
    pub findings: Vec<Finding>,
}

/// A load that the file cannot say.
#[derive(Clone, Debug, Serialize)]
pub struct LeftOut {
    /// Its name.
    pub load: &'static str,
    /// In words.
    #[serde(skip)]
    pub words: &'static str,
    /// Why.
    pub why: String,
    /// What to do about it.
    pub hint: String,
}

impl LoadTable {
    /// One row a finding, in the order in which each is met first; a cell is empty where that load has none.
    pub fn rows(&self) -> Vec<Vec<Option<&Finding>>> {
        let mut names: Vec<(&str, &str)> = Vec::new();
        for finding in self.loads.iter().flat_map(|load| &load.findings) {
            if !names.contains(&(finding.check, &finding.what)) {
                names.push((finding.check, &finding.what));
            }
        }
        let cell = |load: &UnderLoad, (check, what): (&str, &str)| {
            load.findings.iter().position(|finding| finding.check == check && finding.what == what)
        };
        let row = |name| self.loads.iter().map(|load| cell(load, name).map(|at| &load.findings[at])).collect();
        names.into_iter().map(row).collect()
    }
}

/// The named checks, all where none is named, under each load of [`LoadCase::TABLE`].
///
/// # Errors
/// As [`at_stance`]; a load that the file cannot say is left out and says why.
pub fn under_loads<'f>(
    file: &'f CarFile,
    solution: &Solution,
    which: Which<'f>,
    rules: &[Rule],
    only: &[&str],
) -> Result<LoadTable, Problem> {
    let mut table = LoadTable { loads: Vec::new(), left_out: Vec::new() };
    for case in LoadCase::TABLE {
        let (load, words) = (case.code(), case.words());
        match case.masses(&file.vehicle) {
            Err(refused) => table.left_out.push(LeftOut {
                load,
                words,
                why: refused.message().to_owned(),
                hint: refused.hint().to_owned(),
            }),
            Ok(masses) => {
                let car = at_stance(file, solution, which, case, rules.to_vec())?;
                let aboard: Vec<String> = masses.into_iter().map(|mass| mass.label).collect();
                let findings = super::findings(&car, only);
                table.loads.push(UnderLoad {
                    load,
                    words,
                    aboard: aboard.join("; "),
                    caution: case.caution(),
                    findings,
                });
            }
        }
    }
    Ok(table)
}
