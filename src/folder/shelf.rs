//! Results kept from one run to the next: one file for each, named after all that it hangs on, so that
//! it never grows stale. A shelf that cannot be read or written is as good as an empty one.

use super::write;
use std::path::PathBuf;

/// More files than this are not kept: those not used longest go first.
const MOST: usize = 2000;

/// Where results are kept.
pub trait Shelf: Sync {
    /// What is kept under `name`, if anything.
    fn get(&self, name: &str) -> Option<Vec<u8>>;
    /// Keeps `bytes` under `name`; a shelf that cannot keep them lets them go.
    fn put(&self, name: &str, bytes: &[u8]);
}

/// A shelf that keeps nothing.
#[derive(Debug, Clone, Copy, Default)]
pub struct NoShelf;

impl Shelf for NoShelf {
    fn get(&self, _: &str) -> Option<Vec<u8>> {
        None
    }

    fn put(&self, _: &str, _: &[u8]) {}
}

/// A folder as a shelf.
#[derive(Debug, Clone)]
pub struct FolderShelf {
    directory: PathBuf,
}

impl FolderShelf {
    /// A shelf in this folder, which is made when something is put into it.
    pub fn new(directory: impl Into<PathBuf>) -> Self {
        Self {
            directory: directory.into(),
        }
    }

    /// Throws away the oldest files beyond [`MOST`].
    fn tidy(&self) {
        let Ok(entries) = std::fs::read_dir(&self.directory) else {
            return;
        };
        let age = |entry: &std::fs::DirEntry| entry.metadata().and_then(|m| m.modified()).ok();
        let mut files: Vec<_> = entries.flatten().map(|e| (age(&e), e.path())).collect();
        if files.len() <= MOST {
            return;
        }
        files.sort();
        for (_, path) in &files[..files.len() - MOST] {
            // what is gone already is no loss
            let _ = std::fs::remove_file(path);
        }
    }
}

impl Shelf for FolderShelf {
    fn get(&self, name: &str) -> Option<Vec<u8>> {
        std::fs::read(self.directory.join(name)).ok()
    }

    fn put(&self, name: &str, bytes: &[u8]) {
        let written = write::write(&self.directory.join(name), bytes);
        if written.is_ok() {
            self.tidy();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_put_on_a_shelf_is_found_there_and_a_shelf_that_is_no_folder_is_empty() {
        let place = tempfile::tempdir().expect("a folder");
        let shelf = FolderShelf::new(place.path().join("kept"));
        assert_eq!(shelf.get("one.json"), None);
        shelf.put("one.json", b"[1]");
        assert_eq!(shelf.get("one.json").as_deref(), Some(&b"[1]"[..]));

        let file = place.path().join("file");
        std::fs::write(&file, b"in the way").expect("written");
        let none = FolderShelf::new(&file);
        none.put("one.json", b"[1]");
        assert_eq!(none.get("one.json"), None);
    }
}
