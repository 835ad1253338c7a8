//! Part by part: what was typed, each field in its range, a part that is half typed refused by the field that is missing.

use super::field::name_of;
use crate::fields::Fields;
use crate::wire::UnderForm;
use trueground_core::car::{
    Attached, Carried, GroundAngles, Lamp, LevelPart, LowPoint, RadiusRod, USUAL_TIP_DEG, Vehicle,
};
use trueground_core::validate::described::{
    BEAM_DROP_PERCENT, CARRIED_KG, CASTER_DEG, GROUND_DEG, PLACE_Z_MM, ROD_MM, SLOPE_DEG, TIP_DEG,
};

/// Reads a form against what was there.
pub(super) struct Reader<'a> {
    pub(super) fields: &'a mut Fields,
    pub(super) form: &'a UnderForm,
    /// The form that would make what was there.
    pub(super) was: &'a UnderForm,
    pub(super) vehicle: &'a Vehicle,
    /// Snapshot beside which new numbers were measured.
    pub(super) beside: Option<String>,
}

impl Reader<'_> {
    pub(super) fn low_points(&mut self) -> Vec<LowPoint> {
        let mut points: Vec<LowPoint> = Vec::new();
        for (at, typed) in self.form.low_points.iter().enumerate() {
            let kept = self.vehicle.clearance_points.iter().find(|point| !typed.id.is_empty() && point.id == typed.id);
            let was = self.was.low_points.iter().find(|was| !was.id.is_empty() && was.id == typed.id);
            if let (Some(kept), true) = (kept, was == Some(typed)) {
                points.push(kept.clone());
                continue;
            }
            let place = |part: &str| format!("low_points.{at}.{part}");
            let label = self.fields.label(&place("label"), "A low point", &typed.label);
            let x = self.behind(&place("behind"), "the place of a low point", &typed.behind);
            let y = self.left(&place("left"), &typed.left);
            let z = self.height(&place("height"), "the height of a low point", &typed.height, PLACE_Z_MM);
            let (Some(label), Some(x_mm), Some(y_mm), Some(z_mm)) = (label, x, y, z) else { continue };
            let moved = was
                .is_none_or(|was| (&was.behind, &was.left, &was.height) != (&typed.behind, &typed.left, &typed.height));
            let id = kept.map_or_else(
                || name_of(&label, &|name| points.iter().any(|p| p.id == name) || self.has_point(name)),
                |kept| kept.id.clone(),
            );
            points.push(LowPoint {
                label: (label != id).then_some(label),
                id,
                attach: typed.attach,
                x_mm,
                y_mm,
                z_mm,
                measured_in: self.beside(moved, kept.and_then(|kept| kept.measured_in.clone())),
                extra: kept.map(|kept| kept.extra.clone()).unwrap_or_default(),
            });
        }
        points
    }

    fn has_point(&self, name: &str) -> bool {
        self.form.low_points.iter().any(|point| point.id == name)
    }

    pub(super) fn lamps(&mut self) -> Vec<Lamp> {
        let mut lamps: Vec<Lamp> = Vec::new();
        for (at, typed) in self.form.lamps.iter().enumerate() {
            let kept = self.vehicle.all_lamps().iter().find(|lamp| !typed.id.is_empty() && lamp.id == typed.id);
            let was = self.was.lamps.iter().find(|was| !was.id.is_empty() && was.id == typed.id);
            if let (Some(kept), true) = (kept, was == Some(typed)) {
                lamps.push(kept.clone());
                continue;
            }
            let place = |part: &str| format!("lamps.{at}.{part}");
            let x = self.behind(&place("behind"), "the place of a lamp", &typed.behind);
            let y = self.left(&place("left"), &typed.left);
            let z = self.height(&place("height"), "the height of a lamp", &typed.height, PLACE_Z_MM);
            let drop =
                self.number(&place("drop"), "the fall of a beam", &typed.drop, BEAM_DROP_PERCENT, "1.2, for 1.2 %");
            let kind = self.fields.label(&place("kind"), "A lamp", &typed.kind);
            let (Some(x_mm), Some(y_mm), Some(z_mm), Some(kind)) = (x, y, z, kind) else { continue };
            let moved = was.is_none_or(|was| {
                (&was.behind, &was.left, &was.height, &was.drop)
                    != (&typed.behind, &typed.left, &typed.height, &typed.drop)
            });
            let taken = |name: &str| {
                lamps.iter().any(|lamp| lamp.id == name) || self.form.lamps.iter().any(|lamp| lamp.id == name)
            };
            let id = kept.map_or_else(|| name_of(&kind, &taken), |kept| kept.id.clone());
            lamps.push(Lamp {
                id,
                kind,
                attach: kept.map_or(Attached::Body, |kept| kept.attach),
                x_mm,
                y_mm,
                z_mm,
                beam_drop_percent: drop,
                measured_in: self.beside(moved, kept.and_then(|kept| kept.measured_in.clone())),
                extra: kept.map(|kept| kept.extra.clone()).unwrap_or_default(),
            });
        }
        lamps
    }

    pub(super) fn rod(&mut self) -> Option<RadiusRod> {
        let (form, was, kept) = (self.form, self.was, self.vehicle.radius_rod.clone());
        if (&form.rod_ball, &form.rod_length, &form.caster) == (&was.rod_ball, &was.rod_length, &was.caster) {
            return kept;
        }
        self.whole("The rod", &[("rod_ball", &form.rod_ball), ("rod_length", &form.rod_length)], &[&form.caster])?;
        let ball = self.behind("rod_ball", "the place of the rod\u{2019}s ball", &form.rod_ball);
        let length = self.fields.length("rod_length", "a rod", &form.rod_length, form.tape, ROD_MM);
        let caster = self.angle("caster", "a caster", &form.caster, CASTER_DEG);
        Some(RadiusRod {
            frame_pivot_x_mm: 0.0 - ball.map(|x| -x)?,
            length_mm: length?,
            static_caster_deg: caster,
            measured_in: self.beside(true, None),
            extra: kept.map(|kept| kept.extra).unwrap_or_default(),
        })
    }

    pub(super) fn level_parts(&mut self) -> Vec<LevelPart> {
        let mut parts = Vec::new();
        for (at, typed) in self.form.level_parts.iter().enumerate() {
            // A part has no name of its own in files: it is known by its label.
            let same = self.was.level_parts.iter().position(|was| was == typed);
            if let Some(kept) = same.and_then(|at| self.vehicle.attitude.get(at)) {
                parts.push(kept.clone());
                continue;
            }
            let label = self.fields.label(&format!("level_parts.{at}.label"), "A part", &typed.label);
            let tips = self.angle(&format!("level_parts.{at}.tips"), "how far it tips", &typed.tips, SLOPE_DEG);
            let limit = self.angle(&format!("level_parts.{at}.limit"), "how far it may tip", &typed.limit, TIP_DEG);
            if typed.tips.trim().is_empty() {
                let hint = "Lay the angle gauge on it; nose-up is a minus.";
                self.fields.refuse(&format!("level_parts.{at}.tips"), "", "It has no angle yet.", hint);
            }
            let (Some(label), Some(nose_down_deg)) = (label, tips) else { continue };
            let kept = self.vehicle.attitude.iter().find(|part| part.label == label);
            parts.push(LevelPart {
                label,
                nose_down_deg,
                limit_deg: limit.unwrap_or(USUAL_TIP_DEG),
                x_mm: kept.and_then(|kept| kept.x_mm),
                measured_in: self.beside(true, None),
                extra: kept.map(|kept| kept.extra.clone()).unwrap_or_default(),
            });
        }
        parts
    }

    pub(super) fn luggage(&mut self) -> Option<Carried> {
        let (form, was) = (self.form, self.was);
        let same = (&form.luggage_mass, &form.luggage_place) == (&was.luggage_mass, &was.luggage_place);
        let typed = [("luggage_mass", &form.luggage_mass), ("luggage_place", &form.luggage_place)];
        self.carried("The luggage", typed, same, self.vehicle.luggage.as_ref())
    }

    pub(super) fn tow_ball(&mut self) -> Option<Carried> {
        let (form, was) = (self.form, self.was);
        let same = (&form.tow_mass, &form.tow_place) == (&was.tow_mass, &was.tow_place);
        let typed = [("tow_mass", &form.tow_mass), ("tow_place", &form.tow_place)];
        self.carried("The ball", typed, same, self.vehicle.tow_ball.as_ref())
    }

    fn carried(
        &mut self,
        what: &str,
        [(mass_field, mass), (place_field, place)]: [(&'static str, &String); 2],
        same: bool,
        kept: Option<&Carried>,
    ) -> Option<Carried> {
        if same {
            return kept.cloned();
        }
        self.whole(what, &[(mass_field, mass), (place_field, place)], &[])?;
        let mass_kg = self.number(mass_field, "a mass", mass, CARRIED_KG, "40, for 40 kg");
        let x_mm = self.behind(place_field, "its place", place);
        Some(Carried { mass_kg: mass_kg?, x_mm: x_mm?, extra: kept.map(|kept| kept.extra.clone()).unwrap_or_default() })
    }

    pub(super) fn ground(&mut self, kept: Option<&GroundAngles>) -> Option<GroundAngles> {
        let (form, was) = (self.form, self.was);
        if (&form.apron, &form.trailer_ramp) == (&was.apron, &was.trailer_ramp) {
            return kept.cloned();
        }
        let apron = self.angle("apron", "an apron", &form.apron, GROUND_DEG);
        let ramp = self.angle("trailer_ramp", "a ramp", &form.trailer_ramp, GROUND_DEG);
        let extra = kept.map(|kept| kept.extra.clone()).unwrap_or_default();
        let nothing = apron.is_none() && ramp.is_none() && extra.is_empty();
        (!nothing).then_some(GroundAngles { apron_angle_deg: apron, trailer_ramp_angle_deg: ramp, extra })
    }
}
