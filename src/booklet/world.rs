//! What the typesetter may see: files that pressfoot hands it, the house faces and those of the
//! design, and a given date. Nothing of the disk, the network, the clock or the machine's fonts.

use super::date::Moment;
use super::faces::Faces;
use super::fonts;
use super::rounds::Round;
use std::collections::BTreeMap;
use std::fmt;
use std::path::PathBuf;
use std::sync::LazyLock;
use typst::diag::{FileError, FileResult, PackageError, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| LazyHash::new(Library::default()));

/// Files that may still be to make when a booklet is set: each is ready when it is given.
pub trait Later: Sync {
    /// The file of this path, if it is one of these.
    fn file(&self, path: &str) -> Option<&[u8]>;
    /// The paths of all.
    fn paths(&self) -> Vec<String>;
}

impl fmt::Debug for dyn Later + '_ {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        to.debug_list().entries(self.paths()).finish()
    }
}

/// A closed set of virtual files with one of them to compile.
#[derive(Debug)]
pub struct BookletWorld<'a> {
    main: FileId,
    sources: BTreeMap<String, Source>,
    files: BTreeMap<String, Bytes>,
    later: Option<&'a dyn Later>,
    today: Option<Datetime>,
    faces: Faces,
    /// The faces of the house with those of the design, if it has any.
    book: Option<LazyHash<FontBook>>,
}

/// The id of the virtual file `path`, which is relative to the root.
fn id_of(path: &str) -> Option<FileId> {
    let path = VirtualPath::new(path).ok()?;
    Some(RootedPath::new(VirtualRoot::Project, path).intern())
}

impl<'a> BookletWorld<'a> {
    /// A world of `files` (paths with forward slashes, without a leading one) that compiles
    /// `main`. `None` if a path climbs out of the root or `main` is not among the files.
    pub fn new(
        files: &BTreeMap<String, Vec<u8>>,
        main: &str,
        moment: Option<Moment>,
    ) -> Option<Self> {
        let mut sources = BTreeMap::new();
        let mut bytes = BTreeMap::new();
        for (path, content) in files {
            let id = id_of(path)?;
            if path.ends_with(".typ")
                && let Ok(text) = std::str::from_utf8(content)
            {
                sources.insert(path.clone(), Source::new(id, text.to_string()));
            }
            bytes.insert(path.clone(), Bytes::new(content.clone()));
        }
        sources.contains_key(main).then_some(())?;
        Some(Self {
            main: id_of(main)?,
            sources,
            files: bytes,
            later: None,
            today: moment.and_then(Moment::datetime),
            faces: Faces::default(),
            book: None,
        })
    }

    /// The same with typefaces besides those of the house.
    #[must_use]
    pub fn with_faces(mut self, faces: &Faces) -> Self {
        self.book = faces.book();
        self.faces = faces.clone();
        self
    }

    /// The same with files that are made when they are asked for, if they were not before.
    #[must_use]
    pub fn with_later(mut self, later: Option<&'a dyn Later>) -> Self {
        self.later = later;
        self
    }

    /// Typesets the booklet. The second value holds errors (if there is no document) and warnings.
    pub fn compile(&self) -> (Option<PagedDocument>, Vec<SourceDiagnostic>) {
        let outcome = typst::compile::<Round>(self);
        let mut said: Vec<SourceDiagnostic> = outcome.warnings.into_iter().collect();
        match outcome.output {
            Ok(Round(document)) => (Some(document), said),
            Err(errors) => {
                said.extend(errors);
                (None, said)
            }
        }
    }

    /// Writes the document as PDF/UA-1. `ident` names the document for good: the same for every
    /// build of the same design and paper, so that nothing random gets into the file.
    ///
    /// # Errors
    /// What keeps the document from conforming, as typst says it.
    pub fn export(
        &self,
        document: &PagedDocument,
        ident: &str,
    ) -> Result<Vec<u8>, Vec<SourceDiagnostic>> {
        let standards = PdfStandards::new(&[PdfStandard::Ua_1]).unwrap_or_default();
        let options = PdfOptions {
            ident: Smart::Custom(ident.to_string()),
            creator: Smart::Custom(Some("pressfoot".to_string())),
            timestamp: self.today.map(Timestamp::new_utc),
            standards,
            ..PdfOptions::default()
        };
        typst_pdf::pdf(document, &options).map_err(|errors| errors.into_iter().collect())
    }

    /// Path of a file without leading slash, if it is one of ours.
    pub fn path_of(id: FileId) -> &'static str {
        id.get().vpath().get_without_slash()
    }

    fn key(id: FileId) -> FileResult<&'static str> {
        match id.get().root() {
            VirtualRoot::Project => Ok(Self::path_of(id)),
            VirtualRoot::Package(_) => Err(FileError::Package(PackageError::Other(Some(
                "packages are not read: a booklet is made from the files at hand only".into(),
            )))),
        }
    }
}

impl World for BookletWorld<'_> {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        self.book.as_ref().unwrap_or_else(|| fonts::store().book())
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let path = Self::key(id)?;
        match self.sources.get(path) {
            Some(source) => Ok(source.clone()),
            None if self.files.contains_key(path) => Err(FileError::NotSource),
            None => Err(FileError::NotFound(PathBuf::from(path))),
        }
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let path = Self::key(id)?;
        let at_hand = self.files.get(path).cloned();
        let later = || Some(Bytes::new(self.later?.file(path)?.to_vec()));
        at_hand
            .or_else(later)
            .ok_or_else(|| FileError::NotFound(PathBuf::from(path)))
    }

    fn font(&self, index: usize) -> Option<Font> {
        match index.checked_sub(fonts::count()) {
            Some(number) => self.faces.font(number),
            None => fonts::store().font(index),
        }
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        self.today
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn world(text: &str) -> BookletWorld<'_> {
        let files = BTreeMap::from([("main.typ".to_string(), text.as_bytes().to_vec())]);
        BookletWorld::new(&files, "main.typ", None).unwrap()
    }

    fn refusal(text: &str) -> String {
        let (document, said) = world(text).compile();
        assert!(document.is_none());
        said[0].message.to_string()
    }

    #[test]
    fn files_that_were_not_handed_in_do_not_exist() {
        assert!(refusal("#read(\"/etc/passwd\")").contains("not found"));
        assert!(refusal("#read(\"../secret\")").contains("escape"));
    }

    #[test]
    fn a_file_may_be_made_when_it_is_asked_for() {
        struct Words;
        impl Later for Words {
            fn file(&self, path: &str) -> Option<&[u8]> {
                (path == "figures/1.txt").then_some(b"A sole.")
            }

            fn paths(&self) -> Vec<String> {
                vec!["figures/1.txt".to_string()]
            }
        }
        let said = |path: &str| {
            let text = format!("#panic(read(\"{path}\"))");
            let (_, said) = world(&text).with_later(Some(&Words)).compile();
            said[0].message.to_string()
        };
        assert!(said("/figures/1.txt").contains("A sole."));
        assert!(said("/figures/2.txt").contains("not found"));
    }

    #[test]
    fn packages_and_the_clock_are_refused() {
        assert!(refusal("#import \"@preview/any:0.1.0\": x").contains("packages are not read"));
        assert!(refusal("#datetime.today()").contains("unable to get the current date"));
    }

    #[test]
    fn the_same_files_give_the_same_bytes() {
        let text = "#set document(title: \"A\", date: auto)\n#title[A]\n= B\nOne.";
        let bytes = || {
            let files = BTreeMap::from([("main.typ".to_string(), text.as_bytes().to_vec())]);
            let moment = Moment::from_epoch(1_790_000_000);
            let world = BookletWorld::new(&files, "main.typ", moment).unwrap();
            let (document, _) = world.compile();
            world.export(&document.unwrap(), "test").unwrap()
        };
        let first = bytes();
        crate::booklet::forget(0);
        assert_eq!(first, bytes());
        assert!(first.starts_with(b"%PDF-"));
    }
}
