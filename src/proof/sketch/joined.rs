//! Pieces spread over several pages, drawn as a buyer joins them: each sheet laid where its join marks
//! put it. Millimetres in the axes of the first sheet.

use super::pen::Pen;
use super::{FINE, OutlineSketch};
use crate::proof::intended::Intended;
use crate::proof::joined::laid;
use crate::proof::outline::{Drawing, Drawn, Finding};
use kurbo::{Affine, Point, Rect, Shape};

/// White left round the drawing, mm.
const ROUND: f64 = 4.0;

/// The sheets of one plate, joined by their marks.
#[derive(Debug, Clone, PartialEq)]
pub struct JoinedSketch {
    /// Pages, from 1.
    pub pages: Vec<usize>,
    /// What each sheet shows of the plate, once it is laid in its place; in the order of `pages`.
    pub frames: Vec<[Point; 4]>,
    /// Middles of the join marks.
    pub marks: Vec<Point>,
    /// The outlines on them; what was found is laid by the marks of the sheets alone.
    pub outlines: Vec<OutlineSketch>,
    /// Pieces and sizes with the line, as keys: `measured` has the misfit under them.
    pub keys: Vec<(String, String)>,
    /// All of it.
    pub bounds: Rect,
}

/// All outlines that were found on several sheets, those on the same sheets together. Sheets that their
/// marks do not join are left out: that is told as a failed check.
pub fn joined(drawn: &Drawn<'_>, findings: &[Finding], intended: &Intended) -> Vec<JoinedSketch> {
    let mut all: Vec<JoinedSketch> = Vec::new();
    for (outline, finding) in intended.outlines.iter().zip(findings) {
        let drawings = finding.drawings();
        if drawings.len() < 2 {
            continue;
        }
        let Ok((places, marks)) = laid(drawings, drawn) else {
            continue;
        };
        let pages: Vec<usize> = drawings.iter().map(|d| d.sheet + 1).collect();
        let known = all.iter().position(|sketch| sketch.pages == pages);
        let index = known.unwrap_or(all.len());
        if known.is_none() {
            all.push(plate(pages, drawings, drawn, &places, marks));
        }
        let sketch = &mut all[index];
        let mut found = Pen::new(FINE);
        for (drawing, place) in drawings.iter().zip(&places) {
            let line = &drawn.sheets[drawing.sheet].lines[drawing.line];
            let window = place.transform_rect_bbox(line.window);
            found.path(&(*place * line.path.clone()), window);
        }
        let meant = drawings[0].placement.to_affine() * outline.path.clone();
        sketch.bounds = sketch
            .bounds
            .union(meant.bounding_box().inflate(ROUND, ROUND));
        let mut wanted = Pen::new(FINE);
        wanted.path(&meant, Rect::new(-1e6, -1e6, 1e6, 1e6));
        let [wanted, found] = [wanted, found].map(|pen| pen.data().to_string());
        sketch
            .outlines
            .push(OutlineSketch::of(outline, wanted, found));
        sketch
            .keys
            .push((outline.piece.clone(), outline.size.clone()));
    }
    all
}

fn plate(
    pages: Vec<usize>,
    drawings: &[Drawing],
    drawn: &Drawn<'_>,
    places: &[Affine],
    marks: Vec<Point>,
) -> JoinedSketch {
    let frames: Vec<[Point; 4]> = drawings
        .iter()
        .zip(places)
        .map(|(drawing, place)| {
            let window = drawn.sheets[drawing.sheet].lines[drawing.line].window;
            let Rect { x0, y0, x1, y1 } = window;
            [(x0, y0), (x1, y0), (x1, y1), (x0, y1)].map(|corner| *place * Point::from(corner))
        })
        .collect();
    let corners = frames.iter().flatten();
    let bounds = corners.map(|p| Rect::from_points(*p, *p));
    let bounds = bounds.reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO);
    JoinedSketch {
        pages,
        frames,
        marks,
        outlines: Vec::new(),
        keys: Vec::new(),
        bounds: bounds.inflate(ROUND, ROUND),
    }
}
