//! A program that does nothing: what starting any program costs.

fn main() {}
