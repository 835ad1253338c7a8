//! The network as JSON.

use super::{Difference, FixedPoint, Network, Setup, Staff};
use crate::bench::{Node, Refusal};

impl Network {
    /// From the JSON of a file: `fixed`, `datum_points`, `differences`, `setups`, each where it is needed.
    ///
    /// # Errors
    /// Not JSON, an unknown key (with the nearest known one), a missing one, or a value of another kind.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        let node = Node::read(text)?;
        let file = node.object("", &["fixed", "datum_points", "differences", "setups"])?;
        let mut network = Self::default();
        if let Some(fixed) = file.optional("fixed") {
            for (point, given) in fixed.fields("fixed")? {
                network.fixed.push(fixed_point(point, given)?);
            }
        }
        if let Some(points) = file.optional("datum_points") {
            for (i, point) in points.list("datum_points")?.iter().enumerate() {
                network.datum_points.push(point.name(&format!("datum_points[{i}]"))?);
            }
        }
        if let Some(differences) = file.optional("differences") {
            for (i, node) in differences.list("differences")?.iter().enumerate() {
                let row = node.object(&format!("differences[{i}]"), &["from", "to", "rise_mm", "u_mm"])?;
                network.differences.push(Difference {
                    from: row.name("from")?,
                    to: row.name("to")?,
                    rise_mm: row.number("rise_mm")?,
                    u_mm: row.number("u_mm")?,
                });
            }
        }
        if let Some(setups) = file.optional("setups") {
            for (i, node) in setups.list("setups")?.iter().enumerate() {
                network.setups.push(setup(i, node)?);
            }
        }
        Ok(network)
    }
}

fn fixed_point(point: &str, given: &Node) -> Result<FixedPoint, Refusal> {
    let path = format!("fixed.{}", crate::wording::shown(point));
    let (value_mm, u_mm) = match given {
        Node::Object(_) => {
            let given = given.object(&path, &["value", "u"])?;
            let u_mm = given.optional("u").map(|u| u.number(&given.path("u"))).transpose()?;
            // A written u of 0 says that the point is held exactly.
            (given.number("value")?, u_mm.filter(|u| *u != 0.0))
        }
        _ => (given.number(&path)?, None),
    };
    Ok(FixedPoint { point: point.to_owned(), value_mm, u_mm })
}

fn setup(i: usize, node: &Node) -> Result<Setup, Refusal> {
    let path = format!("setups[{i}]");
    let setup = node.object(&path, &["id", "readings"])?;
    let id = match setup.optional("id") {
        Some(id) => id.name(&setup.path("id"))?,
        None => (i + 1).to_string(),
    };
    let mut readings = Vec::new();
    for (j, node) in setup.required("readings")?.list(&setup.path("readings"))?.iter().enumerate() {
        let row = node.object(&format!("{path}.readings[{j}]"), &["point", "staff_mm", "u_mm"])?;
        readings.push(Staff {
            point: row.name("point")?,
            staff_mm: row.number("staff_mm")?,
            u_mm: row.number("u_mm")?,
        });
    }
    Ok(Setup { id, readings })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_wrong_is_said_with_its_place() {
        for (text, says) in [
            (r#"{"difference": []}"#, "difference is not a key at the top of the file. Did you mean differences?"),
            (r#"{"setups": [{"id": 1, "reading": []}]}"#, "reading is not a key in setups[0]. Did you mean readings?"),
            (r#"{"setups": [{"readings": [{"point": "A", "staff": 1, "u_mm": 1}]}]}"#, "Did you mean staff_mm?"),
            (
                r#"{"differences": [{"from": "A", "to": "B", "rise_mm": "12", "u_mm": 1}]}"#,
                "differences[0].rise_mm is the text \"12\". Write a number there.",
            ),
            (r#"{"differences": [{"from": "A", "to": "B", "rise_mm": 12}]}"#, "u_mm is missing in differences[0]."),
            (r#"{"fixed": {"A": {"value": 1, "sd": 2}}}"#, "sd is not a key in fixed.A."),
            (r#"{"fixed": [1]}"#, "fixed is a list of 1. Write an object {…} there."),
            (r#"{"fixed": {"A": null}}"#, "fixed.A is null. Write a number there."),
            ("7", "The whole file is 7."),
        ] {
            let refusal = Network::read(text).unwrap_err();
            assert!(refusal.to_string().contains(says), "{text}: {refusal}");
        }
    }
}
