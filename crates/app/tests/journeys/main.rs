//! What a person does, asked as a shell asks: the whole first use, mistakes, and a restart between any two steps.

mod first_use;
mod mistakes;
mod phone;
mod samples;
mod walking;
