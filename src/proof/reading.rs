//! Reading a finished PDF as a stranger would: its facts, its pages ([`super::sheet`]), and what its tags
//! call figures. Nothing here knows what the pages should hold.

use super::document::{self, Document};
use super::effort::{self, MAX_OPERATIONS};
use super::figure::{PrintedFigure, figures};
use super::recorder::Recorder;
use super::sheet::{Link, Sheet};
use super::viewing::{Targets, page_numbers};
use hayro_interpret::{Context, InterpreterCache, InterpreterSettings, interpret_page};
use hayro_syntax::object::{Dict, Rect as Box};
use hayro_syntax::page::{Page, Rotation};
use hayro_syntax::{LoadPdfError, Pdf};
use kurbo::{Affine, Rect};
use std::collections::BTreeSet;
use std::fmt;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Larger files are refused: a booklet has a few MB, and reading takes several times its size.
pub const MAX_BYTES: usize = 512 << 20;

/// Longer files are refused: a booklet has tens of pages, a collection hundreds.
pub const MAX_PAGES: usize = 4000;

/// A side of a box of the page larger than another by more than this, mm, counts as larger.
const BOX_SLACK: f64 = 0.1;

/// A PDF, read.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Facts about the whole file.
    pub document: Document,
    /// The pages in order.
    pub sheets: Vec<Sheet>,
    /// What the tags call figures.
    pub figures: Vec<PrintedFigure>,
}

/// Why a PDF cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unreadable {
    /// It is no PDF, or too badly damaged.
    Damaged,
    /// It is encrypted.
    Encrypted,
    /// It has no page.
    NoPages,
    /// More bytes, pages or drawing operations than the limit.
    TooLarge {
        /// What there is too much of.
        what: &'static str,
        /// The limit.
        limit: usize,
    },
}

impl fmt::Display for Unreadable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Damaged => write!(f, "the file is no PDF, or it is damaged"),
            Self::Encrypted => write!(f, "the file is encrypted"),
            Self::NoPages => write!(f, "the file has no page"),
            Self::TooLarge { what, limit } => write!(f, "the file has more than {limit} {what}"),
        }
    }
}

/// Reads all pages of the PDF in `bytes`.
///
/// The time taken is bounded: drawing operations, nested ones included, are counted before they
/// are followed.
///
/// # Errors
/// See [`Unreadable`].
pub fn read(bytes: &[u8]) -> Result<Reading, Unreadable> {
    guarded(bytes, None)
}

/// Reads the lines of these pages of the PDF in `bytes`, from 0, and passes over their letters. The
/// others come without any content.
///
/// # Errors
/// See [`Unreadable`].
pub fn read_lines(bytes: &[u8], pages: &BTreeSet<usize>) -> Result<Reading, Unreadable> {
    guarded(bytes, Some(pages))
}

fn guarded(bytes: &[u8], only: Option<&BTreeSet<usize>>) -> Result<Reading, Unreadable> {
    if bytes.len() > MAX_BYTES {
        return Err(Unreadable::TooLarge {
            what: "bytes",
            limit: MAX_BYTES,
        });
    }
    // The PDF library returns errors for damaged files, but it is young and asserts here and there
    // what only a sound file grants; such a file is damaged, and nothing of it is kept.
    let read = AssertUnwindSafe(|| read_pages(bytes, only));
    catch_unwind(read).unwrap_or(Err(Unreadable::Damaged))
}

fn read_pages(bytes: &[u8], only: Option<&BTreeSet<usize>>) -> Result<Reading, Unreadable> {
    let pdf = Pdf::new(bytes.to_vec()).map_err(|fault| match fault {
        LoadPdfError::Decryption(_) => Unreadable::Encrypted,
        LoadPdfError::Invalid => Unreadable::Damaged,
    })?;
    let pages = pdf.pages();
    if pages.is_empty() {
        return Err(Unreadable::NoPages);
    }
    if pages.len() > MAX_PAGES {
        return Err(Unreadable::TooLarge {
            what: "pages",
            limit: MAX_PAGES,
        });
    }
    if effort::operations(pages) > MAX_OPERATIONS {
        return Err(Unreadable::TooLarge {
            what: "drawing operations",
            limit: MAX_OPERATIONS,
        });
    }
    let xref = pdf.xref();
    let catalogue = xref.get::<Dict<'_>>(xref.root_id()).unwrap_or_default();
    let numbers = page_numbers(&pdf);
    let targets = Targets {
        catalogue: &catalogue,
        pages: &numbers,
    };
    let cache = InterpreterCache::new();
    let mut recorder = match only {
        Some(_) => Recorder::of_lines(),
        None => Recorder::default(),
    };
    let mut sheets = Vec::new();
    for (index, page) in pages.iter().enumerate() {
        let frame = Frame::of(page);
        if only.is_none_or(|only| only.contains(&index)) {
            record(page, &frame, (&pdf, &cache), &mut recorder);
        }
        let mut sheet = sheet_of(&frame, recorder.finish());
        if only.is_none() {
            sheet.links = links(page, &frame, &targets);
        }
        sheets.push(sheet);
    }
    let whole = only.is_none();
    Ok(Reading {
        document: match whole {
            true => document::read(&pdf),
            false => Default::default(),
        },
        figures: match whole {
            true => figures(&catalogue, &numbers),
            false => Vec::new(),
        },
        sheets,
    })
}

/// Has `recorder` record what a page holds.
fn record<'a>(
    page: &Page<'a>,
    frame: &Frame,
    (pdf, cache): (&'a Pdf, &InterpreterCache<'a>),
    recorder: &mut Recorder,
) {
    recorder.begin(Rect::new(0.0, 0.0, frame.width, frame.height));
    let settings = InterpreterSettings::default();
    let mut context = Context::new(frame.to_page, frame.media, cache, pdf.xref(), settings);
    interpret_page(page, &mut context, recorder);
}

fn sheet_of(frame: &Frame, recorded: Sheet) -> Sheet {
    Sheet {
        width: frame.width,
        height: frame.height,
        bleed: frame.bleed,
        ..recorded
    }
}

fn links(page: &Page<'_>, frame: &Frame, targets: &Targets<'_, '_>) -> Vec<Link> {
    let place = |b: Box| {
        frame
            .to_page
            .transform_rect_bbox(Rect::new(b.x0, b.y0, b.x1, b.y1))
    };
    let found = targets.links(page.raw()).into_iter();
    found
        .map(|(area, page)| Link {
            bounds: place(area),
            page,
        })
        .collect()
}

/// Where a page's axes lie: from points, y up, to mm of the trimmed page as shown, y down.
struct Frame {
    to_page: Affine,
    width: f64,
    height: f64,
    media: Rect,
    bleed: bool,
}

impl Frame {
    fn of(page: &Page<'_>) -> Self {
        let media = page.intersected_crop_box();
        let named = |key: &str| page.raw().get::<Box>(key).map(|b| b.intersect(media));
        let trim = named("TrimBox")
            .filter(|b| b.width() > 0.0 && b.height() > 0.0)
            .unwrap_or(media);
        let unit = page.raw().get::<f64>("UserUnit");
        // ISO 32000-1, 8.3.2.3: a unit of user space is UserUnit / 72 in.
        let scale = unit.filter(|u| u.is_finite() && *u > 0.0).unwrap_or(1.0) * 25.4 / 72.0;
        let (width, height) = (trim.width() * scale, trim.height() * scale);
        let upright = Affine::new([scale, 0.0, 0.0, -scale, -trim.x0 * scale, trim.y1 * scale]);
        let (turn, width, height) = match page.rotation() {
            Rotation::None => (Affine::IDENTITY, width, height),
            Rotation::Horizontal => (
                Affine::new([0.0, 1.0, -1.0, 0.0, height, 0.0]),
                height,
                width,
            ),
            Rotation::Flipped => (
                Affine::new([-1.0, 0.0, 0.0, -1.0, width, height]),
                width,
                height,
            ),
            Rotation::FlippedHorizontal => (
                Affine::new([0.0, -1.0, 1.0, 0.0, 0.0, width]),
                height,
                width,
            ),
        };
        let to_page = turn * upright;
        let bleed_box = named("BleedBox").unwrap_or(media);
        let larger = |outer: f64, inner: f64| (outer - inner) * scale > BOX_SLACK;
        Self {
            to_page,
            width,
            height,
            media: to_page.transform_rect_bbox(Rect::new(media.x0, media.y0, media.x1, media.y1)),
            bleed: larger(bleed_box.width(), trim.width())
                || larger(bleed_box.height(), trim.height()),
        }
    }
}
