//! What happened in a snapshot, one thing after the other: readings taken, and what became of them.

use super::Reading;

/// One thing that happened. Numbers are places in the list of readings, and in that reading's list of marks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Event {
    /// This reading was taken, or came with a file.
    Taken(usize),
    /// This reading was taken back, put back or struck.
    Marked(usize, usize),
}

/// Everything that happened, in the order it happened. The order comes from row numbers, never from the clock.
pub fn events(readings: &[Reading]) -> Vec<Event> {
    let taken = readings.iter().enumerate().map(|(at, reading)| ((reading.row, 0), Event::Taken(at)));
    let marked = readings.iter().enumerate().flat_map(|(at, reading)| {
        let marks = reading.marks.iter().enumerate();
        // A mark comes after the reading that was the newest when it was made, and after the marks before it.
        marks.map(move |(number, mark)| ((mark.after_reading, mark.row), Event::Marked(at, number)))
    });
    let mut all: Vec<((i64, i64), Event)> = taken.chain(marked).collect();
    all.sort_by_key(|(order, _)| *order);
    all.into_iter().map(|(_, event)| event).collect()
}
