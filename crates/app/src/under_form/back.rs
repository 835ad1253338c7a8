//! The form that would make what a car's file says of what is under it.

use crate::quantity::typed;
use crate::wire::{LampForm, LevelPartForm, LowPointForm, TapeUnit, UnderForm};
use trueground_core::car::{Carried, GroundAngles, USUAL_TIP_DEG, Vehicle};

/// The form.
pub(crate) fn form(car: &str, tape: TapeUnit, vehicle: &Vehicle, ground: Option<&GroundAngles>) -> UnderForm {
    let mm = |value: f64| length(value, tape);
    let number = |value: Option<f64>| value.map(|value| typed(value, "")).unwrap_or_default();
    let aside = |y_mm: f64| if y_mm == 0.0 { String::new() } else { mm(y_mm) };
    let rod = vehicle.radius_rod.as_ref();
    let place = |carried: Option<&Carried>| carried.map(|carried| mm(0.0 - carried.x_mm)).unwrap_or_default();
    UnderForm {
        car: car.to_owned(),
        tape,
        as_first: false,
        low_points: vehicle
            .clearance_points
            .iter()
            .map(|point| LowPointForm {
                id: point.id.clone(),
                label: point.called().to_owned(),
                attach: point.attach,
                behind: mm(0.0 - point.x_mm),
                left: aside(point.y_mm),
                height: mm(point.z_mm),
            })
            .collect(),
        lamps: vehicle
            .all_lamps()
            .iter()
            .map(|lamp| LampForm {
                id: lamp.id.clone(),
                kind: lamp.kind.clone(),
                behind: mm(0.0 - lamp.x_mm),
                left: aside(lamp.y_mm),
                height: mm(lamp.z_mm),
                drop: number(lamp.beam_drop_percent),
            })
            .collect(),
        rod_ball: rod.map(|rod| mm(0.0 - rod.frame_pivot_x_mm)).unwrap_or_default(),
        rod_length: rod.map(|rod| mm(rod.length_mm)).unwrap_or_default(),
        caster: number(rod.and_then(|rod| rod.static_caster_deg)),
        level_parts: vehicle
            .attitude
            .iter()
            .map(|part| LevelPartForm {
                label: part.label.clone(),
                tips: number(Some(part.nose_down_deg)),
                limit: if part.limit_deg == USUAL_TIP_DEG { String::new() } else { number(Some(part.limit_deg)) },
            })
            .collect(),
        apron: number(ground.and_then(|ground| ground.apron_angle_deg)),
        trailer_ramp: number(ground.and_then(|ground| ground.trailer_ramp_angle_deg)),
        luggage_mass: number(vehicle.luggage.as_ref().map(|carried| carried.mass_kg)),
        luggage_place: place(vehicle.luggage.as_ref()),
        tow_mass: number(vehicle.tow_ball.as_ref().map(|carried| carried.mass_kg)),
        tow_place: place(vehicle.tow_ball.as_ref()),
    }
}

/// As a field takes it again.
fn length(mm: f64, tape: TapeUnit) -> String {
    let mm = (mm * 1e6).round() / 1e6;
    match tape {
        TapeUnit::Mm => format!("{mm}"),
        TapeUnit::In | TapeUnit::In32 | TapeUnit::Cm => format!("{mm} mm"),
    }
}
