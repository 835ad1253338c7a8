//! Which mark of a kind counts at a corner, where one has taken the place of another.

use super::{PointKind, RefPoint, Vehicle};
use crate::corner::Corner;

impl Vehicle {
    /// The mark of a kind at a corner, of those that `there` names: one in use before one that is no longer read, else the first.
    pub fn mark_at(&self, kind: PointKind, corner: Corner, there: impl Fn(&RefPoint) -> bool) -> Option<&RefPoint> {
        let place = mark_place(&self.ref_points, kind, corner, |_, point| there(point))?;
        self.ref_points.get(place)
    }
}

/// Where in a list that mark stands; `there` is asked with place and mark.
pub(crate) fn mark_place(
    points: &[RefPoint],
    kind: PointKind,
    corner: Corner,
    there: impl Fn(usize, &RefPoint) -> bool,
) -> Option<usize> {
    let of_corner = |point: &RefPoint| point.kind == kind && point.corner == corner;
    let all = points.iter().enumerate().filter(|(place, point)| of_corner(point) && there(*place, point));
    // Of several that are alike the first is kept.
    all.min_by_key(|(_, point)| point.retired).map(|(place, _)| place)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn car() -> Vehicle {
        let mark = |id: &str, retired: bool| json!({"id": id, "corner": "FL", "kind": "fender_lip", "x_mm": 0, "y_mm": 700, "retired": retired});
        serde_json::from_value(
            json!({"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400,
            "ref_points": [mark("old", true), mark("new", false), mark("newer", false)]}),
        )
        .expect("a car")
    }

    #[test]
    fn the_mark_in_use_counts_and_an_old_one_where_only_it_is_there() {
        let car = car();
        let at = |there: &[&str]| {
            let mark = car.mark_at(PointKind::FenderLip, Corner::FL, |point| there.contains(&point.id.as_str()));
            mark.map(|point| point.id.as_str())
        };
        assert_eq!(at(&["old", "new", "newer"]), Some("new"));
        assert_eq!(at(&["old", "newer"]), Some("newer"));
        assert_eq!(at(&["old"]), Some("old"));
        assert_eq!(at(&[]), None);
        assert_eq!(car.mark_at(PointKind::FenderLip, Corner::FR, |_| true), None);
    }
}
