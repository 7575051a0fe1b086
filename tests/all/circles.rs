//! No two modules of one folder import each other, straight or by way of others: a folder can be read from
//! what knows nothing to what knows all.

use crate::support::project;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;

type Module = Vec<String>;

/// The source, module by module, without tests.
struct Source {
    texts: BTreeMap<Module, String>,
    /// What a module gives on from another, by its name there.
    given_on: BTreeMap<(Module, String), Module>,
}

/// The paths of a tree of imports: `a::{b, c::d}` is `a::b` and `a::c::d`.
fn expanded(tree: &str) -> Vec<String> {
    let Some((before, inside)) = tree.split_once('{') else {
        let path = tree.split(" as ").next().unwrap_or(tree);
        return vec![path.trim().to_string()];
    };
    let inside = inside.trim_end().trim_end_matches('}');
    let (mut depth, mut parts) = (0, vec![String::new()]);
    for letter in inside.chars() {
        match letter {
            '{' => depth += 1,
            '}' => depth -= 1,
            ',' if depth == 0 => {
                parts.push(String::new());
                continue;
            }
            _ => {}
        }
        parts.last_mut().expect("one at least").push(letter);
    }
    let parts = parts.iter().filter(|part| !part.trim().is_empty());
    let below = parts.flat_map(|part| expanded(part));
    below
        .map(|path| format!("{}{path}", before.trim()))
        .collect()
}

/// The paths that a text imports, with whether it gives them on; then those it writes out.
fn paths(text: &str) -> Vec<(bool, String)> {
    let mut found = Vec::new();
    let mut rest = String::new();
    let mut lines = text.lines();
    while let Some(line) = lines.next() {
        let bare = line.trim_start();
        let of_tests = bare.starts_with("#[cfg(test)]");
        let import = bare.split_once("use ").filter(|(before, _)| {
            before.is_empty() || (before.starts_with("pub") && !before.contains("fn "))
        });
        match import {
            _ if of_tests => {
                lines.next();
            }
            Some((before, tree)) => {
                let mut tree = tree.to_string();
                while !tree.ends_with(';') {
                    tree.push_str(lines.next().expect("the end of an import").trim());
                }
                let tree = tree.trim_end_matches(';');
                found.extend(
                    expanded(tree)
                        .into_iter()
                        .map(|path| (!before.is_empty(), path)),
                );
            }
            None if bare.starts_with("//") => {}
            None => rest.push_str(&format!("{line}\n")),
        }
    }
    let is_end = |c: char| !(c.is_alphanumeric() || c == '_' || c == ':');
    let words = rest.split(is_end);
    let written = words.filter(|word| word.starts_with("super::") || word.starts_with("crate::"));
    found.extend(written.map(|word| (false, word.trim_end_matches(':').to_string())));
    found
}

impl Source {
    fn read() -> Self {
        let src = project().join("src");
        let mut source = Self {
            texts: BTreeMap::new(),
            given_on: BTreeMap::new(),
        };
        for entry in walkdir::WalkDir::new(&src) {
            let entry = entry.expect("an entry");
            let path = entry.path().strip_prefix(&src).expect("a file of src");
            let mut module: Module = path
                .with_extension("")
                .iter()
                .map(|part| part.to_string_lossy().into_owned())
                .collect();
            let is_test = |part: &String| part.contains("test") || part.starts_with("fixture");
            if path.extension().is_none_or(|ending| ending != "rs") || module.iter().any(is_test) {
                continue;
            }
            module.retain(|part| part != "mod" && part != "lib");
            let text = fs::read_to_string(entry.path()).expect("a file of text");
            let end = text.find("#[cfg(test)]\nmod tests {").unwrap_or(text.len());
            source.texts.insert(module, text[..end].to_string());
        }
        for (module, text) in &source.texts {
            for (_, path) in paths(text).into_iter().filter(|(given_on, _)| *given_on) {
                if let (Some(target), Some(name)) =
                    (source.absolute(module, &path), path.rsplit("::").next())
                {
                    source
                        .given_on
                        .insert((module.clone(), name.to_string()), target);
                }
            }
        }
        source
    }

    /// A path as it is from the root of the source; `None` if it leads out of it.
    fn absolute(&self, module: &Module, path: &str) -> Option<Module> {
        let mut at = module.clone();
        let mut parts = path.split("::").peekable();
        match *parts.peek()? {
            "crate" => {
                at.clear();
                parts.next();
            }
            "self" => {
                parts.next();
            }
            "super" => {
                while parts.next_if_eq(&"super").is_some() {
                    at.pop();
                }
            }
            first => {
                at.push(first.to_string());
                self.texts.contains_key(&at).then(|| at.pop())?;
            }
        }
        Some(at.into_iter().chain(parts.map(str::to_string)).collect())
    }

    /// The module in which what is at an absolute path stands.
    fn home(&self, path: &[String]) -> Module {
        let mut at = Module::new();
        for (index, part) in path.iter().enumerate() {
            let below: Module = at.iter().chain([part]).cloned().collect();
            if self.texts.contains_key(&below) {
                at = below;
                continue;
            }
            return match self.given_on.get(&(at.clone(), part.clone())) {
                Some(target) => self.home(&[target, &path[index + 1..]].concat()),
                None => at,
            };
        }
        at
    }

    /// By folder, which of its modules import which others.
    fn imports(&self) -> BTreeMap<Module, BTreeSet<[String; 2]>> {
        let mut all: BTreeMap<Module, BTreeSet<[String; 2]>> = BTreeMap::new();
        for (module, text) in &self.texts {
            for (_, path) in paths(text).into_iter().filter(|(given_on, _)| !given_on) {
                let Some(path) = self.absolute(module, &path) else {
                    continue;
                };
                let home = self.home(&path);
                let shared = module.iter().zip(&home).take_while(|(a, b)| a == b).count();
                if let (Some(from), Some(to)) = (module.get(shared), home.get(shared)) {
                    let folder = all.entry(module[..shared].to_vec()).or_default();
                    folder.insert([from.clone(), to.clone()]);
                }
            }
        }
        all
    }
}

/// What can be reached from a module.
fn reached<'a>(from: &'a str, imports: &'a BTreeSet<[String; 2]>) -> BTreeSet<&'a str> {
    let mut found = BTreeSet::new();
    let mut open = vec![from];
    while let Some(at) = open.pop() {
        let next = imports.iter().filter(|[from, _]| from == at);
        open.extend(
            next.map(|[_, to]| to.as_str())
                .filter(|to| found.insert(*to)),
        );
    }
    found
}

#[test]
fn no_modules_of_a_folder_import_each_other() {
    let imports = Source::read().imports();
    assert!(imports.len() > 20, "{} folders", imports.len());
    let mut circles = Vec::new();
    for (folder, imports) in &imports {
        let modules: BTreeSet<&str> = imports.iter().map(|[from, _]| from.as_str()).collect();
        let round: Vec<&str> = modules
            .into_iter()
            .filter(|module| reached(module, imports).contains(module))
            .collect();
        if !round.is_empty() {
            circles.push((folder.join("/"), round.join(" ")));
        }
    }
    assert!(circles.is_empty(), "{circles:#?}");
}
