//! What a search must keep, as it is asked on the command line.

use crate::output::Problem;
use clap::Args;
use trueground_core::plan::search::Keep;

/// Options of a search.
#[derive(Debug, Args)]
pub(crate) struct Kept {
    /// So many answers
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = clap::value_parser!(u16).range(1..=100), requires = "search")]
    answers: u16,
    /// Leave out what touches: ground, ramps, fenders
    #[arg(long, requires = "search")]
    no_touch: bool,
    /// Leave out what lets a low point below this, mm
    #[arg(long, value_name = "MM", requires = "search")]
    clearance: Option<f64>,
    /// Leave out what takes caster out of this window, degrees
    #[arg(long, num_args = 2, value_names = ["LOW", "HIGH"], allow_negative_numbers = true, requires = "search")]
    caster: Vec<f64>,
    /// Leave out what takes more travel from an axle than this, mm
    #[arg(long, value_name = "MM", requires = "search")]
    travel_lost: Option<f64>,
    /// Leave out what takes more parts
    #[arg(long, value_name = "N", requires = "search")]
    most_parts: Option<usize>,
    /// Leave out what costs more
    #[arg(long, value_name = "SUM", requires = "search")]
    most_price: Option<f64>,
}

impl Kept {
    pub(crate) fn answers(&self) -> usize {
        usize::from(self.answers)
    }

    /// What must be kept.
    ///
    /// # Errors
    /// A window whose ends are turned round, or a number outside of what is taken.
    pub(crate) fn keep(&self) -> Result<Keep, Problem> {
        let caster_deg = match self.caster[..] {
            [low, high] if low <= high && low >= -30.0 && high <= 30.0 => Some([low, high]),
            [low, high] => {
                let message =
                    format!("--caster is {low} to {high} degrees: the lower end first, −30 to 30 degrees are taken.");
                return Err(Problem::new(message, "For example --caster 5 8."));
            }
            _ => None,
        };
        for (name, value) in
            [("clearance", self.clearance), ("travel-lost", self.travel_lost), ("most-price", self.most_price)]
        {
            if value.is_some_and(|value| !(0.0..=10_000_000.0).contains(&value)) {
                let message = format!("--{name} is {}: 0 or more is taken.", value.unwrap_or_default());
                return Err(Problem::new(message, "Look at the number."));
            }
        }
        Ok(Keep {
            no_touch: self.no_touch,
            clearance_mm: self.clearance,
            caster_deg,
            travel_lost_mm: self.travel_lost,
            most_jobs: self.most_parts,
            most_price: self.most_price,
        })
    }
}
