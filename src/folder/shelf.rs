//! Results kept from one run to the next: one file for each, named after all that it hangs on, so that
//! it never grows stale. A shelf that cannot be read or written is as good as an empty one.

use super::{read_at_most, write};
use std::collections::BTreeMap;
use std::fmt;
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// More files than this are not kept: those not used longest go first.
const MOST: usize = 2000;

/// No result that is kept is longer, bytes; what is was not kept by pressfoot.
const LONGEST: u64 = 64 << 20;

/// Where results are kept.
pub trait Shelf: Send + Sync {
    /// What is kept under `name`, if anything.
    fn get(&self, name: &str) -> Option<Vec<u8>>;
    /// Keeps `bytes` under `name`; a shelf that cannot keep them lets them go.
    fn put(&self, name: &str, bytes: &[u8]);
    /// Takes note that something stands in for what is not kept.
    fn do_without(&self) {}
}

/// A shelf before another one: what was put or found once is not looked for again.
#[derive(Default)]
pub struct NearShelf {
    beyond: Option<Box<dyn Shelf>>,
    new: AtomicBool,
    kept: Mutex<BTreeMap<String, Vec<u8>>>,
}

impl NearShelf {
    /// A shelf before `beyond`.
    pub fn before(beyond: impl Shelf + 'static) -> Self {
        Self {
            beyond: Some(Box::new(beyond)),
            new: AtomicBool::default(),
            kept: Mutex::default(),
        }
    }

    /// Whether anything was put on it that was not found there, or something stands in for it.
    pub fn has_new(&self) -> bool {
        self.new.load(Ordering::Relaxed)
    }

    fn kept(&self) -> MutexGuard<'_, BTreeMap<String, Vec<u8>>> {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl fmt::Debug for NearShelf {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "NearShelf({})", self.kept().len())
    }
}

impl Shelf for NearShelf {
    fn get(&self, name: &str) -> Option<Vec<u8>> {
        if let Some(bytes) = self.kept().get(name) {
            return Some(bytes.clone());
        }
        let found = self.beyond.as_ref()?.get(name)?;
        self.kept().insert(name.to_string(), found.clone());
        Some(found)
    }

    fn put(&self, name: &str, bytes: &[u8]) {
        self.new.store(true, Ordering::Relaxed);
        self.kept().insert(name.to_string(), bytes.to_vec());
        if let Some(beyond) = &self.beyond {
            beyond.put(name, bytes);
        }
    }

    fn do_without(&self) {
        self.new.store(true, Ordering::Relaxed);
    }
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
        read_at_most(&self.directory.join(name), LONGEST).ok()
    }

    fn put(&self, name: &str, bytes: &[u8]) {
        let written = write::write(&self.directory.join(name), bytes);
        if written.is_ok() {
            self.tidy();
        }
    }
}

/// A folder as a shelf from which is only taken.
#[derive(Debug, Clone)]
pub struct ReadShelf(FolderShelf);

impl ReadShelf {
    /// The shelf in this folder.
    pub fn new(directory: impl Into<PathBuf>) -> Self {
        Self(FolderShelf::new(directory))
    }
}

impl Shelf for ReadShelf {
    fn get(&self, name: &str) -> Option<Vec<u8>> {
        self.0.get(name)
    }

    fn put(&self, _: &str, _: &[u8]) {}
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

        let near = NearShelf::before(shelf.clone());
        assert_eq!(near.get("one.json").as_deref(), Some(&b"[1]"[..]));
        near.put("two.json", b"[2]");
        assert_eq!(shelf.get("two.json"), near.get("two.json"));

        let read = NearShelf::before(ReadShelf::new(place.path().join("kept")));
        read.put("three.json", b"[3]");
        assert_eq!(read.get("three.json").as_deref(), Some(&b"[3]"[..]));
        assert_eq!(shelf.get("three.json"), None);
        assert_eq!(read.get("two.json").as_deref(), Some(&b"[2]"[..]));

        let file = place.path().join("file");
        std::fs::write(&file, b"in the way").expect("written");
        let none = FolderShelf::new(&file);
        none.put("one.json", b"[1]");
        assert_eq!(none.get("one.json"), None);
    }
}
