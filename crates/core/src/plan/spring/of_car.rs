//! A pack from a car's own description.

use super::SpringPack;
use crate::bench::Refusal;
use crate::car::LeafPack;
use serde_json::Map;

impl SpringPack {
    /// # Errors
    /// As [`SpringPack::read`].
    pub fn of_car(pack: &LeafPack) -> Result<Self, Refusal> {
        let known = LeafPack { extra: Map::new(), ..pack.clone() };
        let text = serde_json::to_string(&known)
            .map_err(|e| Refusal::new(format!("The spring pack cannot be written: {e}."), "Describe it anew."))?;
        Self::read(&text)
    }
}
