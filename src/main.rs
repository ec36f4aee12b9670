//! tankday: the working day of a small finishing line, simulated and planned.

use std::process::ExitCode;

fn main() -> ExitCode {
    tankday::cli::run(std::env::args_os()).into()
}
