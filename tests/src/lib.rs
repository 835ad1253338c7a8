//! Tests of the whole: published cases, simulated cars, journeys, durability and the invariants.
