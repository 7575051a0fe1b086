//! `completions` and `manual`: what a shell and `man` want to know of the command line.

use super::args::Arguments;
use super::{Fault, offered, screen::Screen};
use clap::CommandFactory;
use clap_complete::Shell;

pub(super) fn completions(shell: Shell, screen: &Screen) -> Result<bool, Fault> {
    let script = offered::script(shell).map_err(|why| Fault(why.to_string()))?;
    screen.print(String::from_utf8_lossy(&script).trim());
    Ok(true)
}

/// The manual page of the program, those of its commands behind it.
pub(super) fn manual(screen: &Screen) -> Result<bool, Fault> {
    let mut page = Vec::new();
    let mut command = Arguments::command();
    command.build();
    let fault = |why: std::io::Error| Fault(why.to_string());
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
