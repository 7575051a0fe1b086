//! What a shell offers while a command is typed: commands and options, names of designs, papers, forms.

use super::args::Arguments;
use crate::design::{Form, paper_keys};
use crate::folder;
use clap::CommandFactory;
use clap_complete::Shell;
use clap_complete::engine::{
    ArgValueCandidates, ArgValueCompleter, CompletionCandidate, PathCompleter, ValueCompleter,
};
use clap_complete::env::{CompleteEnv, Shells};
use std::env;
use std::ffi::OsStr;
use std::io;
use std::path::{Path, PathBuf};

/// The variable by which a shell asks; its value is the shell's name.
const ASKED: &str = "PRESSFOOT_OFFER";

/// Answers a shell that asks what may come next, and ends; does nothing if none asks.
pub fn offer() {
    CompleteEnv::with_factory(Arguments::command)
        .var(ASKED)
        .complete();
}

/// What a shell must read in order to ask, for this program where it lies.
pub(super) fn script(shell: Shell) -> io::Result<Vec<u8>> {
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

/// Names of designs in the folder that `--from` names, and folders.
pub(super) fn designs() -> ArgValueCompleter {
    ArgValueCompleter::new(named)
}

fn named(word: &OsStr) -> Vec<CompletionCandidate> {
    let typed: Vec<_> = env::args_os().collect();
    let from = typed.iter().position(|word| word == "--from");
    let from = from.and_then(|at| typed.get(at + 1));
    let from = from.map_or(Path::new("designs"), Path::new);
    let begun = word.to_string_lossy();
    let found = folder::find(from);
    let names = found
        .iter()
        .filter_map(|design| design.strip_prefix(from).ok());
    let names = names.filter(|name| name.to_string_lossy().starts_with(&*begun));
    let names: Vec<_> = names.map(CompletionCandidate::new).collect();
    match names.is_empty() {
        true => PathCompleter::dir().complete(word),
        false => names,
    }
}

/// Keys of papers.
pub(super) fn papers() -> ArgValueCandidates {
    ArgValueCandidates::new(|| {
        paper_keys()
            .into_iter()
            .map(CompletionCandidate::new)
            .collect()
    })
}

/// Forms of the instructions.
pub(super) fn forms() -> ArgValueCandidates {
    ArgValueCandidates::new(|| {
        Form::ALL
            .map(Form::file_word)
            .map(CompletionCandidate::new)
            .into()
    })
}
