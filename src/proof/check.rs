//! One thing the proof looked at, and whether it was right. Passed checks are kept too: the report
//! shows what was looked at, not only what was wrong.

use crate::diagnostic::{Diagnostic, Diagnostics, Level, Place, entry};
use kurbo::{BezPath, Point, Rect};

/// At most so many characters of a line of a file are shown.
const EXCERPT: usize = 120;

/// What a picture of a check shows.
#[derive(Debug, Clone, PartialEq)]
pub enum Shown {
    /// A place on the page of the check, mm of the trimmed page.
    Place(Rect),
    /// Pieces side by side, each in its own axes.
    Pieces(Vec<ShownPiece>),
}

/// A piece in a picture, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct ShownPiece {
    /// What is drawn.
    pub title: String,
    /// Its outlines, the cut line first.
    pub lines: Vec<BezPath>,
    /// Edges that the message speaks of, each with its name.
    pub edges: Vec<(String, BezPath)>,
    /// Points that the message speaks of.
    pub points: Vec<Point>,
}

/// One check, passed or not.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// Code of the catalogue; passed and failed checks of one kind share it.
    pub code: &'static str,
    /// How grave it is, or would have been.
    pub level: Level,
    /// Whether it was right.
    pub passed: bool,
    /// What was found, one sentence with the values.
    pub message: String,
    /// What to do; empty for a passed check.
    pub remedy: String,
    /// The file: a finished PDF, or a file of the design; empty if there is none.
    pub file: String,
    /// Line of the design's file, from 1.
    pub line: Option<usize>,
    /// Column of the design's file, from 1.
    pub column: Option<usize>,
    /// Page of the PDF, from 1.
    pub page: Option<usize>,
    /// The line of the design's file, without its indent; empty if there is none.
    pub excerpt: String,
    /// What a picture of it shows.
    pub shown: Option<Shown>,
}

impl Check {
    /// A check of error level on the PDF called `file`.
    pub fn new(code: &'static str, file: &str, passed: bool, message: impl Into<String>) -> Self {
        debug_assert!(
            entry(code).is_some(),
            "code {code} is missing from the catalogue"
        );
        Self {
            code,
            level: Level::Error,
            passed,
            message: message.into(),
            remedy: String::new(),
            file: file.to_string(),
            line: None,
            column: None,
            page: None,
            excerpt: String::new(),
            shown: None,
        }
    }

    /// The same check with its page, from 1.
    pub fn on_page(mut self, page: usize) -> Self {
        self.page = Some(page);
        self
    }

    /// The same check with a remedy, which is kept only if it failed.
    pub fn remedy(mut self, remedy: impl Into<String>) -> Self {
        if !self.passed {
            self.remedy = remedy.into();
        }
        self
    }

    /// What an earlier stage had to say, as a check. A note says that nothing is wrong: it passes.
    pub fn from_diagnostic(diagnostic: &Diagnostic) -> Self {
        let place = diagnostic.place.as_ref();
        Self {
            code: diagnostic.code,
            level: diagnostic.level,
            passed: diagnostic.level == Level::Note,
            message: diagnostic.message.clone(),
            remedy: diagnostic.remedy.clone(),
            file: place.map_or_else(String::new, |p| p.source.path.clone()),
            line: place.map(|p| p.line),
            column: place.map(|p| p.column),
            page: diagnostic.page,
            excerpt: place.map_or_else(String::new, excerpt),
            shown: None,
        }
    }

    /// Whether this check forbids the sale.
    pub fn forbids_sale(&self) -> bool {
        !self.passed && self.level == Level::Error
    }
}

/// The line of the file at a place, cut to what can be read at a glance.
fn excerpt(place: &Place) -> String {
    let line = place.source.text.lines().nth(place.line.saturating_sub(1));
    let line = line.unwrap_or_default().trim();
    match line.char_indices().nth(EXCERPT) {
        Some((cut, _)) => format!("{}…", &line[..cut]),
        None => line.to_string(),
    }
}

/// The failed ones among `checks` as diagnostics; each message begins with the name of its PDF.
pub fn failed(checks: &[Check]) -> Diagnostics {
    let mut all = Diagnostics::default();
    for check in checks.iter().filter(|c| !c.passed) {
        let message = format!("{}: {}", check.file, check.message);
        let mut diagnostic = match check.level {
            Level::Error => Diagnostic::error(check.code, None, message),
            Level::Warning => Diagnostic::warning(check.code, None, message),
            Level::Note => Diagnostic::note(check.code, None, message),
        }
        .remedy(check.remedy.clone());
        diagnostic.page = check.page;
        all.push(diagnostic);
    }
    all
}
