//! Numbers of the stance: pure functions from what was observed to what is known.
