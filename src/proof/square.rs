//! The test squares that a buyer measures before cutting: found on a page and measured to the
//! middle of their line, in mm.

use super::outline::contains;
use super::sheet::{DrawnLine, Sheet};
use kurbo::{PathEl, Point};

/// A drawn rectangle stands for a test square if both sides are within this of it, mm. Further off
/// it is some other rectangle, and the square is missing.
pub const SQUARE_REACH: f64 = 1.0;

/// Corners of an upright rectangle may lie this far from the corners of its box, mm.
const UPRIGHT_WITHIN: f64 = 1e-3;

/// A test square as drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Square {
    /// Intended side, mm.
    pub side: f64,
    /// Its upper left corner on the page, mm from the upper left of the trimmed page.
    pub at: Point,
    /// Width as drawn, mm.
    pub width: f64,
    /// Height as drawn, mm.
    pub height: f64,
}

impl Square {
    /// How far the worse side is off, mm.
    pub fn deviation(&self) -> f64 {
        let off = |drawn: f64| (drawn - self.side).abs();
        off(self.width).max(off(self.height))
    }
}

/// The square drawn on `sheet` for each of `sides`, each drawn rectangle standing for one only.
/// `taken` are the lines that already stand for outlines of pieces.
pub fn squares(sheet: &Sheet, sides: &[f64], taken: &[usize]) -> Vec<Option<Square>> {
    let mut pairs: Vec<(f64, usize, usize, Square)> = Vec::new();
    for (line, drawn) in sheet.lines.iter().enumerate() {
        if taken.contains(&line) || !is_upright_rectangle(drawn) {
            continue;
        }
        for (index, side) in sides.iter().enumerate() {
            let square = Square {
                side: *side,
                at: drawn.bounds.origin(),
                width: drawn.bounds.width(),
                height: drawn.bounds.height(),
            };
            if square.deviation() <= SQUARE_REACH {
                pairs.push((square.deviation(), index, line, square));
            }
        }
    }
    // Two squares may be nearer to each other in size (50 and 50.8 mm) than the reach: the best
    // pairs are made first.
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    let mut found = vec![None; sides.len()];
    let mut used = Vec::new();
    for (_, index, line, square) in pairs {
        if found[index].is_none() && !used.contains(&line) {
            found[index] = Some(square);
            used.push(line);
        }
    }
    found
}

/// Whether a line is solid, can be seen whole, and is a rectangle with upright sides.
fn is_upright_rectangle(line: &DrawnLine) -> bool {
    if line.dashed || !contains(line.window, line.bounds) {
        return false;
    }
    let mut corners: Vec<Point> = Vec::with_capacity(5);
    for element in line.path.elements() {
        match element {
            PathEl::MoveTo(p) | PathEl::LineTo(p) => corners.push(*p),
            PathEl::ClosePath => {}
            PathEl::QuadTo(..) | PathEl::CurveTo(..) => return false,
        }
    }
    if corners.len() == 5 && corners[0].distance(corners[4]) < UPRIGHT_WITHIN {
        corners.pop();
    }
    let bounds = line.bounds;
    let places = [
        Point::new(bounds.x0, bounds.y0),
        Point::new(bounds.x1, bounds.y0),
        Point::new(bounds.x1, bounds.y1),
        Point::new(bounds.x0, bounds.y1),
    ];
    let stands = |place: &Point| corners.iter().any(|c| c.distance(*place) < UPRIGHT_WITHIN);
    corners.len() == 4 && places.iter().all(stands)
}
