//! The height profile of a ground, and how well it is known.
//!
//! A station at l along a string that rises by β stands at s = l·cos β, z = l·sin β − h − sag(l), h from the string down: a string
//! that hangs through is nearer to the ground than a straight one, so its sag is added to what the rule said.
//! Before the first and behind the last station the ground is taken to go straight on as its last piece of 300 mm or more goes.

use super::{OwnGround, StringLine};
use crate::checks::ramp::{Ground, Shape};
use crate::units::Angle;

/// A ground as it is driven over.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    /// Its corners, with ground before and behind.
    pub ground: Ground,
    /// Where the measured or typed part begins and ends, mm.
    pub known: [f64; 2],
}

/// What the profile may be off by, each by itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Source {
    /// The height at one station, counted from 0.
    Station(usize),
    /// The string's sag.
    Sag,
    /// The string's slope.
    Slope,
}

/// A piece shorter than this tells nothing of how the ground goes on, mm.
const TELLING_MM: f64 = 300.0;

impl OwnGround {
    /// The profile with so much ground before and behind; [`super::check`] has taken it.
    pub fn profile(&self, lead_mm: f64) -> Option<Profile> {
        self.moved(lead_mm, None)
    }

    /// What may be off, and its standard uncertainty in mm or degrees; nothing for a ground that was typed.
    pub fn sources(&self) -> Vec<(Source, f64)> {
        let Some(string) = &self.string else { return Vec::new() };
        let stations = (0..string.counting().count()).map(|i| (Source::Station(i), string.height_u_mm()));
        let whole = [(Source::Sag, string.sag_mm().1), (Source::Slope, string.slope_deg().1)];
        stations.chain(whole).collect()
    }

    /// The profile with one thing off by `by` mm or degrees.
    pub fn moved(&self, lead_mm: f64, off: Option<(Source, f64)>) -> Option<Profile> {
        match (&self.string, &self.shape) {
            (Some(string), _) => measured(string, lead_mm, off),
            (None, Some(shape)) => Some(typed(shape, lead_mm)),
            (None, None) => None,
        }
    }

    /// How far the ground may depart from the straight line between two stations at a place, mm: at the middle an eighth of the
    /// second difference of the heights there, which is what a smooth curve through them does.
    pub fn between_u_mm(&self, s: f64) -> f64 {
        let Some(string) = &self.string else { return 0.0 };
        let corners = corners(string, None);
        let Some(i) = corners.windows(2).position(|pair| pair[0][0] <= s && s <= pair[1][0] && pair[1][0] > pair[0][0])
        else {
            return 0.0;
        };
        let slope = |i: usize| {
            let [a, b] = [corners.get(i)?, corners.get(i + 1)?];
            (b[0] > a[0]).then(|| (b[1] - a[1]) / (b[0] - a[0]))
        };
        let here = slope(i).unwrap_or(0.0);
        let before = i.checked_sub(1).and_then(slope).unwrap_or(here);
        let bends = (here - before).abs().max((slope(i + 1).unwrap_or(here) - here).abs());
        let wide = corners[i + 1][0] - corners[i][0];
        let part = (s - corners[i][0]) / wide;
        // Slopes differ by the second difference over the spacing.
        4.0 * part * (1.0 - part) * bends * wide / 8.0
    }
}

fn corners(string: &StringLine, off: Option<(Source, f64)>) -> Vec<[f64; 2]> {
    let by = |source: Source| off.filter(|(what, _)| *what == source).map_or(0.0, |(_, by)| by);
    let slope = Angle::deg(string.slope_deg().0 + by(Source::Slope));
    let sag = string.sag_mm().0 + by(Source::Sag);
    let first = string.counting().map(|station| station.along_mm).fold(f64::MAX, f64::min);
    let length = string.length_mm();
    let stations = string.counting().enumerate().map(|(i, station)| {
        let along = station.along_mm;
        let part = if length > 0.0 { (along - first) / length } else { 0.0 };
        let down = station.down_mm + by(Source::Station(i)) + 4.0 * sag * part * (1.0 - part);
        [along * slope.cos(), along * slope.sin() - down]
    });
    stations.collect()
}

fn measured(string: &StringLine, lead_mm: f64, off: Option<(Source, f64)>) -> Option<Profile> {
    let corners = corners(string, off);
    let ([first, ..], [.., last]) = (&corners[..], &corners[..]) else { return None };
    let known = [first[0], last[0]];
    let tells = |end: [f64; 2]| move |other: &&[f64; 2]| (other[0] - end[0]).abs() >= TELLING_MM;
    let goes_on = |end: [f64; 2], far: Option<&[f64; 2]>| far.map_or(0.0, |far| (far[1] - end[1]) / (far[0] - end[0]));
    let before = goes_on(*first, corners.iter().find(tells(*first)));
    let behind = goes_on(*last, corners.iter().rev().find(tells(*last)));
    let begin = [first[0] - lead_mm, first[1] - lead_mm * before];
    let end = [last[0] + lead_mm, last[1] + lead_mm * behind];
    Some(Profile { ground: Ground::new([begin].into_iter().chain(corners.iter().copied()).chain([end])), known })
}

/// Counted from the upper edge of a ramp or crest, and from the foot of a hump.
fn typed(shape: &Shape, lead_mm: f64) -> Profile {
    let whole = shape.ground(lead_mm);
    let (begin, end) = whole.span();
    let (zero, known) = match shape {
        Shape::Hump { .. } => (lead_mm, [0.0, end - 2.0 * lead_mm]),
        Shape::Ramp { .. } => (end - lead_mm, [2.0 * lead_mm - end, 0.0]),
        Shape::Crest { .. } => (end - lead_mm, [begin - (end - lead_mm), 0.0]),
    };
    Profile { ground: Ground::new(whole.corners().map(|[s, z]| [s - zero, z])), known }
}
