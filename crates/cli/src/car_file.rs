//! A car's exchange file as a verb takes it.

use crate::input::InputFile;
use crate::output::Problem;
use serde_json::Value;
use trueground_core::bench::Node;
use trueground_core::capture::CarFile;
use trueground_core::misread::misread;
use trueground_core::wording::quotes_cut;

/// The car in a file: an exchange file, or a scenario with one under "input". Whether its numbers make sense is not looked at.
pub(crate) fn read(file: &InputFile) -> Result<CarFile, Problem> {
    of(&file.read()?).map_err(|problem| problem.at(&file.name()))
}

/// True for a bare series of heights: an object with a series and no car.
pub(crate) fn is_series(text: &str) -> bool {
    let file: Option<Value> = serde_json::from_str(text).ok();
    file.is_some_and(|file| file.get("vehicle").or_else(|| file.get("input")).is_none())
}

/// True for the exchange file of a car, or a scenario with one under "input".
pub(crate) fn is_car(text: &str) -> bool {
    let file: Option<Value> = serde_json::from_str(text).ok();
    file.is_some_and(|file| file.get("vehicle").or_else(|| file.get("input")).is_some())
}

/// The car in a text, or why there is none: where in the file, what stands there, what is expected.
pub(crate) fn of(text: &str) -> Result<CarFile, Problem> {
    Node::read(text)?.no_key_twice("")?;
    let not_json = |e: serde_json::Error| {
        Problem::new(
            format!("The file is not JSON: {}.", quotes_cut(&e.to_string())),
            "Mend the file, or export the car anew.",
        )
    };
    let mut file: Value = serde_json::from_str(text).map_err(not_json)?;
    if let Some(input) = file.get_mut("input").filter(|input| input.is_object()) {
        file = input.take();
    }
    if file.get("vehicle").is_none() {
        let message = "The file has no vehicle: it is not the exchange file of a car.";
        return Err(Problem::new(message, "Give a file that the app exported, or one of sample-data."));
    }
    serde_path_to_error::deserialize(file).map_err(|e| {
        let path = e.path().to_string();
        let place = if path == "." { String::new() } else { format!("{path}: ") };
        Problem::new(
            format!("{place}{}.", misread(&e.inner().to_string())),
            "Correct the file there, or export the car anew.",
        )
    })
}

/// Ended by a full stop.
pub(crate) fn sentence(text: &str) -> String {
    format!("{text}{}", if text.ends_with(['.', '?']) { "" } else { "." })
}
