//! Turns building geometry into framed cavities, and cavities into pounds and bags of blown-in insulation.

use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(cavitally::cli::run(std::env::args_os()))
}
