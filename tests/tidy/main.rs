//! The invariants of the house, each a test: what DEVELOPERS.md and docs/architecture.md promise is looked at here.

mod dependencies;
mod guide;
mod interface;
mod layers;
mod rust_files;
mod tree;
mod whole_tree;
