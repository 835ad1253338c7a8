//! The height of the pitman ball that makes the curve flattest.

use super::{CurvePoint, Linkage};
use serde::Serialize;

/// The pitman ball moved up or down only, the drag link cut to fit at rest.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BestPitmanBall {
    /// Its height, mm.
    pub z_mm: f64,
    /// How much higher than now, mm; the box on the rail goes by as much.
    pub raise_mm: f64,
    /// Root mean square of the steer over the travels of the curve there, degrees.
    pub rms_deg: f64,
    /// The same as it is now.
    pub rms_now_deg: f64,
}

/// How far up and down it is looked for, mm.
const REACH_MM: f64 = 400.0;
const COARSE_MM: f64 = 10.0;

pub(super) fn best(linkage: &Linkage, travels: &[f64], now: &[CurvePoint]) -> BestPitmanBall {
    let at = |raise: f64| {
        let mut ball = linkage.pitman_ball;
        ball.z += raise;
        // Where the link cannot reach at some travel it is no place for the ball.
        linkage.curve(travels, ball).map_or(f64::INFINITY, |curve| rms(&curve))
    };
    #[expect(clippy::cast_possible_truncation, reason = "a small whole number")]
    let steps = (REACH_MM / COARSE_MM) as i32;
    let coarse = (-steps..=steps).map(|step| COARSE_MM * f64::from(step));
    let least = coarse.map(|raise| (at(raise), raise)).min_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((0.0, 0.0));
    // Golden section between the neighbours.
    let part = (5_f64.sqrt() - 1.0) / 2.0;
    let (mut low, mut high) = (least.1 - COARSE_MM, least.1 + COARSE_MM);
    let (mut a, mut b) = (high - part * (high - low), low + part * (high - low));
    let (mut at_a, mut at_b) = (at(a), at(b));
    for _ in 0..50 {
        if at_a <= at_b {
            (high, b, at_b) = (b, a, at_a);
            a = high - part * (high - low);
            at_a = at(a);
        } else {
            (low, a, at_a) = (a, b, at_b);
            b = low + part * (high - low);
            at_b = at(b);
        }
    }
    let raise_mm = f64::midpoint(low, high);
    BestPitmanBall { z_mm: linkage.pitman_ball.z + raise_mm, raise_mm, rms_deg: at(raise_mm), rms_now_deg: rms(now) }
}

fn rms(curve: &[CurvePoint]) -> f64 {
    let squares: f64 = curve.iter().map(|point| point.steer_deg * point.steer_deg).sum();
    (squares / curve.len() as f64).sqrt()
}
