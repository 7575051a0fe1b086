//! A YAML tree whose every part knows its place in the designer's file.

use crate::diagnostic::Place;

/// A value with its place.
#[derive(Debug, Clone)]
pub(crate) struct Node {
    /// Where it begins; where its key begins, if nothing stands there.
    pub place: Place,
    /// What it holds.
    pub kind: Kind,
}

/// What a node holds.
#[derive(Debug, Clone)]
pub(crate) enum Kind {
    /// A single value.
    Scalar(Scalar),
    /// A list.
    List(Vec<Node>),
    /// Keys with values, in order; duplicates are still there.
    Mapping(Vec<Entry>),
}

/// A key with its value.
#[derive(Debug, Clone)]
pub(crate) struct Entry {
    /// The key.
    pub key: String,
    /// Where the key stands.
    pub place: Place,
    /// The value.
    pub value: Node,
}

/// A single value.
#[derive(Debug, Clone)]
pub(crate) struct Scalar {
    /// As written (quotation marks taken off, folded lines joined).
    pub text: String,
    /// As YAML understands it.
    pub value: Value,
}

/// What YAML understands a scalar to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Value {
    /// Nothing.
    Null,
    /// `true` or `false`.
    Truth(bool),
    /// A number.
    Number(f64),
    /// Text.
    Text,
}

impl Node {
    /// The scalar, if it is one that is not empty.
    pub fn scalar(&self) -> Option<&Scalar> {
        match &self.kind {
            Kind::Scalar(scalar) if scalar.value != Value::Null => Some(scalar),
            _ => None,
        }
    }

    /// Whether nothing stands here.
    pub fn is_null(&self) -> bool {
        matches!(&self.kind, Kind::Scalar(scalar) if scalar.value == Value::Null)
    }

    /// Whether it is the word `word`.
    pub fn is_word(&self, word: &str) -> bool {
        self.scalar()
            .is_some_and(|scalar| scalar.text.trim() == word)
    }

    /// What it is, for messages.
    pub fn words(&self) -> String {
        match &self.kind {
            Kind::Scalar(scalar) if scalar.value == Value::Null => "nothing".into(),
            Kind::Scalar(scalar) => {
                let short: String = scalar.text.chars().take(40).collect();
                let dots = if scalar.text.chars().count() > 40 {
                    "…"
                } else {
                    ""
                };
                format!("‘{short}{dots}’")
            }
            Kind::List(_) => "a list".into(),
            Kind::Mapping(_) => "a group of keys".into(),
        }
    }
}
