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

mod answer;
mod arch;
mod input;
mod measured;
mod of_car;
mod pack;
mod stack;
#[cfg(test)]
mod tests;

use arch::Clamped;
use stack::Stack;

pub use answer::{LeafRow, PackState, SpringAnswer};
pub use measured::{MeasuredRate, PackReading};
pub use pack::{Leaf, PackSize, SpringPack};

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
