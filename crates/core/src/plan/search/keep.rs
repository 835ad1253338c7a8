//! What must not happen on the way to a target: touching, caster out of a window, too much travel lost, too much money.

use super::super::effect::Effect;
use crate::car::Vehicle;
use crate::checks::{AtStance, Finding, Verdict, findings};

/// What a combination of parts must keep.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Keep {
    /// Nothing may touch that the checks of clearance, ramps and grounds look at; on a ground and with a flat tire not even within the
    /// doubt of it.
    pub no_touch: bool,
    /// Least height of every low point of the car over the ground, mm.
    pub clearance_mm: Option<f64>,
    /// Caster from … to …, degrees.
    pub caster_deg: Option<[f64; 2]>,
    /// Room below a stop that an axle may lose at most, mm.
    pub travel_lost_mm: Option<f64>,
    /// Parts fitted at most.
    pub most_jobs: Option<usize>,
    /// Price at most.
    pub most_price: Option<f64>,
}

/// Checks in which something can touch.
const TOUCHING: [&str; 6] = ["clearance", "ramp", "grounds", "travel", "fitment", "flat_tire"];

impl Keep {
    /// True where nothing is to be kept.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Why the car after such an effect is not wanted; `None` where it is. `now` is the car as it stands, `vehicle` the car with the
    /// tires it would have.
    pub(super) fn refused(&self, now: &AtStance<'_>, vehicle: &Vehicle, effect: &Effect) -> Option<String> {
        if let Some(most) = self.travel_lost_mm {
            for (end, travel) in ["front", "rear"].iter().zip(effect.travel_mm) {
                if -travel.value > most {
                    return Some(format!("the {end} axle loses {:.0} mm of its travel", -travel.value));
                }
            }
        }
        if !self.no_touch && self.clearance_mm.is_none() && self.caster_deg.is_none() {
            return None;
        }
        let after = AtStance { vehicle, ..now.clone() }.moved_by(effect);
        if let Some(least) = self.clearance_mm {
            for point in &vehicle.clearance_points {
                let height = after.height_of(point).value;
                if height < least {
                    return Some(format!(
                        "{} stands {height:.0} mm over the ground",
                        point.label.as_ref().unwrap_or(&point.id)
                    ));
                }
            }
        }
        if let Some([low, high]) = self.caster_deg {
            let found = findings(&after, &["caster"]);
            let caster = found.iter().find(|finding| finding.what == "caster").map(|finding| finding.value);
            if caster.is_none_or(|caster| caster < low || caster > high) {
                return Some(caster.map_or_else(
                    || "nothing in the file says the caster".to_owned(),
                    |caster| format!("caster is {caster:.1}°"),
                ));
            }
        }
        if self.no_touch {
            let found = findings(&after, &TOUCHING);
            let touching = found.iter().find(|finding| touches(finding));
            return touching.map(|finding| finding.sentence.trim_end_matches('.').to_owned());
        }
        None
    }
}

/// True where it touches; on a ground and with a flat tire, where it would by its number, whatever the doubt.
pub(super) fn touches(finding: &Finding) -> bool {
    let by_number = || finding.limit.is_some_and(|limit| finding.value < limit);
    match finding.verdict {
        Some(Verdict::Touches) => true,
        Some(Verdict::CantTell) => matches!(finding.check, "ramp" | "flat_tire") && by_number(),
        _ => false,
    }
}
