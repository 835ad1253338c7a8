//! Where the ± of a point's height comes from: the tape that read it, what carries it and moved since, and changes that are only
//! planned. The parts add like the sides of a right angle to the ± of [`AtStance::height_since`].

use super::at_stance::{AtStance, POINT_U_MM};
use crate::car::Attached;

/// A source of doubt of a height.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DoubtOf {
    /// The tape at the point.
    Tape,
    /// How far the front of the body moved.
    Front,
    /// How far the rear of the body moved.
    Rear,
    /// How far it leans more or less than then.
    Lean,
    /// How far the axle that carries it moved.
    Axle,
    /// What changes do that nobody has measured yet.
    Changes,
}

impl AtStance<'_> {
    /// Standard uncertainty by source of the height of a point that was measured beside a snapshot, mm, the largest first; what adds
    /// nothing is left out.
    pub fn doubts_since(
        &self,
        [x, y, _]: [f64; 3],
        attached: Attached,
        measured_in: Option<&str>,
    ) -> Vec<(DoubtOf, f64)> {
        let since = self.since(measured_in);
        let body = || {
            let back = (since.body.front_x_mm - x) / (since.body.front_x_mm - since.body.rear_x_mm);
            vec![
                (DoubtOf::Front, (since.body.front.u * (1.0 - back)).abs()),
                (DoubtOf::Rear, (since.body.rear.u * back).abs()),
                (DoubtOf::Lean, (since.body.lean.u * y).abs()),
            ]
        };
        let axle = |axle: usize| {
            vec![(DoubtOf::Axle, since.axle_rise[axle].u), (DoubtOf::Changes, self.changed.axle_mm[axle].u)]
        };
        let mut doubts = match attached {
            Attached::Body => {
                let mut doubts = body();
                doubts.push((DoubtOf::Changes, self.changed.body_over_frame_mm.u));
                doubts
            }
            Attached::Frame => body(),
            Attached::FrontAxle => axle(0),
            Attached::RearAxle => axle(1),
        };
        doubts.push((DoubtOf::Tape, POINT_U_MM));
        doubts.retain(|(_, u)| *u > 0.0);
        doubts.sort_by(|a, b| b.1.total_cmp(&a.1));
        doubts
    }
}
