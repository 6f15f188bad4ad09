//! Developer tasks.
fn main() {}
