//! What could be checked and is not, since nobody measured it: said with what to measure, never left out in silence.

use super::at_stance::AtStance;
use super::lamps::aimed;

/// A check that has nothing to go by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Unread {
    /// Which check of [`super::CHECKS`].
    pub check: &'static str,
    /// What would be told.
    pub subject: &'static str,
    /// What to measure for it.
    pub measure: &'static str,
}

/// Everything that was not measured, in the order of the checks.
pub fn unread(car: &AtStance<'_>) -> Vec<Unread> {
    let vehicle = car.vehicle;
    let no_points = vehicle.clearance_points.is_empty();
    let ground = car.ground.clone().unwrap_or_default();
    let no_ground = ground.apron_angle_deg.is_none() && ground.trailer_ramp_angle_deg.is_none();
    let row = |check, subject, measure| Unread { check, subject, measure };
    let all = [
        (
            no_points,
            row("clearance", "Low points over the ground", "Measure where the lowest points are and how high."),
        ),
        (vehicle.tires.is_none(), row("flat_tire", "Rim line and flat tires", "Add the tires as they are marked.")),
        (
            no_points || no_ground,
            row("ramp", "Apron and trailer ramp", "Measure the angles of your ground, and the low points."),
        ),
        (vehicle.radius_rod.is_none(), row("caster", "Caster", "Measure the radius rod and where its ball sits.")),
        (
            vehicle.driveline.is_none(),
            row("driveline", "Joints of the shaft", "Lay the angle gauge on transmission and pinion."),
        ),
        (vehicle.all_lamps().is_empty(), row("lamps", "Lamp heights", "Measure the centre of each lamp.")),
        (
            !vehicle.all_lamps().is_empty() && !vehicle.all_lamps().iter().any(aimed),
            row("lamps", "Aim of the low beam", "Measure how far the beam falls over 10 m."),
        ),
        (
            vehicle.attitude.is_empty(),
            row("attitude", "Carburetor and oil level", "Lay the angle gauge on the flange."),
        ),
        (vehicle.drive.is_none(), row("gearing", "Engine speed", "Add the axle ratio.")),
    ];
    all.into_iter().filter_map(|(missing, row)| missing.then_some(row)).collect()
}
