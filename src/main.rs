//! The command `pressfoot`: arguments in, exit code out.

use clap::Parser;
use pressfoot::cli;
use std::process::ExitCode;

fn main() -> ExitCode {
    cli::offer();
    match cli::Arguments::try_parse() {
        Ok(arguments) => cli::run(&arguments),
        Err(error) => {
            // Help and version are asked for and go to standard output with code 0.
            let printed = error.print();
            ExitCode::from(if error.use_stderr() || printed.is_err() {
                cli::COMMAND_AT_FAULT
            } else {
                0
            })
        }
    }
}
