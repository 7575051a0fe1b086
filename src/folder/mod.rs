//! Step 1: a design folder, every file of it read at most once and remembered.
//!
//! Nothing outside the folder is ever read, but for texts of `_shared` beside it: absolute paths, `..` and
//! links that lead out are refused. Sizes are limited, so that a wrong file in the folder is a message and not a machine
//! brought to its knees. Later stages ask for files by their path below the folder, with forward
//! slashes; which paths were asked for, missing ones too, is remembered.

mod disk;
mod hold;
pub mod kept;
mod limits;
pub mod made_before;
mod read;
pub mod reads;
pub mod seen;
pub mod shelf;
pub mod start;
#[cfg(test)]
mod tests;
mod text;
mod unwritten;
pub mod watch;
pub mod write;
mod written;

pub use disk::find;
pub use read::{beginning, read_at_most};
pub use write::Outputs;

use crate::diagnostic::{Diagnostic, Diagnostics, SourceText};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// The file every design folder must hold.
pub const DESIGN_FILE: &str = "design.yaml";

/// The folder of a design that holds its released editions, one file each.
pub const EDITIONS: &str = "editions";

/// The folder beside the designs that holds texts and pictures for several of them; its files are had
/// by paths that begin with this name.
pub const SHARED: &str = "_shared";

/// All files of one design.
#[derive(Debug)]
pub struct DesignFolder {
    key: String,
    root: PathBuf,
    files: BTreeMap<String, File>,
    asked: Mutex<BTreeSet<String>>,
}

/// One file: where it lies and, once asked for, what it holds.
#[derive(Debug)]
struct File {
    on_disk: Option<PathBuf>,
    size: u64,
    bytes: OnceLock<Result<Vec<u8>, Unreadable>>,
    text: OnceLock<Result<Arc<SourceText>, Unreadable>>,
}

/// Why a file of the folder cannot be had.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unreadable {
    /// There is no such file.
    Missing,
    /// The path leads out of the design folder.
    Outside,
    /// The path is written with backslashes.
    Backslash,
    /// A folder, a device or a pipe.
    NoFile,
    /// Larger than this kind of file may be, both in bytes.
    TooLarge {
        /// What it has.
        size: u64,
        /// What it may have.
        limit: u64,
    },
    /// It should be text, but is not UTF-8 from this line and column on.
    NotText {
        /// Line, from 1.
        line: usize,
        /// Column in characters, from 1.
        column: usize,
    },
    /// The operating system's words.
    System(String),
}

impl DesignFolder {
    /// Reads the list of files of the design at `path`; texts are read at once, pictures when they
    /// are asked for. The name of the folder is the key of the design.
    ///
    /// # Errors
    /// No `design.yaml`, links that lead out of the folder, too many or too large files, texts
    /// that are not UTF-8: all of them, not only the first.
    pub fn read(path: &Path) -> Result<Self, Diagnostics> {
        let folder = disk::listed(path)?;
        let mut diagnostics = Diagnostics::default();
        for (path, file) in &folder.files {
            if !limits::is_text(path) {
                continue;
            }
            if let Err(why) = file.text(path) {
                diagnostics.push(why.diagnostic(path));
            }
        }
        if diagnostics.has_errors() {
            return Err(diagnostics);
        }
        Ok(folder)
    }

    /// A folder that lies nowhere, from paths and contents.
    pub fn from_memory<P, B>(key: &str, files: impl IntoIterator<Item = (P, B)>) -> Self
    where
        P: Into<String>,
        B: Into<Vec<u8>>,
    {
        let files = files.into_iter().map(|(path, bytes)| {
            let bytes = bytes.into();
            let file = File {
                on_disk: None,
                size: bytes.len() as u64,
                bytes: OnceLock::from(Ok(bytes)),
                text: OnceLock::new(),
            };
            (path.into(), file)
        });
        Self {
            key: key.to_string(),
            root: PathBuf::new(),
            files: files.collect(),
            asked: Mutex::default(),
        }
    }

    /// The folder's name, e.g. `harvest-bar-shoe`.
    pub fn key(&self) -> &str {
        &self.key
    }

    /// Where the folder lies, as it was given; empty for a folder in memory.
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// The bytes of the file at `path` below the folder.
    ///
    /// # Errors
    /// See [`Unreadable`].
    pub fn file(&self, path: &str) -> Result<&[u8], Unreadable> {
        let (path, file) = self.entry(path)?;
        match file.bytes(&path) {
            Ok(bytes) => Ok(bytes),
            Err(why) => Err(why.clone()),
        }
    }

    /// The text of the file at `path`: UTF-8, line ends as `\n`, without a byte order mark.
    ///
    /// # Errors
    /// See [`Unreadable`].
    pub fn source(&self, path: &str) -> Result<Arc<SourceText>, Unreadable> {
        let (path, file) = self.entry(path)?;
        file.text(&path).clone()
    }

    /// The bytes of the file at `path`, if it can be read.
    pub fn bytes(&self, path: &str) -> Option<&[u8]> {
        self.file(path).ok()
    }

    /// The text of the file at `path`, if it can be read.
    pub fn text(&self, path: &str) -> Option<Arc<SourceText>> {
        self.source(path).ok()
    }

    /// Paths of the chapters `booklet/*.md`, sorted by name.
    pub fn booklet(&self) -> Vec<&str> {
        self.listing("booklet", |path| path.ends_with(".md"))
    }

    /// Paths of the texts that designs share, Markdown and lists of words, sorted.
    pub fn shared_texts(&self) -> Vec<&str> {
        let paths = self.files.keys().map(String::as_str);
        paths
            .filter(|path| path.starts_with("_shared/") && limits::is_yaml_or_text(path))
            .collect()
    }

    /// Paths of the chapters in a further language, `booklet.de/*.md`, sorted by name.
    pub fn booklet_in(&self, language: &str) -> Vec<&str> {
        self.listing(&format!("booklet.{language}"), |path| path.ends_with(".md"))
    }

    /// Paths of the released editions, `editions/*.yaml`, sorted by name.
    pub fn editions(&self) -> Vec<&str> {
        self.listing(EDITIONS, |path| path.ends_with(".yaml"))
    }

    /// Paths of all files below `pictures/`, sorted by name, and of those that designs share.
    pub fn pictures(&self) -> Vec<&str> {
        let inside = |path: &&String| {
            let shared = path.starts_with("_shared/") && !limits::is_yaml_or_text(path);
            path.starts_with("pictures/") || shared
        };
        self.files
            .keys()
            .filter(inside)
            .map(String::as_str)
            .collect()
    }

    /// Paths of the files that stand directly in `directory` and that `wanted` accepts, sorted.
    pub fn listing(&self, directory: &str, wanted: impl Fn(&str) -> bool) -> Vec<&str> {
        let inside = |path: &str| {
            path.strip_prefix(directory)
                .and_then(|rest| rest.strip_prefix('/'))
                .is_some_and(|name| !name.contains('/'))
        };
        let paths = self.files.keys().map(String::as_str);
        paths.filter(|path| inside(path) && wanted(path)).collect()
    }

    /// Paths of all files, sorted.
    pub fn paths(&self) -> impl Iterator<Item = &str> {
        self.files.keys().map(String::as_str)
    }

    /// Every path that was asked for so far, below the folder, missing files too.
    pub fn asked(&self) -> Vec<String> {
        let asked = self.asked.lock().unwrap_or_else(PoisonError::into_inner);
        asked.iter().cloned().collect()
    }

    /// What was read so far, and looked for and missing.
    pub fn reads(&self) -> reads::Reads {
        reads::Reads::new(self.asked())
    }

    fn entry(&self, path: &str) -> Result<(String, &File), Unreadable> {
        let path = inside(path)?;
        let mut asked = self.asked.lock().unwrap_or_else(PoisonError::into_inner);
        asked.insert(path.clone());
        drop(asked);
        match self.files.get(&path) {
            Some(file) => Ok((path, file)),
            None => Err(Unreadable::Missing),
        }
    }
}

impl File {
    fn bytes(&self, path: &str) -> &Result<Vec<u8>, Unreadable> {
        self.bytes.get_or_init(|| match &self.on_disk {
            Some(place) => read_at_most(place, limits::of_file(path)),
            None => Err(Unreadable::Missing),
        })
    }

    fn text(&self, path: &str) -> &Result<Arc<SourceText>, Unreadable> {
        self.text.get_or_init(|| match self.bytes(path) {
            Ok(bytes) => text::decoded(path, bytes).map(Arc::new),
            Err(why) => Err(why.clone()),
        })
    }
}

/// `path` without `.` and doubled slashes.
///
/// # Errors
/// [`Unreadable::Outside`] for absolute paths and any `..`, also one that would lead back in.
fn inside(path: &str) -> Result<String, Unreadable> {
    if path.contains('\\') {
        return Err(Unreadable::Backslash);
    }
    let drive = path.as_bytes().get(1) == Some(&b':');
    if path.starts_with('/') || drive || path.contains('\0') {
        return Err(Unreadable::Outside);
    }
    let parts: Vec<&str> = path
        .split('/')
        .filter(|part| !part.is_empty() && *part != ".")
        .collect();
    if parts.contains(&"..") {
        return Err(Unreadable::Outside);
    }
    Ok(parts.join("/"))
}

impl fmt::Display for Unreadable {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing => write!(out, "there is no such file in the design folder"),
            Self::Outside => write!(out, "the path leads out of the design folder"),
            Self::Backslash => write!(out, "the path is written with backslashes"),
            Self::NoFile => write!(out, "that is no file, but a folder, a device or a pipe"),
            Self::TooLarge { size, limit } => write!(
                out,
                "the file is too large: {} where at most {} is read",
                limits::shown(*size),
                limits::shown(*limit)
            ),
            Self::NotText { line, column } => write!(
                out,
                "the file is no UTF-8 text from line {line}, column {column} on"
            ),
            Self::System(words) => write!(out, "the file cannot be read ({words})"),
        }
    }
}

impl Unreadable {
    /// The code of the diagnostic that says it.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Missing => "file-missing",
            Self::Outside | Self::Backslash => "outside-folder",
            Self::TooLarge { .. } => "too-large",
            Self::NotText { .. } => "not-utf-8",
            Self::NoFile | Self::System(_) => "unreadable",
        }
    }

    /// What the designer can do about it.
    pub fn remedy(&self) -> &'static str {
        match self {
            Self::Missing => "check the spelling of the path, also capital letters",
            Self::Outside => "copy the file into the design folder and name it from there",
            Self::Backslash => "write paths with forward slashes: pictures/toe.png",
            Self::NoFile => "name a file",
            Self::TooLarge { .. } => "make the file smaller, or keep it outside the design folder",
            Self::NotText { .. } => "save the file with the encoding UTF-8",
            Self::System(_) => "check that the file may be read",
        }
    }

    /// A diagnostic about the file at `path` itself.
    fn diagnostic(&self, path: &str) -> Diagnostic {
        let place = match self {
            Self::NotText { line, column } => Some(text::place(path, *line, *column)),
            _ => None,
        };
        Diagnostic::error(self.code(), place.as_ref(), format!("‘{path}’: {self}"))
            .remedy(self.remedy())
    }
}
