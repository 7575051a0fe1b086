//! The files of a design folder as they were last seen, and what has changed since: told by what they hold,
//! so that a file that is saved as it was is no change, whichever way an editor saves it.

use super::{SHARED, beginning, limits};
use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, Metadata};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};
use walkdir::WalkDir;

/// A file that was written so short a time before it was looked at may be written again without another
/// time of writing: clocks of disks go in steps (4 ms on Linux, 2 s on a memory card). It is looked into
/// once more.
const UNSETTLED: Duration = Duration::from_millis(2100);

/// The files of a folder at one moment.
#[derive(Debug, Clone, Default)]
pub struct Seen {
    there: bool,
    files: BTreeMap<String, FileSeen>,
}

#[derive(Debug, Clone, PartialEq)]
struct FileSeen {
    length: u64,
    written: Option<SystemTime>,
    /// It was written long before it was looked at.
    settled: bool,
    /// `None` of a file that has not been looked into: a picture that has not changed yet.
    hash: Option<[u8; 32]>,
}

/// What has changed in a folder.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Changed {
    /// Paths below the folder of files that changed, came or went; of what designs share, below
    /// `_shared/`.
    pub paths: BTreeSet<String>,
    /// Whether the folder itself came or went.
    pub root: bool,
}

impl Changed {
    /// Whether nothing has.
    pub fn is_empty(&self) -> bool {
        self.paths.is_empty() && !self.root
    }
}

impl Seen {
    /// The files of the design at `root` and those it shares, now; files below `apart` are none of it.
    pub fn now(root: &Path, apart: &Path) -> Self {
        Self::default().after(root, apart)
    }

    /// What is seen now, and what has changed since.
    pub fn again(&self, root: &Path, apart: &Path) -> (Self, Changed) {
        let now = self.after(root, apart);
        let all: BTreeSet<&String> = self.files.keys().chain(now.files.keys()).collect();
        let differs = |path: &&String| match (self.files.get(*path), now.files.get(*path)) {
            (Some(old), Some(new)) => old.differs(new),
            _ => true,
        };
        let changed = Changed {
            paths: all.into_iter().filter(differs).cloned().collect(),
            root: self.there != now.there,
        };
        (now, changed)
    }

    fn after(&self, root: &Path, apart: &Path) -> Self {
        let mut files = BTreeMap::new();
        let whole = fs::canonicalize(root).unwrap_or_else(|_| root.to_path_buf());
        let apart = fs::canonicalize(apart).unwrap_or_else(|_| apart.to_path_buf());
        self.look(&whole, "", &apart, &mut files);
        if let Some(shared) = whole.parent().map(|parent| parent.join(SHARED)) {
            self.look(&shared, &format!("{SHARED}/"), &apart, &mut files);
        }
        Self {
            there: whole.is_dir(),
            files,
        }
    }

    fn look(
        &self,
        folder: &Path,
        below: &str,
        apart: &Path,
        files: &mut BTreeMap<String, FileSeen>,
    ) {
        let hidden = |name: &str| name.starts_with('.');
        let walk = WalkDir::new(folder).into_iter().filter_entry(|entry| {
            let inside = entry.depth() == 0 || !hidden(&entry.file_name().to_string_lossy());
            inside && entry.path() != apart
        });
        for entry in walk.filter_map(Result::ok).take(2 * limits::FILES) {
            let Ok(path) = entry.path().strip_prefix(folder) else {
                continue;
            };
            let about = match fs::metadata(entry.path()) {
                Ok(about) if about.is_file() => about,
                _ => continue,
            };
            let parts = path.components().map(|c| c.as_os_str().to_string_lossy());
            let name = format!("{below}{}", parts.collect::<Vec<_>>().join("/"));
            let seen = FileSeen::of(entry.path(), &name, &about, self.files.get(&name));
            files.entry(name).or_insert(seen);
        }
    }
}

impl FileSeen {
    fn of(place: &Path, name: &str, about: &Metadata, before: Option<&Self>) -> Self {
        let written = about.modified().ok();
        let same = |before: &&Self| before.length == about.len() && before.written == written;
        if let Some(before) = before.filter(same).filter(|before| before.settled) {
            return before.clone();
        }
        let age = written.and_then(|written| SystemTime::now().duration_since(written).ok());
        // of pictures that were there before all, the time is enough
        let wanted = limits::is_text(name) || before.is_some();
        Self {
            length: about.len(),
            written,
            settled: age.is_some_and(|age| age > UNSETTLED),
            hash: wanted.then(|| hash(place, name)).flatten(),
        }
    }

    fn differs(&self, new: &Self) -> bool {
        match (self.hash, new.hash) {
            (Some(old), Some(new)) => old != new,
            _ => self.length != new.length || self.written != new.written,
        }
    }
}

/// The hash of what a file holds; of one that is too large to be read, of its beginning.
fn hash(place: &Path, name: &str) -> Option<[u8; 32]> {
    let bytes = beginning(place, limits::of_file(name) + 1).ok()?;
    Some(*blake3::hash(&bytes).as_bytes())
}

/// The folders whose changes tell of a change in the design at `root`, each with whether all below it
/// counts: the design, what it shares, and the folder above, in which it may be moved away and back.
pub fn folders(root: &Path) -> Vec<(PathBuf, bool)> {
    let whole = fs::canonicalize(root).unwrap_or_else(|_| root.to_path_buf());
    let above = whole.parent().map(Path::to_path_buf);
    let shared = above.as_ref().map(|above| above.join(SHARED));
    let mut all = vec![(whole, true)];
    all.extend(shared.map(|shared| (shared, true)));
    all.extend(above.map(|above| (above, false)));
    all.retain(|(folder, _)| folder.is_dir());
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use tempfile::{TempDir, tempdir};

    fn designs() -> (TempDir, PathBuf, PathBuf) {
        let place = tempdir().unwrap();
        let root = place.path().join("mat");
        fs::create_dir_all(root.join("booklet")).unwrap();
        fs::create_dir_all(place.path().join(SHARED)).unwrap();
        fs::write(root.join("design.yaml"), "title: Mat\n").unwrap();
        fs::write(root.join("booklet/10.md"), "one").unwrap();
        fs::write(place.path().join(SHARED).join("knot.md"), "knot").unwrap();
        let out = place.path().join("mat/out");
        (place, root, out)
    }

    fn paths(changed: &Changed) -> Vec<&str> {
        changed.paths.iter().map(String::as_str).collect()
    }

    #[test]
    fn every_way_of_saving_is_seen_by_what_the_file_holds() {
        let (place, root, out) = designs();
        let seen = Seen::now(&root, &out);
        let text = root.join("booklet/10.md");
        // rename-style, as many editors save
        fs::write(root.join("booklet/.10.md.tmp"), "two").unwrap();
        fs::rename(root.join("booklet/.10.md.tmp"), &text).unwrap();
        let (seen, changed) = seen.again(&root, &out);
        assert_eq!(paths(&changed), ["booklet/10.md"]);
        // of the same length, in the same step of the clock
        fs::write(&text, "six").unwrap();
        let (seen, changed) = seen.again(&root, &out);
        assert_eq!(paths(&changed), ["booklet/10.md"]);
        // as it was
        fs::write(&text, "six").unwrap();
        let (seen, changed) = seen.again(&root, &out);
        assert!(changed.is_empty(), "{changed:?}");
        fs::remove_file(&text).unwrap();
        let (seen, changed) = seen.again(&root, &out);
        assert_eq!(paths(&changed), ["booklet/10.md"]);
        fs::write(&text, "back").unwrap();
        fs::write(place.path().join(SHARED).join("knot.md"), "bow").unwrap();
        let (seen, changed) = seen.again(&root, &out);
        assert_eq!(paths(&changed), ["_shared/knot.md", "booklet/10.md"]);
        let away = place.path().join("away");
        fs::rename(&root, &away).unwrap();
        let (seen, changed) = seen.again(&root, &out);
        assert!(changed.root && changed.paths.contains("design.yaml"));
        fs::rename(&away, &root).unwrap();
        let (_, changed) = seen.again(&root, &out);
        assert!(changed.root && changed.paths.contains("design.yaml"));
    }

    #[test]
    fn outputs_and_hidden_files_are_not_seen() {
        let (_place, root, out) = designs();
        let seen = Seen::now(&root, &out);
        fs::create_dir_all(&out).unwrap();
        fs::write(out.join("mat.svg"), "drawn").unwrap();
        fs::write(root.join(".pressfoot-x"), "half").unwrap();
        fs::write(root.join("booklet/.10.md.swp"), "kept").unwrap();
        let (_, changed) = seen.again(&root, &out);
        assert!(changed.is_empty(), "{changed:?}");
    }
}
