//! Lengths, angles and pressures: one inner unit each, the unit said at every door, and the trade's way of typing them.
//!
//! The unit of a bare number is the tape's (or the gauge's), which the caller names; it is never guessed from the size of
//! the number. What was typed is kept beside the number. An entry that cannot be read is an [`EntryError`]: what is wrong,
//! what to do, and texts to type instead.
//!
//! ```
//! use trueground_core::units::{LengthUnit, read_length};
//! let lip = read_length("27 5/8", LengthUnit::In)?;
//! assert_eq!(lip.length.to_mm(), 701.675);
//! assert_eq!(lip.fraction.to_string(), "27 5/8");
//!
//! let wrong = read_length("23 5/12", LengthUnit::In).unwrap_err();
//! assert_eq!(wrong.proposals, ["23 5/16", "23 1/2"]);
//! # Ok::<(), trueground_core::units::EntryError>(())
//! ```

mod angle;
mod angle_entry;
mod entry;
mod fraction;
mod length;
mod length_entry;
mod pressure;
mod temperature;

pub use angle::Angle;
pub use angle_entry::{ANGLE_LIMIT_DEG, EnteredAngle, read_angle};
pub use entry::EntryError;
pub use fraction::Fraction;
pub use length::{InchText, Length, LengthUnit, MM_PER_INCH};
pub use length_entry::{EnteredLength, LONGEST_MM, read_length};
pub use pressure::{
    BARE_FROM_KPA, EnteredPressure, KPA_PER_PSI, PRESSURE_RANGE_KPA, Pressure, PressureUnit, read_pressure,
};
pub use temperature::{AIR_C, TemperatureUnit, read_temperature};
