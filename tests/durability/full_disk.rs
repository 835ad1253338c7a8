//! A disk that takes no more: what was acknowledged stays, what was not is refused in words, and it goes on when there is room.

#![cfg(unix)]

use crate::child::{acknowledged, enter, folder, garage, kept, program};
use std::process::{Command, Stdio};
use trueground_store::Store;

#[test]
fn a_disk_without_room_refuses_in_words_and_keeps_what_it_has() {
    let folder = folder();
    let garage = garage(&folder);
    let begun = enter(&garage, "5").output().unwrap();
    assert_eq!(acknowledged(&String::from_utf8(begun.stdout).unwrap()).len(), 5);

    // No file may grow beyond 4,000 blocks of 512 bytes; the signal that would end the program is put aside, so that it sees the
    // refusal as it would see a full disk.
    let limited = "trap '' XFSZ; ulimit -f 4000; exec \"$0\" \"$1\" 1000000";
    let full = Command::new("sh").args(["-c", limited, program()]).arg(&garage).stdin(Stdio::null()).output().unwrap();
    let said = String::from_utf8(full.stdout).unwrap();
    assert_eq!(full.status.code(), Some(1), "{said}");
    let acks = acknowledged(&said);
    let last = said.lines().last().unwrap();
    assert!(last.starts_with("refused disk_"), "{last}");
    assert!(last.contains("What was taken before is kept"), "{last}");
    assert!(acks.len() > 10, "the limit hit too early: {said}");

    let store = Store::open(&garage).unwrap();
    let after = kept(&store);
    for (number, text) in &acks {
        assert_eq!(after.get(number), Some(text));
    }
    let unsaid = after.len() - 5 - acks.len();
    assert!(unsaid <= 1, "{unsaid} readings more than were said to be taken");
    drop(store);
    let later = enter(&garage, "5").output().unwrap();
    assert_eq!(acknowledged(&String::from_utf8(later.stdout).unwrap()).len(), 5, "with room again it goes on");
}
