//! The words that the schema of the files lists are those that the reader takes.

use super::*;
use crate::design::keys::{self, schema};
use serde_yaml::Value;

/// No word is near it.
const NO_WORD: &str = "qqqqqqqqqqqqqqqqqqqq";

/// Words that stand for a length, or papers, which the reader tells in its own way.
const OTHERWISE: [&str; 8] = [
    "cutting.notches",
    "paper",
    "cloth.CLOTH.selvedge",
    "cloth.CLOTH.spacing",
    "seams.SEAM.easing",
    "pieces.PIECE.allowance",
    "pieces.PIECE.allowance.all",
    "shoe.drawn with.button",
];

/// Puts `NO_WORD` at `path`; what the path lacks is made.
fn put(value: &mut Value, path: &[&str]) {
    let Some((key, rest)) = path.split_first() else {
        *value = NO_WORD.into();
        return;
    };
    if let Value::Sequence(items) = value {
        if items.is_empty() {
            items.push(Value::Null);
        }
        return put(&mut items[0], path);
    }
    if !value.is_mapping() {
        *value = Value::Mapping(serde_yaml::Mapping::new());
    }
    let map = value.as_mapping_mut().unwrap();
    let given = key.chars().all(char::is_uppercase);
    let first = map.keys().next().filter(|_| given).cloned();
    let key = first.unwrap_or_else(|| key.to_lowercase().into());
    put(map.entry(key).or_insert(Value::Null), rest);
}

/// What is said of a design, a foot or a chapter with `NO_WORD` at `path`.
fn remedy(path: &str) -> String {
    let parts: Vec<&str> = path.split('.').collect();
    let (file, parts) = match parts.as_slice() {
        ["foot", below @ ..] => ("feet/small.yaml", below),
        ["booklet", below @ ..] => ("booklet/10-make.md", below),
        all => ("design.yaml", all),
    };
    let mut all = files(WHOLE);
    let (_, text) = all.iter_mut().find(|(name, _)| name == file).unwrap();
    let (head, body) = match text.strip_prefix("---\n") {
        Some(chapter) => chapter.split_once("---\n").unwrap(),
        None => (text.as_str(), ""),
    };
    let mut value: Value = serde_yaml::from_str(head).unwrap();
    put(&mut value, parts);
    let head = serde_yaml::to_string(&value).unwrap();
    *text = match body {
        "" => head,
        body => format!("---\n{head}---\n{body}"),
    };
    let folder = DesignFolder::from_memory("shoe", all);
    let mut diagnostics = Diagnostics::default();
    read(&folder, &mut diagnostics);
    let told = diagnostics.iter().find(|d| d.message.contains(NO_WORD));
    told.map_or(String::new(), |told| told.remedy.clone())
}

#[test]
fn they_are_the_same() {
    let mut asked = 0;
    for entry in keys::all() {
        let Some(words) = schema::words(entry.path) else {
            continue;
        };
        if OTHERWISE.contains(&entry.path) {
            continue;
        }
        let known: Vec<String> = words.iter().map(|word| format!("‘{word}’")).collect();
        let wanted = format!("known are {}", known.join(", ")).to_lowercase();
        assert_eq!(
            remedy(entry.path).to_lowercase().trim_end_matches('.'),
            wanted,
            "{}",
            entry.path
        );
        asked += 1;
    }
    assert!(asked > 20, "{asked}");
}
