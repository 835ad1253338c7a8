//! What heights do over weeks: whether the springs have settled, and how far they will still go.

mod answer;
mod chart;
mod drift;
mod law;
mod of_car;
mod rake;
mod series;

pub use answer::{BandPoint, DoubtfulHeight, Model, Other, ParameterMap, SettleFigure, Settled, Settling, settle};
pub use chart::{ChartLimits, Ewma, Individuals};
pub use drift::{Charted, READINGS_TO_A_FALSE_ALARM, chart};
pub use law::Law;
pub use of_car::{End, LineSettling, SnapshotHeight, settle_car};
pub use rake::{ChartOf, Drift, DriftLimits, DriftPoint, DriftUnknown, DriftVerdict, drifts_of_car};
pub use series::{Height, Series, SeriesEvent};
