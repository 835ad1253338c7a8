//! What heights do over weeks: whether the springs have settled, and how far they will still go.

mod answer;
mod law;
mod of_car;
mod series;

pub use answer::{BandPoint, DoubtfulHeight, Model, Other, ParameterMap, SettleFigure, Settled, Settling, settle};
pub use law::Law;
pub use of_car::{End, LineSettling, SnapshotHeight, settle_car};
pub use series::{Height, Series, SeriesEvent};
