//! A pack from a car's own description.

use super::SpringPack;
use crate::bench::{Refusal, text_of};
use crate::car::LeafPack;
use serde_json::Map;

impl SpringPack {
    /// # Errors
    /// As [`SpringPack::read`].
    pub fn of_car(pack: &LeafPack) -> Result<Self, Refusal> {
        let known = LeafPack { extra: Map::new(), ..pack.clone() };
        Self::read(&text_of(&known)?)
    }
}
