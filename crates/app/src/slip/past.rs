//! What earlier finished snapshots of the car say about its marks.

use super::TooMuch;
use crate::Garage;
use crate::floor_page::typed;
use crate::walk_page::Walk;
use crate::wire::Problem;
use crate::words::day;
use serde_json::Value;
use std::collections::BTreeMap;
use trueground_core::capture::CarFile;
use trueground_core::level;
use trueground_core::stance::Figure;
use trueground_store::ReadingKind;

/// As far back as is looked, in snapshots: older ones say little about how the car stands now.
const FAR_BACK: usize = 12;

/// A finished snapshot.
#[derive(Debug)]
pub(super) struct Past {
    name: String,
    date: String,
    /// Set where it stood on the same floor, the same way round: then it must read the same, once what the tapes say too much is
    /// taken off.
    pub(super) same_place: bool,
    /// The same load is said to be aboard.
    pub(super) same_load: bool,
    /// Work on the car is written down since.
    pub(super) worked_on: bool,
    /// By mark, the middle of all readings without what their tapes say too much, mm.
    middles: BTreeMap<String, f64>,
}

impl Past {
    /// What was read at a mark without what its tape says too much, mm.
    pub(super) fn at(&self, place: &str) -> Option<f64> {
        self.middles.get(place).copied()
    }

    /// "12 July 2031"
    pub(super) fn words(&self) -> String {
        day(&self.date)
    }
}

/// The newest finished snapshots before this walk, newest first.
///
/// # Errors
/// One cannot be read.
pub(super) fn finished(garage: &Garage, walk: &Walk) -> Result<Vec<Past>, Problem> {
    let now = &walk.snapshot.document;
    let car = garage.store.car(walk.snapshot.car)?.document;
    let worked: Vec<&str> =
        car["events"].as_array().into_iter().flatten().filter_map(|event| event["date"].as_str()).collect();
    let mut found = Vec::new();
    let known = garage.store.snapshots(walk.snapshot.car)?;
    for (id, name, _) in known.into_iter().rev().filter(|(.., finished)| *finished).take(FAR_BACK) {
        let record = garage.store.snapshot(id)?;
        // A mock-up on stands says nothing about a car on its wheels, nor the other way round.
        if record.document["standing"].is_string() || now["standing"].is_string() {
            continue;
        }
        let too_much = TooMuch::of(garage, &record)?;
        let mut values: BTreeMap<String, Vec<f64>> = BTreeMap::new();
        for kept in record.readings.iter().filter(|kept| kept.counts() && kept.taken.kind == ReadingKind::Tape) {
            values.entry(kept.taken.place.clone()).or_default().push(kept.taken.value - too_much.in_reading(kept));
        }
        let middle = |(place, values): (String, Vec<f64>)| Some((place, super::median(values.into_iter())?));
        let then = &record.document;
        let date = then["date"].as_str().unwrap_or_default().to_owned();
        found.push(Past {
            name,
            same_place: then["floor"].is_string()
                && ["floor", "facing", "wheel_on_spot"].iter().all(|key| then[*key] == now[*key]),
            same_load: load(then) == load(now),
            worked_on: worked.iter().any(|day| *day >= date.as_str()),
            middles: values.into_iter().filter_map(middle).collect(),
            date,
        });
    }
    Ok(found)
}

fn load(document: &Value) -> &[Value] {
    document["load_change_from_nominal"].as_array().map_or(&[], Vec::as_slice)
}

/// By how much each mark stands higher on level ground than in that snapshot, mm; empty where either floor is not levelled or the
/// readings do not tell yet.
///
/// # Errors
/// The car cannot be read.
pub(super) fn levelled_changes(garage: &Garage, walk: &Walk, past: &Past) -> Result<BTreeMap<String, f64>, Problem> {
    /// A level height less sure than this, k = 1, says nothing about a slip.
    const SURE_U_MM: f64 = 4.0;
    let mut file: CarFile = typed(garage.store.car_file(walk.snapshot.car)?.document)?;
    let snapshots = std::mem::take(&mut file.snapshots);
    // Each alone: together, two of one day would be taken for the same car, and a slip would be shared out between them.
    let mut heights = |name: &str| {
        let snapshot = snapshots.iter().find(|snapshot| snapshot.id == name)?.clone();
        let floor = file.floors.iter().find(|floor| Some(&floor.id) == snapshot.floor.as_ref())?;
        if !floor.levelled() {
            return None;
        }
        file.snapshots = vec![snapshot];
        Some(level::solve(&file, &level::Options::default()).ok()?.snapshots.pop()?.heights)
    };
    let (Some(now), Some(then)) = (heights(&walk.snapshot.name), heights(&past.name)) else {
        return Ok(BTreeMap::new());
    };
    let sure = |figure: &Figure| figure.value.filter(|_| figure.u.is_some_and(|u| u < SURE_U_MM));
    let change = |(place, figure)| Some((String::clone(place), sure(figure)? - sure(then.get(place)?)?));
    Ok(now.iter().filter_map(change).collect())
}
