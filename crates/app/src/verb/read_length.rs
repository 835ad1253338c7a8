//! Says what a typed length means.

use crate::fields::unit;
use crate::problems::one_field;
use crate::wire::{FieldProblem, LengthRead, Problem, ReadLength, TapeUnit};
use crate::words::on_tape_with_unit;
use crate::{Garage, Now};

/// The length in mm, as printed in the tape's unit and in the other one.
///
/// # Errors
/// It cannot be read; the problem says why and proposes.
pub fn read_length(_garage: &mut Garage, request: ReadLength, _now: &Now<'_>) -> Result<LengthRead, Problem> {
    let entered = trueground_core::units::read_length(&request.text, unit(request.tape))
        .map_err(|error| one_field(FieldProblem::entry("text", &request.text, error)))?;
    let value_mm = entered.length.to_mm();
    let other = match request.tape {
        TapeUnit::In | TapeUnit::In32 => TapeUnit::Mm,
        TapeUnit::Mm | TapeUnit::Cm => TapeUnit::In,
    };
    Ok(LengthRead {
        value_mm,
        printed: on_tape_with_unit(value_mm, request.tape),
        other: on_tape_with_unit(value_mm, other),
    })
}
