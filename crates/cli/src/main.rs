//! `barewafer`: the instructor's command.
fn main() {}
