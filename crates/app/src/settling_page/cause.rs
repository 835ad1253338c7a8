//! Why a day stood lower or higher than usual: what was aboard, and pressures other than the usual ones.

use crate::words::{capital, whole};
use trueground_core::capture::Snapshot;
use trueground_core::car::Vehicle;
use trueground_core::corner::Corner;

/// Pressures nearer to the usual ones than a gauge tells are the usual ones, kPa [common practice, no source].
const SAME_KPA: f64 = 2.5;
/// Most letters of a cause that stands in the picture.
const LONGEST: usize = 20;

/// "full tank", "soft tires": a few words for the picture; empty on a day as usual.
pub(super) fn short(vehicle: &Vehicle, snapshot: &Snapshot) -> String {
    let loads = snapshot.load_change_from_nominal.iter().map(|change| {
        let label = change.label.split(" instead of ").next().unwrap_or_default().trim();
        match (label.starts_with("fuel"), label.rsplit(' ').next()) {
            (true, Some(state @ ("full" | "empty"))) => format!("{state} tank"),
            _ if label.is_empty() => "another load".to_owned(),
            _ => label.to_owned(),
        }
    });
    let off = [true, false].into_iter().filter_map(|front| off_kpa(vehicle, snapshot, front));
    let tires = off.map(|off| if off < 0.0 { "soft tires".to_owned() } else { "hard tires".to_owned() });
    let mut causes: Vec<String> = loads.chain(tires).collect();
    causes.dedup();
    let words = match &causes[..] {
        [one] => one.clone(),
        [first, ..] if causes.join(", ").chars().count() > LONGEST => format!("{first} and more"),
        _ => causes.join(", "),
    };
    if words.chars().count() <= LONGEST {
        words
    } else {
        format!("{}…", words.chars().take(LONGEST).collect::<String>().trim_end())
    }
}

/// "Fuel tank full instead of half, 22 kg; rear tires 180 kPa, usually 220"
pub(super) fn long(vehicle: &Vehicle, snapshot: &Snapshot) -> String {
    let loads = snapshot.load_change_from_nominal.iter().map(|change| {
        let label = change.label.trim();
        let label = if label.is_empty() { "another load" } else { label };
        if label.ends_with("kg") { label.to_owned() } else { format!("{label}, {} kg", whole(change.mass_kg)) }
    });
    let tires = [(true, "front"), (false, "rear")].into_iter().filter_map(|(front, end)| {
        off_kpa(vehicle, snapshot, front)?;
        let (read, usual) = mean_kpa(vehicle, snapshot, front)?;
        Some(format!("{end} tires {} kPa, usually {}", whole(read), whole(usual)))
    });
    capital(&loads.chain(tires).collect::<Vec<_>>().join("; "))
}

/// Pressure of an axle less the usual one, kPa; none where it is as usual or was not read.
fn off_kpa(vehicle: &Vehicle, snapshot: &Snapshot, front: bool) -> Option<f64> {
    let (read, usual) = mean_kpa(vehicle, snapshot, front)?;
    Some(read - usual).filter(|off| off.abs() > SAME_KPA)
}

/// Pressure as read and as usual, mean of left and right, kPa.
fn mean_kpa(vehicle: &Vehicle, snapshot: &Snapshot, front: bool) -> Option<(f64, f64)> {
    let (read, tires) = (snapshot.tire_pressure_kpa.as_ref()?, vehicle.tires.as_ref()?);
    let [left, right] = if front { [Corner::FL, Corner::FR] } else { [Corner::RL, Corner::RR] };
    let usual = |corner: Corner| tires.at(corner).nominal_pressure_kpa;
    let usual = f64::midpoint(usual(left), usual(right));
    Some((f64::midpoint(*read.at(left), *read.at(right)), usual))
}
