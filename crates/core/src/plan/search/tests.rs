//! Searches against looking at every combination, on random lists; and against what cannot be reached.

use super::problem::{Choices, Problem, Slot};
use super::{branch, meet};
use proptest::prelude::*;

fn all(problem: &Problem, allowed: &dyn Fn(&[Option<usize>]) -> bool) -> Vec<(f64, usize, f64)> {
    let mut found = Vec::new();
    let mut choice = vec![None; problem.slots.len()];
    loop {
        let chosen: Vec<_> =
            problem.slots.iter().zip(&choice).filter_map(|(slot, at)| at.map(|at: usize| &slot.choices[at])).collect();
        let left = |room: usize| problem.room[room] + chosen.iter().map(|one| one.room[room]).sum::<f64>();
        if allowed(&choice) && (0..problem.room.len()).all(|room| left(room) >= 0.0) {
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
        let choice = (quarters(rows), 0_i32..4, quarters(2)).prop_map(|(moves, price, mut room)| {
            // The first room follows a row, as a height over the ground does; the second goes its own way, as a price does.
            room[0] = -moves[0];
            Choices { moves, price: f64::from(price * 50), alike: Vec::new(), room }
        });
        let slot = prop::collection::vec(choice, 1..5).prop_map(|choices| Slot { choices });
        (quarters(rows), prop::collection::vec(slot, slots), 1_usize..8, quarters(2))
            .prop_map(|(now, slots, wanted, room)| Problem { now, slots, wanted, room })
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
            choices: slot.into_iter().map(|moves| Choices { moves, price: 0.0, alike: Vec::new(), room: Vec::new() }).collect(),
        });
        let problem = Problem { now, slots: slots.collect(), wanted: 5, room: Vec::new() };
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
    let choice = |by: f64| Choices { moves: vec![by], price: 0.0, alike: Vec::new(), room: Vec::new() };
    let slots = (0..22).map(|slot| Slot {
        choices: vec![choice(f64::from(slot) * 0.37 + 0.1), choice(-f64::from(slot) * 0.21 - 0.3)],
    });
    let problem = Problem { now: vec![1_000.0], slots: slots.collect(), wanted: 1, room: Vec::new() };
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
    let choice = Choices { moves: vec![-1.0], price: 0.0, alike: Vec::new(), room: Vec::new() };
    let problem = Problem { now: vec![1.0], slots: vec![Slot { choices: vec![choice] }], wanted: 3, room: Vec::new() };
    let found = super::solve(&problem, &mut |_| false, &mut |_| true);
    assert!(found.best.is_empty() && found.proved);
}

#[test]
fn what_touches_at_the_target_is_proved_without_asking_for_each() {
    // 8 slots of 25: ten thousand million combinations. The target lies 4 tolerances lower than anything that keeps off the ground: the
    // room is the height of a point that moves as the first row does, and 1 is left of it.
    let slot = |slot: u32| Slot {
        choices: (1..=25_u32)
            .map(|part| {
                let by = f64::from((part * 37 + slot * 101) % 97) / 60.0;
                let end = (part + slot) % 2;
                let moves = if end == 0 { vec![-by, -by, 0.0] } else { vec![0.0, 0.0, -by] };
                Choices { room: vec![moves[0]], moves, price: f64::from(part), alike: vec![f64::from(part)] }
            })
            .collect(),
    };
    let problem = Problem { now: vec![5.0, 5.25, 3.0], slots: (0..8).map(slot).collect(), wanted: 5, room: vec![1.0] };
    let mut asked = 0;
    let allowed = |_: &[Option<usize>]| {
        asked += 1;
        true
    };
    let mut allowed = allowed;
    let found = super::solve(&problem, &mut allowed, &mut |_| true);
    assert!(found.proved && found.best.len() == 5);
    // Exactly 1 lower in front: 4 and 4.25 tolerances are left.
    assert!((found.best[0].worst - 4.25).abs() < 1e-9, "{}", found.best[0].worst);
    assert!(asked < 10_000, "asked {asked} times");
}
