//! Tire sizes: diameters, widths and rolling against published tables.

use crate::Check;
use serde::Deserialize;
use trueground_core::tire::{Basis, Measured, MeasuredLength, TireDimensions, dimensions, read_marking};

const MM_PER_INCH: f64 = 25.4;
const M_PER_MILE: f64 = 1609.344;

fn tire(marking: &str) -> TireDimensions {
    dimensions(&read_marking(marking).unwrap_or_else(|e| panic!("{marking}: {e}")), &Measured::default())
}

pub(crate) fn metric_rules(check: &mut Check) {
    #[derive(Deserialize)]
    struct Data {
        cases: Vec<Row>,
    }
    #[derive(Deserialize)]
    struct Row {
        size: String,
        rounded_table_mm: f64,
    }
    for row in check.json::<Data>().cases {
        let ours = tire(&row.size).diameter_mm;
        check.near(&row.size, ours.value, row.rounded_table_mm, "diameter_mm");
        check.same(&row.size, ours.basis, Basis::Standard);
    }
}

pub(crate) fn published_dimensions(check: &mut Check) {
    for row in check.rows() {
        // `8.00-14 (mold A)`, `165SR15 = 165/80R15`: the marking is the first word.
        let size = row["size"].split([' ', '=']).next().unwrap().to_owned();
        let ours = tire(&size);
        let (diameter, width) = (ours.diameter_mm, ours.section_width_mm);
        let published = row["overall_diameter_in"].parse::<f64>().unwrap() * MM_PER_INCH;
        check.within(&row["size"], diameter.value, published, check.tolerance("diameter_u") * diameter.u);
        if let Ok(published) = row["section_width_in"].parse::<f64>() {
            check.within(&row["size"], width.value, published * MM_PER_INCH, check.tolerance("width_u") * width.u);
        }
    }
}

pub(crate) fn revs_per_mile(check: &mut Check) {
    for row in check.rows() {
        let size = row["size"].split(' ').next().unwrap();
        let printed_mm = row["overall_diameter_in"].parse::<f64>().unwrap() * MM_PER_INCH;
        // The printed diameter stands for a measured one: the rule is under test, not the size table.
        let read = MeasuredLength { value_mm: printed_mm, u_mm: 0.05 * MM_PER_INCH };
        let measured = Measured { diameter: Some(read), ..Measured::default() };
        let ours = dimensions(&read_marking(size).unwrap(), &measured).revs_per_km.value * M_PER_MILE / 1000.0;
        let published: f64 = row["revs_per_mile"].parse().unwrap();
        check.near(&row["size"], ours / published, 1.0, "relative");
    }
}

pub(crate) fn sizes_from_memory(check: &mut Check) {
    for row in check.rows() {
        let ours = tire(&row["size"]);
        let (diameter, width) = (ours.diameter_mm, ours.section_width_mm);
        let published: f64 = row["overall_diameter_mm"].parse().unwrap();
        check.within(&row["size"], diameter.value, published, check.tolerance("diameter_u") * diameter.u);
        let published: f64 = row["section_width_mm"].parse().unwrap();
        check.within(&row["size"], width.value, published, check.tolerance("width_u") * width.u);
        check.same(
            &row["size"],
            ours.construction == trueground_core::tire::Construction::Radial,
            row["structure"] == "radial",
        );
    }
}
