//! The plane that fits points best: heights over a floor (vertical), or points in space (orthogonal).
//!
//! # Source
//! Vertical: linear least squares. Orthogonal: smallest singular direction of the centred points, C. M. Shakarji,
//! *Least-Squares Fitting Algorithms of the NIST Algorithm Testing System*, J. Res. NIST 103 (1998) 633.

use crate::least_squares::{Fit, LeastSquaresError, fit};
use nalgebra::{DMatrix, Matrix3, Vector3};

/// A plane z = height + slope_x · x + slope_y · y through heights over a floor.
#[derive(Debug, Clone)]
pub struct FloorPlane {
    /// At x = y = 0, unit of z.
    pub height: f64,
    /// Rise along x.
    pub slope_x: f64,
    /// Rise along y.
    pub slope_y: f64,
    /// The fit behind it: parameters in the order height, slope_x, slope_y; its residuals are plane less point.
    pub fit: Fit,
}

/// Fits a plane to heights z over (x, y), each with standard uncertainty `u`, by least squares along z.
///
/// # Errors
/// Fewer than three points, points in one line, or a number that is not finite.
pub fn floor_plane(points: &[[f64; 3]], u: f64) -> Result<FloorPlane, LeastSquaresError> {
    let design = DMatrix::from_fn(points.len(), 3, |i, j| if j == 0 { 1.0 } else { points[i][j - 1] });
    let heights: Vec<f64> = points.iter().map(|point| point[2]).collect();
    let fit = fit(&design, &heights, &vec![u; points.len()])?;
    let [height, slope_x, slope_y] = [fit.parameters[0], fit.parameters[1], fit.parameters[2]];
    Ok(FloorPlane { height, slope_x, slope_y, fit })
}

/// A plane in space through its centroid.
#[derive(Debug, Clone, PartialEq)]
pub struct SpacePlane {
    /// Mean of the points.
    pub centroid: [f64; 3],
    /// Unit normal, its largest component positive.
    pub normal: [f64; 3],
    /// Distance of each point, positive on the normal's side.
    pub distances: Vec<f64>,
}

/// Fits a plane to points by least squares at right angles to it; none for fewer than three points, points in one line,
/// or a number that is not finite.
pub fn space_plane(points: &[[f64; 3]]) -> Option<SpacePlane> {
    if points.len() < 3 || points.iter().flatten().any(|c| !c.is_finite()) {
        return None;
    }
    let centroid = points.iter().map(|p| Vector3::from(*p)).sum::<Vector3<f64>>() / points.len() as f64;
    let centred = DMatrix::from_fn(points.len(), 3, |i, j| points[i][j] - centroid[j]);
    // R of the centred points has their singular values and directions, whatever their number.
    let r = centred.clone().qr().r();
    let square = Matrix3::from_fn(|i, j| if i < r.nrows() { r[(i, j)] } else { 0.0 });
    let svd = square.svd(false, true);
    let (smallest, _) = svd.singular_values.argmin();
    let largest = svd.singular_values.max();
    let on_a_line = svd.singular_values.iter().filter(|s| **s <= 1e-12 * largest).count() > 1;
    if largest == 0.0 || on_a_line {
        return None;
    }
    let mut normal: Vector3<f64> = svd.v_t?.row(smallest).transpose();
    if normal[normal.iamax()] < 0.0 {
        normal = -normal;
    }
    let distances = (centred * normal).iter().copied().collect();
    Some(SpacePlane { centroid: centroid.into(), normal: normal.into(), distances })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Angle;

    #[test]
    fn both_planes_go_through_points_that_lie_in_one() {
        let points: Vec<[f64; 3]> = [(0.0, 0.0), (2600.0, 0.0), (0.0, 1400.0), (2600.0, 1400.0)]
            .iter()
            .map(|(x, y)| [*x, *y, 5.0 + 0.02 * x - 0.01 * y])
            .collect();
        let floor = floor_plane(&points, 1.0).unwrap();
        assert!(
            (floor.height - 5.0).abs() < 1e-10
                && (floor.slope_x - 0.02).abs() < 1e-14
                && (floor.slope_y + 0.01).abs() < 1e-14
        );
        let space = space_plane(&points).unwrap();
        assert!(space.distances.iter().all(|d| d.abs() < 1e-10));
        // The normal leans by the floor's slopes.
        assert!((space.normal[0] / space.normal[2] + 0.02).abs() < 1e-12);
        assert!((Angle::atan(floor.slope_x).to_deg() - 1.145_762_838_1).abs() < 1e-9);
    }

    #[test]
    fn points_in_one_line_have_no_plane() {
        let line = [[0.0, 0.0, 0.0], [1.0, 1.0, 1.0], [2.0, 2.0, 2.0], [5.0, 5.0, 5.0]];
        assert!(space_plane(&line).is_none());
        assert!(floor_plane(&line, 1.0).is_err());
        assert!(space_plane(&[[f64::NAN; 3]; 4]).is_none());
    }
}
