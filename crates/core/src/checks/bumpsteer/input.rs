//! A steering linkage as JSON.

use super::{Guide, Linkage, PlaneLink, Turning};
use crate::bench::{Node, Object, Refusal};
use nalgebra::Vector3;
use std::ops::RangeInclusive;

const PLACE_MM: RangeInclusive<f64> = -10_000.0..=10_000.0;
const AXIS: RangeInclusive<f64> = -1e6..=1e6;
const TRAVEL_MM: RangeInclusive<f64> = -500.0..=500.0;
const STEP_MM: RangeInclusive<f64> = 0.1..=500.0;
const RADIUS_MM: RangeInclusive<f64> = 50.0..=5_000.0;
const INNER_DEG: RangeInclusive<f64> = 0.1..=60.0;
const MOST_ANGLES: usize = 100;

/// Unless given [common practice, no source].
const STEP_UNLESS_GIVEN_MM: f64 = 5.0;

const KEYS: [&str; 8] = ["pitman_ball", "arm_ball", "kingpin", "guide", "hub", "travel_mm", "step_mm", "turn"];

impl Linkage {
    /// From `{"pitman_ball", "arm_ball", "kingpin": {"point", "axis"}, "guide": {"kind", …}, "hub", "travel_mm": [low, high], "step_mm", "turn"}`,
    /// each place `[x, y, z]`.
    ///
    /// # Errors
    /// Not JSON, an unknown key (with the nearest known one), a missing one, a number outside of its range, balls or pivots that
    /// lie in one place, a lying kingpin, or ends of the travel in the wrong order.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        let node = Node::read(text)?;
        let file = node.object("", &KEYS)?;
        let hub = place(&file, "hub")?;
        let kingpin = file.required("kingpin")?.object("kingpin", &["point", "axis"])?;
        let linkage = Self {
            pitman_ball: place(&file, "pitman_ball")?,
            arm_ball: place(&file, "arm_ball")?,
            kingpin_point: place(&kingpin, "point")?,
            kingpin_axis: axis(&kingpin)?,
            guide: guide(file.required("guide")?, hub)?,
            hub,
            travel_mm: travel(&file)?,
            step_mm: file.optional_number_in("step_mm", &STEP_MM, "mm")?.unwrap_or(STEP_UNLESS_GIVEN_MM),
            turning: file.optional("turn").map(turning).transpose()?,
        };
        let arm = linkage.arm_ball - linkage.kingpin_point;
        if (arm - linkage.kingpin_axis * linkage.kingpin_axis.dot(&arm)).norm() < 1.0 {
            let hint = "Give the ball on the steering arm, and a point and the direction of the kingpin.";
            return Err(Refusal::new(
                "arm_ball lies on the kingpin's axis: the drag link could not turn the wheel.",
                hint,
            ));
        }
        if (linkage.arm_ball - linkage.pitman_ball).norm() < 1.0 {
            let hint = "Give both ends of the drag link.";
            return Err(Refusal::new("arm_ball and pitman_ball lie in one place.", hint));
        }
        Ok(linkage)
    }
}

fn place(object: &Object<'_>, key: &str) -> Result<Vector3<f64>, Refusal> {
    Ok(object.required(key)?.coordinates::<3>(&object.path(key), &PLACE_MM, "mm")?.into())
}

/// Of length 1, pointing up.
fn axis(kingpin: &Object<'_>) -> Result<Vector3<f64>, Refusal> {
    let axis: Vector3<f64> = kingpin.required("axis")?.coordinates::<3>(&kingpin.path("axis"), &AXIS, "")?.into();
    let unit = axis / axis.norm();
    if unit.z.abs() >= 0.1 {
        return Ok(unit * unit.z.signum());
    }
    let message = format!("kingpin.axis is [{}, {}, {}], which does not point up.", axis.x, axis.y, axis.z);
    Err(Refusal::new(message, "Give the direction of the kingpin, as [-0.1, 0.1, 1]."))
}

fn travel(file: &Object<'_>) -> Result<[f64; 2], Refusal> {
    let list = file.required("travel_mm")?.list("travel_mm")?;
    let [low, high] = list else {
        let message = format!("travel_mm has {} numbers.", list.len());
        return Err(Refusal::new(message, "Write its lower and its upper end: [-60, 60]."));
    };
    let low = low.number_in("travel_mm[0]", &TRAVEL_MM, "mm")?;
    let high = high.number_in("travel_mm[1]", &TRAVEL_MM, "mm")?;
    if low < high {
        return Ok([low, high]);
    }
    let message = format!("travel_mm runs from {low} to {high} mm: its ends are reversed.");
    Err(Refusal::new(message, format!("Write the lower end first: [{}, {}].", high.min(low), high.max(low))))
}

fn guide(node: &Node, hub: Vector3<f64>) -> Result<Guide, Refusal> {
    let any = node.object("guide", &["kind", "pivot", "eye", "radius_mm", "lower", "upper"])?;
    match any.required("kind")?.one_of("guide.kind", &["radius_rod", "parallel", "leaf", "four_bar"])? {
        "radius_rod" => {
            let rod = node.object("guide", &["kind", "pivot"])?;
            let pivot = place(&rod, "pivot")?;
            apart("guide.pivot", [pivot.x, pivot.z], "hub", [hub.x, hub.z])?;
            Ok(Guide::RadiusRod { pivot })
        }
        "leaf" => {
            let leaf = node.object("guide", &["kind", "eye", "radius_mm"])?;
            let eye = place(&leaf, "eye")?;
            if (hub.x - eye.x).abs() < 10.0 {
                let message = "guide.eye stands over or under the hub: it must lie ahead of it or behind it.";
                return Err(Refusal::new(message, "Give the eye that is fixed to the frame."));
            }
            Ok(Guide::Leaf { eye, radius_mm: leaf.number_in("radius_mm", &RADIUS_MM, "mm")? })
        }
        "four_bar" => {
            let bars = node.object("guide", &["kind", "lower", "upper"])?;
            let (lower, upper) = (link(&bars, "lower")?, link(&bars, "upper")?);
            apart("guide.lower.axle", lower.axle, "guide.upper.axle", upper.axle)?;
            Ok(Guide::FourBar { lower, upper })
        }
        _ => node.object("guide", &["kind"]).map(|_| Guide::Parallel),
    }
}

fn link(bars: &Object<'_>, key: &str) -> Result<PlaneLink, Refusal> {
    let path = bars.path(key);
    let link = bars.required(key)?.object(&path, &["frame", "axle"])?;
    let end = |key: &str| link.required(key)?.coordinates::<2>(&link.path(key), &PLACE_MM, "mm");
    let link = PlaneLink { frame: end("frame")?, axle: end("axle")? };
    apart(&format!("{path}.frame"), link.frame, &format!("{path}.axle"), link.axle)?;
    Ok(link)
}

fn apart(one: &str, a: [f64; 2], other: &str, b: [f64; 2]) -> Result<(), Refusal> {
    if (a[0] - b[0]).hypot(a[1] - b[1]) >= 10.0 {
        return Ok(());
    }
    let message = format!("{one} and {other} lie in one place, seen from the side.");
    Err(Refusal::new(message, "Give both, at least 10 mm apart."))
}

fn turning(node: &Node) -> Result<Turning, Refusal> {
    let turn = node.object("turn", &["kingpin_distance_mm", "wheelbase_mm", "arm_mm", "tie_rod_mm", "inner_deg"])?;
    let [kingpin_distance_mm, wheelbase_mm, arm_mm, tie_rod_mm] = [
        turn.number_in("kingpin_distance_mm", &(200.0..=4_000.0), "mm")?,
        turn.number_in("wheelbase_mm", &(500.0..=15_000.0), "mm")?,
        turn.number_in("arm_mm", &(20.0..=1_000.0), "mm")?,
        turn.number_in("tie_rod_mm", &(100.0..=4_000.0), "mm")?,
    ];
    let angles = turn.required("inner_deg")?.list_of("turn.inner_deg", 1, MOST_ANGLES, "angles")?;
    let angle = |(i, node): (usize, &Node)| node.number_in(&format!("turn.inner_deg[{i}]"), &INNER_DEG, "deg");
    let inner_deg = angles.iter().enumerate().map(angle).collect::<Result<_, _>>()?;
    Ok(Turning { kingpin_distance_mm, wheelbase_mm, arm_mm, tie_rod_mm, inner_deg })
}
