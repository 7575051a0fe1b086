//! Waiting for changes in design folders. The system's word that something changed only wakes the
//! watchman: what did change he sees for himself ([`super::seen`]), and he looks from time to time without
//! a word too, so that a lost word, a folder moved away or a disk that says nothing is only a short delay.

use super::seen::{Changed, Seen, folders};
use notify::{RecommendedWatcher, RecursiveMode, Watcher};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::{Duration, Instant};

/// A burst of changes is over when nothing has come for so long …
const QUIET: Duration = Duration::from_millis(25);

/// … and is looked at after this in any case.
const LONGEST_BURST: Duration = Duration::from_millis(200);

/// So often he looks by himself, beside the system's word.
const ROUND: Duration = Duration::from_secs(2);

/// So often he looks where the system says nothing.
const POLL: Duration = Duration::from_millis(300);

/// How the watchman is told of changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ear {
    /// By the system.
    System,
    /// By looking, a few times a second.
    Looking,
}

/// Watches over design folders.
pub struct Watchman {
    roots: BTreeMap<PathBuf, Seen>,
    apart: PathBuf,
    watcher: Option<RecommendedWatcher>,
    watched: BTreeSet<PathBuf>,
    words: Receiver<()>,
    /// Keeps their way open where nobody sends any, so that they are waited for.
    _way: Sender<()>,
}

impl Watchman {
    /// A watchman over `roots`; files below `apart` are none of them. From now on changes count. The words
    /// say why the system cannot be asked, if it cannot.
    pub fn new(
        roots: impl IntoIterator<Item = PathBuf>,
        apart: &Path,
        ear: Ear,
    ) -> (Self, Option<String>) {
        let (word, words) = channel();
        let (watcher, why) = match ear {
            Ear::Looking => (None, None),
            Ear::System => match asking(word.clone()) {
                Ok(watcher) => (Some(watcher), None),
                Err(why) => (None, Some(why.to_string())),
            },
        };
        let mut watchman = Self {
            roots: BTreeMap::new(),
            apart: apart.to_path_buf(),
            watcher,
            watched: BTreeSet::new(),
            words,
            _way: word,
        };
        for root in roots {
            watchman.add(root);
        }
        (watchman, why)
    }

    /// Watches over one folder more.
    pub fn add(&mut self, root: PathBuf) {
        self.listen(&root);
        let seen = Seen::now(&root, &self.apart);
        self.roots.entry(root).or_insert(seen);
    }

    /// Watches over this folder no more.
    pub fn remove(&mut self, root: &Path) {
        self.roots.remove(root);
        self.forget(root);
    }

    /// Waits for a word or for the time of a round, then tells what has changed since the last look: by
    /// folder, nothing of those in which nothing has.
    pub fn wait(&mut self) -> BTreeMap<PathBuf, Changed> {
        let round = if self.watcher.is_some() { ROUND } else { POLL };
        if self.words.recv_timeout(round).is_ok() {
            let since = Instant::now();
            while since.elapsed() < LONGEST_BURST {
                match self.words.recv_timeout(QUIET) {
                    Ok(()) => {}
                    Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => break,
                }
            }
            // those that came meanwhile are looked at now
            while self.words.try_recv().is_ok() {}
        }
        self.look()
    }

    fn look(&mut self) -> BTreeMap<PathBuf, Changed> {
        let mut all = BTreeMap::new();
        let apart = &self.apart;
        for (root, seen) in &mut self.roots {
            let (now, changed) = seen.again(root, apart);
            *seen = now;
            if !changed.is_empty() {
                all.insert(root.clone(), changed);
            }
        }
        let came: Vec<PathBuf> = all
            .iter()
            .filter(|(_, changed)| changed.root)
            .map(|(root, _)| root.clone())
            .collect();
        for root in came {
            self.forget(&root);
            self.listen(&root);
        }
        all
    }

    /// Has the system tell of the folders that concern a design.
    fn listen(&mut self, root: &Path) {
        let Some(watcher) = &mut self.watcher else {
            return;
        };
        for (folder, below) in folders(root) {
            if self.watched.contains(&folder) {
                continue;
            }
            let mode = match below {
                true => RecursiveMode::Recursive,
                false => RecursiveMode::NonRecursive,
            };
            // of what the system does not tell, the next round does
            if watcher.watch(&folder, mode).is_ok() {
                self.watched.insert(folder);
            }
        }
    }

    /// Forgets what the system was asked for: a folder that came back is another one to it.
    fn forget(&mut self, root: &Path) {
        let Some(watcher) = &mut self.watcher else {
            return;
        };
        let gone: Vec<PathBuf> = self
            .watched
            .iter()
            .filter(|folder| folder.ends_with(root) || root.ends_with(folder) || !folder.is_dir())
            .cloned()
            .collect();
        let whole = root.canonicalize().ok();
        for folder in gone.into_iter().chain(whole) {
            // it may be gone already
            let _ = watcher.unwatch(&folder);
            self.watched.remove(&folder);
        }
    }
}

fn asking(word: Sender<()>) -> notify::Result<RecommendedWatcher> {
    notify::recommended_watcher(move |told: notify::Result<notify::Event>| {
        // a file that is only read is no change; a fault of the system is a reason to look
        let matters = told.map_or(true, |event| !event.kind.is_access());
        if matters {
            // nobody listens any more at the end
            let _ = word.send(());
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;
    use tempfile::tempdir;

    fn told_of(ear: Ear) {
        let place = tempdir().unwrap();
        let root = place.path().join("mat");
        fs::create_dir_all(&root).unwrap();
        fs::write(root.join("design.yaml"), "title: Mat\n").unwrap();
        let out = place.path().join("out");
        let (mut watchman, why) = Watchman::new([root.clone()], &out, ear);
        assert_eq!(why, None);
        let mut next = |path: &str| {
            // a word may come for something that is no change
            let told = (0..20).find_map(|_| Some(watchman.wait()).filter(|told| !told.is_empty()));
            let told = told.expect("a change is told");
            assert!(told[&root].paths.contains(path), "{told:?}");
        };
        fs::write(root.join("design.yaml"), "title: Rug\n").unwrap();
        next("design.yaml");
        fs::rename(&root, place.path().join("away")).unwrap();
        next("design.yaml");
        fs::rename(place.path().join("away"), &root).unwrap();
        next("design.yaml");
        fs::create_dir_all(root.join("booklet")).unwrap();
        fs::write(root.join("booklet/10.md"), "one").unwrap();
        next("booklet/10.md");
        fs::create_dir_all(&out).unwrap();
        fs::write(out.join("a.pdf"), "x").unwrap();
        assert_eq!(watchman.wait(), BTreeMap::new());
    }

    #[test]
    fn changes_are_told_by_the_system_and_by_looking() {
        told_of(Ear::System);
        told_of(Ear::Looking);
    }
}
