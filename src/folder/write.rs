//! Writing outputs: each file is written beside its place and renamed, so that a build that is
//! killed leaves the last good file. Files of one design are published together, at the end, and while
//! their folder is held: two builds into one folder come one after the other.

pub use super::hold::close;
pub use super::unwritten::Unwritten;
pub use super::written::PART;

use super::hold::{writing, writing_now};
use super::{made_before, written};
use std::collections::BTreeSet;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use tempfile::{Builder, NamedTempFile};

/// Writes `bytes` to `path`: beside it first, then renamed. Folders that are missing are made.
///
/// # Errors
/// What the operating system says; an older file at `path` is untouched then.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), Unwritten> {
    write_all(&[(path.to_path_buf(), bytes)])
}

/// Writes `bytes` to `path`, where nothing may stand yet: beside it first, then renamed. Folders that are
/// missing are made.
///
/// # Errors
/// What the operating system says; also if there is a file at `path`, which is untouched then.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<(), Unwritten> {
    write_all_new(&[(path.to_path_buf(), bytes)])
}

/// Writes files that belong together, of one folder: all beside their places, then renamed.
///
/// # Errors
/// What the operating system says; older files are untouched then, unless a renaming itself failed.
pub fn write_all<B: AsRef<[u8]>>(files: &[(PathBuf, B)]) -> Result<(), Unwritten> {
    together(files, |staged| {
        let mut mixed = false;
        for (file, path) in staged {
            put(file, &path).map_err(|fault| Unwritten { mixed, ..fault })?;
            mixed = true;
        }
        Ok(())
    })
}

/// Writes files that belong together, of one folder, where nothing may stand yet.
///
/// # Errors
/// As [`write_all`]; also if something stands where one of them should go. None of them is there then.
pub fn write_all_new<B: AsRef<[u8]>>(files: &[(PathBuf, B)]) -> Result<(), Unwritten> {
    together(files, |staged| {
        let mut placed: Vec<PathBuf> = Vec::new();
        for (file, path) in staged {
            if let Err(failed) = file.persist_noclobber(&path) {
                for mine in &placed {
                    // put there a moment ago
                    let _ = fs::remove_file(mine);
                }
                return Err(Unwritten::new(&path, failed.error));
            }
            placed.push(path);
        }
        Ok(())
    })
}

/// Writes the files beside their places and has them put there, while the folder of the first is held.
fn together<B: AsRef<[u8]>>(
    files: &[(PathBuf, B)],
    put_all: impl FnOnce(Vec<(NamedTempFile, PathBuf)>) -> Result<(), Unwritten>,
) -> Result<(), Unwritten> {
    let Some((first, _)) = files.first() else {
        return Ok(());
    };
    let directory = folder_of(first);
    let mut made = Folders::default();
    let all = || {
        made.make(directory)?;
        let _writing = writing(directory).map_err(|why| Unwritten::new(directory, why))?;
        written::sweep(directory, 1);
        let staged = files
            .iter()
            .map(|(path, bytes)| Ok((staged(path, bytes.as_ref(), &mut made)?, path.clone())));
        let staged: Vec<_> = staged.collect::<Result<_, Unwritten>>()?;
        in_the_way(staged.iter().map(|(_, path)| path.as_path()))?;
        put_all(staged)
    };
    all().inspect_err(|_| made.take_back())
}

/// Removes what killed runs have left below `directory`, unless somebody writes there just now.
pub fn tidy(directory: &Path) {
    if directory.is_dir()
        && let Some(_writing) = writing_now(directory)
    {
        written::sweep(directory, written::DEEPEST);
    }
}

/// Files of one design, collected and published together at the end.
#[derive(Debug, Default)]
pub struct Outputs {
    directory: PathBuf,
    files: Vec<(String, Vec<u8>)>,
    stale: Vec<String>,
    replaces: bool,
    record: Option<Vec<u8>>,
}

impl Outputs {
    /// Outputs that will be published in `directory`.
    pub fn new(directory: impl Into<PathBuf>) -> Self {
        Self {
            directory: directory.into(),
            ..Self::default()
        }
    }

    /// Where they will be published.
    pub fn directory(&self) -> &Path {
        &self.directory
    }

    /// Adds the file `name`, a path below the directory with forward slashes. A file of the same
    /// name that was added before is replaced.
    pub fn add(&mut self, name: impl Into<String>, bytes: impl Into<Vec<u8>>) {
        let (name, bytes) = (name.into(), bytes.into());
        self.files.retain(|(known, _)| *known != name);
        self.files.push((name, bytes));
    }

    /// Names the file `name` as one of an older build that must go. Names are exact: nothing else
    /// is ever removed. A name that is also added is kept.
    pub fn remove(&mut self, name: impl Into<String>) {
        self.stale.push(name.into());
    }

    /// Names and contents, in the order they were added.
    pub fn files(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.files
            .iter()
            .map(|(name, bytes)| (name.as_str(), bytes.as_slice()))
    }

    /// From now on what older builds wrote here, and this one does not, is taken away too.
    pub fn replace_older(&mut self) {
        self.replaces = true;
    }

    /// Keeps with them what they were made from, see [`made_before::record`].
    pub fn made_from(&mut self, record: Vec<u8>) {
        self.record = Some(record);
    }

    /// Writes all files beside their places, and with them `written.json`, the list of all that
    /// pressfoot has here; only when all are written, renames them and removes the stale ones. While it
    /// does so, the list says `unfinished`. Gives the paths, in the order the files were added.
    ///
    /// # Errors
    /// The first file that could not be written; the older files are untouched then (unless a
    /// renaming itself failed, which is told and stays on the list).
    pub fn publish(self) -> Result<Vec<PathBuf>, Unwritten> {
        let mut made = Folders::default();
        let mut all = || {
            made.make(&self.directory)?;
            let held = writing(&self.directory);
            let _writing = held.map_err(|why| Unwritten::new(&self.directory, why))?;
            self.replace(&mut made)
        };
        all().inspect_err(|_| made.take_back())
    }

    /// Publishes, while the folder is held.
    fn replace(&self, made: &mut Folders) -> Result<Vec<PathBuf>, Unwritten> {
        let new: BTreeSet<String> = self.files.iter().map(|(name, _)| name.clone()).collect();
        let older = written::read(&self.directory);
        let gone = self.gone(&older, &new);
        let stale = gone.iter().map(|name| self.path(name));
        let stale: Vec<PathBuf> = stale.collect::<Result<_, _>>()?;
        written::sweep(&self.directory, written::DEEPEST);
        let mut files = Vec::with_capacity(self.files.len());
        for (name, bytes) in &self.files {
            let path = self.path(name)?;
            files.push((staged(&path, bytes, made)?, path));
        }
        let kept: BTreeSet<String> = older.union(&new).cloned().collect();
        let list = self.directory.join(written::LIST);
        let begun = staged(&list, &written::list(&kept, true), made)?;
        let kept = kept.difference(&gone).cloned().collect();
        let done = staged(&list, &written::list(&kept, false), made)?;
        // a build that has no room for it is made again, no more
        let path = self.directory.join(made_before::RECORD);
        let record = self.record.as_ref();
        let record = record.and_then(|bytes| Some((staged(&path, bytes, made).ok()?, path)));
        in_the_way(files.iter().map(|(_, path)| path.as_path()).chain([&*list]))?;
        // the list first: a name on it that is not there does no harm
        put(begun, &list)?;
        let put_all = || {
            let mut written = Vec::with_capacity(files.len());
            for (file, path) in files {
                put(file, &path)?;
                written.push(path);
            }
            stale.iter().try_for_each(|path| self.take_away(path))?;
            if let Some((file, path)) = record {
                let _ = put(file, &path);
            }
            put(done, &list)?;
            Ok(written)
        };
        put_all().map_err(|fault: Unwritten| Unwritten {
            mixed: true,
            ..fault
        })
    }

    /// Names of what older builds wrote, or may have written, and must go.
    fn gone(&self, older: &BTreeSet<String>, new: &BTreeSet<String>) -> BTreeSet<String> {
        let mut gone: BTreeSet<String> = self.stale.iter().cloned().collect();
        if self.replaces {
            gone.extend(older.iter().cloned());
        }
        gone.difference(new).cloned().collect()
    }

    /// Removes a file that an older build wrote, and the folders that are empty then.
    fn take_away(&self, path: &Path) -> Result<(), Unwritten> {
        match fs::remove_file(path) {
            Err(why) if why.kind() != io::ErrorKind::NotFound => {
                return Err(Unwritten::new(path, why));
            }
            _ => {}
        }
        written::remove_empty(path.parent(), &self.directory);
        Ok(())
    }

    fn path(&self, name: &str) -> Result<PathBuf, Unwritten> {
        match super::inside(name) {
            Ok(clean) if !clean.is_empty() => Ok(self.directory.join(clean)),
            _ => {
                let told = format!("‘{name}’ is no path below the output folder");
                Err(Unwritten::new(
                    &self.directory.join("?"),
                    io::Error::other(told),
                ))
            }
        }
    }
}

/// Folders that were made on the way.
#[derive(Default)]
struct Folders(Vec<PathBuf>);

impl Folders {
    /// Makes the folder `directory` and those above it that are missing.
    fn make(&mut self, directory: &Path) -> Result<(), Unwritten> {
        let missing = |place: &&Path| !place.as_os_str().is_empty() && !place.exists();
        let missing: Vec<&Path> = directory.ancestors().take_while(missing).collect();
        let missing: Vec<PathBuf> = missing.into_iter().rev().map(PathBuf::from).collect();
        let made = fs::create_dir_all(directory);
        self.0
            .extend(missing.into_iter().filter(|place| place.is_dir()));
        made.map_err(|why| Unwritten::folder(directory, why))
    }

    /// Removes those in which nothing came to lie.
    fn take_back(&self) {
        for place in self.0.iter().rev() {
            // one that holds something is left
            let _ = fs::remove_dir(place);
        }
    }
}

/// The folder in which `path` lies.
pub(super) fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

fn staged(path: &Path, bytes: &[u8], made: &mut Folders) -> Result<NamedTempFile, Unwritten> {
    let directory = folder_of(path);
    made.make(directory)?;
    let fail = |why| Unwritten::new(path, why);
    let mut builder = Builder::new();
    builder.prefix(written::UNFINISHED);
    readable_by_all(&mut builder);
    let mut file = builder.tempfile_in(directory).map_err(fail)?;
    file.write_all(bytes).map_err(fail)?;
    // a renamed file whose bytes never reached the disk would replace a good one after a power cut
    file.as_file().sync_data().map_err(fail)?;
    Ok(file)
}

/// Temporary files are private by default; a booklet should have the rights of any new file.
#[cfg(unix)]
fn readable_by_all(builder: &mut Builder<'_, '_>) {
    use std::os::unix::fs::PermissionsExt;
    builder.permissions(fs::Permissions::from_mode(0o666));
}

#[cfg(not(unix))]
fn readable_by_all(_: &mut Builder<'_, '_>) {}

/// Refuses a place where a folder stands, before any file is put in its place.
fn in_the_way<'a>(mut places: impl Iterator<Item = &'a Path>) -> Result<(), Unwritten> {
    match places.find(|place| place.is_dir() && !place.is_symlink()) {
        None => Ok(()),
        Some(place) => {
            let told = "a folder of this name stands there";
            let why = io::Error::new(io::ErrorKind::IsADirectory, told);
            Err(Unwritten::new(place, why))
        }
    }
}

fn put(file: NamedTempFile, path: &Path) -> Result<(), Unwritten> {
    match file.persist(path) {
        Ok(_) => Ok(()),
        Err(failed) => Err(Unwritten::new(path, failed.error)),
    }
}
