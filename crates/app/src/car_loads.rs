//! Body size, mass, tank and seats of a car's form: to the vehicle, and back. What the form does not change stays as it was.

use crate::fields::Fields;
use crate::quantity::{LITRES, MASS, SHARE, typed};
use crate::wire::{BodyForm, LoadsForm, TapeUnit};
use serde_json::Map;
use trueground_core::car::{AxlesKg, Extent, Seat, Tank, Vehicle, Weighed};
use trueground_core::validate::vehicle::{BODY_HEIGHT_MM, OVERHANG_MM};

const FRONT_SEAT: &str = "front seat";
const REAR_SEAT: &str = "rear seat";
/// Two tickets of one car that differ by more are of different loads [common practice, no source].
const MASS_MAY_DIFFER: f64 = 0.02;
const PERCENT: f64 = 100.0;
/// Loads sit somewhere between a long nose and a long tail.
const PLACE_MM: std::ops::RangeInclusive<f64> = -2_000.0..=12_000.0;

/// What fits the outline; `rail_mm` is where the rails are now, which a height newly read is kept with.
pub(crate) fn extent(
    fields: &mut Fields,
    form: &BodyForm,
    tape: TapeUnit,
    earlier: Option<&Extent>,
    before: Option<&BodyForm>,
    rail_mm: Option<f64>,
) -> Extent {
    let mut extent = earlier.cloned().unwrap_or_default();
    let changed = |text: fn(&BodyForm) -> &String| before.is_none_or(|before| text(before).trim() != text(form).trim());
    let mut length = |name: &str, what: &str, typed: &str, range| {
        fields.optional_length(&format!("body.{name}"), what, typed, tape, range)
    };
    if changed(|form| &form.overhang_front) {
        extent.overhang_front_mm = length("overhang_front", "a front overhang", &form.overhang_front, OVERHANG_MM);
    }
    if changed(|form| &form.overhang_rear) {
        extent.overhang_rear_mm = length("overhang_rear", "a rear overhang", &form.overhang_rear, OVERHANG_MM);
    }
    let heights = changed(|form| &form.roof_height) || changed(|form| &form.hood_height);
    if changed(|form| &form.roof_height) {
        extent.roof_height_mm = length("roof_height", "a roof height", &form.roof_height, BODY_HEIGHT_MM);
    }
    if changed(|form| &form.hood_height) {
        extent.hood_height_mm = length("hood_height", "a hood height", &form.hood_height, BODY_HEIGHT_MM);
    }
    if let (Some(roof), Some(hood)) = (extent.roof_height_mm, extent.hood_height_mm)
        && hood >= roof
    {
        let hint = "Read the roof at its highest and the hood at its rear edge, both from the floor.";
        fields.refuse("body.hood_height", &form.hood_height, "The hood is as high as the roof.", hint);
    }
    let some = extent.roof_height_mm.is_some() || extent.hood_height_mm.is_some();
    match (some, heights) {
        (false, _) => extent.rail_height_then_mm = None,
        (true, true) => extent.rail_height_then_mm = rail_mm,
        (true, false) => {}
    }
    extent
}

/// Mass and the part of it in front, from a handbook or from the two axles on a scale.
pub(crate) fn mass(
    fields: &mut Fields,
    form: &LoadsForm,
    earlier: Option<&Vehicle>,
    before: Option<&LoadsForm>,
) -> (Option<f64>, Option<f64>) {
    let same = |text: fn(&LoadsForm) -> &String| before.is_some_and(|before| text(before).trim() == text(form).trim());
    let mass = match earlier {
        Some(vehicle) if same(|form| &form.mass) => vehicle.mass_kg_approx,
        _ => fields.quantity("loads.mass", &form.mass, &MASS),
    };
    let share = match earlier {
        Some(vehicle) if same(|form| &form.front_share) => vehicle.front_mass_share,
        _ => fields.quantity("loads.front_share", &form.front_share, &SHARE).map(|percent| percent / PERCENT),
    };
    let front = fields.quantity("loads.axle_front", &form.axle_front, &MASS);
    let rear = fields.quantity("loads.axle_rear", &form.axle_rear, &MASS);
    let (front, rear) = match (front, rear) {
        (Some(front), Some(rear)) => (front, rear),
        (None, None) => return (mass, share),
        (one, _) => {
            let (field, text) = if one.is_some() {
                ("loads.axle_rear", &form.axle_rear)
            } else {
                ("loads.axle_front", &form.axle_front)
            };
            if text.trim().is_empty() {
                fields.refuse(field, text, "One axle alone says little.", "Type both axles of the ticket, or neither.");
            }
            return (mass, share);
        }
    };
    let (sum, part) = (front + rear, front / (front + rear));
    if let Some(mass) = mass
        && (mass - sum).abs() > MASS_MAY_DIFFER * sum
    {
        let sentence = format!("The two axles make {sum:.0} kg, the mass says {mass:.0} kg.");
        fields.refuse("loads.mass", &form.mass, &sentence, "Correct the one that is wrong, or leave the mass empty.");
    }
    if let Some(share) = share
        && (share - part).abs() > MASS_MAY_DIFFER
    {
        let sentence = format!("The two axles put {:.0} % in front, not {:.0} %.", part * PERCENT, share * PERCENT);
        fields.refuse("loads.front_share", &form.front_share, &sentence, "Correct it, or leave it empty.");
    }
    (Some(sum), Some(part))
}

/// Both axles of a scale ticket, where both are typed; pads under the wheels stay as long as the ticket is the same.
pub(crate) fn weighed(fields: &mut Fields, form: &LoadsForm, earlier: Option<&Weighed>) -> Option<Weighed> {
    let mut axle = |name: &str, text: &str| fields.quantity(name, text, &MASS);
    let typed = axle("loads.axle_front", &form.axle_front).zip(axle("loads.axle_rear", &form.axle_rear));
    let axles_kg = typed.map(|(front, rear)| AxlesKg { front, rear });
    match earlier {
        Some(earlier) if earlier.axles_kg == axles_kg => Some(earlier.clone()),
        _ => axles_kg.map(|_| Weighed { axles_kg, ..Weighed::default() }),
    }
}

/// The tank, where its size and its place are known.
pub(crate) fn tank(
    fields: &mut Fields,
    form: &LoadsForm,
    tape: TapeUnit,
    earlier: Option<&Tank>,
    before: Option<&LoadsForm>,
) -> Option<Tank> {
    if before.is_some_and(|before| (&before.tank_size, &before.tank_place) == (&form.tank_size, &form.tank_place)) {
        return earlier.cloned();
    }
    let litres = fields.quantity("loads.tank_size", &form.tank_size, &LITRES);
    let x_mm = place(fields, "loads.tank_place", "the place of the tank", &form.tank_place, tape);
    for (field, here, other, sentence) in [
        ("loads.tank_place", &form.tank_place, &form.tank_size, "The tank has a size and no place."),
        ("loads.tank_size", &form.tank_size, &form.tank_place, "The tank has a place and no size."),
    ] {
        if here.trim().is_empty() && !other.trim().is_empty() {
            fields.refuse(field, here, sentence, "Type both, or leave both empty.");
        }
    }
    let extra = earlier.map(|tank| tank.extra.clone()).unwrap_or_default();
    Some(Tank { litres: litres?, x_mm: x_mm?, extra })
}

/// Seats: the two that the form asks for, and whatever else was there.
pub(crate) fn seats(
    fields: &mut Fields,
    form: &LoadsForm,
    tape: TapeUnit,
    earlier: &[Seat],
    before: Option<&LoadsForm>,
) -> Vec<Seat> {
    let mut seats = earlier.to_vec();
    let asked = [
        (FRONT_SEAT, "loads.seat_front", &form.seat_front, before.map(|form| &form.seat_front)),
        (REAR_SEAT, "loads.seat_rear", &form.seat_rear, before.map(|form| &form.seat_rear)),
    ];
    for (label, field, typed, _) in asked.into_iter().filter(|(.., typed, was)| *was != Some(*typed)) {
        let x_mm = place(fields, field, "the place of a seat", typed, tape);
        let kept = seats.iter().position(|seat| seat.label == label);
        match (kept, x_mm) {
            (Some(at), Some(x_mm)) => seats[at].x_mm = x_mm,
            (Some(at), None) => drop(seats.remove(at)),
            (None, Some(x_mm)) => seats.push(Seat { label: label.to_owned(), x_mm, extra: Map::new() }),
            (None, None) => {}
        }
    }
    seats
}

/// Ahead of the front axle, mm, from what was typed as behind it.
fn place(fields: &mut Fields, field: &str, what: &str, typed: &str, tape: TapeUnit) -> Option<f64> {
    if typed.trim().is_empty() {
        return None;
    }
    fields.signed_length(field, what, typed, tape, PLACE_MM).map(|behind| 0.0 - behind)
}

/// The form that would make this body size.
pub(crate) fn body_of(extent: &Extent, mm: &impl Fn(f64) -> String) -> BodyForm {
    let text = |value: Option<f64>| value.map(mm).unwrap_or_default();
    BodyForm {
        overhang_front: text(extent.overhang_front_mm),
        overhang_rear: text(extent.overhang_rear_mm),
        roof_height: text(extent.roof_height_mm),
        hood_height: text(extent.hood_height_mm),
    }
}

/// The form that would make these loads.
pub(crate) fn loads_of(vehicle: &Vehicle, mm: &impl Fn(f64) -> String) -> LoadsForm {
    let seat = |label: &str| {
        vehicle.seats.iter().find(|seat| seat.label == label).map(|seat| mm(0.0 - seat.x_mm)).unwrap_or_default()
    };
    let axles = vehicle.weighed.as_ref().and_then(|weighed| weighed.axles_kg);
    let axle = |of: fn(AxlesKg) -> f64| axles.map(|axles| typed(of(axles), "")).unwrap_or_default();
    LoadsForm {
        mass: vehicle.mass_kg_approx.map(|kg| typed(kg, "")).unwrap_or_default(),
        front_share: vehicle.front_mass_share.map(|share| typed(share * PERCENT, "%")).unwrap_or_default(),
        axle_front: axle(|axles| axles.front),
        axle_rear: axle(|axles| axles.rear),
        tank_size: vehicle.tank.as_ref().map(|tank| typed(tank.litres, "l")).unwrap_or_default(),
        tank_place: vehicle.tank.as_ref().map(|tank| mm(0.0 - tank.x_mm)).unwrap_or_default(),
        seat_front: seat(FRONT_SEAT),
        seat_rear: seat(REAR_SEAT),
    }
}

/// What is known or supposed about the mass, as a sentence.
pub(crate) fn mass_in_words(vehicle: &Vehicle) -> String {
    let share = vehicle.front_mass_share.map(|share| format!(", {:.0} % of it in front", share * PERCENT));
    match vehicle.mass_kg_approx {
        Some(kg) => format!("{kg:.0} kg{}.", share.unwrap_or_default()),
        None => "Not known: a tire\u{2019}s deflection is supposed as 4.5 % of its radius.".to_owned(),
    }
}
