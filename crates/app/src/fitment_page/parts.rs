//! Lists of what can be measured, and what of it is known.

use crate::wire::{MeasuredPart, MeasuredRow};
use crate::words::{capital, counted};
use trueground_core::car::{AxleTravel, Square, Vehicle};
use trueground_core::corner::Corner;

const NOT: &str = "not measured";

/// The four wheels.
pub(super) fn wheels(vehicle: &Vehicle) -> Vec<MeasuredRow> {
    let of = |corner: Corner| {
        let wheel = vehicle.fitment.as_ref().and_then(|fitment| fitment.wheels.get(&corner));
        let state = wheel.map_or_else(
            || NOT.to_owned(),
            |wheel| {
                let rim = if wheel.rim.rim_width_mm.is_some() { "" } else { ", rim not known" };
                format!("{}{rim}", counted(wheel.gaps.len(), "gap", "gaps"))
            },
        );
        row(MeasuredPart::Wheel, corner.code(), &capital(corner.words()), &state, wheel.is_some())
    };
    Corner::ALL.map(of).into()
}

/// Other wheels that are thought of.
pub(super) fn others(vehicle: &Vehicle) -> Vec<MeasuredRow> {
    let others = vehicle.fitment.as_ref().map(|fitment| &fitment.others[..]).unwrap_or_default();
    let of = |(number, other): (usize, &trueground_core::car::OtherWheel)| {
        row(MeasuredPart::OtherWheel, &number.to_string(), &other.label, &other.marking, true)
    };
    others.iter().enumerate().map(of).collect()
}

/// Steering, travel, squareness, jacks and the rest.
pub(super) fn further(vehicle: &Vehicle) -> Vec<MeasuredRow> {
    let steer = vehicle.fitment.as_ref().and_then(|fitment| fitment.steer.as_ref());
    let steers = steer.map_or_else(|| NOT.to_owned(), |steer| format!("{:.0}° to its lock", steer.lock_inner_deg));
    let travel = |front: bool| {
        vehicle
            .travel
            .as_ref()
            .map(|travel| if front { &travel.front } else { &travel.rear })
            .filter(|axle| !axle.is_empty())
    };
    let square = vehicle.square.as_ref();
    let mut rows = vec![row(MeasuredPart::Steer, "", "How it steers", &steers, steer.is_some())];
    for (of, words, front) in [("front", "Travel, front axle", true), ("rear", "Travel, rear axle", false)] {
        let axle = travel(front);
        rows.push(row(
            MeasuredPart::Travel,
            of,
            words,
            &axle.map_or_else(|| NOT.to_owned(), travel_words),
            axle.is_some(),
        ));
    }
    rows.push(row(
        MeasuredPart::Square,
        "",
        "Square and aligned",
        &square.map_or_else(|| NOT.to_owned(), square_words),
        square.is_some(),
    ));
    let weighed = vehicle.weighed.as_ref();
    let scales = weighed.and_then(|weighed| match (weighed.wheels_kg, weighed.axles_kg) {
        (Some(wheels), _) => Some(format!("{:.0} kg on four scales", wheels.iter().map(|(_, kg)| kg).sum::<f64>())),
        (None, Some(axles)) => Some(format!("{:.0} kg in front, {:.0} kg behind", axles.front, axles.rear)),
        (None, None) => None,
    });
    let known = scales.is_some();
    rows.push(row(MeasuredPart::Weighed, "", "On the scales", &scales.unwrap_or_else(|| NOT.to_owned()), known));
    if let Some(jacking) = &vehicle.jacking {
        for (number, jack) in jacking.jacks.iter().enumerate() {
            let state = format!("a jack, saddle at {:.0} mm", jack.saddle_low_mm);
            rows.push(row(MeasuredPart::Jack, &number.to_string(), &jack.label, &state, true));
        }
        for (number, point) in jacking.points.iter().enumerate() {
            let state = format!("a place to lift at, {:.0} mm up", point.z_mm);
            rows.push(row(MeasuredPart::JackPoint, &number.to_string(), &capital(&point.label), &state, true));
        }
        for (number, strap) in jacking.straps.iter().enumerate() {
            let state = format!("straps, {:.0} kg at {:.0}°", strap.pull_kg, strap.down_deg);
            rows.push(row(MeasuredPart::Strap, &number.to_string(), &capital(&strap.label), &state, true));
        }
    }
    let radiator = vehicle.radiator.as_ref();
    let cut = radiator.map_or_else(|| NOT.to_owned(), |radiator| format!("{:.0} mm taken out", radiator.sectioned_mm));
    rows.push(row(MeasuredPart::Radiator, "", "The radiator", &cut, radiator.is_some()));
    rows
}

fn travel_words(axle: &AxleTravel) -> String {
    let told = [
        axle.bump_mm().map(|mm| format!("{mm:.0} mm up")),
        axle.droop_mm.map(|mm| format!("{mm:.0} mm down")),
        axle.shock.as_ref().map(|_| "shock".to_owned()),
        axle.hose.as_ref().map(|_| "hose".to_owned()),
        axle.shackle.as_ref().map(|_| "shackle".to_owned()),
        axle.track_bar.as_ref().map(|_| "track bar".to_owned()),
    ];
    told.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

fn square_words(square: &Square) -> String {
    let told = [
        square.wheelbase_left_mm.map(|_| "wheelbases"),
        square.diagonals.first().map(|_| "diagonals"),
        square.toe_front.as_ref().or(square.toe_rear.as_ref()).map(|_| "toe"),
        square.camber_deg.first_key_value().map(|_| "camber"),
        square.caster.first_key_value().map(|_| "caster"),
    ];
    told.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

fn row(part: MeasuredPart, of: &str, words: &str, state: &str, known: bool) -> MeasuredRow {
    MeasuredRow { part, of: of.to_owned(), words: words.to_owned(), state: state.to_owned(), known }
}
