//! `completions` and `manual`: what a shell and `man` want to know of the command line.

use super::args::Arguments;
use super::{Fault, screen::Screen};
use crate::design::{Form, paper_keys};
use clap::CommandFactory;
use clap_complete::Shell;

/// For bash, behind the script that knows the commands.
const VALUES: &str = include_str!("../../templates/shell/values.bash");

pub(super) fn completions(shell: Shell, screen: &Screen) -> Result<bool, Fault> {
    let mut text = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), "pressfoot", &mut text);
    let mut text = String::from_utf8_lossy(&text).trim_end().to_string();
    if shell == Shell::Bash {
        text.push('\n');
        text.push_str(&values());
    }
    screen.print(text.trim_end());
    Ok(true)
}

/// What bash is told of values: names of designs in the folder at hand, papers and forms.
fn values() -> String {
    let mut papers = paper_keys();
    // the list is parted by spaces
    papers.retain(|key| !key.contains(' '));
    let forms = Form::ALL.map(Form::file_word).join(" ");
    VALUES
        .replace("{papers}", &papers.join(" "))
        .replace("{forms}", &forms)
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
