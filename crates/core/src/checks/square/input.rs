//! One measuring of squareness as JSON by itself, or under `vehicle.square` of a car's file.

use super::Square;
use crate::bench::{Node, Refusal};
use crate::validate::square_faults;
use crate::wording::quotes_cut;

/// Keys of a measuring.
const KEYS: [&str; 8] =
    ["wheelbase_left_mm", "wheelbase_right_mm", "diagonals", "toe_front", "toe_rear", "camber_deg", "caster", "floor"];

impl Square {
    /// From `{"wheelbase_left_mm", "wheelbase_right_mm", "diagonals": […], "toe_front": {…}, "camber_deg": {…}, "caster": {…}, "floor": {…}}`.
    ///
    /// # Errors
    /// Not JSON, an unknown key (with the nearest known one), a number outside of its range, or nothing measured.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        let node = Node::read(text)?;
        node.no_key_twice("")?;
        node.object("", &KEYS)?;
        let square: Self = serde_json::from_str(text)
            .map_err(|e| Refusal::new(format!("{}.", quotes_cut(&e.to_string())), "Correct the file there."))?;
        if square == Self::default() {
            return Err(Refusal::new(
                "The file has no measure.",
                "Add wheelbase_left_mm and wheelbase_right_mm, or toe_front, or another.",
            ));
        }
        match square_faults(&square).into_iter().next() {
            None => Ok(square),
            Some(fault) => {
                Err(Refusal::new(format!("{}: {}.", fault.place, fault.message), format!("{}.", fault.hint)))
            }
        }
    }
}
