//! Finds the intended outlines among the lines drawn on the pages: each a drawn line of its own,
//! congruent by a move and quarter turns. Millimetres.
//!
//! Every drawing that shows a whole outline may stand for one intended outline. What is cut by a
//! clip or the page's edge is a window; the windows of one outline, on one page or on several, may
//! together stand for one ([`super::tiles`]).

use super::ink::DrawnLine;
use super::intended::{Intended, IntendedLine, IntendedOutline};
use super::ring::{Placement, Ring};
use super::sheet::Sheet;
use super::tiles::{Coverage, coverage};
use kurbo::Rect;

/// Cut lines are drawn at least this wide, mm. The booklet draws them 0.5, on pieces under 8 mm
/// 0.35, and seam lines 0.25: the threshold lies between, with room for a writer that rounds
/// widths to hundredths of a point.
pub const CUT_WIDTH_FROM: f64 = 0.30;

/// Fainter lines than this, mm, are no lines to cut or to sew by.
pub const SEAM_WIDTH_FROM: f64 = 0.15;

/// A drawn line whose box or course is further off than this, mm, is another shape: its outline
/// counts as missing. Nearer ones are reported with their deviation.
pub const REACH: f64 = 1.0;

/// A window may end this much inside the outline, mm, before it counts as cutting it.
const WINDOW_SLACK: f64 = 0.01;

/// Deviations are compared in steps of this, mm, when drawings compete: what is equal in print is
/// then taken in the order of pages.
const COMPARE_STEP: f64 = 1e-4;

/// A drawing of an intended outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drawing {
    /// Index of the sheet.
    pub sheet: usize,
    /// Index of the line on the sheet.
    pub line: usize,
    /// How the intended outline lies there.
    pub placement: Placement,
    /// Whether it can be seen from end to end.
    pub whole: bool,
}

/// What was found of one intended outline.
#[derive(Debug, Clone, PartialEq)]
pub enum Finding {
    /// Drawn whole on one sheet.
    Whole(Drawing),
    /// Drawn through windows.
    Tiled {
        /// One drawing for each window, in the order of pages.
        drawings: Vec<Drawing>,
        /// What the windows show together.
        coverage: Coverage,
    },
    /// Not drawn.
    Missing,
}

impl Finding {
    /// The drawings that stand for the outline.
    pub fn drawings(&self) -> &[Drawing] {
        match self {
            Self::Whole(drawing) => std::slice::from_ref(drawing),
            Self::Tiled { drawings, .. } => drawings,
            Self::Missing => &[],
        }
    }

    /// Greatest deviation of its drawings, mm; `None` if it is missing.
    pub fn deviation(&self) -> Option<f64> {
        let all = self.drawings().iter().map(|d| d.placement.deviation);
        all.reduce(f64::max)
    }
}

/// The sheets with a ring for each of their closed lines.
pub struct Drawn<'a> {
    /// The sheets.
    pub sheets: &'a [Sheet],
    rings: Vec<Vec<Option<Ring>>>,
}

impl<'a> Drawn<'a> {
    /// Prepares the lines of `sheets`.
    pub fn new(sheets: &'a [Sheet]) -> Self {
        let rings = sheets
            .iter()
            .map(|sheet| sheet.lines.iter().map(|l| Ring::new(&l.path)).collect())
            .collect();
        Self { sheets, rings }
    }

    /// The ring of a line, if it is one closed curve.
    pub fn ring(&self, sheet: usize, line: usize) -> Option<&Ring> {
        self.rings.get(sheet)?.get(line)?.as_ref()
    }

    /// Every line with its ring, in the order of pages.
    pub fn lines(&self) -> impl Iterator<Item = (usize, usize, &DrawnLine, &Ring)> {
        self.sheets.iter().enumerate().flat_map(move |(s, sheet)| {
            let lines = sheet.lines.iter().zip(&self.rings[s]).enumerate();
            lines.filter_map(move |(l, (line, ring))| Some((s, l, line, ring.as_ref()?)))
        })
    }
}

/// Whether a drawn line has the look of `kind`: cut lines are wide (solid, or dashed to tell
/// sizes apart), seam lines narrower and dashed.
pub fn looks_like(line: &DrawnLine, kind: IntendedLine) -> bool {
    match kind {
        IntendedLine::Cut => line.width >= CUT_WIDTH_FROM,
        IntendedLine::Seam => {
            line.dashed && line.width >= SEAM_WIDTH_FROM && line.width < CUT_WIDTH_FROM
        }
    }
}

/// Finds every intended outline, in the order in which they are intended. Exact drawings are
/// given out first; what is left may stand, with its deviation, for outlines still missing.
/// `preferred` tells the sheets that look like plates: of equal drawings those on them are taken.
pub fn find(drawn: &Drawn<'_>, intended: &Intended, preferred: &[bool]) -> Vec<Finding> {
    let candidates: Vec<Vec<Drawing>> = intended
        .outlines
        .iter()
        .map(|outline| drawings_of(outline, drawn, preferred, intended.tolerance))
        .collect();
    let mut findings = vec![Finding::Missing; intended.outlines.len()];
    let mut taken = Taken::default();
    for reach in [intended.tolerance, REACH] {
        let within = |d: &&Drawing| d.placement.deviation <= reach;
        let missing: Vec<usize> = indices_missing(&findings);
        let whole = missing
            .iter()
            .map(|i| {
                let all = candidates[*i].iter().filter(within);
                all.filter(|d| d.whole && taken.is_free(d))
                    .copied()
                    .collect()
            })
            .collect();
        for (index, drawing) in missing.iter().zip(give_out(whole)) {
            if let Some(drawing) = drawing {
                taken.take(&drawing);
                findings[*index] = Finding::Whole(drawing);
            }
        }
        for index in indices_missing(&findings) {
            let parts: Vec<Drawing> = candidates[index]
                .iter()
                .filter(within)
                .filter(|d| !d.whole && taken.is_free(d))
                .copied()
                .collect();
            if let Some(found) = tiled(&intended.outlines[index], parts, drawn) {
                found.drawings().iter().for_each(|d| taken.take(d));
                findings[index] = found;
            }
        }
    }
    findings
}

#[derive(Default)]
struct Taken(std::collections::BTreeSet<(usize, usize)>);

impl Taken {
    fn is_free(&self, drawing: &Drawing) -> bool {
        !self.0.contains(&(drawing.sheet, drawing.line))
    }

    fn take(&mut self, drawing: &Drawing) {
        self.0.insert((drawing.sheet, drawing.line));
    }
}

fn indices_missing(findings: &[Finding]) -> Vec<usize> {
    let missing = |i: &usize| findings[*i] == Finding::Missing;
    (0..findings.len()).filter(missing).collect()
}

/// All drawings that could stand for `outline`, best first: right ones before wrong ones, then
/// those on plates before others (a small piece may be shown at true scale in the text too).
fn drawings_of(
    outline: &IntendedOutline,
    drawn: &Drawn<'_>,
    preferred: &[bool],
    tolerance: f64,
) -> Vec<Drawing> {
    let Some(ring) = Ring::new(&outline.path) else {
        return Vec::new();
    };
    let mut all: Vec<Drawing> = drawn
        .lines()
        .filter(|(_, _, line, _)| looks_like(line, outline.line))
        .filter(|(_, _, _, other)| similar_boxes(ring.bounds(), other.bounds()))
        .filter_map(|(sheet, index, line, other)| {
            Some(Drawing {
                sheet,
                line: index,
                placement: ring.placed_on(other, REACH)?,
                whole: contains(line.window, line.bounds),
            })
        })
        .collect();
    let beyond = |d: &Drawing| d.placement.deviation > tolerance;
    let step = |d: &Drawing| (d.placement.deviation / COMPARE_STEP).round() as i64;
    let plain = |d: &Drawing| !preferred.get(d.sheet).copied().unwrap_or(false);
    all.sort_by_key(|d| (beyond(d), plain(d), step(d), d.sheet, d.line));
    all
}

fn similar_boxes(a: Rect, b: Rect) -> bool {
    let near = |x: f64, y: f64| (x - y).abs() <= REACH;
    let upright = near(a.width(), b.width()) && near(a.height(), b.height());
    upright || (near(a.width(), b.height()) && near(a.height(), b.width()))
}

/// Whether `window` shows all of a line with the box `bounds`.
pub fn contains(window: Rect, bounds: Rect) -> bool {
    let window = window.inflate(WINDOW_SLACK, WINDOW_SLACK);
    window.x0 <= bounds.x0
        && window.y0 <= bounds.y0
        && window.x1 >= bounds.x1
        && window.y1 >= bounds.y1
}

/// Gives each list at most one of its drawings, no drawing twice, and as many lists as possible
/// one (augmenting paths, Kuhn 1955). A list keeps its best drawing unless another has no other.
fn give_out(lists: Vec<Vec<Drawing>>) -> Vec<Option<Drawing>> {
    let mut owner = std::collections::BTreeMap::new();
    for index in 0..lists.len() {
        let mut tried = Taken::default();
        give_one(index, &lists, &mut owner, &mut tried);
    }
    let mut given = vec![None; lists.len()];
    for ((sheet, line), index) in owner {
        given[index] = lists[index]
            .iter()
            .find(|d| (d.sheet, d.line) == (sheet, line))
            .copied();
    }
    given
}

fn give_one(
    index: usize,
    lists: &[Vec<Drawing>],
    owner: &mut std::collections::BTreeMap<(usize, usize), usize>,
    tried: &mut Taken,
) -> bool {
    for drawing in &lists[index] {
        if !tried.is_free(drawing) {
            continue;
        }
        tried.take(drawing);
        let key = (drawing.sheet, drawing.line);
        let free = match owner.get(&key).copied() {
            None => true,
            Some(other) => give_one(other, lists, owner, tried),
        };
        if free {
            owner.insert(key, index);
            return true;
        }
    }
    false
}

/// The fewest windows, in the order of pages, that show all of `outline`; all of `parts` if even
/// they do not. The rest is left for the next outline of the same shape.
fn tiled(outline: &IntendedOutline, mut parts: Vec<Drawing>, drawn: &Drawn<'_>) -> Option<Finding> {
    let ring = Ring::new(&outline.path)?;
    parts.sort_by_key(|d| (d.sheet, d.line));
    let window = |d: &Drawing| {
        let line = &drawn.sheets[d.sheet].lines[d.line];
        let back = d.placement.to_affine().inverse();
        back.transform_rect_bbox(line.window)
    };
    let windows: Vec<Rect> = parts.iter().map(window).collect();
    for count in 2..=parts.len() {
        let shown = coverage(&ring, &windows[..count]);
        if shown.gap.is_none() {
            return Some(Finding::Tiled {
                drawings: parts[..count].to_vec(),
                coverage: shown,
            });
        }
    }
    (!parts.is_empty()).then(|| Finding::Tiled {
        coverage: coverage(&ring, &windows),
        drawings: parts,
    })
}
