//! What is kept whole but is not what it should be: it is left out of a car's file by its name and field, and so hides nothing else.

use crate::{Result, Store, ground, plan, target};
use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use trueground_core::misread::misread;
use trueground_core::wording::shown;
use uuid::Uuid;

impl Store {
    /// What of a car's targets, plans and parts is left out of its file, in words: damaged, or not what it should be.
    ///
    /// # Errors
    /// No such car, or the database cannot be read.
    pub fn left_out(&self, car: Uuid) -> Result<Vec<String>> {
        let row = self.car(car)?.row;
        let (mut file, mut said) = (json!({}), Vec::new());
        target::put_in(&self.connection, row, &mut file, &mut said)?;
        plan::put_in(&self.connection, row, &mut file, &mut said)?;
        Ok(said)
    }

    /// The same of the garage's grounds.
    ///
    /// # Errors
    /// Only if the database cannot be read.
    pub fn grounds_left_out(&self) -> Result<Vec<String>> {
        let mut said = Vec::new();
        ground::put_in(&self.connection, &mut json!({}), &mut said)?;
        Ok(said)
    }
}

/// Where an entry is not what it should be, and how: "price: the text \"dear\" stands where a number belongs"; `None` where it can be read.
pub(crate) fn fault<T: DeserializeOwned>(document: &Value) -> Option<String> {
    let error = serde_path_to_error::deserialize::<_, T>(document).err()?;
    let (place, what) = (error.path().to_string(), misread(&error.inner().to_string()));
    Some(if place == "." { what } else { format!("{place}: {what}") })
}

/// "a part Low springs (price: the text \"dear\" stands where a number belongs)", in the words of a damaged one.
pub(crate) fn named(sort: &str, document: &Value, fault: &str) -> String {
    let says = |key: &str| document[key].as_str().filter(|text| !text.is_empty());
    let name = ["label", "id", "uuid"].into_iter().find_map(says).map(|name| format!(" {}", shown(name)));
    format!("{sort}{} ({fault})", name.unwrap_or_default())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Stamp;
    use trueground_core::ground::OwnGround;

    #[test]
    fn what_is_not_what_it_should_be_is_named_with_its_field() {
        let ground = json!({"id": "g", "label": "Driveway", "string": {"stations": [{"along_mm": "far"}]}});
        let fault = fault::<OwnGround>(&ground).unwrap_or_default();
        assert!(fault.starts_with("string.stations[0]"), "{fault}");
        assert!(named("a ground", &ground, &fault).starts_with("a ground Driveway (string.stations[0]"));
        assert_eq!(super::fault::<OwnGround>(&json!({"id": "g", "label": "Driveway"})), None);
    }

    #[test]
    fn a_malformed_plan_is_left_out_and_said_and_the_others_stay() -> Result<()> {
        let at = Stamp { utc_ms: 1_000, offset_minutes: 0 };
        let mut store = Store::in_memory()?;
        let file = json!({"vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400},
            "plans": [{"id": "low", "label": "Low"}]});
        let car = store.import_document(file, at)?.car;
        store.add_entry(car, &plan::PLANS, &json!({"id": "odd", "label": "Odd", "changes": "none yet"}), at)?;
        assert_eq!(store.with_plans(car)?.plans.len(), 1);
        let said = store.left_out(car)?;
        assert!(said.len() == 1 && said[0].starts_with("a plan Odd (changes: the text"), "{said:?}");
        assert_eq!(store.car_file(car)?.damaged, said);
        Ok(())
    }
}
