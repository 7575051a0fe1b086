//! Files that could not be written: what is told of them, and what can be done.

use std::fmt;
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// A file that could not be written.
#[derive(Debug)]
pub struct Unwritten {
    /// Where it should have been.
    pub path: PathBuf,
    /// The operating system's reason.
    pub why: io::Error,
    /// Whether other files of the same set are in their places already: then the set is mixed.
    pub mixed: bool,
}

impl Unwritten {
    /// The file at `path`, before any other of its set was put in its place.
    pub fn new(path: &Path, why: io::Error) -> Self {
        Self {
            path: path.to_path_buf(),
            why,
            mixed: false,
        }
    }

    /// A folder that could not be made: what stands in its way is named, if that is known.
    pub(super) fn folder(path: &Path, why: io::Error) -> Self {
        for place in path.ancestors() {
            let Ok(about) = fs::symlink_metadata(place) else {
                continue;
            };
            let told = match fs::metadata(place) {
                Err(_) if about.is_symlink() => "a link that leads nowhere stands there",
                Ok(about) if !about.is_dir() => "it should be a folder, and a file stands there",
                _ => break,
            };
            return Self::new(place, io::Error::new(ErrorKind::NotADirectory, told));
        }
        Self::new(path, why)
    }

    /// What can be done about it; nothing is known of the rarer reasons.
    fn remedy(&self) -> &'static str {
        match self.why.kind() {
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => {
                ": make room on that disk, then do it again"
            }
            ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => {
                ": see to it that you may write there, or choose another folder"
            }
            ErrorKind::NotADirectory | ErrorKind::IsADirectory => {
                ": move away what stands there, or choose another folder"
            }
            ErrorKind::ResourceBusy => ": end that one, then do it again",
            _ => "",
        }
    }
}

impl fmt::Display for Unwritten {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (path, why) = (self.path.display(), &self.why);
        write!(out, "{path} cannot be written ({why}){}", self.remedy())?;
        if self.mixed {
            write!(
                out,
                ". Some files are new now and some still the old ones: use none of them before it is done"
            )?;
        }
        Ok(())
    }
}

impl std::error::Error for Unwritten {}
