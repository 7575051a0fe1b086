//! The command `pressfoot`: arguments in, exit code out.

use clap::Parser;
use pressfoot::cli;
use std::process::ExitCode;

/// Typesetting and drawing take and give back a great many small pieces of memory: the system's own way of
/// it takes a tenth to a seventh longer, and keeps a little more.
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

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
