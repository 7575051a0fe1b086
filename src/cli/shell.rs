//! `completions` and `manual`: what a shell and `man` want to know of the command line.

use super::args::Arguments;
use super::{Fault, screen::Screen};
use clap::CommandFactory;
use clap_complete::Shell;
use clap_complete::env::{CompleteEnv, Shells};
use std::env;
use std::io;
use std::path::PathBuf;

/// The variable by which a shell asks; its value is the shell's name.
const ASKED: &str = "PRESSFOOT_OFFER";

/// Answers a shell that asks what may come next, and ends; does nothing if none asks.
pub fn offer() {
    CompleteEnv::with_factory(Arguments::command)
        .var(ASKED)
        .complete();
}

/// What a shell must read in order to ask, for this program where it lies.
fn script(shell: Shell) -> io::Result<Vec<u8>> {
    let mut script = Vec::new();
    let known = Shells::builtins();
    if let Some(shell) = known.completer(&shell.to_string()) {
        shell.write_registration(ASKED, "pressfoot", "pressfoot", &program(), &mut script)?;
    }
    Ok(script)
}

/// As it was called: by its name, or by where it lies.
fn program() -> String {
    let called = env::args_os().next().map(PathBuf::from).unwrap_or_default();
    let place = match called.components().count() > 1 {
        true => std::path::absolute(&called).unwrap_or(called),
        false => PathBuf::from("pressfoot"),
    };
    place.to_string_lossy().into_owned()
}

pub(super) fn completions(shell: Shell, screen: &Screen) -> Result<bool, Fault> {
    let script = script(shell).map_err(|why| Fault(why.to_string()))?;
    screen.print(String::from_utf8_lossy(&script).trim());
    Ok(true)
}

/// The manual page of the program, those of its commands behind it.
pub(super) fn manual(screen: &Screen) -> Result<bool, Fault> {
    let mut page = Vec::new();
    let mut command = Arguments::command();
    command.build();
    let fault = |why: io::Error| Fault(why.to_string());
    clap_mangen::Man::new(command.clone())
        .render(&mut page)
        .map_err(fault)?;
    for below in command.get_subcommands().filter(|c| c.get_name() != "help") {
        let man = clap_mangen::Man::new(below.clone());
        man.render_synopsis_section(&mut page).map_err(fault)?;
        man.render_description_section(&mut page).map_err(fault)?;
        man.render_options_section(&mut page).map_err(fault)?;
    }
    screen.print(String::from_utf8_lossy(&page).trim_end());
    Ok(true)
}
