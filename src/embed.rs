//! Build script: lists the files under `rules/` so that the books travel inside the program.
fn main() {}
