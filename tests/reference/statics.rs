//! Where a car's weight sits, what a slope does with it, and the pitch that heights make.

use crate::Check;
use serde::Deserialize;
use serde_json::json;
use trueground_core::car::{PointKind, Vehicle};
use trueground_core::checks::weight::{Raised, Weight, rear_share, work_out};
use trueground_core::target::Target;

pub(crate) fn weight_and_pitch(check: &mut Check) {
    #[derive(Deserialize)]
    struct Data {
        computed: Vec<Lifted>,
        slope: Vec<Slope>,
        rake: Vec<Pitch>,
    }
    #[derive(Deserialize)]
    struct Lifted {
        wheelbase: f64,
        total: f64,
        front_level: f64,
        front_raised: f64,
        lift: f64,
        axle_height: f64,
        cg_height: f64,
    }
    #[derive(Deserialize)]
    struct Slope {
        wheelbase: f64,
        a: f64,
        h: f64,
        grade_pct: f64,
        rear_fraction: f64,
    }
    #[derive(Deserialize)]
    struct Pitch {
        wheelbase_mm: f64,
        front_minus_rear_mm: f64,
        pitch_deg: f64,
    }
    let data: Data = check.json();
    for case in data.computed {
        let raised = Raised { front_kg: case.front_raised, lift_mm: case.lift, axle_height_mm: case.axle_height };
        let weight = Weight {
            wheelbase_mm: case.wheelbase,
            level_kg: [case.front_level, case.total - case.front_level],
            raised: Some(raised),
            grades_percent: Vec::new(),
            u_kg: None,
        };
        let ours = work_out(&weight).height_mm.map_or(f64::NAN, |height| height.value);
        check.near(&format!("height on a wheelbase of {}", case.wheelbase), ours, case.cg_height, "height");
    }
    for case in data.slope {
        let ours = rear_share(case.wheelbase, case.a, case.h, case.grade_pct);
        check.near(&format!("rear axle on {} %", case.grade_pct), ours, case.rear_fraction, "share");
    }
    for case in data.rake {
        let mark = |corner: &str, x: f64, y: f64| json!({"id": corner, "corner": corner, "kind": "frame_rail", "x_mm": x, "y_mm": y});
        let back = -case.wheelbase_mm;
        let vehicle: Vehicle = serde_json::from_value(json!({"label": "x", "wheelbase_mm": case.wheelbase_mm, "track_front_mm": 1400,
            "track_rear_mm": 1400, "ref_points": [mark("FL", 0.0, 400.0), mark("FR", 0.0, -400.0), mark("RL", back, 400.0), mark("RR", back, -400.0)]}))
        .unwrap();
        let front = 300.0 + case.front_minus_rear_mm;
        let heights = [("FL", front), ("FR", front), ("RL", 300.0), ("RR", 300.0)];
        let target = Target {
            heights_mm: heights.map(|(point, height)| (point.to_owned(), height)).into(),
            ..Target::default()
        };
        // There front-lower counts negative, here nose-down is positive.
        let ours = target.rake_of(&vehicle, PointKind::FrameRail).unwrap_or(f64::NAN);
        check.near(&format!("pitch of {} mm", case.front_minus_rear_mm), ours, -case.pitch_deg, "pitch_deg");
    }
}
