//! Pages and figures under names made from what they hold: what has not changed keeps its name, so that a
//! browser that has it asks for it no more.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// What a browser is told a content is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A page.
    Svg,
    /// Figures of pieces.
    Json,
}

impl Kind {
    /// How a name ends.
    fn ending(self) -> &'static str {
        match self {
            Self::Svg => "svg",
            Self::Json => "json",
        }
    }
}

/// Contents by name.
#[derive(Debug, Clone, Default)]
pub struct Store {
    contents: BTreeMap<String, (Kind, Arc<Vec<u8>>)>,
}

/// Figures of a hash in a name: 128 bits, so that two contents never share one.
const FIGURES: usize = 32;

/// The name of a content.
pub fn name(kind: Kind, bytes: &[u8]) -> String {
    let hash = blake3::hash(bytes).to_hex();
    format!("{}.{}", &hash[..FIGURES], kind.ending())
}

impl Store {
    /// Keeps a content under its name.
    pub fn put(&mut self, name: String, kind: Kind, bytes: Vec<u8>) {
        self.contents
            .entry(name)
            .or_insert_with(|| (kind, Arc::new(bytes)));
    }

    /// The content of this name.
    pub fn get(&self, name: &str) -> Option<(Kind, Arc<Vec<u8>>)> {
        self.contents.get(name).cloned()
    }

    /// Lets go of all contents but these.
    pub fn keep(&mut self, names: &BTreeSet<String>) {
        self.contents.retain(|name, _| names.contains(name));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_content_keeps_its_name_and_another_has_another() {
        let mut store = Store::default();
        let one = name(Kind::Svg, b"<svg/>");
        store.put(one.clone(), Kind::Svg, b"<svg/>".to_vec());
        assert_eq!(one, name(Kind::Svg, b"<svg/>"));
        assert_ne!(one, name(Kind::Svg, b"<svg />"));
        // BLAKE3 of no bytes, from the specification's test vectors
        assert_eq!(
            name(Kind::Json, b""),
            "af1349b9f5f9a1a6a0404dea36dcc949.json"
        );
        assert!(store.get(&one).is_some());
        store.keep(&BTreeSet::new());
        assert!(store.get(&one).is_none());
    }
}
