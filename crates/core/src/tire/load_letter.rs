//! Section widths behind the load letters of the 1970s: `G78-15`.

/// Section width in mm of a load letter in the 78 series, and what is added in the wider series 70, 60 and 50.
///
/// From memory: the metric sizes that were sold in place of each letter size (F78-15 by 205/75R15, G70-15 by 225/70R15,
/// L60-15 by 275/60R15). A published 8.4 in for G78-15 agrees with it to 2 mm.
const WIDTHS_MM: [(char, f64); 13] = [
    ('A', 165.0),
    ('B', 175.0),
    ('C', 180.0),
    ('D', 185.0),
    ('E', 195.0),
    ('F', 205.0),
    ('G', 215.0),
    ('H', 225.0),
    ('J', 230.0),
    ('K', 232.0),
    ('L', 235.0),
    ('M', 245.0),
    ('N', 255.0),
];

/// Section width of `letter` in `series` (aspect ratio in %), mm; a lower series carries the same load on a wider tire.
/// `I` was not used.
pub(super) fn section_width_mm(letter: char, series: f64) -> Option<f64> {
    let (_, width) = WIDTHS_MM.iter().find(|(l, _)| *l == letter)?;
    Some(width + (78.0 - series) * 1.6)
}
