//! What a shell offers as the value of an option while a command is typed: names of designs, papers,
//! forms.

use crate::design::{Form, paper_keys};
use crate::folder;
use clap_complete::engine::{
    ArgValueCandidates, ArgValueCompleter, CompletionCandidate, PathCompleter, ValueCompleter,
};
use std::env;
use std::ffi::OsStr;
use std::path::Path;

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
