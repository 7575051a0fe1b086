//! Makes the PDFs for the tests: plates with outlines at true scale, as SVG pictures.

use crate::proof::{Intended, IntendedLine, IntendedOutline};
use kurbo::{Affine, BezPath, Circle, Point, Rect, RoundedRect, Shape, Vec2};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::sync::LazyLock;
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_kit::fonts::FontStore;
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

/// A4 (ISO 216), mm.
pub const A4: [f64; 2] = [210.0, 297.0];

/// White round a picture, mm, so that strokes are not cut.
const BORDER: f64 = 1.0;

static FONTS: LazyLock<FontStore> = LazyLock::new(|| {
    let mut store = FontStore::new();
    store.extend(typst_kit::fonts::embedded());
    store
});

static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| LazyHash::new(Library::default()));

struct Files {
    main: Source,
    files: BTreeMap<String, Bytes>,
}

impl World for Files {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        FONTS.book()
    }

    fn main(&self) -> FileId {
        self.main.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        match id == self.main.id() {
            true => Ok(self.main.clone()),
            false => Err(FileError::AccessDenied),
        }
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let path = id.vpath().get_without_slash();
        self.files.get(path).cloned().ok_or(FileError::AccessDenied)
    }

    fn font(&self, index: usize) -> Option<Font> {
        FONTS.font(index)
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

/// The PDF of a Typst text with its files.
pub fn pdf(text: String, files: BTreeMap<String, Bytes>) -> Vec<u8> {
    let path = VirtualPath::new("main.typ").unwrap();
    let id = RootedPath::new(VirtualRoot::Project, path).intern();
    let main = Source::new(id, text);
    let document = typst::compile::<PagedDocument>(&Files { main, files })
        .output
        .unwrap();
    let options = PdfOptions {
        standards: PdfStandards::new(&[PdfStandard::Ua_1]).unwrap(),
        ..PdfOptions::default()
    };
    typst_pdf::pdf(&document, &options).unwrap()
}

/// A book in the making: page after page, everything placed from the top left corner in mm.
pub struct Book {
    text: String,
    files: BTreeMap<String, Bytes>,
}

impl Book {
    pub fn new(page: [f64; 2]) -> Self {
        let [width, height] = page;
        let text = format!(
            "#set document(title: \"Test shoe\")\n#set text(lang: \"en\")\n\
             #set page(width: {width}mm, height: {height}mm, margin: 0pt)\n\
             #let at(x, y, body) = place(top + left, dx: x * 1mm, dy: y * 1mm, body)\n"
        );
        let files = BTreeMap::new();
        Self { text, files }
    }

    /// Adds a line of Typst.
    pub fn typst(mut self, line: &str) -> Self {
        self.text.push_str(line);
        self.text.push('\n');
        self
    }

    /// Both test squares and a word.
    pub fn furniture(self) -> Self {
        self.typst("#at(15, 15)[Plate]")
            .typst("#at(15, 225, rect(width: 50mm, height: 50mm, stroke: 0.25mm))")
            .typst("#at(69, 225, rect(width: 50.8mm, height: 50.8mm, stroke: 0.25mm))")
    }

    pub fn next_page(self) -> Self {
        self.typst("#pagebreak()")
    }

    /// `path` with its own origin at `x`, `y` on the page.
    pub fn line(self, path: &BezPath, style: Style, x: f64, y: f64) -> Self {
        let (name, frame, book) = self.picture(path, style);
        let (dx, dy) = (x + frame.x0, y + frame.y0);
        book.typst(&format!(
            "#at({dx}, {dy}, image(\"{name}\", width: {}mm, height: {}mm, alt: \"a line\"))",
            frame.width(),
            frame.height()
        ))
    }

    /// `path` turned by `turns` quarter turns, its box at `x`, `y`.
    pub fn turned_line(self, path: &BezPath, style: Style, turns: u8, x: f64, y: f64) -> Self {
        let (name, frame, book) = self.picture(path, style);
        let angle = 90 * i32::from(turns);
        book.typst(&format!(
            "#at({x}, {y}, rotate({angle}deg, reflow: true, image(\"{name}\", width: {}mm, \
             height: {}mm, alt: \"a line\")))",
            frame.width(),
            frame.height()
        ))
    }

    /// The part of `path` in `window` (mm of the piece), that part's corner at `x`, `y`.
    pub fn tile(self, path: &BezPath, style: Style, window: Rect, x: f64, y: f64) -> Self {
        let (name, frame, book) = self.picture(path, style);
        let (dx, dy) = (frame.x0 - window.x0, frame.y0 - window.y0);
        book.typst(&format!(
            "#at({x}, {y}, box(width: {}mm, height: {}mm, clip: true, at({dx}, {dy}, \
             image(\"{name}\", width: {}mm, height: {}mm, alt: \"a part\"))))",
            window.width(),
            window.height(),
            frame.width(),
            frame.height()
        ))
    }

    /// Half a ring of 5 mm about `centre`, opening away from `into` (one of the four directions).
    pub fn half_ring(self, centre: Point, into: Vec2) -> Self {
        let kappa = 5.0 * 0.552_284_749_830_793;
        let at = |a: f64, b: f64| {
            let x = centre.x + into.x * a - into.y * b;
            let y = centre.y + into.y * a + into.x * b;
            format!("({x}mm, {y}mm)")
        };
        self.typst(&format!(
            "#place(top + left, curve(stroke: 0.3mm, curve.move({}), curve.cubic({}, {}, {}), \
             curve.cubic({}, {}, {})))",
            at(0.0, -5.0),
            at(kappa, -5.0),
            at(5.0, -kappa),
            at(5.0, 0.0),
            at(5.0, kappa),
            at(kappa, 5.0),
            at(0.0, 5.0)
        ))
    }

    fn picture(mut self, path: &BezPath, style: Style) -> (String, Rect, Self) {
        let frame = path.bounding_box().inflate(BORDER, BORDER);
        let name = format!("line-{}.svg", self.files.len());
        let mut svg = String::new();
        write!(
            svg,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{} {} {} {}\" width=\"{}mm\" \
             height=\"{}mm\"><path fill=\"none\" stroke=\"black\" {} d=\"{}\"/></svg>",
            frame.x0,
            frame.y0,
            frame.width(),
            frame.height(),
            frame.width(),
            frame.height(),
            style.attributes(),
            path.to_svg()
        )
        .unwrap();
        let bytes = Bytes::new(svg.into_bytes());
        self.files.insert(name.clone(), bytes);
        (name, frame, self)
    }

    pub fn pdf(self) -> Vec<u8> {
        pdf(self.text, self.files)
    }
}

/// Looks of lines (widths and dashes of the house style).
#[derive(Debug, Clone, Copy)]
pub enum Style {
    Cut,
    Seam,
    Pale,
    Faint,
    /// A cut line in dashes, mm.
    Dashed(&'static str),
}

impl Style {
    fn attributes(self) -> String {
        let plain = match self {
            Self::Dashed(dashes) => {
                return format!("stroke-width=\"0.5\" stroke-dasharray=\"{dashes}\"");
            }
            Self::Cut => "stroke-width=\"0.5\"",
            Self::Pale => "stroke-width=\"0.5\" style=\"stroke:#e8e8e8\"",
            Self::Faint => "stroke-width=\"0.5\" opacity=\"0.1\"",
            Self::Seam => "stroke-width=\"0.25\" stroke-dasharray=\"2.4 1.2\"",
        };
        plain.to_string()
    }
}

/// What an A4 plate should hold: 10 mm of margin, both squares, 0.01 mm of tolerance.
pub fn intended(outlines: Vec<IntendedOutline>) -> Intended {
    Intended {
        page: A4,
        outlines,
        squares: vec![50.0, 50.8],
        square_sets: 1,
        margin: 10.0,
        tolerance: 0.01,
        layers: None,
        labels: Vec::new(),
        bookmarks: Vec::new(),
        words: crate::proof::IntendedWords::default(),
    }
}

pub fn cut(piece: &str, path: &BezPath) -> IntendedOutline {
    outline(piece, IntendedLine::Cut, path)
}

pub fn seam(piece: &str, path: &BezPath) -> IntendedOutline {
    outline(piece, IntendedLine::Seam, path)
}

fn outline(piece: &str, line: IntendedLine, path: &BezPath) -> IntendedOutline {
    IntendedOutline {
        piece: piece.to_string(),
        title: piece.to_string(),
        size: "small".to_string(),
        line,
        path: path.clone(),
    }
}

/// A sole, with no axis of symmetry.
pub fn sole() -> BezPath {
    BezPath::from_svg(
        "M20 0 C32 0 41 12 40 28 C39.5 42 33 50 34 64 C35 80 30 91 20.5 91 C10 91 6 80 7 66 \
         C8 52 1 44 0 28 C-0.7 11 8 0 20 0 Z",
    )
    .unwrap()
}

/// A toe piece of lines and curves, with no axis of symmetry.
pub fn toe() -> BezPath {
    BezPath::from_svg(
        "M0 40 C0 15 16 0 36 0 C58 0 70 17 70 41 L55 52 C54 36 47 30 36 30 C24 30 18 37 16 50 Z",
    )
    .unwrap()
}

pub fn square(side: f64) -> BezPath {
    Rect::new(0.0, 0.0, side, side).to_path(0.1)
}

pub fn circle(radius: f64) -> BezPath {
    Circle::new(Point::ORIGIN, radius).to_path(1e-6)
}

/// A panel larger than A4.
pub fn panel() -> BezPath {
    RoundedRect::new(0.0, 0.0, 330.0, 400.0, 30.0).to_path(1e-6)
}

/// `count` outlines that differ: soles, scaled and bent.
pub fn many(count: usize) -> Vec<BezPath> {
    (0..count)
        .map(|i| {
            let k = 0.5 + 0.35 * i as f64 / count as f64;
            Affine::scale_non_uniform(k, 1.35 - k) * if i % 2 == 0 { sole() } else { toe() }
        })
        .collect()
}
