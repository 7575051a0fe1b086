//! The keys of a figure block and of its parts, each with its place.

use crate::design::node::{Entry, Kind, Node};
use crate::design::{Design, Formula};
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use crate::figure::flat::nearest;
use crate::figure::flat::request::Named;

/// What a block is read against, and where its mistakes go.
pub(super) struct Reader<'a> {
    pub(super) design: &'a Design,
    pub(super) said: &'a mut Diagnostics,
    /// Whether anything was wrong.
    pub(super) failed: bool,
}

impl Reader<'_> {
    pub(super) fn wrong(
        &mut self,
        place: &Place,
        message: impl Into<String>,
        remedy: impl Into<String>,
    ) {
        let said = Diagnostic::error("figure-block", Some(place), message);
        self.said.push(said.remedy(remedy));
        self.failed = true;
    }

    /// Tells a name that the design has not: `what` with its article.
    pub(super) fn unknown(&mut self, what: &str, named: &Named, known: Vec<&str>) {
        let message = format!(
            "A figure asks for {what} ‘{}’, which the design has not",
            named.text
        );
        self.wrong(
            &named.place,
            message,
            nearest(&named.text, known.into_iter()),
        );
    }

    /// Checks that the design has the piece.
    pub(super) fn knows_piece(&mut self, named: &Named) -> bool {
        let keys: Vec<&str> = self.design.pieces.iter().map(|p| p.key.as_str()).collect();
        let known = keys.contains(&named.text.as_str());
        if !known {
            self.unknown("a piece", named, keys);
        }
        known
    }
}

/// Keys with values at one depth of the block.
pub(super) struct Section<'n> {
    entries: &'n [Entry],
    what: &'static str,
    pub(super) place: Place,
}

impl<'n> Section<'n> {
    /// The keys of `node`, which `what` calls in messages. Unknown and repeated keys are told at
    /// their place.
    pub(super) fn of(
        node: &'n Node,
        what: &'static str,
        keys: &[&'static str],
        reader: &mut Reader,
    ) -> Option<Self> {
        let Kind::Mapping(entries) = &node.kind else {
            let message = format!("{what} holds no keys");
            let remedy = format!(
                "Write one ‘key: value’ below the other: {}.",
                keys.join(", ")
            );
            reader.wrong(&node.place, message, remedy);
            return None;
        };
        for (index, entry) in entries.iter().enumerate() {
            if entries[..index].iter().any(|other| other.key == entry.key) {
                let message = format!("The key ‘{}’ stands twice", entry.key);
                reader.wrong(&entry.place, message, "Keep one of them.");
            } else if !keys.contains(&entry.key.as_str()) {
                let message = format!("{what} has no key ‘{}’", entry.key);
                let near = nearest(&entry.key, keys.iter().copied());
                let remedy = format!("{near} It knows {}.", keys.join(", "));
                reader.wrong(&entry.place, message, remedy);
            }
        }
        Some(Self {
            entries,
            what,
            place: node.place.clone(),
        })
    }

    /// The keys of `node` where any may stand.
    pub(super) fn any(node: &'n Node, what: &'static str, reader: &mut Reader) -> Option<Self> {
        let Kind::Mapping(entries) = &node.kind else {
            let message = format!("{what} holds no keys");
            reader.wrong(
                &node.place,
                message,
                "Write one ‘key: value’ below the other.",
            );
            return None;
        };
        let place = node.place.clone();
        Some(Self {
            entries,
            what,
            place,
        })
    }

    /// The value of a key, if it stands there.
    pub(super) fn get(&self, key: &str) -> Option<&'n Node> {
        let found = self.entries.iter().find(|entry| entry.key == key);
        found.map(|entry| &entry.value)
    }

    /// All keys and values.
    pub(super) fn entries(&self) -> &'n [Entry] {
        self.entries
    }

    /// The words at a key.
    pub(super) fn text(&self, key: &str, reader: &mut Reader) -> Option<Named> {
        named(self.get(key)?, key, reader)
    }

    /// The words at a key that must be there.
    pub(super) fn wanted(&self, key: &str, reader: &mut Reader) -> Option<Named> {
        if self.get(key).is_none() {
            let message = format!("{} lacks ‘{key}’", self.what);
            reader.wrong(&self.place, message, format!("Add ‘{key}: …’."));
        }
        self.text(key, reader)
    }

    /// The list of words at a key; one alone counts as a list.
    pub(super) fn list(&self, key: &str, reader: &mut Reader) -> Vec<Named> {
        let Some(node) = self.get(key) else {
            return Vec::new();
        };
        match &node.kind {
            Kind::List(list) => list.iter().filter_map(|n| named(n, key, reader)).collect(),
            _ => named(node, key, reader).into_iter().collect(),
        }
    }

    /// The two notches at the key `between`, if it is there; `None` after a report, which says `what` has two.
    pub(super) fn between(&self, what: &str, reader: &mut Reader) -> Option<Option<[Named; 2]>> {
        match <[Named; 2]>::try_from(self.list("between", reader)) {
            Ok(notches) => Some(Some(notches)),
            Err(list) if list.is_empty() => Some(None),
            Err(list) => {
                reader.wrong(&list[0].place, what, "Write ‘between: [NOTCH, NOTCH]’.");
                None
            }
        }
    }

    /// Whether a key says yes.
    pub(super) fn yes(&self, key: &str, reader: &mut Reader) -> bool {
        match self.text(key, reader) {
            None => false,
            Some(named) if named.text == "yes" || named.text == "true" => true,
            Some(named) if named.text == "no" || named.text == "false" => false,
            Some(named) => {
                let message = format!("‘{key}’ is yes or no, not ‘{}’", named.text);
                reader.wrong(&named.place, message, format!("Write ‘{key}: yes’."));
                false
            }
        }
    }

    /// The length at a key.
    pub(super) fn length(&self, key: &str, reader: &mut Reader) -> Option<Formula> {
        let named = self.text(key, reader)?;
        match Formula::parse(&named.text, &named.place) {
            Ok(formula) => Some(formula),
            Err(said) => {
                reader.said.push(said);
                reader.failed = true;
                None
            }
        }
    }

    /// One of some words at a key, with what it stands for.
    pub(super) fn choice<T: Copy>(
        &self,
        key: &str,
        choices: &[(&str, T)],
        reader: &mut Reader,
    ) -> Option<T> {
        let named = self.text(key, reader)?;
        let found = choices.iter().find(|(words, _)| *words == named.text);
        if found.is_none() {
            let message = format!("‘{key}’ cannot be ‘{}’", named.text);
            let known: Vec<&str> = choices.iter().map(|(words, _)| *words).collect();
            let remedy = format!("It is one of: {}.", known.join(", "));
            reader.wrong(&named.place, message, remedy);
        }
        found.map(|(_, value)| *value)
    }
}

/// A single value as it is written.
pub(super) fn named(node: &Node, key: &str, reader: &mut Reader) -> Option<Named> {
    let Some(scalar) = node.scalar() else {
        let message = format!("‘{key}’ holds {} instead of words", node.words());
        reader.wrong(
            &node.place,
            message,
            format!("Write ‘{key}: …’ on one line."),
        );
        return None;
    };
    Some(Named {
        text: scalar.text.trim().to_string(),
        place: node.place.clone(),
    })
}

/// The tree with every place led back to the designer's file.
pub(super) fn moved(node: Node, at: &dyn Fn(usize, usize) -> Place) -> Node {
    let place = at(node.place.line, node.place.column);
    let kind = match node.kind {
        Kind::Scalar(scalar) => Kind::Scalar(scalar),
        Kind::List(list) => Kind::List(list.into_iter().map(|n| moved(n, at)).collect()),
        Kind::Mapping(entries) => {
            let entry = |entry: Entry| Entry {
                place: at(entry.place.line, entry.place.column),
                value: moved(entry.value, at),
                key: entry.key,
            };
            Kind::Mapping(entries.into_iter().map(entry).collect())
        }
    };
    Node { place, kind }
}
