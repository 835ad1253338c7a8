//! Published values reproduced: one folder a case set, with its data, its source and its tolerances.
//!
//! A loop finds the folders, so that none can be forgotten; a folder that does not parse fails. Values marked "from memory"
//! were not confirmed in print.

#![expect(clippy::unwrap_used, reason = "a test stops where it stands")]

mod booking_sheet;
mod control_charts;
mod gearing;
mod gum;
mod lamps_and_joints;
mod leaf_springs;
mod levelling;
mod linear;
mod nonlinear;
mod plane;
mod ramp;
mod settling_laws;
mod statics;
mod steering;
mod surface_plate;
mod tire;

use serde::Deserialize;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// `case.json` of a folder.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    /// Which check reads the data.
    kind: String,
    /// Where the values were published.
    source: String,
    /// File beside it, as it was collected.
    data: PathBuf,
    /// By name: how near we must come, and why not nearer.
    tolerances: BTreeMap<String, Tolerance>,
    #[serde(skip)]
    folder: PathBuf,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Tolerance {
    value: f64,
    reason: String,
}

/// One folder's comparisons.
struct Check {
    case: Case,
    compared: usize,
    failures: Vec<String>,
}

impl Check {
    fn text(&self) -> String {
        let path = self.case.folder.join(&self.case.data);
        std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
    }

    fn json<T: serde::de::DeserializeOwned>(&self) -> T {
        serde_json::from_str(&self.text()).unwrap_or_else(|e| panic!("{}: {e}", self.case.folder.display()))
    }

    /// The rows of a CSV file with a head line, as column name to cell. Cells may be quoted.
    fn rows(&self) -> Vec<BTreeMap<String, String>> {
        let text = self.text();
        let mut lines = text.lines().map(cells);
        let head = lines.next().unwrap_or_default();
        let rows: Vec<_> = lines
            .map(|row| {
                assert_eq!(row.len(), head.len(), "{}: {row:?}", self.case.folder.display());
                head.iter().cloned().zip(row).collect()
            })
            .collect();
        assert!(!rows.is_empty(), "{}: no rows", self.case.folder.display());
        rows
    }

    fn tolerance(&self, name: &str) -> f64 {
        let found = self.case.tolerances.get(name);
        found.unwrap_or_else(|| panic!("{}: no tolerance {name}", self.case.folder.display())).value
    }

    /// Both within the tolerance `name`.
    fn near(&mut self, what: &str, ours: f64, published: f64, name: &str) {
        let tolerance = self.tolerance(name);
        self.within(what, ours, published, tolerance);
    }

    fn within(&mut self, what: &str, ours: f64, published: f64, tolerance: f64) {
        self.compared += 1;
        let off = (ours - published).abs();
        if off.is_nan() || off > tolerance {
            self.failures
                .push(format!("{what}: ours {ours}, published {published}, off {off:e}, may be off {tolerance:e}"));
        }
    }

    /// Both within a part of the published value.
    fn relative(&mut self, what: &str, ours: f64, published: f64, name: &str) {
        let tolerance = self.tolerance(name);
        self.within(what, ours, published, tolerance * published.abs());
    }

    /// Both the same, exactly.
    fn same<T: PartialEq + std::fmt::Debug>(&mut self, what: &str, ours: T, published: T) {
        self.compared += 1;
        if ours != published {
            self.failures.push(format!("{what}: ours {ours:?}, published {published:?}"));
        }
    }
}

#[test]
fn every_published_case_is_reproduced() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference");
    let mut folders: Vec<PathBuf> =
        std::fs::read_dir(&root).unwrap().map(|entry| entry.unwrap().path()).filter(|path| path.is_dir()).collect();
    folders.sort();
    assert!(folders.len() >= 12, "the case folders are gone");
    let mut failures = Vec::new();
    for folder in folders {
        let text =
            std::fs::read_to_string(folder.join("case.json")).unwrap_or_else(|e| panic!("{}: {e}", folder.display()));
        let case: Case = serde_json::from_str(&text).unwrap_or_else(|e| panic!("{}: {e}", folder.display()));
        assert!(case.source.len() > 20, "{}: name the source", folder.display());
        assert!(case.tolerances.values().all(|t| t.reason.len() > 20), "{}: give reasons", folder.display());
        let mut check = Check { case: Case { folder: folder.clone(), ..case }, compared: 0, failures: Vec::new() };
        match check.case.kind.as_str() {
            "levelling_networks" => levelling::networks(&mut check),
            "control_charts" => control_charts::charts(&mut check),
            "booking_sheet" => booking_sheet::reduction(&mut check),
            "plane_fits" => plane::fits(&mut check),
            "surface_plate" => surface_plate::moody(&mut check),
            "gum" => gum::examples(&mut check),
            "nist_linear" => linear::nist(&mut check),
            "nist_nonlinear" => nonlinear::nist(&mut check),
            "settling_laws" => settling_laws::laws(&mut check),
            "stack_loss" => linear::stack_loss(&mut check),
            "tire_metric_rules" => tire::metric_rules(&mut check),
            "tire_published_dimensions" => tire::published_dimensions(&mut check),
            "tire_revs_per_mile" => tire::revs_per_mile(&mut check),
            "tire_sizes_from_memory" => tire::sizes_from_memory(&mut check),
            "approach_breakover" => ramp::approach_breakover(&mut check),
            "road_profiles" => ramp::road_profiles(&mut check),
            "steering_linkage" => steering::linkages(&mut check),
            "lamp_heights" => lamps_and_joints::lamps(&mut check),
            "driveline_joints" => lamps_and_joints::joints(&mut check),
            "vehicle_statics" => statics::weight_and_pitch(&mut check),
            "gearing" => gearing::rpm_from_speed(&mut check),
            "leaf_springs" => leaf_springs::textbook_packs(&mut check),
            other => panic!("{}: no check named {other}", folder.display()),
        }
        assert!(check.compared > 0, "{}: nothing was compared", folder.display());
        let name = folder.file_name().unwrap().to_string_lossy().into_owned();
        println!("{name}: {} compared", check.compared);
        failures.extend(check.failures.into_iter().map(|failure| format!("{name}: {failure}")));
    }
    assert!(failures.is_empty(), "\n{}", failures.join("\n"));
}

/// One CSV line: cells between commas, quoted ones may hold commas.
fn cells(line: &str) -> Vec<String> {
    let mut out = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => out.push(String::new()),
            c => out.last_mut().expect("one cell at least").push(c),
        }
    }
    out
}
