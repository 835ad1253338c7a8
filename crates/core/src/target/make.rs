//! Ways to come to a target other than typing every height: a snapshot, a rake and one height, a silhouette.

use super::Target;
use crate::capture::CarFile;
use crate::car::{PointKind, RefPoint, Vehicle};
use crate::corner::Corner;
use crate::level::{Problem, Solution, Term};
use crate::tire::{Measured, dimensions, read_marking};
use crate::wording::shown;
use std::collections::BTreeMap;

/// Front or rear of the car.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export, rename = "TargetEnd"))]
#[serde(rename_all = "snake_case")]
pub enum End {
    /// At the front axle.
    Front,
    /// At the rear axle.
    Rear,
}

impl End {
    /// True where the corner lies at this end.
    pub const fn has(self, corner: Corner) -> bool {
        matches!(self, Self::Front) == corner.is_front()
    }
}

/// The nominal heights of a snapshot that are known, mm, in whole tenths: what is wanted carries no doubt of its own.
///
/// # Errors
/// No such snapshot, one on rated stands, or one without any height that can be told.
pub fn snapshot_heights(file: &CarFile, solution: &Solution, snapshot: &str) -> Result<BTreeMap<String, f64>, Problem> {
    let found = file.snapshots.iter().find(|known| known.id == snapshot);
    let Some(found) = found else {
        let known: Vec<&str> = file.snapshots.iter().map(|snapshot| snapshot.id.as_str()).collect();
        let hint = format!("Name one of them: {}.", crate::wording::listed(&known));
        return Err(Problem::new(format!("there is no snapshot {}", shown(snapshot)), hint));
    };
    if !found.on_wheels() {
        let message =
            format!("snapshot {} is a mock-up on rated stands: its heights are no ride heights", shown(snapshot));
        return Err(Problem::new(message, "Take a snapshot that stands on its wheels."));
    }
    let points = file.vehicle.ref_points.iter();
    let height = |point: &RefPoint| {
        let path = format!("heights_nominal.{}", point.id);
        let told = solution.sum(&[Term { snapshot, figure: &path, weight: 1.0 }])?.value?;
        Some((point.id.clone(), (told * 10.0).round() / 10.0))
    };
    let heights: BTreeMap<String, f64> = points.filter_map(height).collect();
    if heights.is_empty() {
        let message = format!("no height of snapshot {} can be told", shown(snapshot));
        return Err(Problem::new(message, "Level its floor, or type the heights that are wanted."));
    }
    Ok(heights)
}

/// From the front marks of a kind to its rear ones, mm; `None` where one end has none.
pub fn run_mm(vehicle: &Vehicle, kind: PointKind) -> Option<f64> {
    let mean = |end: End| {
        let of_kind = |point: &&RefPoint| point.kind == kind && end.has(point.corner) && !point.retired;
        let places: Vec<f64> = vehicle.ref_points.iter().filter(of_kind).map(|point| point.x_mm).collect();
        (!places.is_empty()).then(|| places.iter().sum::<f64>() / places.len() as f64)
    };
    Some(mean(End::Front)? - mean(End::Rear)?).filter(|run| *run > 0.0)
}

/// Heights of a kind's marks from a rake and the height at one end, mm; `None` where one end has no mark.
///
/// rear = front + run·tan(rake), the run being the marks' own, not the wheelbase.
pub fn rake_heights(
    vehicle: &Vehicle,
    kind: PointKind,
    rake_deg: f64,
    end: End,
    height_mm: f64,
) -> Option<BTreeMap<String, f64>> {
    let rise = run_mm(vehicle, kind)? * libm::tan(rake_deg.to_radians());
    let (front, rear) = match end {
        End::Front => (height_mm, height_mm + rise),
        End::Rear => (height_mm - rise, height_mm),
    };
    Some(at_ends(vehicle, kind, front, rear))
}

fn at_ends(vehicle: &Vehicle, kind: PointKind, front: f64, rear: f64) -> BTreeMap<String, f64> {
    let of_kind = vehicle.ref_points.iter().filter(|point| point.kind == kind && !point.retired);
    of_kind.map(|point| (point.id.clone(), if point.corner.is_front() { front } else { rear })).collect()
}

/// What a silhouette asks for and what it comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Silhouette {
    /// Heights of the rails' marks, mm.
    pub heights_mm: BTreeMap<String, f64>,
    /// Rake of the rails, degrees.
    pub rake_deg: f64,
    /// Wheel centre to floor with the tires that are named, front and rear, mm; `None` where a marking says none.
    pub loaded_radius_mm: [Option<f64>; 2],
    /// Lowest edge of the rims, front and rear, mm.
    pub rim_edge_mm: [Option<f64>; 2],
}

/// Height of a rim's flange over the bead seat, mm; common practice, no source.
const FLANGE_MM: f64 = 12.7;

/// Rail heights from tire sizes, the lowest height of the rails at their marks, and a rake. Without a rake the rails run as the
/// wheel centres do: rear less front is the difference of the tires' loaded radii over the wheelbase.
///
/// `None` where the car has no rail marks at one end, or no rake is given and a marking says no radius.
pub fn silhouette(vehicle: &Vehicle, tires: [&str; 2], lowest_mm: f64, rake_deg: Option<f64>) -> Option<Silhouette> {
    let sizes = tires.map(|marking| {
        let sizes = dimensions(&read_marking(marking).ok()?, &Measured::default());
        Some((sizes.loaded_radius_mm.value, sizes.rim_diameter_mm.value / 2.0))
    });
    let loaded_radius_mm = sizes.map(|size| Some(size?.0));
    let rake_deg = match rake_deg {
        Some(rake) => rake,
        None => libm::atan((loaded_radius_mm[1]? - loaded_radius_mm[0]?) / vehicle.wheelbase_mm).to_degrees(),
    };
    let rise = run_mm(vehicle, PointKind::FrameRail)? * libm::tan(rake_deg.to_radians());
    let (front, rear) = if rise >= 0.0 { (lowest_mm, lowest_mm + rise) } else { (lowest_mm - rise, lowest_mm) };
    Some(Silhouette {
        heights_mm: at_ends(vehicle, PointKind::FrameRail, front, rear),
        rake_deg,
        loaded_radius_mm,
        rim_edge_mm: sizes.map(|size| size.map(|(radius, rim)| radius - rim - FLANGE_MM)),
    })
}

impl Target {
    /// Mean of the heights that are wanted of a kind at one end, mm.
    pub fn mean_mm(&self, vehicle: &Vehicle, kind: PointKind, end: End) -> Option<f64> {
        let of_kind = vehicle.ref_points.iter().filter(|point| point.kind == kind && end.has(point.corner));
        let wanted: Vec<f64> = of_kind.filter_map(|point| self.heights_mm.get(&point.id).copied()).collect();
        (!wanted.is_empty()).then(|| wanted.iter().sum::<f64>() / wanted.len() as f64)
    }

    /// Rake that is wanted of a kind, degrees: the stated one, else that of its heights.
    pub fn rake_of(&self, vehicle: &Vehicle, kind: PointKind) -> Option<f64> {
        let of_heights = || {
            let rise = self.mean_mm(vehicle, kind, End::Rear)? - self.mean_mm(vehicle, kind, End::Front)?;
            Some(libm::atan(rise / run_mm(vehicle, kind)?).to_degrees())
        };
        self.rake_deg.filter(|_| self.rake_kind == Some(kind)).or_else(of_heights)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn car() -> Vehicle {
        let point = |id: &str, corner: &str, x: f64, y: f64| json!({"id": id, "corner": corner, "kind": "frame_rail", "x_mm": x, "y_mm": y});
        serde_json::from_value(
            json!({"label": "x", "wheelbase_mm": 2500, "track_front_mm": 1400, "track_rear_mm": 1400,
            "ref_points": [point("rail.FL", "FL", -300.0, 350.0), point("rail.FR", "FR", -300.0, -350.0),
                point("rail.RL", "RL", -2300.0, 400.0), point("rail.RR", "RR", -2300.0, -400.0)]}),
        )
        .expect("a vehicle")
    }

    /// 2000 mm between the marks, tan 2° = 0.0349208: the other end is 69.84 mm higher or lower.
    #[test]
    fn the_other_end_follows_from_the_marks_own_distance() {
        let heights = rake_heights(&car(), PointKind::FrameRail, 2.0, End::Front, 240.0).expect("rails");
        assert_eq!(heights["rail.FL"], 240.0);
        assert!((heights["rail.RR"] - 309.8416).abs() < 1e-3, "{heights:?}");
        let heights = rake_heights(&car(), PointKind::FrameRail, 2.0, End::Rear, 320.0).expect("rails");
        assert!((heights["rail.FR"] - 250.1584).abs() < 1e-3, "{heights:?}");
        assert_eq!(rake_heights(&car(), PointKind::FenderLip, 2.0, End::Front, 240.0), None);
    }

    /// The lowest rail is the front one nose-down and the rear one nose-up.
    #[test]
    fn a_silhouette_hangs_on_its_lowest_rail() {
        let down = silhouette(&car(), ["5.00-16", "7.00-16"], 200.0, Some(1.5)).expect("rails");
        // tan 1.5° = 0.0261859.
        assert!((down.heights_mm["rail.RL"] - 252.3718).abs() < 1e-3 && down.heights_mm["rail.FL"] == 200.0);
        let up = silhouette(&car(), ["5.00-16", "7.00-16"], 200.0, Some(-1.5)).expect("rails");
        assert!((up.heights_mm["rail.FL"] - 252.3718).abs() < 1e-3 && up.heights_mm["rail.RL"] == 200.0);
    }

    /// 600 and 700 mm tires by their measured names: radii 300 and 350 loaded by 4 or 5 %; the rise is that of the radii, shared
    /// out over the wheelbase, 2500 mm, and so 2000/2500 of it between the marks.
    #[test]
    fn without_a_rake_the_rails_run_as_the_wheel_centres_do() {
        let found = silhouette(&car(), ["5.00-16", "7.00-16"], 200.0, None).expect("rails");
        let [Some(front), Some(rear)] = found.loaded_radius_mm else { panic!("both are told") };
        assert!(rear > front);
        assert!((found.heights_mm["rail.RL"] - 200.0 - (rear - front) * 2000.0 / 2500.0).abs() < 1e-9);
        // 16-inch rims: 203.2 mm and a flange of 12.7 below the centre.
        let edge = found.rim_edge_mm[0].expect("told");
        assert!((edge - (front - 203.2 - 12.7)).abs() < 1e-9, "{edge}");
        assert_eq!(silhouette(&car(), ["round", "7.00-16"], 200.0, None), None);
    }
}
