//! `cargo xtask run | test | check | bench | setup`.

fn main() {}
