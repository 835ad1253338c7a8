//! The grounds of a file: every number in its range, no profile that runs backwards.

use super::Faults;
use super::measured::date;
use crate::capture::CarFile;
use crate::ground;
use crate::wording::shown;

const MOST_GROUNDS: usize = 200;

pub(super) fn check(file: &CarFile, found: &mut Faults) {
    found.count("grounds", file.grounds.len(), MOST_GROUNDS);
    found.names("grounds", file.grounds.iter().map(|ground| ground.id.as_str()));
    for (number, own) in file.grounds.iter().enumerate() {
        let at = |place: &str| format!("grounds[{number}].{place}");
        if own.label.chars().count() > 200 || own.label.chars().any(char::is_control) {
            let message =
                format!("{} is no label: at most 200 characters, none of them a control character", shown(&own.label));
            found.add(at("label"), message, "write a shorter one");
        }
        if let Some(day) = &own.date {
            date(&at("date"), day, found);
        }
        for (place, message, hint) in ground::faults(own) {
            found.add(at(&place), message, hint);
        }
    }
}
