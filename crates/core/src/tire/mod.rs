//! Tires: what a sidewall marking of any era says, and the diameter, radius and rolling that follow.
//!
//! Markings read: `30x3 1/2` and `880x120` (outer diameter by section), `6.00-16` and `600-16` (section by rim),
//! `G78-15` and `E60x15` (load letter and series), `155R15`, `165SR15` and `165-400` (section in mm), `205/55 R16 91V` and `P205/75R15`
//! (with the aspect ratio), `31x10.50R15LT/C` (outer diameter by section by rim). A figure that was measured wins over every
//! marking: see [`dimensions`].
//!
//! ```
//! use trueground_core::tire::{Basis, Measured, dimensions, read_marking};
//! let marking = read_marking("195/65R15")?;
//! let tire = dimensions(&marking, &Measured::default());
//! assert_eq!((tire.diameter_mm.value, tire.diameter_mm.basis), (635.0, Basis::Standard));
//! # Ok::<(), trueground_core::tire::MarkingError>(())
//! ```

mod dimensions;
mod load_index;
mod load_letter;
mod marking;
mod nearest;
mod reader;

pub use dimensions::{Basis, Measured, MeasuredLength, TireDimensions, TireFigure, dimensions};
pub use load_index::{load_index, load_index_kg};
pub use marking::{Construction, Marking, MarkingError, Rim, Size, read_marking};
