//! Packs worked out by hand, by a second road, and those that are refused.

use super::*;

fn answer(text: &str) -> SpringAnswer {
    work_out(&SpringPack::read(text).unwrap_or_else(|e| panic!("{text}: {e}")))
}

fn near(ours: f64, by_hand: f64, within: f64) {
    assert!((ours - by_hand).abs() < within, "{ours}, by hand {by_hand}");
}

/// By hand: Σt³ = 8·6.35³ = 2048.383 mm³ whole; k = 8·206800·44.45·Σt³/(3·1120³).
#[test]
fn one_of_eight_leaves_out() {
    let leaves = [r#"{"thickness_mm": 6.35}"#; 8].join(",");
    let out = answer(&format!(
        r#"{{"length_mm": 1120, "width_mm": 44.45, "leaves": [{leaves}], "load_n": 2600, "remove": [3]}}"#
    ));
    near(out.before.rate_n_per_mm, 35.739_5, 1e-3);
    near(out.after.rate_n_per_mm, 35.739_5 * 7.0 / 8.0, 1e-3);
    near(out.drop_mm, 2600.0 / 35.739_5 / 7.0, 1e-3);
    // 3·2600·1120·6.35/(2·44.45·2048.383), and 8/7 of it.
    near(out.before.stress_mpa.unwrap(), 304.631, 1e-2);
    near(out.after.stress_mpa.unwrap(), 304.631 * 8.0 / 7.0, 1e-2);
    assert_eq!(out.leaves[2].stress_after_mpa, None);
    assert_eq!(out.leaves.iter().filter(|row| row.stress_after_mpa.is_some()).count(), 7);
    assert_eq!(out.arch_drop_mm, None);
}

#[test]
fn thicker_leaves_are_stressed_more_and_only_the_active_length_bends() {
    let text = |clamped: &str| {
        let leaves = r#"[{"thickness_mm": 8}, {"thickness_mm": 6}, {"thickness_mm": 6}]"#;
        format!(r#"{{"length_mm": 1060, "width_mm": 50, "leaves": {leaves}, "load_n": 1000, "clamped_mm": {clamped}}}"#)
    };
    let out = answer(&text("0"));
    near(out.leaves[0].stress_mpa.unwrap() / out.leaves[1].stress_mpa.unwrap(), 8.0 / 6.0, 1e-12);
    assert_eq!(out.before, out.after);
    // 1060 − ⅔·90 = 1000 mm bend.
    near(answer(&text("90")).before.rate_n_per_mm / out.before.rate_n_per_mm, 1.06_f64.powi(3), 1e-12);
}

#[test]
fn readings_give_the_rate_and_a_line_through_several_of_them() {
    let out = answer(
        r#"{"readings": [{"load_n": 0, "height_mm": 210}, {"load_n": 2600, "height_mm": 130}], "load_n": 1300}"#,
    );
    near(out.before.rate_n_per_mm, 32.5, 1e-12);
    near(out.before.deflection_mm, 40.0, 1e-12);
    // √2·2 mm of 80, and 2 % of the load.
    near(out.measured_rate.unwrap().u, 32.5 * (8_f64.sqrt() / 80.0).hypot(0.02), 0.01);
    let three =
        r#"[{"load_n": 0, "height_mm": 210}, {"load_n": 1300, "height_mm": 171}, {"load_n": 2600, "height_mm": 130}]"#;
    // The middle reading lies in the middle of the loads, so it does not turn the line.
    near(answer(&format!(r#"{{"readings": {three}, "load_n": 1300}}"#)).before.rate_n_per_mm, 32.5, 1e-12);
}

/// Second road: the curvature at which bending the loose leaves to one shape takes the least work.
#[test]
fn leaves_drawn_together_take_the_shape_of_least_work() {
    let leaves = r#"[{"thickness_mm": 7, "free_arch_mm": 90}, {"thickness_mm": 6, "length_mm": 900, "free_arch_mm": 75},
        {"thickness_mm": 5, "length_mm": 600, "free_arch_mm": 42}]"#;
    let out =
        answer(&format!(r#"{{"length_mm": 1120, "width_mm": 50, "leaves": {leaves}, "load_n": 1500, "remove": [3]}}"#));
    let circle = |length: f64, arch: f64| 8.0 * arch / (length * length + 4.0 * arch * arch);
    let loose = [(7.0_f64, circle(1120.0, 90.0)), (6.0, circle(900.0, 75.0)), (5.0, circle(600.0, 42.0))];
    let work = |leaves: &[(f64, f64)], shape: f64| {
        leaves.iter().map(|(t, own)| t.powi(3) * (shape - own).powi(2)).sum::<f64>()
    };
    let least = |leaves: &[(f64, f64)]| {
        let shapes = (0..=200_000).map(|i| f64::from(i) * 1e-8);
        let best = shapes.min_by(|a, b| work(leaves, *a).total_cmp(&work(leaves, *b))).unwrap();
        (1.0 - (1.0 - (best * 560.0).powi(2)).sqrt()) / best
    };
    near(out.before.free_arch_mm.unwrap(), least(&loose), 0.01);
    near(out.after.free_arch_mm.unwrap(), least(&loose[..2]), 0.01);
    near(out.arch_drop_mm.unwrap(), least(&loose) - least(&loose[..2]), 0.02);
    near(out.before.arch_mm.unwrap(), out.before.free_arch_mm.unwrap() - out.before.deflection_mm, 1e-12);
    // Over 900 mm the second leaf has 75 mm of arch, the main leaf 90 less what lies outside of them.
    let main = |chord: f64| (1.0 - (1.0 - (loose[0].1 * chord / 2.0).powi(2)).sqrt()) / loose[0].1;
    near(out.leaves[0].nip_mm.unwrap(), 75.0 - main(900.0), 1e-9);
    assert!(out.leaves[0].clamping_stress_mpa.unwrap() < 0.0 && out.leaves[2].clamping_stress_mpa.unwrap() > 0.0);
    assert_eq!(out.leaves[2].nip_mm, None);
}

#[test]
fn what_is_wrong_is_said_with_its_place() {
    for (text, says) in [
        (
            r#"{"length_mm": 1100, "width_mm": 50, "load_n": 1, "leafs": []}"#,
            "leafs is not a key at the top of the file. Did you mean leaves?",
        ),
        (
            r#"{"length_mm": 1100, "width_mm": 50, "load_n": 1, "leaves": []}"#,
            "leaves has 0 leaves: 1 to 40 are taken.",
        ),
        (
            r#"{"length_mm": 1100, "width_mm": 50, "load_n": 1, "leaves": [{"thickness_mm": 0}]}"#,
            "leaves[0].thickness_mm is 0 mm: 1 to 60 mm is taken.",
        ),
        (r#"{"length_mm": 1100, "width_mm": 50, "load_n": 0, "leaves": [{"thickness_mm": 6}]}"#, "load_n is 0 N"),
        (
            r#"{"width_mm": 50, "load_n": 1, "leaves": [{"thickness_mm": 6}]}"#,
            "length_mm is missing at the top of the file.",
        ),
        (
            r#"{"length_mm": 1100, "width_mm": 50, "load_n": 1, "leaves": [{"thickness_mm": 6}], "clamped_mm": 1000, "remove": [1]}"#,
            "remove[0] is leaf 1, the main leaf",
        ),
        (
            r#"{"length_mm": 1100, "width_mm": 50, "load_n": 1, "leaves": [{"thickness_mm": 6}, {"thickness_mm": 6}], "remove": [2, 2]}"#,
            "leaf 2 is named twice.",
        ),
        (
            r#"{"length_mm": 1100, "width_mm": 50, "load_n": 1, "leaves": [{"thickness_mm": 6}, {"thickness_mm": 6}], "remove": [3]}"#,
            "remove[0] is 3: a whole number from 1 to 2 is taken.",
        ),
        (
            r#"{"length_mm": 500, "width_mm": 50, "load_n": 1, "leaves": [{"thickness_mm": 6}], "clamped_mm": 500}"#,
            "clamped_mm is 500 mm, the whole length",
        ),
        (
            r#"{"length_mm": 500, "width_mm": 50, "load_n": 1, "leaves": [{"thickness_mm": 6}], "full_length": 1.5}"#,
            "full_length is 1.5: a whole number from 0 to 1",
        ),
        (
            r#"{"load_n": 1, "readings": [{"load_n": 0, "height_mm": 200}, {"load_n": 0, "height_mm": 100}]}"#,
            "every load is 0 N",
        ),
        (
            r#"{"load_n": 1, "readings": [{"load_n": 0, "height_mm": 100}, {"load_n": 900, "height_mm": 130}]}"#,
            "does not come down with the load",
        ),
        (
            r#"{"load_n": 1, "remove": [2], "readings": [{"load_n": 0, "height_mm": 200}, {"load_n": 900, "height_mm": 130}]}"#,
            "leaves is missing",
        ),
        (
            r#"{"length_mm": 1100, "width_mm": 50, "load_n": 1, "leaves": [{"thickness_mm": 6, "free_arch_mm": 80}, {"thickness_mm": 6}]}"#,
            "free_arch_mm is missing in leaves[1]",
        ),
        (
            r#"{"length_mm": 1100, "width_mm": 50, "load_n": 1, "free_arch_mm": 90, "leaves": [{"thickness_mm": 6, "free_arch_mm": 80}]}"#,
            "free_arch_mm is given for the pack and for its leaves.",
        ),
        (
            r#"{"length_mm": 110, "width_mm": 50, "load_n": 1, "leaves": [{"thickness_mm": 6, "free_arch_mm": 80}]}"#,
            "more than half of its length",
        ),
    ] {
        let refusal = SpringPack::read(text).unwrap_err();
        assert!(refusal.to_string().contains(says), "{text}: {refusal}");
    }
}
