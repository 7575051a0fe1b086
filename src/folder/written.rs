//! `written.json`: which files pressfoot has written to an output folder, so that a later build may
//! take away those it no longer makes, and never one that somebody else put there.

use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use walkdir::WalkDir;

/// Name of the list in its folder.
pub(super) const LIST: &str = "written.json";
/// How the names of unfinished files begin; a build that is killed leaves them.
pub(super) const UNFINISHED: &str = ".pressfoot-";
/// A list is never longer, bytes.
const LONGEST: u64 = 4 << 20;

/// The names in the list of `directory`; none if there is no list that can be read.
pub(super) fn read(directory: &Path) -> BTreeSet<String> {
    let path = directory.join(LIST);
    let short = fs::metadata(&path).is_ok_and(|about| about.is_file() && about.len() <= LONGEST);
    let text = short.then(|| fs::read_to_string(&path).ok()).flatten();
    let list = text.and_then(|text| serde_json::from_str::<Value>(&text).ok());
    let files = list.as_ref().and_then(|list| list["files"].as_array());
    let names = files.into_iter().flatten().filter_map(Value::as_str);
    names
        .filter(|name| super::inside(name).is_ok_and(|clean| clean == *name && !clean.is_empty()))
        .map(String::from)
        .collect()
}

/// The list as it is written.
pub(super) fn list(names: &BTreeSet<String>) -> Vec<u8> {
    let list = json!({"schema": 1, "files": names});
    let mut text = serde_json::to_string_pretty(&list).unwrap_or_default();
    text.push('\n');
    text.into_bytes()
}

/// Removes what killed builds have left below `directory`.
pub(super) fn sweep(directory: &Path) {
    let walk = WalkDir::new(directory).max_depth(6).follow_links(false);
    for entry in walk.into_iter().filter_map(Result::ok) {
        let unfinished = entry.file_name().to_string_lossy().starts_with(UNFINISHED);
        if unfinished && entry.file_type().is_file() {
            // one that cannot be removed does no harm
            let _ = fs::remove_file(entry.path());
        }
    }
}
