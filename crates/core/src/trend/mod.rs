//! What heights do over weeks: whether the springs have settled, and how far they will still go.

mod answer;
mod breaks;
mod by_clock;
mod cause;
mod chart;
mod choice;
mod creep;
mod dated;
mod drift;
mod fit;
mod fitted;
mod laid_law;
mod law;
mod line_heights;
mod linear;
mod next;
mod of_car;
mod points;
mod rake;
mod search;
mod series;
mod settling;
mod shared;
mod timeline;
mod verdict;

pub use answer::settle;
pub use breaks::{Break, BreakKind};
pub use cause::{MovedBy, MovedCause};
pub use chart::{ChartLimits, Ewma, Individuals};
pub use choice::{Candidate, Chosen, SharedRate};
pub use drift::{Charted, READINGS_TO_A_FALSE_ALARM, chart};
pub use laid_law::LaidLaw;
pub use law::Law;
pub use next::{Brings, NextDate, next_date, next_date_of_car};
pub use of_car::{End, LineSettling, SnapshotHeight, Step, settle_car};
pub use rake::{ChartOf, Drift, DriftLimits, DriftPoint, DriftUnknown, DriftVerdict, drifts_of_car};
pub use series::{Height, Series, SeriesEvent};
pub use settling::{
    Ahead, BandPoint, DoubtfulHeight, Model, Other, ParameterMap, SettleFigure, Settled, Settling, TooEarly,
};
pub use timeline::Clock;
