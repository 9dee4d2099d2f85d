//! The command line: arguments in, exit code out.

use std::process::ExitCode;

fn main() -> ExitCode {
    shophead::cli::run(std::env::args_os())
}
