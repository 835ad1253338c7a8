//! Leaf spring packs against two textbook examples, and what leaves taken out do to the rate.

use crate::Check;
use serde_json::Value;
use trueground_core::plan::spring::{SpringAnswer, SpringPack, work_out};

/// A pack of `count` leaves of one thickness.
fn pack(
    length: f64,
    width: f64,
    count: usize,
    thickness: f64,
    young_gpa: f64,
    load_n: f64,
    more: &str,
) -> SpringAnswer {
    let leaves = vec![format!(r#"{{"thickness_mm": {thickness}}}"#); count].join(", ");
    let text = format!(
        r#"{{"length_mm": {length}, "width_mm": {width}, "leaves": [{leaves}], "young_gpa": {young_gpa}, "load_n": {load_n}{more}}}"#
    );
    work_out(&SpringPack::read(&text).unwrap())
}

pub(crate) fn textbook_packs(check: &mut Check) {
    let data: Value = check.json();
    let case = |id: &str| data["cases"].as_array().unwrap().iter().find(|case| case["id"] == id).unwrap().clone();
    let number = |value: &Value| value.as_f64().unwrap();

    let vehicle = case("Khurmi_vehicle_7_leaves");
    let (given, expected) = (&vehicle["given"], &vehicle["recomputed"]);
    let khurmi = |thickness: f64| {
        // The book takes the whole U-bolt distance off the length, not two thirds: its half length is given.
        let length = 2.0 * number(&given["effective_half_length_mm"]);
        let (width, young, load) = (&given["width_mm"], &given["E_MPa"], &given["load_N"]);
        let full = format!(r#", "full_length": {}"#, given["full_length"]);
        pack(length, number(width), 7, thickness, number(young) / 1000.0, number(load), &full)
    };
    let ours = khurmi(number(&vehicle["published"]["thickness_mm_adopted"]));
    let state = &ours.before;
    check.relative("vehicle, deflection", state.deflection_mm, number(&expected["deflection"]), "recomputed_relative");
    check.relative("vehicle, rate", state.rate_n_per_mm, number(&expected["rate_centre"]), "recomputed_relative");
    check.near(
        "vehicle, printed",
        state.deflection_mm,
        number(&vehicle["published"]["deflection_mm"]),
        "published_deflection_mm",
    );
    let (main, graded) = (ours.leaves[0].stress_mpa.unwrap(), ours.leaves[6].stress_mpa.unwrap());
    check.relative("vehicle, full-length leaf", main, number(&expected["stress_full"]), "recomputed_relative");
    check.relative("vehicle, graded leaf", graded, number(&expected["stress_grad"]), "recomputed_relative");
    let design = khurmi(number(&expected["thickness_for_350"])).before.stress_mpa.unwrap();
    check.relative("vehicle, design stress", design, number(&given["design_stress_MPa"]), "recomputed_relative");

    let truck = case("Bhandari_truck_2plus10");
    let given = &truck["given"];
    let bhandari = |thickness: f64| {
        let (length, width, young) = (&given["eye_distance_mm"], &given["width_mm"], &given["E_MPa"]);
        let load = number(&given["central_load_N"]);
        pack(number(length), number(width), 12, thickness, number(young) / 1000.0, load, r#", "full_length": 2"#)
    };
    let deflection = bhandari(12.0).before.deflection_mm;
    check.relative(
        "truck, deflection",
        deflection,
        number(&truck["recomputed"]["deflection_12mm"]),
        "recomputed_relative",
    );
    check.near("truck, printed", deflection, number(&truck["published"]["deflection_mm"]), "published_deflection_mm");
    let even = bhandari(number(&truck["recomputed"]["thickness_for_600"])).before.equal_stress_mpa.unwrap();
    check.relative("truck, equalised stress", even, number(&given["allowable_MPa"]), "recomputed_relative");

    // The formulas at the head of the data, W = 15000 N and L = 600 mm: C = 2·W·L³/(n·E·b·t³) = 6.48e12/2.5754112e11, and the bolt
    // 2·nf·ng·W/(n·(2·ng + 3·nf)) = 40·15000/(12·26).
    let state = bhandari(12.0).before;
    check.relative("truck, nip", state.equal_stress_nip_mm.unwrap(), 25.161_031, "recomputed_relative");
    check.relative("truck, bolt", state.equal_stress_bolt_n.unwrap(), 1_923.076_9, "recomputed_relative");
    // All graduated, W = 1000 N and L = 500 mm: 6·W·L/(n·b·t²) = 3e6/17150, 6·W·L³/(n·E·b·t³) = 7.5e11/2.482634e10.
    let graded = pack(1000.0, 50.0, 7, 7.0, 206.8, 2000.0, "").before;
    check.relative("all graduated, stress", graded.stress_mpa.unwrap(), 174.927_11, "recomputed_relative");
    check.relative("all graduated, deflection", graded.deflection_mm, 30.209_850, "recomputed_relative");

    for row in case("leaf_removal_ratio_computed")["rows"].as_array().unwrap() {
        let graded = row["ng"].as_u64().unwrap();
        let removed: Vec<String> = (graded + 3..=7).map(|leaf| leaf.to_string()).collect();
        let more = format!(r#", "full_length": 2, "remove": [{}]"#, removed.join(", "));
        let ours = pack(1000.0, 50.0, 7, 7.0, 206.8, 2000.0, &more);
        let ratio = ours.after.rate_n_per_mm / ours.before.rate_n_per_mm;
        let tabled = number(&row["rate_ratio_to_2_5"]);
        check.near(&format!("{graded} graded leaves"), ratio, tabled, "ratio");
    }
}
