//! The only target of a file of version 1, which stands in the file under `target`, and what is wrong with one that cannot be read.

use super::Target;
use crate::capture::CarFile;
use crate::misread::misread;

/// Its name where it says none.
pub(crate) const ONLY: &str = "target";

/// A target of version 1 that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{place}: {what}")]
pub struct Unreadable {
    /// Path in the file, such as `target.heights_mm.rail.FL`.
    pub place: String,
    /// What stands there, and what should.
    pub what: String,
}

impl Target {
    /// The target of a file of version 1; `None` where the file has none.
    ///
    /// # Errors
    /// It cannot be read: the place and what stands there.
    pub fn only(file: &CarFile) -> Option<Result<Self, Unreadable>> {
        let written = file.extra.get(ONLY).filter(|written| !written.is_null())?;
        Some(match serde_path_to_error::deserialize::<_, Self>(written) {
            Ok(read) if read.id.is_empty() => Ok(Self { id: ONLY.to_owned(), ..read }),
            Ok(read) => Ok(read),
            Err(error) => {
                let inside = error.path().to_string();
                let place = if inside == "." { ONLY.to_owned() } else { format!("{ONLY}.{inside}") };
                Err(Unreadable { place, what: misread(&error.inner().to_string()) })
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn file(target: Value) -> CarFile {
        let other = json!({"id": "low", "label": "Low", "heights_mm": {"rail.FL": 240}});
        serde_json::from_value(json!({
            "vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400},
            "target": target, "targets": [other],
        }))
        .expect("a file")
    }

    #[test]
    fn one_that_cannot_be_read_names_its_place_and_hides_no_other() {
        for (target, place) in [
            (
                json!({"heights_mm": {"rail.FL": "low"}}),
                "target.heights_mm.rail.FL: the text \"low\" stands where a number belongs",
            ),
            (
                json!({"heights_mm": {"rail.FL": 246}, "tolerance_mm": null}),
                "target.tolerance_mm: null stands where a number belongs",
            ),
            (json!("246 mm"), "target: the text \"246 mm\""),
            (
                json!({"limits": [{"points": "rail.FL"}]}),
                "target.limits[0].points: the text \"rail.FL\" stands where a list belongs",
            ),
        ] {
            let file = file(target);
            let error = Target::only(&file).expect("there is one").expect_err("no target");
            assert!(error.to_string().starts_with(place), "{error}");
            let offered: Vec<String> = Target::offered(&file).into_iter().map(|target| target.id).collect();
            assert_eq!(offered, ["low"]);
            let refused = Target::named(&file, Some("target")).expect_err("it is asked for");
            assert!(refused.message().starts_with(place), "{refused}");
        }
    }
}
