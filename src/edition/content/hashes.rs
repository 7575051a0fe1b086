//! Hashes of what has no words of its own: pictures, typefaces, templates, and the keys of the design's
//! files.

use super::Made;
use crate::booklet::template;
use crate::design::weight::{self, Limit};
use crate::edition::record::{HOUSE, HOUSE_WORDS, hash};
use crate::folder::DESIGN_FILE;
use crate::language::Words;
use std::collections::{BTreeMap, BTreeSet};

type Hashes = BTreeMap<String, BTreeMap<String, String>>;

/// Hashes of what has no words of its own. Comments and the order of keys are no content, nor is the
/// edition's number, nor what lies about in the folder unused.
pub(super) fn hashes(made: &Made<'_>) -> Hashes {
    let mut all = Hashes::new();
    let mut add = |group: &str, key: &str, hash: String| {
        all.entry(group.to_string())
            .or_default()
            .insert(key.to_string(), hash);
    };
    for path in made.folder.paths() {
        let apart = ["editions/", "template/", "_shared/"]
            .iter()
            .any(|p| path.starts_with(p));
        let Some(source) = made
            .folder
            .text(path)
            .filter(|_| path.ends_with(".yaml") && !apart)
        else {
            continue;
        };
        match weight::read(&source.text, Limit::WRITTEN) {
            Err(_) => add("files", path, hash(source.text.as_bytes())),
            Ok(serde_yaml::Value::Mapping(keys)) if path == DESIGN_FILE => {
                for (key, value) in &keys {
                    let key = key.as_str().unwrap_or("?");
                    // notices of faults stand on the sheet for buyers alone, former names nowhere
                    if !matches!(key, "edition" | "faults" | "formerly") {
                        add("design", key, of_tree(value));
                    }
                }
            }
            Ok(tree) => add("files", path, of_tree(&tree)),
        }
    }
    for (_, prose) in made.texts {
        for (path, bytes) in &prose.pictures {
            add("pictures", path, hash(bytes));
        }
        for (path, bytes) in prose.look.faces.files() {
            add("look", path, hash(bytes));
        }
    }
    for path in made
        .folder
        .paths()
        .filter(|path| path.starts_with("template/"))
    {
        if let Some(source) = made.folder.text(path) {
            add("look", path, hash(source.text.as_bytes()));
        }
    }
    add("look", HOUSE, hash(house().as_bytes()));
    for (design, _) in made.texts {
        add(
            "look",
            &format!("{HOUSE_WORDS}{}", design.language),
            of_words(&design.words),
        );
    }
    all
}

fn of_tree(tree: &serde_yaml::Value) -> String {
    hash(serde_yaml::to_string(tree).unwrap_or_default().as_bytes())
}

/// The templates that come with the program, and its version.
fn house() -> String {
    let mut text = env!("CARGO_PKG_VERSION").to_string();
    for (name, content) in template::FILES {
        text.push_str(name);
        text.push_str(content);
    }
    text
}

fn of_words(words: &Words) -> String {
    let groups: BTreeSet<&str> = Words::keys()
        .filter_map(|key| Some(key.split_once('.')?.0))
        .collect();
    let all: Vec<String> = groups
        .iter()
        .map(|group| words.group(group).to_string())
        .collect();
    hash(all.join("\n").as_bytes())
}
