//! What is known of a piece's edges before anything is drawn.

use super::Reading;
use super::names;

/// What follows the name of an edge in the mirrored half.
const MIRRORED: &str = " mirrored";

/// The edges of a piece.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Edges {
    /// These, in order.
    Known(Vec<String>),
    /// Those of another piece.
    Like(String),
    /// The piece could not be read: nothing is said against any edge of it.
    Unknown,
}

impl Edges {
    /// Edges with these names.
    pub fn named(names: &[&str]) -> Self {
        Self::Known(names.iter().map(|name| (*name).to_string()).collect())
    }

    /// The edges of a half after it is mirrored on its edge `axis`. Whether an edge that touches
    /// the axis stays one is known only when it is drawn, so both names are taken.
    pub fn mirrored(self, axis: &str) -> Self {
        match self {
            Self::Known(names) => {
                let kept = names.into_iter().filter(|name| name != axis);
                Self::Known(
                    kept.flat_map(|name| [format!("{name}{MIRRORED}"), name])
                        .collect(),
                )
            }
            other => other,
        }
    }
}

impl Reading<'_> {
    /// The names of the edges of `piece`; `None` if they are not known, or there is no such piece.
    pub fn edge_names(&self, piece: &str) -> Option<&[String]> {
        let mut edges = self.edges_of(piece)?;
        // a chain of insets longer than there are pieces is a circle
        for _ in 0..=self.edges.len() {
            match edges {
                Edges::Known(names) => return Some(names),
                Edges::Like(other) => edges = self.edges_of(other)?,
                Edges::Unknown => return None,
            }
        }
        None
    }

    /// Looks up every edge that was named, and reports unknown pieces and edges.
    pub fn check_edge_uses(&mut self) {
        for used in std::mem::take(&mut self.edge_uses) {
            let pieces = self.piece_keys();
            if !pieces.contains(&used.piece.as_str()) {
                let remedy = names::suggestion(&used.piece, &pieces);
                let message = format!("there is no piece ‘{}’", used.piece);
                self.error("unknown-piece", &used.place, message, remedy);
                continue;
            }
            let Some(edges) = self.edge_names(&used.piece) else {
                continue;
            };
            if edges.contains(&used.edge) {
                continue;
            }
            let edges: Vec<&str> = edges.iter().map(String::as_str).collect();
            let remedy = names::suggestion(&used.edge, &edges);
            let message = format!("piece ‘{}’ has no edge ‘{}’", used.piece, used.edge);
            self.error("unknown-edge", &used.place, message, remedy);
        }
    }
}
