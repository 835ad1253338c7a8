//! Gearing as JSON.

use super::{Drive, Gearing, RollingTire};
use crate::bench::{Node, Object, Refusal};
use crate::tire::{Measured, MeasuredLength, dimensions, read_marking};
use crate::wording::shown;
use std::ops::RangeInclusive;

const AXLE_RATIO: RangeInclusive<f64> = 0.2..=50.0;
const GEAR_RATIO: RangeInclusive<f64> = 0.1..=50.0;
const SPEED_KMH: RangeInclusive<f64> = 0.1..=700.0;
const DIAMETER_MM: RangeInclusive<f64> = 200.0..=3_000.0;
const RADIUS_MM: RangeInclusive<f64> = 100.0..=1_500.0;
const ONE_TURN_MM: RangeInclusive<f64> = 600.0..=10_000.0;
const TURNS_PER_KM: RangeInclusive<f64> = 100.0..=1_600.0;
const MOST: usize = 200;

/// A tape round the tire, and to the wheel centre [common practice, no source].
const READ_U_MM: f64 = 2.0;

impl Gearing {
    /// From `{"axle_ratio", "gears": {…}, "tire": {…}, "speeds_kmh": […], "beside": [{"label", …}]}`. A row of `beside` has
    /// its own axle ratio, gears or tire; what it leaves out is as above.
    ///
    /// # Errors
    /// Not JSON, an unknown key (with the nearest known one), a missing one, a number outside of its range, or a marking that
    /// cannot be read.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        let node = Node::read(text)?;
        let file = node.object("", &["axle_ratio", "gears", "tire", "speeds_kmh", "beside"])?;
        let drive = Drive {
            axle_ratio: file.number_in("axle_ratio", &AXLE_RATIO, "")?,
            gears: gears(file.required("gears")?, "gears")?,
            tire: tire(file.required("tire")?, "tire")?,
        };
        let speeds = file.required("speeds_kmh")?.list_of("speeds_kmh", 1, MOST, "speeds")?;
        let speed = |(i, node): (usize, &Node)| node.number_in(&format!("speeds_kmh[{i}]"), &SPEED_KMH, "km/h");
        let speeds_kmh = speeds.iter().enumerate().map(speed).collect::<Result<_, _>>()?;
        let mut beside = Vec::new();
        if let Some(rows) = file.optional("beside") {
            for (i, row) in rows.list_of("beside", 0, MOST, "rows")?.iter().enumerate() {
                beside.push(other(row, &format!("beside[{i}]"), &drive)?);
            }
        }
        Ok(Self { drive, speeds_kmh, beside })
    }
}

fn other(node: &Node, path: &str, drive: &Drive) -> Result<(String, Drive), Refusal> {
    let row = node.object(path, &["label", "axle_ratio", "gears", "tire"])?;
    let mut other = drive.clone();
    if let Some(ratio) = row.optional_number_in("axle_ratio", &AXLE_RATIO, "")? {
        other.axle_ratio = ratio;
    }
    if let Some(node) = row.optional("gears") {
        other.gears = gears(node, &row.path("gears"))?;
    }
    if let Some(node) = row.optional("tire") {
        other.tire = tire(node, &row.path("tire"))?;
    }
    if other == *drive {
        let message = format!("{path} changes nothing.");
        return Err(Refusal::new(message, "Give it an axle_ratio, gears or a tire of its own."));
    }
    Ok((row.name("label")?, other))
}

fn gears(node: &Node, path: &str) -> Result<Vec<(String, f64)>, Refusal> {
    let fields = node.fields(path)?;
    if fields.is_empty() || fields.len() > MOST {
        let message = format!("{path} has {} gears: 1 to {MOST} are taken.", fields.len());
        return Err(Refusal::new(message, "Write them as {\"1\": 2.82, \"2\": 1.6, \"3\": 1}."));
    }
    let gear = |(name, node): &(String, Node)| {
        let ratio = node.number_in(&format!("{path}.{}", shown(name)), &GEAR_RATIO, "")?;
        Ok((name.clone(), ratio))
    };
    fields.iter().map(gear).collect()
}

const TIRE_KEYS: [&str; 6] =
    ["rolling_diameter_mm", "one_turn_mm", "revs_per_km", "marking", "free_diameter_mm", "loaded_radius_mm"];

fn tire(node: &Node, path: &str) -> Result<RollingTire, Refusal> {
    let tire = node.object(path, &TIRE_KEYS)?;
    tire.at_most_one(&["rolling_diameter_mm", "one_turn_mm", "revs_per_km", "marking"])?;
    let whole = [
        tire.optional_number_in("rolling_diameter_mm", &DIAMETER_MM, "mm")?.map(RollingTire::Diameter),
        tire.optional_number_in("one_turn_mm", &ONE_TURN_MM, "mm")?.map(RollingTire::OneTurn),
        tire.optional_number_in("revs_per_km", &TURNS_PER_KM, "turns")?.map(RollingTire::TurnsPerKm),
    ];
    if let Some(rolling) = whole.into_iter().flatten().next() {
        for beside in ["free_diameter_mm", "loaded_radius_mm"] {
            if tire.optional(beside).is_some() {
                let message = format!("{} adds nothing: the rolling diameter is given.", tire.path(beside));
                return Err(Refusal::new(
                    message,
                    "Leave it out, or give the marking in place of the rolling diameter.",
                ));
            }
        }
        return Ok(rolling);
    }
    let Some(marking) = tire.optional("marking") else {
        let message = format!("{path} has neither a rolling diameter nor a marking.");
        return Err(Refusal::new(message, "Give rolling_diameter_mm, one_turn_mm, revs_per_km or marking."));
    };
    let marking = marking.name(&tire.path("marking"))?;
    let marking = read_marking(&marking)
        .map_err(|e| Refusal::new(format!("{}: {}", tire.path("marking"), e.message()), e.hint() + "."))?;
    let measured = measured(&tire)?;
    let dimensions = dimensions(&marking, &measured);
    if dimensions.loaded_radius_mm.value >= dimensions.diameter_mm.value / 2.0 {
        let (loaded, free) = (dimensions.loaded_radius_mm.value, dimensions.diameter_mm.value);
        let message = format!("{path}: {loaded} mm under load is not less than half of {free} mm, the free diameter.");
        return Err(Refusal::new(
            message,
            "Measure both again: wheel centre to floor, and a tape round the tire over π.",
        ));
    }
    Ok(RollingTire::Tire(Box::new(dimensions)))
}

fn measured(tire: &Object<'_>) -> Result<Measured, Refusal> {
    let read = |value_mm: f64| MeasuredLength { value_mm, u_mm: READ_U_MM };
    Ok(Measured {
        diameter: tire.optional_number_in("free_diameter_mm", &DIAMETER_MM, "mm")?.map(read),
        loaded_radius: tire.optional_number_in("loaded_radius_mm", &RADIUS_MM, "mm")?.map(read),
        ..Measured::default()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_wrong_is_said_with_its_place() {
        let with = |key: &str, value: &str| {
            let mut parts = vec![
                ("axle_ratio", "3.55"),
                ("gears", r#"{"1": 2.82, "3": 1}"#),
                ("tire", r#"{"marking": "6.00-16"}"#),
                ("speeds_kmh", "[60]"),
            ];
            parts.retain(|(k, _)| *k != key);
            parts.push((key, value));
            let fields: Vec<String> = parts.iter().map(|(k, v)| format!("\"{k}\": {v}")).collect();
            Gearing::read(&format!("{{{}}}", fields.join(", "))).unwrap_err().to_string()
        };
        for (key, value, says) in [
            ("axel_ratio", "3", "axel_ratio is not a key at the top of the file. Did you mean axle_ratio?"),
            ("axle_ratio", "0", "axle_ratio is 0: 0.2 to 50 is taken."),
            ("gears", "{}", "gears has 0 gears: 1 to 200 are taken."),
            ("gears", r#"{"1": "low"}"#, "gears.1 is the text \"low\". Write a number there."),
            ("gears", r#"{"1": 3, "1": 2}"#, "1 is given twice in gears."),
            ("speeds_kmh", "[]", "speeds_kmh has 0 speeds: 1 to 200 are taken."),
            ("speeds_kmh", "[60, -1]", "speeds_kmh[1] is -1 km/h: 0.1 to 700 km/h is taken."),
            ("tire", "{}", "tire has neither a rolling diameter nor a marking."),
            ("tire", r#"{"marking": "round"}"#, "tire.marking: round is not a tire marking"),
            (
                "tire",
                r#"{"marking": "6.00-16", "revs_per_km": 460}"#,
                "revs_per_km and marking are given together in tire.",
            ),
            ("tire", r#"{"rolling_diameter_mm": 720, "loaded_radius_mm": 340}"#, "tire.loaded_radius_mm adds nothing"),
            (
                "tire",
                r#"{"marking": "6.00-16", "loaded_radius_mm": 400}"#,
                "tire: 400 mm under load is not less than half",
            ),
            ("beside", r#"[{"label": "same"}]"#, "beside[0] changes nothing."),
            ("beside", r#"[{"axle_ratio": 3.2}]"#, "label is missing in beside[0]."),
        ] {
            let said = with(key, value);
            assert!(said.contains(says), "{key} {value}: {said}");
        }
    }
}
