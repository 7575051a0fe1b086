//! Small drawings of what was read of the pages, for the report: words as bars, lines and shapes as
//! they lie, pictures as boxes; over them the outlines that were found and those that were meant. Made
//! of what [`super::sheet`] has read, so that no page is read again. Millimetres of the trimmed page.

pub mod joined;
pub mod pen;
mod words;

use super::hint::words_of;
use super::ink::InkKind;
use super::intended::{Intended, IntendedLine, IntendedOutline};
use super::outline::{Drawn, Finding};
use super::paint::{Paint, lightness};
use super::reading::Reading;
use super::sheet::Sheet;
use super::viewing::Viewing;
use joined::JoinedSketch;
use kurbo::Rect;
use pen::Pen;

/// Steps of the grid to the millimetre on which a page is drawn.
pub const COARSE: f64 = 2.0;

/// Steps of the grid to the millimetre on which outlines are drawn.
pub const FINE: f64 = 10.0;

/// So many bytes of path data are spent on the lines and shapes of a page, the largest first: a report
/// of some hundred pages stays small. What is left out is hatching, too fine to be seen at this size.
const BYTES: usize = 3_600;

/// The same for a large sheet.
const BYTES_OF_LARGE: usize = 16_000;

/// With fewer bytes left than this no further path is tried.
const BYTES_OF_A_PATH: usize = 40;

/// A sheet of more than this, mm², is large: more than two sheets of A3.
const LARGE: f64 = 250_000.0;

/// Lines and shapes smaller than this, mm, are not seen at this size.
const SMALLEST: f64 = 0.8;

/// Shapes up to this, mm, may be letters drawn as outlines.
const LETTER: f64 = 5.0;

/// Paint from this lightness on is taken for paper.
const PAPER: f32 = 0.97;

/// Paint up to this lightness is drawn as ink, lighter paint as a tint.
const INK: f32 = 0.7;

/// What was read of a file, drawn small.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sketches {
    /// All pages in order.
    pub pages: Vec<PageSketch>,
    /// The pieces spread over several pages, joined.
    pub joined: Vec<JoinedSketch>,
}

/// One page. All paths are SVG path data on a grid, see [`COARSE`] and [`FINE`].
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PageSketch {
    /// Width of the trimmed page, mm.
    pub width: f64,
    /// Height of the trimmed page, mm.
    pub height: f64,
    /// As viewers label it.
    pub label: String,
    /// What is on it: its last bookmark; empty if there is none.
    pub about: String,
    /// Bars of words by their thickness in grid steps, coarse.
    pub words: Vec<(i64, String)>,
    /// Lines, coarse.
    pub lines: String,
    /// Dark shapes, coarse.
    pub shapes: String,
    /// Light shapes and pictures, coarse.
    pub tints: String,
    /// Outlines of pieces on the page.
    pub outlines: Vec<OutlineSketch>,
}

/// An outline on a page.
#[derive(Debug, Clone, PartialEq)]
pub struct OutlineSketch {
    /// E.g. `cut line of Toe, Small`.
    pub name: String,
    /// The piece as printed.
    pub piece: String,
    /// Which line.
    pub line: IntendedLine,
    /// As it should be, laid where it was found; fine.
    pub intended: String,
    /// As it was found; fine.
    pub found: String,
}

impl OutlineSketch {
    /// An outline with the paths as it was intended and as it was found.
    fn of(outline: &IntendedOutline, intended: String, found: String) -> Self {
        Self {
            name: format!(
                "{} of {}, {}",
                words_of(outline.line),
                outline.title,
                outline.size
            ),
            piece: outline.title.clone(),
            line: outline.line,
            intended,
            found,
        }
    }
}

/// The pages of `reading`, with what was found of the intended outlines.
pub fn sketches(
    reading: &Reading,
    drawn: &Drawn<'_>,
    findings: &[Finding],
    intended: &Intended,
) -> Sketches {
    let viewing = &reading.document.viewing;
    let mut pages: Vec<PageSketch> = reading
        .sheets
        .iter()
        .enumerate()
        .map(|(index, sheet)| page(sheet, index, viewing))
        .collect();
    for (outline, finding) in intended.outlines.iter().zip(findings) {
        for drawing in finding.drawings() {
            let line = &drawn.sheets[drawing.sheet].lines[drawing.line];
            let meant = drawing.placement.to_affine() * outline.path.clone();
            let [wanted, found] = [&meant, &line.path].map(|path| fine(path, line.window));
            let sketch = OutlineSketch::of(outline, wanted, found);
            pages[drawing.sheet].outlines.push(sketch);
        }
    }
    Sketches {
        pages,
        joined: joined::joined(drawn, findings, intended),
    }
}

/// The pages of `reading` alone, each with the words that `about` has for it.
pub fn pages(reading: &Reading, about: impl Fn(usize) -> String) -> Sketches {
    let viewing = &reading.document.viewing;
    let sheets = reading.sheets.iter().enumerate();
    let pages = sheets.map(|(index, sheet)| PageSketch {
        about: about(index),
        ..page(sheet, index, viewing)
    });
    Sketches {
        pages: pages.collect(),
        joined: Vec::new(),
    }
}

fn fine(path: &kurbo::BezPath, window: Rect) -> String {
    let mut pen = Pen::new(FINE);
    pen.path(path, window);
    pen.data().to_string()
}

fn page(sheet: &Sheet, index: usize, viewing: &Viewing) -> PageSketch {
    let number = || (index + 1).to_string();
    let mut sketch = PageSketch {
        width: sheet.width,
        height: sheet.height,
        label: viewing.labels.get(index).cloned().unwrap_or_else(number),
        about: title(index + 1, viewing),
        ..PageSketch::default()
    };
    let letters = sheet.ink.iter().filter(|ink| ink.kind == InkKind::Glyph);
    let drawn = sheet.paint.iter().filter(|paint| is_letter(paint));
    let boxes = letters.map(|ink| ink.bounds).chain(drawn.map(|p| p.seen));
    let bars = words::bars(boxes, COARSE).into_iter();
    sketch.words = bars
        .map(|(thickness, pen)| (thickness, pen.data().to_string()))
        .filter(|(_, data)| !data.is_empty())
        .collect();
    draw_paint(sheet, &mut sketch);
    sketch
}

/// Title of the last bookmark that leads to a page or to one before it.
fn title(page: usize, viewing: &Viewing) -> String {
    let bookmarks = viewing.bookmarks.iter();
    let before = bookmarks.filter(|b| b.page.is_some_and(|to| to <= page));
    // of several on one page the first is its heading
    let best = before.fold(
        None,
        |best: Option<&super::viewing::Bookmark>, b| match best {
            Some(best) if best.page >= b.page => Some(best),
            _ => Some(b),
        },
    );
    let title = best.and_then(|b| b.titles.last());
    title.cloned().unwrap_or_default()
}

/// Whether paint may be a letter that is drawn as an outline.
fn is_letter(paint: &Paint) -> bool {
    let size = paint.seen.width().max(paint.seen.height());
    let dark = paint.colour.is_some_and(|c| lightness(c) <= INK);
    paint.stroke.is_none() && dark && size <= LETTER
}

/// Lines and shapes, the largest first, until there is enough of them.
fn draw_paint(sheet: &Sheet, sketch: &mut PageSketch) {
    let extent = |paint: &Paint| paint.seen.width() + paint.seen.height();
    let visible = |paint: &&Paint| {
        let paper = paint.colour.is_some_and(|c| lightness(c) >= PAPER);
        !paper && !is_letter(paint) && extent(paint) >= SMALLEST
    };
    let mut all: Vec<&Paint> = sheet.paint.iter().filter(visible).collect();
    all.sort_by(|a, b| {
        let by_size = extent(b).total_cmp(&extent(a));
        by_size.then(a.order.cmp(&b.order))
    });
    let large = sheet.width * sheet.height > LARGE;
    let mut left = if large { BYTES_OF_LARGE } else { BYTES };
    let [mut lines, mut shapes, mut tints] = [(); 3].map(|()| Pen::new(COARSE));
    for paint in all {
        if left < BYTES_OF_A_PATH {
            break;
        }
        let pen = match (paint.stroke, paint.colour) {
            (Some(_), _) => &mut lines,
            (None, Some(colour)) if lightness(colour) <= INK => &mut shapes,
            _ => &mut tints,
        };
        // a path that takes more than there is left for all is hatching
        let before = pen.data().len();
        pen.within(left, |pen| pen.path(&paint.path, paint.seen));
        left -= pen.data().len() - before;
    }
    [sketch.lines, sketch.shapes, sketch.tints] =
        [lines, shapes, tints].map(|pen| pen.data().to_string());
}
