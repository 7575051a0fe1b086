//! The disk side of a design folder: finding folders, listing files, reading bytes.

use super::{DESIGN_FILE, DesignFolder, File, SHARED, limits};
use crate::diagnostic::{Diagnostic, Diagnostics};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, OnceLock};
use walkdir::{DirEntry, WalkDir};

/// Folders below `root` are looked for this deep; deeper ones are not meant as designs.
const DEPTH: usize = 8;

/// Every folder at or below `root` that holds a `design.yaml`, sorted. Folders whose name starts
/// with `_` or `.` are skipped, links to folders are not followed, and a design folder is not
/// searched for further designs.
pub fn find(root: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut walk = WalkDir::new(root)
        .max_depth(DEPTH)
        .sort_by_file_name()
        .into_iter();
    while let Some(entry) = walk.next() {
        let Ok(entry) = entry else { continue };
        if !entry.file_type().is_dir() {
            continue;
        }
        if entry.depth() > 0 && is_skipped(&entry) {
            walk.skip_current_dir();
        } else if entry.path().join(DESIGN_FILE).is_file() {
            found.push(entry.path().to_path_buf());
            walk.skip_current_dir();
        }
    }
    found.sort();
    found
}

fn is_skipped(entry: &DirEntry) -> bool {
    let name = entry.file_name().to_string_lossy();
    name.starts_with('_') || name.starts_with('.')
}

fn is_hidden(entry: &DirEntry) -> bool {
    entry.depth() > 0 && entry.file_name().to_string_lossy().starts_with('.')
}

/// The folder at `path` with its list of files, none of them read yet.
pub(super) fn listed(path: &Path) -> Result<DesignFolder, Diagnostics> {
    let mut diagnostics = Diagnostics::default();
    let shown = path.display();
    let folder = match fs::canonicalize(path) {
        Ok(folder) if folder.is_dir() => folder,
        Ok(_) => {
            return Err(refused(
                format!("‘{shown}’ is no folder"),
                "name the folder",
            ));
        }
        Err(why) => {
            let message = format!("the folder {shown} cannot be read ({why})");
            return Err(refused(message, "check the spelling of its path"));
        }
    };
    let mut files = BTreeMap::new();
    add_files(
        &folder,
        "",
        &shown.to_string(),
        (&mut files, &mut diagnostics),
    )?;
    let shared = folder.parent().map(|parent| parent.join(SHARED));
    if let Some(shared) = shared.filter(|shared| shared.is_dir() && !folder.ends_with(SHARED)) {
        let below = format!("{SHARED}/");
        let shown = shared.display().to_string();
        add_files(&shared, &below, &shown, (&mut files, &mut diagnostics))?;
    }
    check(&files, &path.display().to_string(), &mut diagnostics);
    if diagnostics.has_errors() {
        return Err(diagnostics);
    }
    let name = folder.file_name().unwrap_or_default();
    Ok(DesignFolder {
        key: name.to_string_lossy().into_owned(),
        root: path.to_path_buf(),
        files,
        asked: Mutex::default(),
    })
}

/// Adds the files of `folder`, their paths after `below`. What is there already stays.
///
/// # Errors
/// More files than a folder may hold.
fn add_files(
    folder: &Path,
    below: &str,
    shown: &str,
    (files, diagnostics): (&mut BTreeMap<String, File>, &mut Diagnostics),
) -> Result<(), Diagnostics> {
    let entries = WalkDir::new(folder).sort_by_file_name().into_iter();
    let too_large = |what: String| {
        let message = format!("‘{shown}’ holds more than {what}");
        refused_as(
            "too-large",
            message,
            "keep only the design's own files in it",
        )
    };
    for (number, entry) in entries.filter_entry(|entry| !is_hidden(entry)).enumerate() {
        if number > limits::ENTRIES {
            let what = format!("{} files, folders and links", limits::ENTRIES);
            return Err(too_large(what));
        }
        let Ok(entry) = entry else { continue };
        if entry.file_type().is_dir() {
            continue;
        }
        if files.len() >= limits::FILES {
            return Err(too_large(format!("{} files", limits::FILES)));
        }
        match file(&entry, folder, below) {
            Ok(Some((path, file))) => {
                files.entry(format!("{below}{path}")).or_insert(file);
            }
            Ok(None) => {}
            Err(diagnostic) => diagnostics.push(diagnostic),
        }
    }
    Ok(())
}

fn check(files: &BTreeMap<String, File>, shown: &str, diagnostics: &mut Diagnostics) {
    if !files.contains_key(DESIGN_FILE) {
        let message = format!("‘{shown}’ holds no {DESIGN_FILE}");
        let remedy = "a design folder needs one; its name is written in small letters";
        diagnostics.push(Diagnostic::error("file-missing", None, message).remedy(remedy));
    }
    // a file above its own limit is never read, so it does not count
    let read = |(path, file): (&String, &File)| file.size.min(limits::of_file(path));
    let total: u64 = files.iter().map(read).sum();
    if total > limits::TOTAL {
        let message = format!(
            "{shown} holds {} where at most {} is read",
            limits::shown(total),
            limits::shown(limits::TOTAL)
        );
        let remedy =
            "make the pictures smaller, or keep files that the booklet does not use elsewhere";
        diagnostics.push(Diagnostic::error("too-large", None, message).remedy(remedy));
    }
}

/// The file of `entry` with its path below `folder`; `None` for what is no file, or a link to
/// nothing or to a folder.
fn file(
    entry: &DirEntry,
    folder: &Path,
    below_path: &str,
) -> Result<Option<(String, File)>, Diagnostic> {
    let Ok(below) = entry.path().strip_prefix(folder) else {
        return Ok(None);
    };
    let parts: Vec<String> = below
        .components()
        .map(|part| part.as_os_str().to_string_lossy().into_owned())
        .collect();
    let path = parts.join("/");
    let target = if entry.path_is_symlink() {
        match fs::canonicalize(entry.path()) {
            Ok(target) if target.starts_with(folder) => target,
            Ok(_) => {
                let path = format!("{below_path}{path}");
                let path = path.trim_end_matches('/');
                let message = format!("‘{path}’ is a link that leads out of the design folder");
                return Err(Diagnostic::error("outside-folder", None, message)
                    .remedy("copy the file itself into the folder"));
            }
            Err(_) => return Ok(None),
        }
    } else {
        entry.path().to_path_buf()
    };
    let Ok(metadata) = fs::metadata(&target) else {
        return Ok(None);
    };
    let file = File {
        on_disk: Some(target),
        size: metadata.len(),
        bytes: OnceLock::new(),
        text: OnceLock::new(),
    };
    Ok(metadata.is_file().then_some((path, file)))
}

fn refused(message: String, remedy: &str) -> Diagnostics {
    refused_as("unreadable", message, remedy)
}

fn refused_as(code: &'static str, message: String, remedy: &str) -> Diagnostics {
    let mut diagnostics = Diagnostics::default();
    diagnostics.push(Diagnostic::error(code, None, message).remedy(remedy));
    diagnostics
}
