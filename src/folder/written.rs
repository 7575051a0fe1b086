//! `written.json`: which files pressfoot has written to an output folder, so that a later build may
//! take away those it no longer makes, and never one that somebody else put there.

use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::ffi::OsStr;
use std::fs;
use std::path::Path;
use walkdir::{DirEntry, WalkDir};

/// Name of the list in its folder.
pub(super) const LIST: &str = "written.json";
/// How the names of unfinished files begin, before six letters and figures; a build that is killed leaves them.
pub(super) const UNFINISHED: &str = ".pressfoot-";
/// Results never lie deeper below their folder.
pub(super) const DEEPEST: usize = 6;
/// How the folder's name begins, in the folder of a design's results, that holds those of some sizes only.
pub const PART: &str = "only-";
/// A list is never longer, bytes.
const LONGEST: u64 = 4 << 20;

/// The names in the list of `directory`; none if there is no list that can be read.
pub(super) fn read(directory: &Path) -> BTreeSet<String> {
    let list = value(directory);
    let files = list.as_ref().and_then(|list| list["files"].as_array());
    let names = files.into_iter().flatten().filter_map(Value::as_str);
    names
        .filter(|name| super::inside(name).is_ok_and(|clean| clean == *name && !clean.is_empty()))
        .map(String::from)
        .collect()
}

/// Whether the list says that files are being put in their places, or that a build was killed while it did.
pub(super) fn is_unfinished(directory: &Path) -> bool {
    value(directory).is_some_and(|list| list["unfinished"] == true)
}

fn value(directory: &Path) -> Option<Value> {
    let path = directory.join(LIST);
    let text = super::read_at_most(&path, LONGEST).ok()?;
    serde_json::from_slice(&text).ok()
}

/// The list as it is written. While files are put in their places, some are old and some new: then it says
/// `unfinished`.
pub(super) fn list(names: &BTreeSet<String>, unfinished: bool) -> Vec<u8> {
    let list = match unfinished {
        true => json!({"schema": 1, "unfinished": true, "files": names}),
        false => json!({"schema": 1, "files": names}),
    };
    let mut text = serde_json::to_string_pretty(&list).unwrap_or_default();
    text.push('\n');
    text.into_bytes()
}

/// Removes what killed builds have left in `directory` and in folders below it, so many deep in all, and
/// the folders that are empty then. A build of some sizes only is held in its own folder, and left alone.
pub(super) fn sweep(directory: &Path, depth: usize) {
    let walk = WalkDir::new(directory).min_depth(1).max_depth(depth);
    let is_part = |entry: &DirEntry| entry.file_name().to_string_lossy().starts_with(PART);
    let is_own = |entry: &DirEntry| entry.depth() != 1 || !is_part(entry);
    let walk = walk.follow_links(false).into_iter().filter_entry(is_own);
    for entry in walk.filter_map(Result::ok) {
        let file = entry.file_type().is_file();
        // one that cannot be removed does no harm
        if file && is_unfinished_name(entry.file_name()) && fs::remove_file(entry.path()).is_ok() {
            remove_empty(entry.path().parent(), directory);
        }
    }
}

/// Removes folders that killed runs have left in `directory`, whose names begin with `prefix`.
pub(super) fn sweep_folders(directory: &Path, prefix: &str) {
    for entry in fs::read_dir(directory).into_iter().flatten().flatten() {
        let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
        if is_folder && is_name_after(&entry.file_name(), prefix) {
            let _ = fs::remove_dir_all(entry.path());
        }
    }
}

/// Removes `folder` and those above it, up to `directory`, as long as they are empty.
pub(super) fn remove_empty(mut folder: Option<&Path>, directory: &Path) {
    while let Some(empty) = folder
        && empty != directory
        && fs::remove_dir(empty).is_ok()
    {
        folder = empty.parent();
    }
}

fn is_unfinished_name(name: &OsStr) -> bool {
    is_name_after(name, UNFINISHED)
}

/// Whether a name is this prefix and the six letters and figures that `tempfile` sets after it: nothing else
/// is ever taken away.
fn is_name_after(name: &OsStr, prefix: &str) -> bool {
    let rest = name.to_str().and_then(|name| name.strip_prefix(prefix));
    rest.is_some_and(|rest| rest.len() == 6 && rest.chars().all(|c| c.is_ascii_alphanumeric()))
}
