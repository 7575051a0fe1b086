//! What one run of a design leaves to the next: its draft, which hangs on the design's files of keys and
//! drawings alone. Whoever writes the text of a booklet saves often, and moves no piece.

use super::Options;
use super::drafting::{Drafted, draft_all};
use crate::design::{Design, Size};
use crate::diagnostic::Diagnostics;
use crate::folder::DesignFolder;
use std::sync::{Arc, Mutex, PoisonError};

/// The memory of one design; its copies are the same one.
#[derive(Debug, Clone, Default)]
pub struct Memory(Arc<Mutex<Option<Remembered>>>);

#[derive(Debug, Clone)]
struct Remembered {
    /// Of all that the draft hangs on.
    hash: blake3::Hash,
    sizes: Vec<Size>,
    drafted: Drafted,
    said: Diagnostics,
}

impl Memory {
    /// As [`draft_all`]; what was drafted from the same files is given again, with all that was said.
    pub(super) fn drafted(
        &self,
        folder: &DesignFolder,
        design: &mut Design,
        options: &Options,
        diagnostics: &mut Diagnostics,
    ) -> Drafted {
        let hash = hash(folder, options);
        let known = self
            .0
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .clone();
        if let Some(known) = known.filter(|known| known.hash == hash) {
            design.sizes = known.sizes;
            diagnostics.append(known.said);
            return known.drafted;
        }
        let mut said = Diagnostics::default();
        let drafted = draft_all(design, &mut said);
        let new = Remembered {
            hash,
            sizes: design.sizes.clone(),
            drafted: drafted.clone(),
            said: said.clone(),
        };
        *self.0.lock().unwrap_or_else(PoisonError::into_inner) = Some(new);
        diagnostics.append(said);
        drafted
    }
}

/// The hash of all that a draft hangs on: every file of keys or drawings, with its name, and which sizes are
/// drafted and how.
fn hash(folder: &DesignFolder, options: &Options) -> blake3::Hash {
    let mut hasher = blake3::Hasher::new();
    let sizes = format!("{:?} {}", options.sizes, options.without_corrections);
    let mut add = |bytes: &[u8]| {
        hasher.update(&(bytes.len() as u64).to_le_bytes());
        hasher.update(bytes);
    };
    add(sizes.as_bytes());
    add(folder.key().as_bytes());
    let drawn_from = |path: &&str| [".yaml", ".yml", ".svg"].iter().any(|e| path.ends_with(e));
    for path in folder.paths().filter(drawn_from) {
        add(path.as_bytes());
        let source = folder.text(path);
        let text = source.as_ref().map_or("", |source| source.text.as_str());
        add(text.as_bytes());
    }
    hasher.finalize()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pipeline::compute;

    const DESIGN: &str = "title: Mat\nedition: 1.0.0\nabout: A mat.\npaper: [a4]\n\
        sizes: {one: {title: One}}\ncloth: {a: {name: A, kind: woven, width: 1 m}}\n\
        pieces:\n  mat: {rectangle: {width: 90 mm, height: 60 mm}, allowance: none, cut: {a: 1}}\n";

    fn folder(design: &str, text: &str) -> DesignFolder {
        let chapter = format!("---\ntitle: Making\n---\n{text}\n");
        let files = [
            ("design.yaml", design.to_string()),
            ("booklet/1.md", chapter),
        ];
        DesignFolder::from_memory("mat", files)
    }

    #[test]
    fn a_draft_serves_while_only_the_text_changes_and_is_the_same_as_a_new_one() {
        let options = Options {
            memory: Some(Memory::default()),
            ..Options::default()
        };
        let run = |folder: &DesignFolder, options: &Options| {
            let mut said = Diagnostics::default();
            let made = compute(folder, options, &mut |_| {}, &mut said);
            let sizes = made.map(|made| made.sizes);
            (sizes, said)
        };
        let kept = |options: &Options| {
            let memory = options.memory.as_ref().unwrap();
            let held = memory.0.lock().unwrap();
            held.as_ref().map(|remembered| remembered.hash)
        };
        let wider = DESIGN.replace("90 mm", "95 mm");
        let mut hashes = Vec::new();
        for (design, text) in [(DESIGN, "One."), (DESIGN, "Two."), (&wider, "Two.")] {
            let folder = folder(design, text);
            let (sizes, said) = run(&folder, &options);
            assert!(sizes.is_some(), "{said:?}");
            assert_eq!((sizes, said), run(&folder, &Options::default()));
            hashes.push(kept(&options).unwrap());
        }
        assert!(hashes[0] == hashes[1] && hashes[1] != hashes[2]);
    }
}
