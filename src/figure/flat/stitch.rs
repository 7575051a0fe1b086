//! How each stitch is drawn along its line. Millimetres on paper: stitches are signs, and do not
//! shrink with the piece.

use super::board::Board;
use crate::design::Stitch;
use crate::geometry::curve;
use crate::plates::ink::{Stroke, path_of};
use kurbo::{BezPath, Point, Vec2};

/// Width of stitches.
const WIDTH: f64 = 0.42;

/// Distances along the line are found to this, mm.
const NEAR: f64 = 1e-3;

/// A stitch as figures show it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// One of the stitches that a seam may be sewn with.
    Seam(Stitch),
    /// Inside a fold, hardly seen, by hand.
    Slip,
    /// Long stitches that are pulled out afterwards.
    Tack,
}

impl Look {
    /// Words of the stitches that only figures know.
    const OWN: [(&'static str, Self); 2] =
        [("slip stitch", Self::Slip), ("tacking stitch", Self::Tack)];

    /// All words, in order.
    pub fn all_words() -> impl Iterator<Item = &'static str> {
        let seams = Stitch::WORDS.iter().map(|(words, _)| *words);
        seams.chain(Self::OWN.iter().map(|(words, _)| *words))
    }

    /// The stitch with these words.
    #[must_use]
    pub fn named(words: &str) -> Option<Self> {
        let seam = Stitch::WORDS.iter().find(|(known, _)| *known == words);
        let own = Self::OWN.iter().find(|(known, _)| *known == words);
        seam.map(|(_, stitch)| Self::Seam(*stitch))
            .or(own.map(|(_, look)| *look))
    }

    /// Its words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Seam(stitch) => stitch.words(),
            own => Self::OWN
                .iter()
                .find(|(_, look)| *look == own)
                .map_or("", |(words, _)| words),
        }
    }
}

const fn dashes(on: f64, off: f64) -> Stroke {
    Stroke {
        width: WIDTH,
        dash: Some([on, off]),
        round: false,
    }
}

const SOLID: Stroke = Stroke {
    width: 0.35,
    dash: None,
    round: true,
};

/// Draws `look` along `path`, each of its parts by itself.
pub(super) fn draw(board: &mut Board, path: &BezPath, look: Look) {
    let dashed = match look {
        Look::Seam(Stitch::Running) => Some(dashes(1.3, 1.1)),
        Look::Seam(Stitch::Backstitch) => Some(dashes(2.0, 0.35)),
        Look::Seam(Stitch::Lockstitch) => Some(dashes(1.2, 0.6)),
        Look::Tack => Some(dashes(3.0, 1.6)),
        _ => None,
    };
    if let Some(stroke) = dashed {
        return board.line(path.clone(), stroke);
    }
    for part in parts(path) {
        board.line(worked(&part, look), SOLID);
        if look == Look::Seam(Stitch::Overedge) {
            board.line(part, SOLID);
        }
    }
}

/// A stitch that is no dashed line.
fn worked(path: &BezPath, look: Look) -> BezPath {
    match look {
        Look::Slip => strokes(path, 2.4, [Vec2::new(-0.5, -0.45), Vec2::new(0.5, 0.45)]),
        Look::Seam(Stitch::Zigzag) => wave(path, 1.2, [-0.7, 0.7]),
        Look::Seam(Stitch::Overedge) => wave(path, 1.6, [-1.2, 0.0]),
        Look::Seam(Stitch::Chain) => chain(path),
        _ => strokes(path, 1.7, [Vec2::new(-0.4, -0.8), Vec2::new(0.4, 0.8)]),
    }
}

/// The parts of a path that are drawn without lifting.
fn parts(path: &BezPath) -> Vec<BezPath> {
    let mut list: Vec<BezPath> = Vec::new();
    for element in path.elements() {
        match (element, list.last_mut()) {
            (kurbo::PathEl::MoveTo(_), _) | (_, None) => {
                list.push(BezPath::from_vec(vec![*element]));
            }
            (_, Some(last)) => last.push(*element),
        }
    }
    list
}

/// A point beside the line: `at` mm along it, and `off` from there: along, and to the left.
fn beside(path: &BezPath, at: f64, off: Vec2) -> Option<Point> {
    let station = curve::station(path, at, NEAR)?;
    let left = Vec2::new(station.tangent.y, -station.tangent.x);
    Some(station.point + station.tangent * off.x + left * off.y)
}

/// How many steps of about `pitch` a path takes, and their length.
fn steps(path: &BezPath, pitch: f64) -> (usize, f64) {
    let length = curve::length(path, NEAR);
    let count = (length / pitch).round().clamp(1.0, 4000.0);
    (count as usize, length / count)
}

fn strokes(path: &BezPath, pitch: f64, ends: [Vec2; 2]) -> BezPath {
    let (count, step) = steps(path, pitch);
    let mut result = BezPath::new();
    for i in 0..count {
        let at = (i as f64 + 0.5) * step;
        if let (Some(a), Some(b)) = (beside(path, at, ends[0]), beside(path, at, ends[1])) {
            result.move_to(a);
            result.line_to(b);
        }
    }
    result
}

fn wave(path: &BezPath, pitch: f64, sides: [f64; 2]) -> BezPath {
    let (count, step) = steps(path, pitch / 2.0);
    let at = |i: usize| beside(path, i as f64 * step, Vec2::new(0.0, sides[i % 2]));
    let points: Vec<Point> = (0..=count).filter_map(at).collect();
    path_of(&points)
}

fn chain(path: &BezPath) -> BezPath {
    let (count, step) = steps(path, 2.2);
    let mut result = BezPath::new();
    for i in 0..count {
        let at = i as f64 * step;
        let corners = [
            (at, 0.0),
            (at + 0.3 * step, 0.8),
            (at + step, 0.8),
            (at + step, 0.0),
            (at + step, -0.8),
            (at + 0.3 * step, -0.8),
        ];
        let points = corners.map(|(along, off)| beside(path, along, Vec2::new(0.0, off)));
        if let [Some(a), Some(b), Some(c), Some(d), Some(e), Some(f)] = points {
            result.move_to(a);
            result.curve_to(b, c, d);
            result.curve_to(e, f, a);
        }
    }
    result
}
