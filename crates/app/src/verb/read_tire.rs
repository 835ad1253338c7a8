//! Says what a sidewall marking means.

use crate::car_form::{basis_words, marking};
use crate::problems::one_field;
use crate::wire::{Problem, ReadTire, TireRead};
use crate::words::whole;
use crate::{Garage, Now};
use trueground_core::tire::Basis;

/// Diameter, rim and width, each with its basis.
///
/// # Errors
/// It cannot be read; the problem says what was understood, and the nearest marking that can be read.
pub fn read_tire(_garage: &mut Garage, request: ReadTire, _now: &Now<'_>) -> Result<TireRead, Problem> {
    let tire = marking("marking", &request.marking, None).map_err(one_field)?;
    let diameter = tire.diameter_mm;
    let better = if diameter.basis == Basis::Estimate { " A tape round it is better." } else { "" };
    let basis = match diameter.basis {
        Basis::Standard => "standard",
        Basis::Formula => "formula",
        Basis::Estimate => "estimate",
        Basis::Measured => "measured",
    };
    Ok(TireRead {
        diameter_mm: diameter.value,
        u_mm: diameter.u,
        rim_diameter_mm: tire.rim_diameter_mm.value,
        section_width_mm: tire.section_width_mm.value,
        basis: basis.to_owned(),
        sentence: format!(
            "{}: about {} mm ± {}, {}.{better}",
            request.marking.trim(),
            whole(diameter.value),
            whole((2.0 * diameter.u).max(1.0)),
            basis_words(diameter.basis)
        ),
    })
}
