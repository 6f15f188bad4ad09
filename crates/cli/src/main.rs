//! The `whorl` command.
fn main() {}
