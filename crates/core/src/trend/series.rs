//! Heights by day: what a settling is worked out from.

use crate::bench::{Node, Refusal};
use crate::curve_fit::Observed;

/// One height of one day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Height {
    /// Days, from whatever day is 0 in the series; 0 to 36,525 once day 0 is settled.
    pub day: f64,
    /// Height, above 0 and at most 10,000 mm.
    pub height_mm: f64,
    /// Its standard uncertainty (k = 1), above 0 and at most 1,000 mm.
    pub u_mm: f64,
}

/// Something done to the car.
#[derive(Debug, Clone, PartialEq)]
pub struct SeriesEvent {
    /// Days, counted as the heights' are.
    pub day: f64,
    /// In words.
    pub what: String,
    /// True where springs start settling anew.
    pub resets_settling: bool,
}

/// Heights of one line of a car.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Series {
    /// In any order.
    pub heights: Vec<Height>,
    /// In any order.
    pub events: Vec<SeriesEvent>,
}

/// A hundred years.
const LONGEST_DAYS: f64 = 36_525.0;
/// Taller than any car.
const TALLEST_MM: f64 = 10_000.0;
/// A reading less sure than that says nothing.
const LEAST_SURE_MM: f64 = 1_000.0;
/// More than one a day for a hundred years.
const MOST_HEIGHTS: usize = 50_000;

impl Series {
    /// From `{"series": [{"day", "height_mm", "u_mm"}], "events": [{"day", "what", "resets_settling"}]}`.
    ///
    /// # Errors
    /// Not JSON, an unknown key (with the nearest known one), a missing one, or a number outside of its range.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        let node = Node::read(text)?;
        let file = node.object("", &["series", "events"])?;
        let mut series = Self::default();
        let heights = file.required("series")?.list("series")?;
        if heights.len() > MOST_HEIGHTS {
            let message = format!("series has {} heights, more than {MOST_HEIGHTS}.", heights.len());
            return Err(Refusal::new(message, "Give the heights of one line of one car."));
        }
        for (i, node) in heights.iter().enumerate() {
            series.heights.push(height(node, &format!("series[{i}]"))?);
        }
        if let Some(events) = file.optional("events") {
            for (i, node) in events.list("events")?.iter().enumerate() {
                series.events.push(event(node, &format!("events[{i}]"))?);
            }
        }
        series.check()?;
        Ok(series)
    }

    /// The day on which settling began: of the last event that resets it, else day 0 of the series.
    pub fn day_0(&self) -> f64 {
        let resets = self.events.iter().filter(|event| event.resets_settling).map(|event| event.day);
        resets.max_by(f64::total_cmp).unwrap_or(0.0)
    }

    /// Heights since the settling began, by day from then on.
    pub(super) fn since_day_0(&self) -> Vec<Observed> {
        let day_0 = self.day_0();
        let mut points: Vec<Observed> = self
            .heights
            .iter()
            .filter(|height| height.day >= day_0)
            .map(|height| Observed { x: height.day - day_0, y: height.height_mm, u: height.u_mm })
            .collect();
        points.sort_by(|a, b| a.x.total_cmp(&b.x));
        points
    }

    /// Without an event that resets, every day counts from the series' own day 0.
    fn check(&self) -> Result<(), Refusal> {
        let resets = self.events.iter().any(|event| event.resets_settling);
        let early = self.heights.iter().position(|height| height.day < 0.0).filter(|_| !resets);
        if let Some(i) = early {
            let message = format!("series[{i}].day is {}, before day 0.", self.heights[i].day);
            let hint = "Count days from the work on the springs, or name that work: {\"day\", \"what\", \"resets_settling\": true}.";
            return Err(Refusal::new(message, hint));
        }
        Ok(())
    }
}

fn height(node: &Node, path: &str) -> Result<Height, Refusal> {
    let row = node.object(path, &["day", "height_mm", "u_mm"])?;
    let above_0 = |key: &str, most: f64| {
        let value = row.number(key)?;
        if value > 0.0 && value <= most {
            return Ok(value);
        }
        let message = format!("{} is {value}; it is a number above 0 and at most {most}.", row.path(key));
        Err(Refusal::new(message, "Give it in mm."))
    };
    Ok(Height {
        day: day(row.number("day")?, &row.path("day"))?,
        height_mm: above_0("height_mm", TALLEST_MM)?,
        u_mm: above_0("u_mm", LEAST_SURE_MM)?,
    })
}

fn event(node: &Node, path: &str) -> Result<SeriesEvent, Refusal> {
    let row = node.object(path, &["day", "what", "resets_settling"])?;
    let resets_settling = match row.optional("resets_settling") {
        None => false,
        Some(Node::Truth(truth)) => *truth,
        Some(_) => {
            let message = format!("{} is neither true nor false.", row.path("resets_settling"));
            return Err(Refusal::new(message, "Write true where the springs start settling anew, else leave it out."));
        }
    };
    Ok(SeriesEvent { day: day(row.number("day")?, &row.path("day"))?, what: row.name("what")?, resets_settling })
}

fn day(day: f64, path: &str) -> Result<f64, Refusal> {
    if day.abs() <= LONGEST_DAYS {
        return Ok(day);
    }
    let message = format!("{path} is {day}; a day is a number from -{LONGEST_DAYS} to {LONGEST_DAYS}.");
    Err(Refusal::new(message, "Count days from the work on the springs."))
}
