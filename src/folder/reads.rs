//! What a build has read of its design: which files, when they change, come or go, would let it come out
//! otherwise.

use super::{DESIGN_FILE, limits};
use std::collections::BTreeSet;

/// The reads of one build.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Reads {
    asked: BTreeSet<String>,
}

impl Reads {
    /// The reads of a build that asked for these paths, below the folder, missing ones too.
    pub fn new(asked: impl IntoIterator<Item = String>) -> Self {
        Self {
            asked: asked.into_iter().collect(),
        }
    }

    /// Whether the file at `path`, below the folder, was read or would be: files that were asked for,
    /// there or not; texts, all of which are read with the folder; and what stands in folders that are
    /// listed.
    pub fn holds(&self, path: &str) -> bool {
        // of files beside the chapters it is told that they are not read
        let listed = ["pictures/", "template/", "_shared/", "booklet"];
        path == DESIGN_FILE
            || self.asked.contains(path)
            || limits::is_text(path)
            || listed.iter().any(|folder| path.starts_with(folder)) && !is_left_over(path)
    }
}

/// Whether a file is what an editor leaves beside the one it writes.
fn is_left_over(path: &str) -> bool {
    let name = path.rsplit('/').next().unwrap_or(path);
    let numbered = !name.is_empty() && name.bytes().all(|byte| byte.is_ascii_digit());
    let ends = ["~", ".tmp", ".bak", ".swp"];
    numbered || ends.iter().any(|end| name.ends_with(end)) || name.starts_with('#')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_asked_for_and_every_text_is_held_and_notes_are_not() {
        let reads = Reads::new(["drawings/toe.png".to_string()]);
        for path in [
            "design.yaml",
            "booklet/10-making.md",
            "drawings/toe.png",
            "pictures/step.jpg",
            "_shared/hand-sewing.md",
            "template/cover.typ",
            "editions/1.0.0.yaml",
        ] {
            assert!(reads.holds(path), "{path}");
        }
        // what editors leave, and what no build asked for
        for path in [
            "design.yaml~",
            "notes.txt",
            "4913",
            "pictures/4913",
            "pictures/step.jpg~",
            "drawings/heel.png",
            "scan.tiff",
        ] {
            assert!(!reads.holds(path), "{path}");
        }
    }
}
