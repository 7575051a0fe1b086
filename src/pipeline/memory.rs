//! What one run of a design leaves to the next: its draft, which hangs on the design's files of keys and
//! drawings alone, its feet and its layouts. Whoever writes the text of a booklet saves often, and moves
//! no piece; whoever tries a measure goes back to the one before.

use super::Options;
use super::drafting::{Drafted, draft_all};
use super::sides::Feet;
use crate::design::{Design, Size};
use crate::diagnostic::Diagnostics;
use crate::folder::DesignFolder;
use crate::materials::StandIns;
use std::sync::{Arc, Mutex, PoisonError};

/// Drafts that are remembered: more measures are hardly tried in turn.
const DRAFTS: usize = 4;

/// The memory of one design; its copies are the same one.
#[derive(Debug, Clone, Default)]
pub struct Memory {
    /// The last first.
    drafts: Arc<Mutex<Vec<Remembered>>>,
    feet: Feet,
    layouts: StandIns,
}

#[derive(Debug, Clone)]
struct Remembered {
    /// Of all that the draft hangs on.
    hash: blake3::Hash,
    sizes: Vec<Size>,
    drafted: Drafted,
    said: Diagnostics,
}

impl Memory {
    /// The layouts of the last state.
    pub(super) fn layouts(&self) -> &StandIns {
        &self.layouts
    }

    /// As [`draft_all`]; what was drafted from the same files is given again, with all that was said.
    pub(super) fn drafted(
        &self,
        folder: &DesignFolder,
        design: &mut Design,
        options: &Options,
        diagnostics: &mut Diagnostics,
    ) -> Drafted {
        let hash = hash(folder, options);
        if let Some(known) = self.taken(&hash) {
            self.keep(known.clone());
            design.sizes = known.sizes;
            diagnostics.append(known.said);
            return known.drafted;
        }
        let mut said = Diagnostics::default();
        let drafted = draft_all(design, &self.feet, &mut said);
        let new = Remembered {
            hash,
            sizes: design.sizes.clone(),
            drafted: drafted.clone(),
            said: said.clone(),
        };
        self.keep(new);
        diagnostics.append(said);
        drafted
    }

    /// Takes the draft of this hash out.
    fn taken(&self, hash: &blake3::Hash) -> Option<Remembered> {
        let mut drafts = self.drafts.lock().unwrap_or_else(PoisonError::into_inner);
        let at = drafts.iter().position(|known| known.hash == *hash)?;
        Some(drafts.remove(at))
    }

    fn keep(&self, draft: Remembered) {
        let mut drafts = self.drafts.lock().unwrap_or_else(PoisonError::into_inner);
        drafts.insert(0, draft);
        drafts.truncate(DRAFTS);
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
            let held = memory.drafts.lock().unwrap();
            held.first().map(|remembered| remembered.hash)
        };
        let wider = DESIGN.replace("90 mm", "95 mm");
        let mut hashes = Vec::new();
        let states = [(DESIGN, "One."), (DESIGN, "Two."), (&wider, "Two.")];
        for (design, text) in states.into_iter().chain([(DESIGN, "Two.")]) {
            let folder = folder(design, text);
            let (sizes, said) = run(&folder, &options);
            assert!(sizes.is_some(), "{said:?}");
            assert_eq!((sizes, said), run(&folder, &Options::default()));
            hashes.push(kept(&options).unwrap());
        }
        assert!(hashes[0] == hashes[1] && hashes[1] != hashes[2] && hashes[3] == hashes[0]);
        // going back drafted nothing anew
        let held = options.memory.as_ref().unwrap().drafts.lock().unwrap();
        assert_eq!(held.len(), 2);
    }
}
