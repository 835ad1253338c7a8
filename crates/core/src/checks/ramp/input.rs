//! A car and its ground as JSON.

use super::measures::{FLAT_MM, HUMP_HEIGHT_MM, HUMP_LENGTH_MM, RISE_MM, SLOPE_DEG};
use super::{Attach, Ground, HumpShape, Point, Ramp, Shape, Wheels};
use crate::bench::{Node, Object, Refusal};
use crate::wording::{grouped, shown};
use std::collections::BTreeSet;
use std::ops::RangeInclusive;

const WHEELBASE_MM: RangeInclusive<f64> = 500.0..=15_000.0;
const RADIUS_MM: RangeInclusive<f64> = 1.0..=1_500.0;
const ALONG_MM: RangeInclusive<f64> = -20_000.0..=20_000.0;
const HEIGHT_MM: RangeInclusive<f64> = -500.0..=5_000.0;
const GROUND_S_MM: RangeInclusive<f64> = -1e7..=1e7;
const GROUND_Z_MM: RangeInclusive<f64> = -1e6..=1e6;
const STEP_MM: RangeInclusive<f64> = 0.1..=1_000.0;
const ALLOWANCE_MM: RangeInclusive<f64> = 0.0..=1_000.0;
const MOST_POINTS: usize = 1_000;
const MOST_CORNERS: usize = 200_000;
/// Positions times points looked at.
const MOST_LOOKS: f64 = 4e7;

/// Unless given [common practice, no source].
const STEP_UNLESS_GIVEN_MM: f64 = 5.0;
/// Unless given: bounce and load [common practice, no source].
const ALLOWANCE_UNLESS_GIVEN_MM: f64 = 25.0;
/// Of level ground before and behind a ground that is given by its measures, besides the car's own length.
const LEAD_MM: f64 = 1_000.0;

const KEYS: [&str; 9] = [
    "wheelbase_mm",
    "front_radius_mm",
    "rear_radius_mm",
    "points",
    "outline",
    "profile",
    "ground",
    "step_mm",
    "allowance_mm",
];

impl Ramp {
    /// From `{"wheelbase_mm", "front_radius_mm", "rear_radius_mm", "points": [{"id", "x_mm", "z_mm", "attach"}], "outline": [[x, z], …],
    /// "profile": [[s, z], …], "step_mm", "allowance_mm"}`; in the place of a profile a `ground` by its measures.
    ///
    /// # Errors
    /// Not JSON, an unknown key (with the nearest known one), a missing one, a number outside of its range, a profile that runs
    /// backwards, neither a point nor an outline, or more positions than are looked at.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        let node = Node::read(text)?;
        let file = node.object("", &KEYS)?;
        let wheels = Wheels {
            wheelbase_mm: file.number_in("wheelbase_mm", &WHEELBASE_MM, "mm")?,
            front_radius_mm: file.number_in("front_radius_mm", &RADIUS_MM, "mm")?,
            rear_radius_mm: file.number_in("rear_radius_mm", &RADIUS_MM, "mm")?,
        };
        let (points, outline) = (points(&file)?, outline(&file)?);
        if points.is_empty() && outline.is_empty() {
            let message = "The file has neither points nor an outline: nothing could touch.";
            return Err(Refusal::new(message, "Add points with id, x_mm, z_mm and attach, or an outline of [x, z]."));
        }
        let xs = points.iter().map(|point| point.x_mm).chain(outline.iter().map(|[x, _]| *x));
        let reach = xs.fold(0.0_f64, |reach, x| reach.max(x).max(-wheels.wheelbase_mm - x));
        let ramp = Self {
            ground: ground(&file, wheels.wheelbase_mm + reach + LEAD_MM)?,
            step_mm: file.optional_number_in("step_mm", &STEP_MM, "mm")?.unwrap_or(STEP_UNLESS_GIVEN_MM),
            allowance_mm: file
                .optional_number_in("allowance_mm", &ALLOWANCE_MM, "mm")?
                .unwrap_or(ALLOWANCE_UNLESS_GIVEN_MM),
            wheels,
            points,
            outline,
        };
        ramp.not_too_much()?;
        Ok(ramp)
    }

    fn not_too_much(&self) -> Result<(), Refusal> {
        let (begin, end) = self.ground.span();
        let positions = (end - begin) / self.step_mm;
        let looks = positions * (2 * self.outline.len() + self.points.len()) as f64;
        if looks <= MOST_LOOKS {
            return Ok(());
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "finite and above 0")]
        let (most, asked) = (MOST_LOOKS as usize, looks as usize);
        let message =
            format!("The run looks {} times at a point; at most {} times are looked.", grouped(asked), grouped(most));
        Err(Refusal::new(message, "Take a larger step_mm, fewer points, or a shorter profile."))
    }
}

fn points(file: &Object<'_>) -> Result<Vec<Point>, Refusal> {
    let Some(node) = file.optional("points") else { return Ok(Vec::new()) };
    let mut points: Vec<Point> = Vec::new();
    let mut names = BTreeSet::from(["outline".to_owned()]);
    for (i, node) in node.list_of("points", 0, MOST_POINTS, "points")?.iter().enumerate() {
        let row = node.object(&format!("points[{i}]"), &["id", "x_mm", "z_mm", "attach"])?;
        let id = row.name("id")?;
        if !names.insert(id.clone()) {
            let message = format!("{} is \"{}\", which is another's name.", row.path("id"), shown(&id));
            return Err(Refusal::new(message, "Give each point its own name; outline is the name of the outline."));
        }
        let attach = match row.optional("attach") {
            None => Attach::Body,
            Some(node) => match node.one_of(&row.path("attach"), &["body", "front_axle", "rear_axle"])? {
                "front_axle" => Attach::FrontAxle,
                "rear_axle" => Attach::RearAxle,
                _ => Attach::Body,
            },
        };
        points.push(Point {
            id,
            x_mm: row.number_in("x_mm", &ALONG_MM, "mm")?,
            z_mm: row.number_in("z_mm", &HEIGHT_MM, "mm")?,
            attach,
        });
    }
    Ok(points)
}

fn outline(file: &Object<'_>) -> Result<Vec<[f64; 2]>, Refusal> {
    let Some(node) = file.optional("outline") else { return Ok(Vec::new()) };
    let list = node.list_of("outline", 0, MOST_POINTS, "corners")?;
    let corner = |(i, node): (usize, &Node)| {
        let path = format!("outline[{i}]");
        let [x, z] = node.coordinates::<2>(&path, &ALONG_MM, "mm")?;
        if HEIGHT_MM.contains(&z) {
            return Ok([x, z]);
        }
        let message = format!("{path}[1] is {z} mm: {} to {} mm is taken.", HEIGHT_MM.start(), HEIGHT_MM.end());
        Err(Refusal::new(message, "Look at the number and its unit."))
    };
    list.iter().enumerate().map(corner).collect()
}

fn ground(file: &Object<'_>, lead_mm: f64) -> Result<Ground, Refusal> {
    file.at_most_one(&["profile", "ground"])?;
    if let Some(node) = file.optional("ground") {
        return Ok(shape(node)?.ground(lead_mm));
    }
    let list = file.required("profile")?.list_of("profile", 2, MOST_CORNERS, "points")?;
    let mut corners: Vec<[f64; 2]> = Vec::new();
    for (i, node) in list.iter().enumerate() {
        let path = format!("profile[{i}]");
        let [s, z] = node.coordinates::<2>(&path, &GROUND_S_MM, "mm")?;
        if !GROUND_Z_MM.contains(&z) {
            let message = format!("{path}[1] is {z} mm: -1000000 to 1000000 mm is taken.");
            return Err(Refusal::new(message, "Look at the number and its unit."));
        }
        if let Some([before, _]) = corners.last().filter(|[before, _]| *before > s) {
            let message =
                format!("{path} is at {s} mm, behind the point before it at {before} mm: the profile runs backwards.");
            return Err(Refusal::new(
                message,
                "Give the points in the order they are driven over; two with one s make a riser.",
            ));
        }
        corners.push([s, z]);
    }
    let ground = Ground::new(corners);
    let (begin, end) = ground.span();
    if end > begin {
        return Ok(ground);
    }
    Err(Refusal::new("profile has no length: all its points stand over each other.", "Give s along the ground, in mm."))
}

fn shape(node: &Node) -> Result<Shape, Refusal> {
    let any = node.object("ground", &["kind", "angle_deg", "rise_mm", "length_mm", "height_mm", "flat_mm", "shape"])?;
    let kind = any.required("kind")?;
    match kind.one_of("ground.kind", &["ramp", "crest", "hump"])? {
        "ramp" => {
            let ramp = node.object("ground", &["kind", "angle_deg", "rise_mm"])?;
            Ok(Shape::Ramp {
                angle_deg: ramp.number_in("angle_deg", &SLOPE_DEG, "deg")?,
                rise_mm: ramp.number_in("rise_mm", &RISE_MM, "mm")?,
            })
        }
        "crest" => {
            let crest = node.object("ground", &["kind", "angle_deg"])?;
            Ok(Shape::Crest { angle_deg: crest.number_in("angle_deg", &SLOPE_DEG, "deg")? })
        }
        _ => hump(node),
    }
}

fn hump(node: &Node) -> Result<Shape, Refusal> {
    let hump = node.object("ground", &["kind", "length_mm", "height_mm", "flat_mm", "shape"])?;
    let shape = match hump.optional("shape") {
        None => HumpShape::Circular,
        Some(node) => match node.one_of("ground.shape", &["circular", "parabolic", "sinusoidal"])? {
            "parabolic" => HumpShape::Parabolic,
            "sinusoidal" => HumpShape::Sinusoidal,
            _ => HumpShape::Circular,
        },
    };
    let length_mm = hump.number_in("length_mm", &HUMP_LENGTH_MM, "mm")?;
    let height_mm = hump.number_in("height_mm", &HUMP_HEIGHT_MM, "mm")?;
    if height_mm > length_mm / 2.0 {
        let message = format!("ground.height_mm is {height_mm} mm, more than half of its length of {length_mm} mm.");
        return Err(Refusal::new(message, "Give the height of the crown over the road."));
    }
    let flat_mm = hump.optional_number_in("flat_mm", &FLAT_MM, "mm")?.unwrap_or(0.0);
    Ok(Shape::Hump { length_mm, height_mm, flat_mm, shape })
}
