//! The `fairseam` command.

fn main() {}
