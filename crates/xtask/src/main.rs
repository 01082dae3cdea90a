//! Build, serve, test, bench: the only automation there is.
fn main() {}
