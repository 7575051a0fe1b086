//! The test squares that a buyer measures before cutting: found on a page and measured to the
//! middle of their line, in mm.

use super::ink::DrawnLine;
use super::outline::contains;
use super::sheet::Sheet;
use kurbo::{PathEl, Point, Rect};

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
    /// Width of its line, mm.
    pub line: f64,
}

impl Square {
    /// Where it lies.
    pub fn room(&self) -> Rect {
        Rect::from_origin_size(self.at, (self.width, self.height))
    }

    /// How far the worse side is off, mm.
    pub fn deviation(&self) -> f64 {
        let off = |drawn: f64| (drawn - self.side).abs();
        off(self.width).max(off(self.height))
    }
}

/// The square drawn on `sheet` for each of `sides`, each drawn rectangle standing for one only.
/// `taken` are the lines that already stand for outlines of pieces.
pub fn squares(sheet: &Sheet, sides: &[f64], taken: &[usize]) -> Vec<Option<Square>> {
    let drawn = sheet.lines.iter().enumerate();
    let drawn = drawn.filter(|(line, drawn)| !taken.contains(line) && is_upright_rectangle(drawn));
    let mut drawn: Vec<&DrawnLine> = drawn.map(|(_, drawn)| drawn).collect();
    let half = |line: &DrawnLine| line.bounds.width() + line.bounds.height();
    drawn.sort_by(|a, b| half(a).total_cmp(&half(b)));
    let mut order: Vec<usize> = (0..sides.len()).collect();
    order.sort_by(|a, b| sides[*a].total_cmp(&sides[*b]));
    let wanted: Vec<f64> = order.iter().map(|index| sides[*index]).collect();
    let mut found = vec![None; sides.len()];
    for (rank, square) in matched(&wanted, &drawn).into_iter().enumerate() {
        found[order[rank]] = square;
    }
    found
}

/// Pairs of sides and drawn rectangles, both from small to large, so that as many as possible have a
/// partner and those are off by the least in all: two squares may be nearer to each other in size (50 and
/// 50.8 mm) than a wrong one is to its own (dynamic programming over both lists).
fn matched(sides: &[f64], drawn: &[&DrawnLine]) -> Vec<Option<Square>> {
    let as_square = |side: f64, line: &DrawnLine| Square {
        side,
        at: line.bounds.origin(),
        width: line.bounds.width(),
        height: line.bounds.height(),
        line: line.width,
    };
    // of the first sides and the first rectangles: how many are left alone, and by how much the others are off
    let mut best = vec![vec![(0, 0.0_f64); drawn.len() + 1]; sides.len() + 1];
    let pair = |i: usize, j: usize| as_square(sides[i], drawn[j]).deviation();
    let less = |a: (usize, f64), b: (usize, f64)| a.0 < b.0 || (a.0 == b.0 && a.1 < b.1 - 1e-9);
    for i in 1..=sides.len() {
        best[i][0] = (i, 0.0);
        for j in 1..=drawn.len() {
            let alone = (best[i - 1][j].0 + 1, best[i - 1][j].1);
            let passed = best[i][j - 1];
            best[i][j] = if less(alone, passed) { alone } else { passed };
            let off = pair(i - 1, j - 1);
            let joined = (best[i - 1][j - 1].0, best[i - 1][j - 1].1 + off);
            if off <= SQUARE_REACH && less(joined, best[i][j]) {
                best[i][j] = joined;
            }
        }
    }
    let mut found = vec![None; sides.len()];
    let (mut i, mut j) = (sides.len(), drawn.len());
    while i > 0 && j > 0 {
        if best[i][j] == best[i][j - 1] {
            j -= 1;
        } else if best[i][j] == (best[i - 1][j].0 + 1, best[i - 1][j].1) {
            i -= 1;
        } else {
            found[i - 1] = Some(as_square(sides[i - 1], drawn[j - 1]));
            (i, j) = (i - 1, j - 1);
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
