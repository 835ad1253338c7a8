//! What makes a network one that can be adjusted: numbers in range, every point tied, fixed points read.

use super::{LARGEST_MM, MOST_READINGS, MOST_UNKNOWNS, Network, U_RANGE_MM};
use crate::bench::Refusal;
use crate::wording::{grouped, listed, shown};
use std::collections::{BTreeMap, BTreeSet};

/// The points of a network in the order they are first named, and how they hang together.
pub(super) struct Points<'n> {
    pub names: Vec<&'n str>,
    pub index: BTreeMap<&'n str, usize>,
}

impl<'n> Points<'n> {
    fn add(&mut self, name: &'n str) {
        if !self.index.contains_key(name) {
            self.index.insert(name, self.names.len());
            self.names.push(name);
        }
    }
}

/// Checks everything about a network that can be known before it is adjusted.
pub(super) fn check(network: &Network) -> Result<Points<'_>, Refusal> {
    names(network)?;
    numbers(network)?;
    let mut points = Points { names: Vec::new(), index: BTreeMap::new() };
    for difference in &network.differences {
        points.add(&difference.from);
        points.add(&difference.to);
    }
    for staff in network.setups.iter().flat_map(|setup| &setup.readings) {
        points.add(&staff.point);
    }
    given_points(network, &points)?;
    tied(network, &points)?;
    let exact = network.fixed.iter().filter(|fixed| fixed.u_mm.is_none()).count();
    let unknowns = points.names.len() - exact + network.setups.len();
    if unknowns > MOST_UNKNOWNS {
        let message = format!(
            "The network has {} unknown heights and planes: at most {} are adjusted together.",
            grouped(unknowns),
            grouped(MOST_UNKNOWNS)
        );
        return Err(Refusal::new(message, "Split it at fixed points."));
    }
    Ok(points)
}

fn numbers(network: &Network) -> Result<(), Refusal> {
    let readings = network.differences.len() + network.setups.iter().map(|setup| setup.readings.len()).sum::<usize>();
    if readings == 0 {
        return Err(Refusal::new(
            "The network has no reading.",
            "Give differences with from, to, rise_mm and u_mm, or setups with readings of point, staff_mm and u_mm.",
        ));
    }
    if readings > MOST_READINGS {
        let message =
            format!("The network has {} readings: at most {} are adjusted.", grouped(readings), grouped(MOST_READINGS));
        return Err(Refusal::new(message, "Split it at fixed points."));
    }
    for fixed in &network.fixed {
        let path = format!("fixed.{}", shown(&fixed.point));
        size(&path, fixed.value_mm)?;
        if let Some(u) = fixed.u_mm {
            uncertainty(&format!("{path}.u"), u)?;
        }
    }
    for (i, difference) in network.differences.iter().enumerate() {
        size(&format!("differences[{i}].rise_mm"), difference.rise_mm)?;
        uncertainty(&format!("differences[{i}].u_mm"), difference.u_mm)?;
    }
    for (i, setup) in network.setups.iter().enumerate() {
        for (j, staff) in setup.readings.iter().enumerate() {
            size(&format!("setups[{i}].readings[{j}].staff_mm"), staff.staff_mm)?;
            uncertainty(&format!("setups[{i}].readings[{j}].u_mm"), staff.u_mm)?;
        }
    }
    Ok(())
}

fn size(path: &str, value_mm: f64) -> Result<(), Refusal> {
    if value_mm.is_finite() && value_mm.abs() <= LARGEST_MM {
        return Ok(());
    }
    let message = format!("{path} is {value_mm} mm: -{LARGEST_MM} to {LARGEST_MM} mm is taken.");
    Err(Refusal::new(message, "Look at the number and its unit."))
}

fn uncertainty(path: &str, u_mm: f64) -> Result<(), Refusal> {
    if U_RANGE_MM.contains(&u_mm) {
        return Ok(());
    }
    let message =
        format!("{path} is {u_mm} mm: a standard uncertainty is {} to {} mm.", U_RANGE_MM.start(), U_RANGE_MM.end());
    Err(Refusal::new(message, "A staff read on marked spots has 0.8 to 1.5 mm."))
}

fn names(network: &Network) -> Result<(), Refusal> {
    for (i, difference) in network.differences.iter().enumerate() {
        if difference.from == difference.to {
            let message = format!("differences[{i}] goes from {0} to {0}.", shown(&difference.from));
            return Err(Refusal::new(message, "Name two points."));
        }
    }
    let mut setups = BTreeSet::new();
    for (i, setup) in network.setups.iter().enumerate() {
        if setup.readings.is_empty() {
            let message = format!("setups[{i}] ({}) has no reading.", shown(&setup.id));
            return Err(Refusal::new(message, "Give its readings, or leave it out."));
        }
        if !setups.insert(setup.id.as_str()) {
            let message = format!("Two set-ups are called {}.", shown(&setup.id));
            return Err(Refusal::new(
                message,
                "Give each its own id, or put their readings together if the plane stayed.",
            ));
        }
    }
    if !network.fixed.is_empty() && !network.datum_points.is_empty() {
        return Err(Refusal::new(
            "There are fixed points and datum_points.",
            "Give one or the other: datum_points are for a net where nothing is fixed.",
        ));
    }
    let mut twice = BTreeSet::new();
    let given = network.fixed.iter().map(|fixed| &fixed.point).chain(&network.datum_points);
    if let Some(point) = given.into_iter().find(|point| !twice.insert(point.as_str())) {
        return Err(Refusal::new(format!("{} is given twice.", shown(point)), "Keep one of the two."));
    }
    Ok(())
}

/// A fixed point or a datum point must have a reading.
fn given_points(network: &Network, points: &Points<'_>) -> Result<(), Refusal> {
    let fixed = network.fixed.iter().map(|fixed| fixed.point.as_str()).collect::<Vec<_>>();
    let datum = network.datum_points.iter().map(String::as_str).collect::<Vec<_>>();
    for (what, names) in [("fixed", fixed), ("datum", datum)] {
        let unread: Vec<&str> = names.into_iter().filter(|name| !points.index.contains_key(name)).collect();
        if !unread.is_empty() {
            let message = format!("No reading touches the {what} {}.", points_named(&unread));
            return Err(Refusal::new(message, "Measure it into the net, correct its name, or leave it out."));
        }
    }
    Ok(())
}

/// Every point must hang on a fixed one, or, where nothing is fixed, on all the others.
fn tied(network: &Network, points: &Points<'_>) -> Result<(), Refusal> {
    let count = points.names.len();
    let mut part = Parts((0..count + network.setups.len()).collect());
    for difference in &network.differences {
        part.join(points.index[difference.from.as_str()], points.index[difference.to.as_str()]);
    }
    for (i, setup) in network.setups.iter().enumerate() {
        for staff in &setup.readings {
            part.join(points.index[staff.point.as_str()], count + i);
        }
    }
    let held: BTreeSet<usize> = if network.fixed.is_empty() {
        // The largest part counts as the net; the others are loose.
        let mut sizes: BTreeMap<usize, usize> = BTreeMap::new();
        for i in 0..count {
            *sizes.entry(part.of(i)).or_default() += 1;
        }
        let mut largest: Option<(usize, usize)> = None;
        for i in 0..count {
            let root = part.of(i);
            if largest.is_none_or(|(_, size)| sizes[&root] > size) {
                largest = Some((root, sizes[&root]));
            }
        }
        largest.map(|(root, _)| root).into_iter().collect()
    } else {
        network.fixed.iter().map(|fixed| part.of(points.index[fixed.point.as_str()])).collect()
    };
    let loose: Vec<&str> = (0..count).filter(|i| !held.contains(&part.of(*i))).map(|i| points.names[i]).collect();
    if loose.is_empty() {
        return Ok(());
    }
    let (tied, hint) = if network.fixed.is_empty() {
        ("the other points", "Measure a difference between them and the others, or work each net by itself.")
    } else {
        ("a fixed point", "Measure a difference to a fixed point, or fix one of them.")
    };
    let named = points_named(&loose);
    let named = format!("{}{}", named[..1].to_uppercase(), &named[1..]);
    let verb = if loose.len() == 1 { "is" } else { "are" };
    Err(Refusal::new(format!("{named} {verb} not tied to {tied}."), hint))
}

fn points_named(names: &[&str]) -> String {
    format!("point{} {}", if names.len() == 1 { "" } else { "s" }, listed(names))
}

/// Which nodes hang together.
struct Parts(Vec<usize>);

impl Parts {
    fn of(&mut self, mut node: usize) -> usize {
        while self.0[node] != node {
            self.0[node] = self.0[self.0[node]];
            node = self.0[node];
        }
        node
    }

    fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.of(a), self.of(b));
        // The smaller number leads, so that the chains stay short and the order is that of the file.
        let (low, high) = (a.min(b), a.max(b));
        self.0[high] = low;
    }
}
