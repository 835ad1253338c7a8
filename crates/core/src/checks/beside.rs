//! A part whose points were not all measured beside one snapshot: each point brought to how the car stood beside the one that the rest
//! counts from. What goes with the body goes with it there, what hangs on the axle with the axle.

use super::at_stance::{AtStance, Since};
use crate::car::{AxleGuide, Driveline, Steering};

/// What body and axle rose from the snapshot of the rest to a point's own.
struct Between {
    rest: Since,
    own: Since,
    axle: usize,
}

impl Between {
    fn of(car: &AtStance<'_>, rest: Option<&str>, own: &str, axle: usize) -> Self {
        Self { rest: car.since(rest), own: car.since(Some(own)), axle }
    }

    /// A place of the body, height last.
    fn body(&self, x_mm: f64, z_mm: &mut f64) {
        *z_mm -= self.rest.body.rise(x_mm, 0.0).value - self.own.body.rise(x_mm, 0.0).value;
    }

    fn axle(&self, z_mm: &mut f64) {
        *z_mm -= self.rest.axle_rise[self.axle].value - self.own.axle_rise[self.axle].value;
    }

    fn guide(&self, guide: &mut AxleGuide) {
        match guide {
            AxleGuide::RadiusRod { pivot: [x, _, z] } | AxleGuide::Leaf { eye: [x, _, z], .. } => self.body(*x, z),
            AxleGuide::FourBar { lower, upper } => {
                for link in [lower, upper] {
                    self.body(link.frame[0], &mut link.frame[1]);
                    self.axle(&mut link.axle[1]);
                }
            }
            AxleGuide::Parallel => {}
        }
    }
}

/// The steering with every point beside the snapshot of the rest. A name that is no point of it says nothing.
pub(super) fn steering(car: &AtStance<'_>, steering: &Steering) -> Steering {
    let mut one = steering.clone();
    for (point, own) in &steering.measured_in_of {
        let between = Between::of(car, steering.measured_in.as_deref(), own, 0);
        match point.as_str() {
            "pitman_ball" => between.body(one.pitman_ball[0], &mut one.pitman_ball[2]),
            "arm_ball" => between.axle(&mut one.arm_ball[2]),
            "hub" => between.axle(&mut one.hub[2]),
            "kingpin" => between.axle(&mut one.kingpin.point[2]),
            "guide" => between.guide(&mut one.guide),
            _ => {}
        }
    }
    one
}

/// The driveline with every point and slope beside the snapshot of the rest.
pub(super) fn driveline(car: &AtStance<'_>, line: &Driveline) -> Driveline {
    let mut one = line.clone();
    for (point, own) in &line.measured_in_of {
        let between = Between::of(car, line.measured_in.as_deref(), own, 1);
        match point.as_str() {
            "front_joint" => between.body(one.front_joint[0], &mut one.front_joint[1]),
            "rear_joint" => between.axle(&mut one.rear_joint[1]),
            // A falling slope of the transmission lessens as the nose goes down.
            "transmission" => {
                one.transmission_deg += between.rest.body.rake_deg().value - between.own.body.rake_deg().value;
            }
            "guide" => {
                if let Some(guide) = &mut one.guide {
                    between.guide(guide);
                }
            }
            _ => {}
        }
    }
    one
}
