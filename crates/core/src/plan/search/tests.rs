//! Searches against looking at every combination, on random lists; and against what cannot be reached.

use super::problem::{Choices, Problem, Slot};
use super::{branch, meet};
use proptest::prelude::*;

fn all(problem: &Problem, allowed: &dyn Fn(&[Option<usize>]) -> bool) -> Vec<(f64, usize, f64)> {
    let mut found = Vec::new();
    let mut choice = vec![None; problem.slots.len()];
    loop {
        if allowed(&choice) {
            let chosen: Vec<_> = problem
                .slots
                .iter()
                .zip(&choice)
                .filter_map(|(slot, at)| at.map(|at: usize| &slot.choices[at]))
                .collect();
            let off = |row: usize| (problem.now[row] + chosen.iter().map(|one| one.moves[row]).sum::<f64>()).abs();
            let worst = (0..problem.now.len()).map(off).fold(0.0, f64::max);
            found.push((worst, chosen.len(), chosen.iter().map(|one| one.price).sum::<f64>()));
        }
        let mut slot = 0;
        loop {
            if slot == choice.len() {
                found.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)).then(a.2.total_cmp(&b.2)));
                return found;
            }
            let next = choice[slot].map_or(0, |at| at + 1);
            if next < problem.slots[slot].choices.len() {
                choice[slot] = Some(next);
                break;
            }
            choice[slot] = None;
            slot += 1;
        }
    }
}

/// Quarters of a tolerance add up exactly, so ties are ties.
fn problems() -> impl Strategy<Value = Problem> {
    (1_usize..4, 0_usize..6).prop_flat_map(|(rows, slots)| {
        let quarters = |count: usize| prop::collection::vec((-12_i32..12).prop_map(|at| f64::from(at) / 4.0), count);
        let choice = (quarters(rows), 0_i32..4).prop_map(|(moves, price)| Choices {
            moves,
            price: f64::from(price * 50),
            alike: Vec::new(),
        });
        let slot = prop::collection::vec(choice, 1..5).prop_map(|choices| Slot { choices });
        (quarters(rows), prop::collection::vec(slot, slots), 1_usize..8).prop_map(|(now, slots, wanted)| Problem {
            now,
            slots,
            wanted,
        })
    })
}

proptest! {
    #[test]
    fn both_ways_find_what_looking_at_everything_finds(problem in problems(), odd in any::<bool>()) {
        // Allowed depends on what choices move alone, as the rule asks.
        let sum = |choice: &[Option<usize>]| -> f64 {
            let chosen = problem.slots.iter().zip(choice).filter_map(|(slot, at)| at.map(|at| slot.choices[at].moves[0]));
            chosen.sum()
        };
        let allowed = |choice: &[Option<usize>]| !odd || (sum(choice) * 4.0).rem_euclid(2.0) == 0.0;
        let mut expected = all(&problem, &allowed);
        expected.truncate(problem.wanted);
        let by_branch = branch::solve(&problem, &mut |choice| allowed(choice), &mut |_| true);
        let halves = meet::Halves::of(&problem, u64::MAX).expect("small");
        let by_meeting = meet::solve(&problem, &halves, &mut |choice| allowed(choice), &mut |_| true);
        for found in [by_branch, by_meeting] {
            prop_assert!(found.proved);
            let ours: Vec<_> = found.best.iter().map(|one| (one.worst, one.jobs, one.price)).collect();
            prop_assert_eq!(&ours, &expected);
        }
    }

    #[test]
    fn both_ways_agree_where_nothing_is_a_tie(
        now in prop::collection::vec(-8.0..8.0, 3),
        moves in prop::collection::vec(prop::collection::vec(prop::collection::vec(-4.0..4.0, 3), 4), 6),
    ) {
        let slots = moves.into_iter().map(|slot| Slot {
            choices: slot.into_iter().map(|moves| Choices { moves, price: 0.0, alike: Vec::new() }).collect(),
        });
        let problem = Problem { now, slots: slots.collect(), wanted: 5 };
        let by_branch = branch::solve(&problem, &mut |_| true, &mut |_| true);
        let halves = meet::Halves::of(&problem, u64::MAX).expect("small");
        let by_meeting = meet::solve(&problem, &halves, &mut |_| true, &mut |_| true);
        for (a, b) in by_branch.best.iter().zip(&by_meeting.best) {
            prop_assert!((a.worst - b.worst).abs() < 1e-9);
        }
        prop_assert!((by_branch.best[0].worst - all(&problem, &|_| true)[0].0).abs() < 1e-9);
    }
}

#[test]
fn what_is_stopped_is_no_proof() {
    let choice = |by: f64| Choices { moves: vec![by], price: 0.0, alike: Vec::new() };
    let slots = (0..22).map(|slot| Slot {
        choices: vec![choice(f64::from(slot) * 0.37 + 0.1), choice(-f64::from(slot) * 0.21 - 0.3)],
    });
    let problem = Problem { now: vec![1_000.0], slots: slots.collect(), wanted: 1 };
    let halves = meet::Halves::of(&problem, 1_000_000).expect("two halves");
    let found = meet::solve(&problem, &halves, &mut |_| true, &mut |_| false);
    assert!(!found.proved);
    let found = super::solve(&problem, &mut |_| true, &mut |_| true);
    // Nothing brings it there: every slot as low as it goes, 1000 − Σ(0.21·slot + 0.3).
    let least = 1_000.0 - (0.21 * 231.0 + 0.3 * 22.0);
    assert!(found.proved && (found.best[0].worst - least).abs() < 1e-9 && found.best[0].jobs == 22);
}

#[test]
fn nothing_that_is_allowed_is_no_answer() {
    let choice = Choices { moves: vec![-1.0], price: 0.0, alike: Vec::new() };
    let problem = Problem { now: vec![1.0], slots: vec![Slot { choices: vec![choice] }], wanted: 3 };
    let found = super::solve(&problem, &mut |_| false, &mut |_| true);
    assert!(found.best.is_empty() && found.proved);
}
