//! Writing outputs: each file is written beside its place and renamed, so that a build that is
//! killed leaves the last good file. Files of one design are published together, at the end.

use super::written;
use std::collections::BTreeSet;
use std::fmt;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use tempfile::{Builder, NamedTempFile};

/// A file that could not be written.
#[derive(Debug)]
pub struct Unwritten {
    /// Where it should have been.
    pub path: PathBuf,
    /// The operating system's reason.
    pub why: io::Error,
}

impl fmt::Display for Unwritten {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            out,
            "{} cannot be written ({})",
            self.path.display(),
            self.why
        )
    }
}

impl std::error::Error for Unwritten {}

/// Writes `bytes` to `path`: beside it first, then renamed. Folders that are missing are made.
///
/// # Errors
/// What the operating system says; an older file at `path` is untouched then.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), Unwritten> {
    let staged = staged(path, bytes)?;
    put(staged, path)
}

/// Writes `bytes` to `path`, where nothing may stand yet: beside it first, then renamed. Folders that are
/// missing are made.
///
/// # Errors
/// What the operating system says; also if there is a file at `path`, which is untouched then.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<(), Unwritten> {
    let staged = staged(path, bytes)?;
    match staged.persist_noclobber(path) {
        Ok(_) => Ok(()),
        Err(failed) => Err(Unwritten {
            path: path.to_path_buf(),
            why: failed.error,
        }),
    }
}

/// Files of one design, collected and published together at the end.
#[derive(Debug, Default)]
pub struct Outputs {
    directory: PathBuf,
    files: Vec<(String, Vec<u8>)>,
    stale: Vec<String>,
    replaces: bool,
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

    /// Writes all files beside their places, and with them `written.json`, the list of all that
    /// pressfoot has here; only when all are written, renames them and removes the stale ones.
    /// Gives the paths, in the order the files were added.
    ///
    /// # Errors
    /// The first file that could not be written; the older files are untouched then (unless a
    /// renaming itself failed).
    pub fn publish(self) -> Result<Vec<PathBuf>, Unwritten> {
        let new: BTreeSet<String> = self.files.iter().map(|(name, _)| name.clone()).collect();
        let older = written::read(&self.directory);
        let gone: BTreeSet<String> = match self.replaces {
            true => older
                .difference(&new)
                .cloned()
                .chain(self.stale.clone())
                .collect(),
            false => self.stale.iter().cloned().collect(),
        };
        let gone: BTreeSet<String> = gone.difference(&new).cloned().collect();
        let stale = gone.iter().map(|name| self.path(name));
        let stale: Vec<PathBuf> = stale.collect::<Result<_, _>>()?;
        written::sweep(&self.directory);
        let mut staged = Vec::with_capacity(self.files.len() + 1);
        for (name, bytes) in &self.files {
            let path = self.path(name)?;
            staged.push((self::staged(&path, bytes)?, path));
        }
        let kept: BTreeSet<String> = older.union(&new).cloned().collect();
        let kept = kept.difference(&gone).cloned().collect();
        let list = self.directory.join(written::LIST);
        let listed = (self::staged(&list, &written::list(&kept))?, list);
        for (_, path) in staged.iter().chain([&listed]) {
            if path.is_dir() {
                let why = io::Error::other("a folder of this name stands there");
                return Err(Unwritten {
                    path: path.clone(),
                    why,
                });
            }
        }
        // the list first: a name on it that is not there does no harm
        put(listed.0, &listed.1)?;
        let mut written = Vec::with_capacity(staged.len());
        for (file, path) in staged {
            put(file, &path)?;
            written.push(path);
        }
        stale.iter().try_for_each(|path| self.take_away(path))?;
        Ok(written)
    }

    /// Removes a file that an older build wrote, and the folders that are empty then.
    fn take_away(&self, path: &Path) -> Result<(), Unwritten> {
        match fs::remove_file(path) {
            Err(why) if why.kind() != io::ErrorKind::NotFound => {
                let path = path.to_path_buf();
                return Err(Unwritten { path, why });
            }
            _ => {}
        }
        let mut folder = path.parent();
        while let Some(empty) = folder
            && empty != self.directory
            && fs::remove_dir(empty).is_ok()
        {
            folder = empty.parent();
        }
        Ok(())
    }

    fn path(&self, name: &str) -> Result<PathBuf, Unwritten> {
        match super::inside(name) {
            Ok(clean) if !clean.is_empty() => Ok(self.directory.join(clean)),
            _ => Err(Unwritten {
                path: self.directory.join("?"),
                why: io::Error::other(format!("‘{name}’ is no path below the output folder")),
            }),
        }
    }
}

fn staged(path: &Path, bytes: &[u8]) -> Result<NamedTempFile, Unwritten> {
    let fail = |why| Unwritten {
        path: path.to_path_buf(),
        why,
    };
    let directory = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    fs::create_dir_all(directory).map_err(fail)?;
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

fn put(file: NamedTempFile, path: &Path) -> Result<(), Unwritten> {
    match file.persist(path) {
        Ok(_) => Ok(()),
        Err(failed) => Err(Unwritten {
            path: path.to_path_buf(),
            why: failed.error,
        }),
    }
}
