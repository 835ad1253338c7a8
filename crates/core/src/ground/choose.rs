//! The grounds of a car's file, and the one that is asked for.

use super::{OwnGround, check};
use crate::capture::CarFile;
use crate::level::Problem;
use crate::wording::{listed, nearest, shown};

impl OwnGround {
    /// Every ground of a file that is not put away.
    pub fn offered(file: &CarFile) -> impl Iterator<Item = &Self> {
        file.grounds.iter().filter(|ground| !ground.put_away)
    }

    /// The ground of that name or label.
    ///
    /// # Errors
    /// No such ground, with the nearest; or it cannot be driven over.
    pub fn named<'f>(file: &'f CarFile, name: &str) -> Result<&'f Self, Problem> {
        let found = file.grounds.iter().find(|ground| ground.id == name);
        let Some(ground) = found.or_else(|| Self::offered(file).find(|ground| ground.called() == name)) else {
            let known: Vec<&str> = Self::offered(file).map(Self::called).collect();
            let hint = match nearest(name, &known) {
                Some(near) => format!("Did you mean {}?", shown(near)),
                None if known.is_empty() => {
                    "Add one: \"grounds\": [{\"id\": \"trailer\", \"kind\": \"trailer_ramp\", \"shape\": {\"kind\": \"ramp\", \
                     \"angle_deg\": 11, \"rise_mm\": 600}}]."
                        .to_owned()
                }
                None => format!("Name one of them: {}.", listed(&known)),
            };
            return Err(Problem::new(format!("there is no ground {}", shown(name)), hint));
        };
        check(ground).map(|()| ground)
    }
}
