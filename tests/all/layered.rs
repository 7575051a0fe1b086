//! The source keeps the order of DEVELOPERS.md: each folder imports only what stands before it, and no file
//! grows too long.

use crate::support::project;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// The stages, in the order of the data.
const STAGES: [&str; 12] = [
    "folder",
    "design",
    "foot",
    "draft",
    "piece",
    "materials",
    "plates",
    "figure",
    "booklet",
    "proof",
    "review",
    "edition",
];

/// What serves all stages and knows none of them.
const BELOW: [&str; 3] = ["geometry", "language", "diagnostic"];

/// Lines of a file, at most.
const LINES: usize = 400;

/// What a folder of `src` may import.
fn allowed(folder: &str) -> Vec<&'static str> {
    let stages = |count: usize, more: &[&'static str]| {
        let earlier = STAGES.iter().take(count).chain(&BELOW);
        earlier.chain(more).copied().collect()
    };
    match folder {
        "language" | "diagnostic" => Vec::new(),
        // what guards a library that may panic
        "geometry" => vec!["diagnostic"],
        "packing" => vec!["geometry"],
        // a proof shares no code with what it proofs
        "proof" => vec!["language", "diagnostic"],
        "materials" => stages(5, &["packing"]),
        "trace" => stages(0, &["design"]),
        "export" => stages(STAGES.len(), &[]),
        "pipeline" => stages(STAGES.len(), &["export"]),
        "desk" => stages(STAGES.len(), &["export", "pipeline"]),
        "cli" => stages(STAGES.len(), &["export", "pipeline", "desk", "trace"]),
        stage => {
            let at = STAGES.iter().position(|other| *other == stage);
            stages(
                at.unwrap_or_else(|| panic!("src/{stage} is no known folder")),
                &[],
            )
        }
    }
}

/// Every file below a folder, in order.
fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder of the project") {
        let path = entry.expect("an entry").path();
        match path.is_dir() {
            true => found.extend(files(&path)),
            false => found.push(path),
        }
    }
    found.sort();
    found
}

/// Whether a file of `src` is only there for tests, which may look at everything.
fn is_test(path: &Path) -> bool {
    let parts = path.iter().filter_map(|part| part.to_str());
    parts
        .map(|part| part.trim_end_matches(".rs"))
        .any(|part| part == "tests" || part.ends_with("_tests") || part.starts_with("fixture"))
}

/// Folders of `src` that the text of a file names behind `crate::`, its tests apart.
fn imports(text: &str) -> BTreeSet<&str> {
    let end = text.find("#[cfg(test)]\nmod tests {");
    let lines = text[..end.unwrap_or(text.len())].lines();
    let lines = lines.filter(|line| !line.trim_start().starts_with("//"));
    let behind = lines.flat_map(|line| line.split("crate::").skip(1));
    let is_end = |c: char| !(c.is_alphanumeric() || c == '_');
    behind
        .filter_map(|rest| rest.split(is_end).next())
        .collect()
}

#[test]
fn each_folder_imports_only_what_stands_before_it() {
    let src = project().join("src");
    let mut wrong = Vec::new();
    let mut folders = BTreeSet::new();
    for path in files(&src) {
        let below = path.strip_prefix(&src).expect("a file of src");
        let Some(folder) = below.parent().and_then(|parent| parent.iter().next()) else {
            continue;
        };
        let folder = folder.to_str().expect("a name in letters");
        folders.insert(folder.to_string());
        if is_test(below) || below.extension().is_none_or(|ending| ending != "rs") {
            continue;
        }
        let text = fs::read_to_string(&path).expect("a file of text");
        let allowed = allowed(folder);
        let is_known = |name: &&str| src.join(name).is_dir();
        for name in imports(&text).into_iter().filter(is_known) {
            if name != folder && !allowed.contains(&name) {
                wrong.push(format!("{} imports {name}", below.display()));
            }
        }
    }
    assert!(folders.len() > STAGES.len());
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn no_file_is_too_long() {
    let mut long = Vec::new();
    for folder in ["src", "templates"] {
        for path in files(&project().join(folder)) {
            // tables of words grow with what is printed
            let is_table = path
                .parent()
                .is_some_and(|parent| parent.ends_with("words"))
                && path.extension().is_some_and(|ending| ending != "rs");
            let text = fs::read(&path).expect("a file of the project");
            let lines = text.split(|byte| *byte == b'\n').count() - 1;
            if lines > LINES && !is_table {
                long.push(format!("{}: {lines} lines", path.display()));
            }
        }
    }
    assert!(long.is_empty(), "{long:#?}");
}
