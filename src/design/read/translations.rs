//! `design.TAG.yaml` and `booklet.TAG`: the texts and chapters of a design in its further languages. What
//! is missing there is said at the place where the design's own language has it.

use super::fields::Fields;
use super::head::{lengths, typographic, usual_lengths};
use super::letters;
use super::node::{Kind, Node};
use super::{Reading, chapters, look_up, names, words, yaml};
use crate::design::translated::each_text;
use crate::design::translation::{LISTS, SEAM_NAMES, Translation};
use crate::design::{Chapter, Design, LengthStyle};
use crate::diagnostic::{Diagnostic, Place, SourceText};
use crate::language::Words;
use crate::language::table::Entry;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Keys of a translation besides the texts of the design.
const BESIDES: [&str; 4] = ["lengths", "edges", "seams", GLOSSARY];

/// The group of words that are explained; each language has its own.
const GLOSSARY: &str = "glossary";

/// The design in all languages after the first. `own` is the tree of `design.yaml`.
pub(super) fn read(
    own: &Node,
    design: &Design,
    languages: &[(String, Place)],
    reading: &mut Reading<'_>,
) -> Vec<Translation> {
    tell_of_unlisted(languages, reading);
    let mut texts: Vec<String> = Vec::new();
    each_text(&mut design.clone(), &mut |path, _| {
        texts.push(path.to_string())
    });
    let mut written = BTreeMap::new();
    gather(own, "", &mut written);
    let job = Job {
        design,
        texts,
        written,
    };
    job.tell_of_tags(reading);
    let further = languages.iter().skip(1);
    further
        .map(|(tag, place)| job.translation(tag, place, reading))
        .collect()
}

/// Files of a language that the design does not name: they would lie there unread.
fn tell_of_unlisted(languages: &[(String, Place)], reading: &mut Reading<'_>) {
    let known: Vec<&str> = languages
        .iter()
        .skip(1)
        .map(|(tag, _)| tag.as_str())
        .collect();
    let Some((_, place)) = languages.first() else {
        return;
    };
    let mut told = BTreeSet::new();
    for path in reading.folder.paths() {
        let file = path
            .strip_prefix("design.")
            .and_then(|rest| rest.strip_suffix(".yaml"));
        let chapter = path
            .strip_prefix("booklet.")
            .and_then(|rest| rest.split_once('/'));
        let Some(tag) = file.or(chapter.map(|(tag, _)| tag)) else {
            continue;
        };
        if known.contains(&tag) || !told.insert(tag) {
            continue;
        }
        let message =
            format!("‘{path}’ is not used: ‘languages:’ does not name ‘{tag}’ as a further one");
        let remedy = format!("add ‘{tag}’ after the first language, or put the file elsewhere");
        let said = Diagnostic::warning("language-not-listed", Some(place), message);
        reading.diagnostics.push(said.remedy(remedy));
    }
}

/// All scalars of a tree by their paths.
fn gather<'n>(node: &'n Node, path: &str, found: &mut BTreeMap<String, &'n Node>) {
    let below = |key: &str| match path {
        "" => key.to_string(),
        path => format!("{path}.{key}"),
    };
    match &node.kind {
        Kind::Scalar(_) => {
            found.insert(path.to_string(), node);
        }
        Kind::List(items) => {
            for (index, item) in items.iter().enumerate() {
                gather(item, &below(&index.to_string()), found);
            }
        }
        Kind::Mapping(entries) => {
            for entry in entries {
                let is_list = matches!(entry.value.kind, Kind::List(_));
                let alone = !is_list && LISTS.contains(&entry.key.as_str());
                let at = if alone { ".0" } else { "" };
                gather(&entry.value, &format!("{}{at}", below(&entry.key)), found);
            }
        }
    }
}

/// What is translated.
struct Job<'a> {
    design: &'a Design,
    /// Paths of all texts.
    texts: Vec<String>,
    /// What the design's own file says, by path.
    written: BTreeMap<String, &'a Node>,
}

/// What the file of a language says.
struct Told {
    words: Words,
    lengths: LengthStyle,
    texts: BTreeMap<String, String>,
    glossary: Vec<(String, String)>,
}

impl Told {
    fn nothing(words: Words) -> Self {
        Self {
            lengths: usual_lengths(&words),
            words,
            texts: BTreeMap::new(),
            glossary: Vec::new(),
        }
    }
}

impl Job<'_> {
    /// Says of each tag for a value in words that are printed as they stand.
    fn tell_of_tags(&self, reading: &mut Reading<'_>) {
        let filled =
            |path: &str| path == "about" || path.starts_with("sizes.") && path.ends_with(".words");
        for path in self.texts.iter().filter(|path| !filled(path)) {
            let Some(node) = self.written.get(path.as_str()) else {
                continue;
            };
            let text = node.scalar().map_or("", |scalar| scalar.text.as_str());
            if !text.contains("{{") && !text.contains("{%") {
                continue;
            }
            let message = format!("‘{path}’ asks for a value, and would be printed as it stands");
            let remedy = "values are filled in where chapters, ‘about’ and the ‘words’ of sizes \
                          ask for them; write this text without";
            reading.error("value-in-words", &node.place, message, remedy.to_string());
        }
    }

    fn translation(&self, tag: &str, place: &Place, reading: &mut Reading<'_>) -> Translation {
        let words = words::read(tag, place, reading);
        let source = reading.folder.text(&format!("design.{tag}.yaml"));
        let told = match &source {
            Some(source) => self.told(source, words, reading),
            None => Told::nothing(words),
        };
        match &source {
            Some(source) => self.tell_of_missing(tag, &told, source, reading),
            None => {
                let message =
                    format!("the texts of the design are missing in ‘{tag}’; its own are used");
                let remedy =
                    format!("write them into design.{tag}.yaml, under the keys of design.yaml");
                let said = Diagnostic::warning("missing-translation", Some(place), message);
                reading.diagnostics.push(said.remedy(remedy));
            }
        }
        Translation {
            language: tag.to_string(),
            words: told.words,
            lengths: told.lengths,
            texts: told.texts,
            glossary: told.glossary,
            chapters: self.chapters(tag, reading),
            source,
        }
    }

    fn told(&self, source: &Arc<SourceText>, words: Words, reading: &mut Reading<'_>) -> Told {
        let nothing = Told::nothing(words);
        let Some(tree) = yaml::tree(source, &source.text, 0, reading.diagnostics) else {
            return nothing;
        };
        check_keys(&tree, reading);
        let Some(mut fields) = Fields::of(&tree, "", "a translation", reading) else {
            return nothing;
        };
        let lengths = lengths(&mut fields, &nothing.words, reading);
        let edges = fields.take("edges", reading);
        let edges = edges
            .map(|node| names_told(node, ("edges", "an edge"), reading))
            .unwrap_or_default();
        let seams = fields.take("seams", reading);
        let seams = seams
            .map(|node| self.seams_told(node, reading))
            .unwrap_or_default();
        let glossary = fields.take(GLOSSARY, reading);
        let words = nothing.words.and(edges).and(seams);
        let glossary = glossary
            .map(|node| look_up::glossary(node, &words, reading))
            .unwrap_or_default();
        let mut found = BTreeMap::new();
        gather(&tree, "", &mut found);
        let mut texts = BTreeMap::new();
        for (path, node) in found {
            let first = path.split('.').next().unwrap_or_default();
            if BESIDES.contains(&first) {
                continue;
            }
            if !self.texts.contains(&path) {
                self.refuse(&path, node, reading);
            } else if let Some(text) =
                reading.short_text(node, &format!("‘{path}’"), letters::most(&path))
            {
                texts.insert(path, typographic(&text, &words));
            }
        }
        Told {
            words,
            lengths,
            texts,
            glossary,
        }
    }

    /// What the text calls the seams, by the names they have in `design.yaml`.
    fn seams_told(&self, node: &Node, reading: &mut Reading<'_>) -> BTreeMap<String, Entry> {
        let told = names_told(node, (SEAM_NAMES, "a seam"), reading);
        let known: Vec<&str> = self.design.seams.iter().map(|s| s.name.as_str()).collect();
        let named = |key: &String| known.iter().any(|name| key.ends_with(&format!(".{name}")));
        if let Some(stranger) = told.keys().find(|key| !named(key)) {
            let name = stranger.split_once('.').map_or("", |(_, name)| name);
            let message = format!("‘{name}’ is no seam of the design");
            let remedy = format!("its seams are {}", known.join(", "));
            reading.error("unknown-key", &node.place, message, remedy);
        }
        told
    }

    /// Something besides the texts of the design.
    fn refuse(&self, path: &str, node: &Node, reading: &mut Reading<'_>) {
        if path.is_empty() {
            return;
        }
        let message = match self.written.contains_key(path) {
            true => format!("‘{path}’ is no text: a translation gives words only"),
            false => format!("the design has no text ‘{path}’"),
        };
        let known: Vec<&str> = self.texts.iter().map(String::as_str).collect();
        let remedy = match names::nearest(path, known) {
            Some(near) => format!("did you mean ‘{near}’? Values stand in design.yaml alone"),
            None => "take it away: values stand in design.yaml alone".to_string(),
        };
        reading.error("not-a-text", &node.place, message, remedy);
    }

    /// Says of each text that the design's own file has and the other has not.
    fn tell_of_missing(
        &self,
        tag: &str,
        told: &Told,
        source: &Arc<SourceText>,
        reading: &mut Reading<'_>,
    ) {
        // a name may well be the same in every language
        let names = ["series", "contact", "by"];
        let unexplained = told.glossary.is_empty() && !self.design.look_up.glossary.is_empty();
        let groups = unexplained.then_some(GLOSSARY);
        for path in self.texts.iter().map(String::as_str).chain(groups) {
            if told.texts.contains_key(path) || names.contains(&path) {
                continue;
            }
            let Some(place) = self.place(path) else {
                continue;
            };
            let message = format!(
                "‘{path}’ is missing in {}; the design's own words are used",
                source.path
            );
            let remedy = format!("give it in {} in the language ‘{tag}’", source.path);
            let said = Diagnostic::warning("missing-translation", Some(&place), message);
            reading.diagnostics.push(said.remedy(remedy));
        }
    }

    /// Where a text stands in the design's own file; where the thing stands whose name is its key. `None`
    /// for what is said by the program.
    fn place(&self, path: &str) -> Option<Place> {
        if let Some(node) = self.written.get(path) {
            return Some(node.place.clone());
        }
        let group = match path.rsplit_once('.') {
            None if path == GLOSSARY => path,
            Some((above, "title" | "name")) if above.contains('.') => above,
            _ => return None,
        };
        let below = format!("{group}.");
        let (first, node) = self.written.range(below.clone()..).next()?;
        first.starts_with(&below).then(|| node.place.clone())
    }

    /// The chapters in the language; in the place of a missing one that of the design's own language.
    fn chapters(&self, tag: &str, reading: &mut Reading<'_>) -> Vec<Chapter> {
        let paths = reading.folder.booklet_in(tag);
        let mut translated = chapters::read(paths, reading);
        let name = |chapter: &Chapter| {
            let path = &chapter.source.path;
            path.rsplit('/').next().unwrap_or(path).to_string()
        };
        for chapter in &self.design.chapters {
            if translated.iter().any(|other| name(other) == name(chapter)) {
                continue;
            }
            let file = format!("booklet.{tag}/{}", name(chapter));
            let message =
                format!("there is no {file}; the chapter is printed in the design's own language");
            let place = Place {
                source: chapter.source.clone(),
                line: 1,
                column: 1,
            };
            let said = Diagnostic::warning("missing-translation", Some(&place), message);
            reading
                .diagnostics
                .push(said.remedy(format!("write the chapter into {file}")));
            translated.push(chapter.clone());
        }
        translated.sort_by_key(name);
        translated
    }
}

/// Reports keys that stand twice, in every group.
fn check_keys(node: &Node, reading: &mut Reading<'_>) {
    match &node.kind {
        Kind::Scalar(_) => {}
        Kind::List(items) => items.iter().for_each(|item| check_keys(item, reading)),
        Kind::Mapping(entries) => {
            reading.duplicates(entries);
            entries
                .iter()
                .for_each(|entry| check_keys(&entry.value, reading));
        }
    }
}

/// What edges are called on labels, or seams in the text, by the names they have in `design.yaml`.
fn names_told(
    node: &Node,
    (group, what): (&str, &'static str),
    reading: &mut Reading<'_>,
) -> BTreeMap<String, Entry> {
    let mut told = BTreeMap::new();
    for entry in reading.named(node, what) {
        let what = format!("‘{}’", entry.key);
        if let Some(text) = reading.short_text(&entry.value, &what, letters::LINE) {
            told.insert(format!("{group}.{}", entry.key), Entry::Text(text));
        }
    }
    told
}
