//! A leaf spring pack: rate, deflection, stress of every leaf, arch and nip; whole and with leaves taken out.
//!
//! # Sources
//! Graded pack 8·E·b·Σt³/(3·L³), stress 3·F·L·t/(2·b·Σt³): Budynas and Nisbett, *Shigley's Mechanical Engineering Design*, and
//! SAE HS-788, both from general knowledge. Full-length leaves and nip: Khurmi and Gupta, *A Textbook of Machine Design*; Bhandari,
//! *Design of Machine Elements*. Young's modulus 206.8 GPa unless given; active length = length − ⅔ of what is clamped.
//!
//! ```
//! use trueground_core::plan::spring::{SpringPack, work_out};
//! // Eight equal leaves that sink 96 mm under their load: one of them out lowers by 96·(8/7 − 1).
//! let leaves = vec![r#"{"thickness_mm": 6}"#; 8].join(",");
//! let readings = r#"[{"load_n": 0, "height_mm": 200}, {"load_n": 2600, "height_mm": 104}]"#;
//! let pack = SpringPack::read(&format!(r#"{{"readings": {readings}, "load_n": 2600, "leaves": [{leaves}], "remove": [3]}}"#))?;
//! assert!((work_out(&pack).drop_mm - 13.714).abs() < 0.001);
//! # Ok::<(), trueground_core::bench::Refusal>(())
//! ```

mod arch;
mod input;
mod measured;

use arch::Clamped;
use serde::Serialize;

pub use measured::{MeasuredRate, PackReading};

/// A pack as it is described: by its dimensions, by readings with and without load, or both.
#[derive(Debug, Clone, PartialEq)]
pub struct SpringPack {
    /// Length and width, where they are given.
    pub size: Option<PackSize>,
    /// Main leaf first.
    pub leaves: Vec<Leaf>,
    /// Leaves that reach to the eyes, counted from the main leaf; 0 for a graded pack.
    pub full_length: usize,
    /// Load at the middle of the spring, N.
    pub load_n: f64,
    /// Leaves taken out, counted from 1 = main leaf; never the main leaf.
    pub remove: Vec<usize>,
    /// Height of the pack at two or more loads; these give the rate.
    pub readings: Vec<PackReading>,
    /// Of the whole pack without load, from the line through the eyes, mm.
    pub free_arch_mm: Option<f64>,
}

/// Length and width of a pack.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PackSize {
    /// Between the eyes, mm.
    pub length_mm: f64,
    /// Of the leaves, mm.
    pub width_mm: f64,
    /// Between the U-bolts, mm.
    pub clamped_mm: f64,
    /// Young's modulus, GPa.
    pub young_gpa: f64,
}

impl PackSize {
    /// What of the length bends, mm.
    pub fn active_mm(&self) -> f64 {
        self.length_mm - 2.0 / 3.0 * self.clamped_mm
    }
}

/// One leaf.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leaf {
    /// mm.
    pub thickness_mm: f64,
    /// End to end of the loose leaf, mm; absent: as long as the pack.
    pub length_mm: Option<f64>,
    /// Of the loose leaf, from the line through its ends, mm.
    pub free_arch_mm: Option<f64>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpringAnswer {
    /// With all leaves.
    pub before: PackState,
    /// Without those taken out.
    pub after: PackState,
    /// How much lower the car sits after, by the rate alone, load the same, mm; arch apart.
    pub drop_mm: f64,
    /// How much arch the pack loses without load, where the arch of every leaf is given, mm; below 0 where it gains.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub arch_drop_mm: Option<f64>,
    /// The rate as read, where readings are given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured_rate: Option<MeasuredRate>,
    /// The rate as the dimensions have it, where readings are given too, N/mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rate_by_dimensions_n_per_mm: Option<f64>,
    /// Main leaf first.
    pub leaves: Vec<LeafRow>,
}

/// A pack, before or after.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PackState {
    /// At the middle, N/mm.
    pub rate_n_per_mm: f64,
    /// From no load to the load, mm.
    pub deflection_mm: f64,
    /// Largest of all leaves, MPa, where length and width are given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stress_mpa: Option<f64>,
    /// Without load, mm, where an arch is given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub free_arch_mm: Option<f64>,
    /// Under the load, mm; below 0 where the spring bends over.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub arch_mm: Option<f64>,
    /// Nip between full-length and graded leaves that evens out their stress at this load, mm; equal leaves only.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub equal_stress_nip_mm: Option<f64>,
    /// What the centre bolt pulls to close that nip, N.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub equal_stress_bolt_n: Option<f64>,
    /// The stress of every leaf then, MPa.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub equal_stress_mpa: Option<f64>,
}

/// One leaf.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LeafRow {
    /// From 1 = main leaf.
    pub leaf: usize,
    /// mm.
    pub thickness_mm: f64,
    /// From the load, MPa, where length and width are given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stress_mpa: Option<f64>,
    /// The same after; absent where the leaf is taken out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stress_after_mpa: Option<f64>,
    /// From drawing the loose leaves together, MPa; above 0 where the load adds to it, below 0 where the load takes it off, as
    /// in the main leaf of a pack with nip.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clamping_stress_mpa: Option<f64>,
    /// Gap to the next leaf before they are drawn together, over the shorter of the two, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nip_mm: Option<f64>,
}

/// Rate, stress and arch of a pack that [`SpringPack::read`] has taken.
pub fn work_out(pack: &SpringPack) -> SpringAnswer {
    let measured = MeasuredRate::of(&pack.readings);
    let all = Stack::of(pack, |_| true);
    let left = Stack::of(pack, |leaf| !pack.remove.contains(&leaf));
    let by_dimensions = pack.size.map(|size| all.rate(&size));
    // What was read counts; what the dimensions say then only tells how leaves share.
    let rate_before = measured.map(|rate| rate.value).or(by_dimensions).unwrap_or(0.0);
    let rate_after =
        if pack.remove.is_empty() { rate_before } else { rate_before * left.stiffness() / all.stiffness() };
    let (clamped, clamped_after) = (Clamped::of(pack, &all), Clamped::of(pack, &left));
    let leaves = (1..=pack.leaves.len()).map(|leaf| LeafRow {
        leaf,
        thickness_mm: pack.leaves[leaf - 1].thickness_mm,
        stress_mpa: pack.size.map(|size| all.stress(&size, pack.load_n, leaf)),
        stress_after_mpa: pack
            .size
            .filter(|_| !pack.remove.contains(&leaf))
            .map(|size| left.stress(&size, pack.load_n, leaf)),
        clamping_stress_mpa: clamped.as_ref().zip(pack.size).map(|(clamped, size)| clamped.stress(pack, &size, leaf)),
        nip_mm: arch::nip(pack, leaf),
    });
    let leaves = leaves.collect();
    let free = |clamped: &Option<Clamped>| clamped.as_ref().map(|clamped| clamped.arch_mm);
    // Of a pack whose leaves have no arch of their own nobody knows what it loses with some of them.
    let free_after = free(&clamped_after).or(pack.free_arch_mm.filter(|_| pack.remove.is_empty()));
    SpringAnswer {
        before: state(pack, &all, rate_before, free(&clamped).or(pack.free_arch_mm)),
        after: state(pack, &left, rate_after, free_after),
        drop_mm: pack.load_n / rate_after - pack.load_n / rate_before,
        arch_drop_mm: clamped.zip(clamped_after).map(|(before, after)| before.arch_mm - after.arch_mm),
        measured_rate: measured,
        rate_by_dimensions_n_per_mm: by_dimensions.filter(|_| measured.is_some()),
        leaves,
    }
}

fn state(pack: &SpringPack, stack: &Stack, rate: f64, free_arch_mm: Option<f64>) -> PackState {
    let stresses =
        pack.size.map(|size| stack.leaves.iter().map(move |leaf| stack.stress(&size, pack.load_n, leaf.number)));
    let deflection_mm = pack.load_n / rate;
    let even = pack.size.and_then(|size| stack.equal_stress(&size, pack.load_n));
    PackState {
        rate_n_per_mm: rate,
        deflection_mm,
        stress_mpa: stresses.and_then(|stresses| stresses.max_by(f64::total_cmp)),
        free_arch_mm,
        arch_mm: free_arch_mm.map(|arch| arch - deflection_mm),
        equal_stress_nip_mm: even.map(|even| even.nip_mm),
        equal_stress_bolt_n: even.map(|even| even.bolt_n),
        equal_stress_mpa: even.map(|even| even.stress_mpa),
    }
}

/// The leaves that are in the pack.
struct Stack {
    leaves: Vec<InPack>,
}

struct InPack {
    number: usize,
    thickness_mm: f64,
    full_length: bool,
}

impl Stack {
    fn of(pack: &SpringPack, stays: impl Fn(usize) -> bool) -> Self {
        let leaves = pack.leaves.iter().enumerate().filter(|(i, _)| stays(i + 1)).map(|(i, leaf)| InPack {
            number: i + 1,
            thickness_mm: leaf.thickness_mm,
            full_length: i < pack.full_length,
        });
        Self { leaves: leaves.collect() }
    }

    fn cubes(&self) -> f64 {
        self.leaves.iter().map(|leaf| leaf.thickness_mm.powi(3)).sum()
    }

    /// 1 + n_f/(2n): a full-length leaf is half as stiff again as a graded one.
    fn full_length_factor(&self) -> f64 {
        let full = self.leaves.iter().filter(|leaf| leaf.full_length).count();
        1.0 + full as f64 / (2.0 * self.leaves.len() as f64)
    }

    fn stiffness(&self) -> f64 {
        self.cubes() * self.full_length_factor()
    }

    /// N/mm.
    fn rate(&self, size: &PackSize) -> f64 {
        8.0 * size.young_gpa * 1000.0 * size.width_mm * self.stiffness() / (3.0 * size.active_mm().powi(3))
    }

    /// MPa, of a leaf that is in the pack.
    fn stress(&self, size: &PackSize, load_n: f64, number: usize) -> f64 {
        let leaf = self.leaves.iter().find(|leaf| leaf.number == number);
        let Some(leaf) = leaf else { return 0.0 };
        let graded = 3.0 * load_n * size.active_mm() * leaf.thickness_mm / (2.0 * size.width_mm * self.stiffness());
        if leaf.full_length { 1.5 * graded } else { graded }
    }

    /// Of leaves of one thickness, some of them full-length: nip 2Wl³/(nEbt³), bolt 2·n_f·n_g·W/(n(2n_g + 3n_f)), stress
    /// 6Wl/(nbt²), W and l of one half [Khurmi and Gupta; Bhandari].
    fn equal_stress(&self, size: &PackSize, load_n: f64) -> Option<EqualStress> {
        let thickness = self.leaves.first()?.thickness_mm;
        let full = self.leaves.iter().filter(|leaf| leaf.full_length).count() as f64;
        let count = self.leaves.len() as f64;
        let graded = count - full;
        if full == 0.0 || graded == 0.0 || self.leaves.iter().any(|leaf| leaf.thickness_mm != thickness) {
            return None;
        }
        let (half_load, half_length) = (load_n / 2.0, size.active_mm() / 2.0);
        let section = count * size.width_mm * thickness * thickness;
        Some(EqualStress {
            nip_mm: 2.0 * half_load * half_length.powi(3) / (section * thickness * size.young_gpa * 1000.0),
            bolt_n: 2.0 * full * graded * half_load / (count * (2.0 * graded + 3.0 * full)),
            stress_mpa: 6.0 * half_load * half_length / section,
        })
    }
}

/// What nip between full-length and graded leaves can do.
#[derive(Clone, Copy)]
struct EqualStress {
    nip_mm: f64,
    bolt_n: f64,
    stress_mpa: f64,
}

#[cfg(test)]
mod tests {
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
            format!(
                r#"{{"length_mm": 1060, "width_mm": 50, "leaves": {leaves}, "load_n": 1000, "clamped_mm": {clamped}}}"#
            )
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
        let three = r#"[{"load_n": 0, "height_mm": 210}, {"load_n": 1300, "height_mm": 171}, {"load_n": 2600, "height_mm": 130}]"#;
        // The middle reading lies in the middle of the loads, so it does not turn the line.
        near(answer(&format!(r#"{{"readings": {three}, "load_n": 1300}}"#)).before.rate_n_per_mm, 32.5, 1e-12);
    }

    /// Second road: the curvature at which bending the loose leaves to one shape takes the least work.
    #[test]
    fn leaves_drawn_together_take_the_shape_of_least_work() {
        let leaves = r#"[{"thickness_mm": 7, "free_arch_mm": 90}, {"thickness_mm": 6, "length_mm": 900, "free_arch_mm": 75},
            {"thickness_mm": 5, "length_mm": 600, "free_arch_mm": 42}]"#;
        let out = answer(&format!(
            r#"{{"length_mm": 1120, "width_mm": 50, "leaves": {leaves}, "load_n": 1500, "remove": [3]}}"#
        ));
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
}
