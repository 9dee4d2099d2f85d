//! Placeholder of the test binary.
fn main() {}
