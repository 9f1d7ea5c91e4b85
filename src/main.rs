//! The `undercroft` program: hands the outside world to the library and leaves with its exit status.

fn main() {}
