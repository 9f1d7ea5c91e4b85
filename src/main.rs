//! The `undercroft` program: hands the outside world to the library and leaves with its exit status.

use std::process::ExitCode;

use undercroft::app::host::disk::Disk;
use undercroft::cli::{self, Screen};

fn main() -> ExitCode {
    let status = cli::run(std::env::args_os(), &mut Disk::new(), Screen::of_this_process());
    ExitCode::from(status)
}
