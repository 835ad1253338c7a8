//! The steering at a stance: the axle has gone up or down toward the body, the drag link was cut to fit again, and the curve is another.

use super::{BumpSteer, CurvePoint, Guide, Linkage, PlaneLink, work_out};
use crate::bench::Refusal;
use crate::car::Steering;
use crate::checks::at_stance::AtStance;
use crate::checks::beside;
use crate::checks::finding::{Finding, Verdict};
use crate::uncertainty::Quantity;
use crate::units::Angle;
use serde_json::Map;
use std::collections::BTreeMap;

const CHECK: &str = "bumpsteer";
/// Of the steer that slopes and lengths give [common practice, no source].
const STEER_REL_U: f64 = 0.1;
/// A slope between two balls, each by tape [common practice, no source].
const SLOPE_U_DEG: f64 = 0.3;
/// Drag link against what leads the axle [common practice, no source].
const PARALLEL_DEG: f64 = 5.0;

impl Linkage {
    /// From the car's own description.
    ///
    /// # Errors
    /// As [`Linkage::read`].
    pub fn of(steering: &Steering) -> Result<Self, Refusal> {
        let known =
            Steering { measured_in: None, measured_in_of: BTreeMap::new(), extra: Map::new(), ..steering.clone() };
        let text = serde_json::to_string(&known)
            .map_err(|e| Refusal::new(format!("The steering cannot be written: {e}."), "Describe it anew."))?;
        Self::read(&text)
    }

    /// The same steering once its wheel has gone up by that much toward the body, and the drag link was cut to fit there.
    ///
    /// # Errors
    /// A guide that does not let it.
    pub fn risen(&self, travel_mm: f64) -> Result<Self, Refusal> {
        let Some(carried) = self.guide.carry(self.hub, travel_mm) else {
            let message = format!("The guide does not let the hub rise by {travel_mm:.0} mm, as this stance asks.");
            return Err(Refusal::new(message, "Look at hub and guide."));
        };
        let guide = match &self.guide {
            Guide::FourBar { lower, upper } => {
                let link = |link: &PlaneLink| PlaneLink { axle: carried.in_side_view(link.axle), ..*link };
                Guide::FourBar { lower: link(lower), upper: link(upper) }
            }
            other => other.clone(),
        };
        Ok(Self {
            arm_ball: carried.point(self.arm_ball),
            kingpin_point: carried.point(self.kingpin_point),
            kingpin_axis: carried.direction(self.kingpin_axis),
            hub: carried.point(self.hub),
            guide,
            ..self.clone()
        })
    }

    /// Slope, degrees, that a level link from pitman to arm ball would need to follow the arm ball on its first mm up and down; counted
    /// as the drag link's own, positive where the axle's end is higher.
    pub fn guide_angle_deg(&self) -> f64 {
        const ASIDE_MM: f64 = 0.01;
        let along = |travel: f64| self.guide.carry(self.hub, travel).map(|carried| carried.point(self.arm_ball));
        let (Some(up), Some(down)) = (along(ASIDE_MM), along(-ASIDE_MM)) else { return 0.0 };
        let back = -(up.x - down.x) / (up.z - down.z);
        // Of a link that reaches forward a ball that goes back while it rises lies higher than the other end.
        Angle::atan(back * (self.arm_ball.x - self.pitman_ball.x).signum()).to_deg()
    }
}

/// The steering of a car at a stance.
#[derive(Clone, Debug, PartialEq)]
pub struct AtThisStance {
    /// Its points; heights are still counted from the body as it was measured.
    pub linkage: Linkage,
    /// How far the wheel has gone up toward the body since the points were measured, mm.
    pub risen_mm: Quantity,
    /// The curve and what follows from it.
    pub answer: BumpSteer,
    /// See [`Linkage::guide_angle_deg`].
    pub guide_angle_deg: f64,
}

/// `None` where the car's steering is not described.
///
/// # Errors
/// A drag link, a guide or a description that cannot be.
pub fn at_stance(car: &AtStance<'_>) -> Option<Result<AtThisStance, Refusal>> {
    let steering = beside::steering(car, car.vehicle.steering.as_ref()?);
    let of = || {
        let measured = Linkage::of(&steering)?;
        let risen_mm = risen(car, &steering, measured.hub.x);
        let linkage = measured.risen(risen_mm.value)?;
        let answer = work_out(&linkage)?;
        Ok(AtThisStance { risen_mm, answer, guide_angle_deg: linkage.guide_angle_deg(), linkage })
    };
    Some(of())
}

/// How far the wheel has gone up toward the body since the points were measured, mm.
fn risen(car: &AtStance<'_>, steering: &Steering, hub_x_mm: f64) -> Quantity {
    let since = car.since(steering.measured_in.as_deref());
    let (body, axle) = (car.frame_rise(&since, [hub_x_mm, 0.0]), since.axle_rise[0]);
    Quantity::new(axle.value - body.value, axle.u.hypot(body.u))
}

/// The largest steer, the drag link against its guide, and the best height of the pitman ball.
pub(in crate::checks) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    let at = match at_stance(car) {
        None => return Vec::new(),
        Some(Ok(at)) => at,
        Some(Err(refusal)) => return vec![unreachable(car, &refusal)],
    };
    let (answer, [down, up]) = (&at.answer, at.linkage.travel_mm);
    let worst = Finding {
        check: CHECK,
        what: "largest steer".to_owned(),
        value: answer.worst_deg,
        u: STEER_REL_U * answer.worst_deg,
        unit: "deg",
        limit: None,
        source: "no limit".to_owned(),
        verdict: None,
        sentence: format!(
            "Over a wheel {:.0} mm down and {up:.0} mm up it steers {:.1}° by itself, most with the wheel {:.0} mm {}.",
            -down,
            answer.worst_deg,
            answer.worst_at_travel_mm.abs(),
            if answer.worst_at_travel_mm < 0.0 { "down" } else { "up" }
        ),
    };
    let apart = Quantity::new(
        (answer.drag_link_angle_deg - at.guide_angle_deg).abs(),
        SLOPE_U_DEG.hypot((at.risen_mm.u / (at.linkage.arm_ball - at.linkage.pitman_ball).norm()).to_degrees()),
    );
    let parallel = Finding {
        check: CHECK,
        what: "drag link against its guide".to_owned(),
        value: apart.value,
        u: apart.u,
        unit: "deg",
        limit: Some(PARALLEL_DEG),
        source: "from parallel, common practice, no source".to_owned(),
        verdict: Some(Verdict::below(apart, PARALLEL_DEG, Verdict::Within, Verdict::Outside)),
        sentence: format!(
            "The drag link slopes {:.1}°, what leads its ball {:.1}°: {:.1}° apart.",
            answer.drag_link_angle_deg, at.guide_angle_deg, apart.value
        ),
    };
    let best = &answer.best_pitman_ball;
    let ball = Finding {
        check: CHECK,
        what: "best pitman ball".to_owned(),
        value: best.raise_mm,
        u: STEER_REL_U * best.raise_mm.abs(),
        unit: "mm",
        limit: None,
        source: "no limit".to_owned(),
        verdict: None,
        sentence: format!(
            "With the pitman ball {:.0} mm {} it would steer {:.2}° in the place of {:.2}°, root mean square.",
            best.raise_mm.abs(),
            if best.raise_mm < 0.0 { "lower" } else { "higher" },
            best.rms_deg,
            best.rms_now_deg
        ),
    };
    vec![worst, parallel, ball]
}

/// What cannot reach is told; its number is how far the wheel has gone up since the points were measured.
fn unreachable(car: &AtStance<'_>, refusal: &Refusal) -> Finding {
    let risen = car.vehicle.steering.as_ref().map_or(Quantity::exact(0.0), |steering| risen(car, steering, 0.0));
    Finding {
        check: CHECK,
        what: "reach".to_owned(),
        value: risen.value,
        u: risen.u,
        unit: "mm",
        limit: None,
        source: "the points of the steering as the file has them".to_owned(),
        verdict: Some(Verdict::CantTell),
        sentence: refusal.to_string(),
    }
}

/// The curve with the pitman ball at another height, the drag link cut to fit there.
///
/// # Errors
/// A drag link that cannot reach there.
pub fn with_pitman_ball(linkage: &Linkage, z_mm: f64) -> Result<Vec<CurvePoint>, Refusal> {
    let mut ball = linkage.pitman_ball;
    ball.z = z_mm;
    linkage.curve(&linkage.travels(), ball).map_err(|unreachable| unreachable.refusal())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn linkage(guide: &str) -> Linkage {
        let text = format!(
            r#"{{"pitman_ball": [-800, 560, 470], "arm_ball": [0, 560, 400], "hub": [0, 700, 320], "guide": {guide},
            "kingpin": {{"point": [0, 640, 330], "axis": [0, 0, 1]}}, "travel_mm": [-60, 60], "step_mm": 5}}"#
        );
        Linkage::read(&text).unwrap_or_else(|e| panic!("{e}"))
    }

    /// By hand: the ball lies 70 mm lower than the pitman ball, 50 once it has come 20 up; a rod's end lies 110 mm over its pivot.
    #[test]
    fn slopes_of_link_and_guide_by_hand() {
        let parallel = linkage(r#"{"kind": "parallel"}"#);
        assert!(parallel.guide_angle_deg().abs() < 1e-9);
        let answer = work_out(&parallel.risen(20.0).unwrap()).unwrap();
        assert!((answer.drag_link_angle_deg - Angle::atan(-50.0 / 800.0).to_deg()).abs() < 1e-9);
        let rod = linkage(r#"{"kind": "radius_rod", "pivot": [-980, 330, 290]}"#);
        assert!((rod.guide_angle_deg() - Angle::atan(110.0 / 980.0).to_deg()).abs() < 1e-3);
        // A leaf whose eye lies ahead: the ball goes forward while it rises, as if it hung on a longer link behind that slopes down.
        let leaf = linkage(r#"{"kind": "leaf", "eye": [600, 400, 350], "radius_mm": 450}"#);
        let by_hand = Angle::atan(-30.0 / (450.0_f64.powi(2) - 900.0).sqrt()).to_deg();
        assert!((leaf.guide_angle_deg() + by_hand).abs() < 1e-3, "{} {by_hand}", leaf.guide_angle_deg());
    }

    /// Second road: the curve from the old rest has at that travel the slope that the new one has at its rest. They differ by the
    /// little turn that re-cutting the link takes out.
    #[test]
    fn a_stance_that_is_reached_has_the_slope_that_the_curve_had_there() {
        for guide in [
            r#"{"kind": "parallel"}"#,
            r#"{"kind": "radius_rod", "pivot": [-980, 330, 290]}"#,
            r#"{"kind": "leaf", "eye": [600, 400, 350], "radius_mm": 450}"#,
            r#"{"kind": "four_bar", "lower": {"frame": [-700, 250], "axle": [0, 240]}, "upper": {"frame": [-650, 420], "axle": [0, 400]}}"#,
        ] {
            let measured = linkage(guide);
            let curve = work_out(&measured).unwrap().bump_steer_curve;
            let at = |travel: f64| curve.iter().find(|point| point.travel_mm == travel).unwrap().steer_deg;
            for travel in [-40.0, 25.0] {
                let there = (at(travel + 5.0) - at(travel - 5.0)) / 10.0;
                let moved = work_out(&measured.risen(travel).unwrap()).unwrap();
                let ours = moved.steer_deg_per_mm_at_rest;
                assert!((ours - there).abs() < 0.06 * there.abs() + 0.002, "{guide} {travel}: {ours} {there}");
                let back = measured.risen(travel).unwrap().risen(-travel).unwrap();
                assert!((back.arm_ball - measured.arm_ball).norm() < 1e-6, "{guide}: there and back");
            }
        }
    }

    #[test]
    fn the_best_ball_makes_the_curve_flatter_and_a_guide_that_cannot_is_said() {
        let rod = linkage(r#"{"kind": "radius_rod", "pivot": [-980, 330, 290]}"#);
        let best = work_out(&rod).unwrap().best_pitman_ball;
        let curve = with_pitman_ball(&rod, best.z_mm).unwrap();
        let rms = (curve.iter().map(|point| point.steer_deg.powi(2)).sum::<f64>() / curve.len() as f64).sqrt();
        assert!((rms - best.rms_deg).abs() < 1e-9 && best.rms_deg < best.rms_now_deg / 5.0);
        let said = rod.risen(2_000.0).unwrap_err().to_string();
        assert!(said.starts_with("The guide does not let the hub rise by 2000 mm"), "{said}");
    }
}
