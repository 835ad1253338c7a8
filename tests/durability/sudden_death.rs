//! SIGKILL at 200 random moments of entry.

use crate::child::{SNAPSHOT, acknowledged, enter, folder, garage, kept, numbered};
use rand::rngs::StdRng;
use rand::{Rng, SeedableRng};
use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Read};
use std::thread::sleep;
use std::time::Duration;
use trueground_store::Store;

#[test]
fn two_hundred_kills_lose_no_acknowledged_reading() {
    let folder = folder();
    let garage = garage(&folder);
    // Seeded: the delays are the same each time, the moments they hit are the machine's.
    let mut chance = StdRng::seed_from_u64(0x7472_7565);
    let mut before = BTreeMap::new();
    let (mut acknowledged_in_all, mut unsaid) = (0, 0);
    for kill in 0..200 {
        let mut child = enter(&garage, "1000000").spawn().unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap());
        let mut said = String::new();
        // Every fourth life ends while the garage is being opened or soon after; the others after two readings, between two more
        // or within one, however slow the disk is.
        if kill % 4 == 0 {
            sleep(Duration::from_micros(chance.random_range(0..50_000)));
        } else {
            while said.matches("ack ").count() < 2 && lines.read_line(&mut said).unwrap() > 0 {}
            sleep(Duration::from_micros(chance.random_range(0..25_000)));
        }
        child.kill().unwrap();
        lines.read_to_string(&mut said).unwrap();
        child.wait().unwrap();

        let acks = acknowledged(&said);
        let store = Store::open(&garage).unwrap();
        let after = kept(&store);
        for (number, text) in before.iter().chain(&acks) {
            assert_eq!(after.get(number), Some(text), "kill {kill}: reading {number} was acknowledged and is lost");
        }
        let extra: Vec<_> = after.keys().filter(|n| !acks.contains_key(n) && !before.contains_key(n)).collect();
        assert!(extra.len() <= 1, "kill {kill}: {extra:?} were never said to be taken");
        let numbers: Vec<u32> = after.keys().copied().collect();
        assert!(numbers.iter().zip(1..).all(|(number, place)| *number == place), "kill {kill}: order is by entry");
        draft_is_there(&store, &said, &after, kill);
        acknowledged_in_all += acks.len();
        unsaid += extra.len();
        before = after;
    }
    assert!(
        acknowledged_in_all > 200,
        "only {acknowledged_in_all} readings in 200 lives ({unsaid} unsaid): the kills came too early"
    );
}

/// Half-typed text that was said to be kept is there, unless its reading was taken since or newer text took its place.
fn draft_is_there(store: &Store, said: &str, after: &BTreeMap<u32, String>, kill: u32) {
    let Some((number, text)) = said.lines().filter_map(|line| numbered(line, "draft ")).next_back() else { return };
    let draft = store.snapshot(SNAPSHOT).unwrap().draft.unwrap();
    if after.contains_key(&number) {
        let next = (number + 1).to_string();
        assert_eq!(draft.step, next, "kill {kill}: the walk goes on at the next step");
    } else {
        assert_eq!((draft.step, draft.text), (number.to_string(), text), "kill {kill}: half-typed text is lost");
    }
}
