//! The joints between the sheets of a piece: which half rings close with each other, and the rigid
//! move that closes them. Millimetres.
//!
//! Which halves belong together is told from where they roughly lie in the piece (a buyer reads
//! their numbers); how the sheets lie against each other is taken from the marks alone.

use super::outline::Drawing;
use super::ring::quarter_turns;
use super::sheet::Sheet;
use kurbo::{Affine, Point, Vec2};

/// Halves further apart than this in the piece, mm, belong to different joints.
const SAME_JOIN: f64 = 20.0;

/// Halves of one mark open towards each other: the cosine of the angle between their directions is
/// at most this.
const OPPOSED: f64 = -0.99;

/// Marks of a joint that lie nearer to each other than this, mm, do not hold two sheets straight.
const HOLDS_FROM: f64 = 5.0;

/// Two sheets are laid exactly straight if the turn that their marks ask for moves one mark against
/// the other by less than this, mm: the rounding of a PDF's numbers.
const STRAIGHT_WITHIN: f64 = 1e-4;

/// A half ring of a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Half {
    /// Its centre on the sheet.
    pub centre: Point,
    /// Unit vector from the centre to the middle of its arc, on the sheet: away from the joint.
    pub into: Vec2,
}

/// Two sheets that share join marks.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// Index of the drawing on the one sheet.
    pub first: usize,
    /// Index of the drawing on the other.
    pub second: usize,
    /// The halves of each mark, the first sheet's before the second's.
    pub marks: Vec<(Half, Half)>,
}

/// All joints between `drawings`, which show one piece.
pub fn joints(drawings: &[Drawing], sheets: &[Sheet]) -> Vec<Joint> {
    let halves: Vec<Vec<Half>> = drawings.iter().map(|d| halves_of(d, sheets)).collect();
    // the same halves in the axes of the piece
    let in_piece: Vec<Vec<Half>> = drawings
        .iter()
        .zip(&halves)
        .map(|(drawing, halves)| {
            let back = drawing.placement.to_affine().inverse();
            halves.iter().map(|half| half.moved(back)).collect()
        })
        .collect();
    let mut joints = Vec::new();
    for first in 0..drawings.len() {
        for second in first + 1..drawings.len() {
            let pairs = pairs(&in_piece[first], &in_piece[second]);
            let marks: Vec<(Half, Half)> = pairs
                .into_iter()
                .map(|(a, b)| (halves[first][a], halves[second][b]))
                .collect();
            if !marks.is_empty() {
                joints.push(Joint {
                    first,
                    second,
                    marks,
                });
            }
        }
    }
    joints
}

/// Indices of the halves that close with each other, each used once, the nearest first.
fn pairs(first: &[Half], second: &[Half]) -> Vec<(usize, usize)> {
    let mut near: Vec<(f64, usize, usize)> = Vec::new();
    for (a, one) in first.iter().enumerate() {
        for (b, other) in second.iter().enumerate() {
            let apart = one.centre.distance(other.centre);
            if apart <= SAME_JOIN && one.into.dot(other.into) < OPPOSED {
                near.push((apart, a, b));
            }
        }
    }
    near.sort_by(|a, b| a.0.total_cmp(&b.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    let mut found: Vec<(usize, usize)> = Vec::new();
    for (_, a, b) in near {
        if !found.iter().any(|(x, y)| *x == a || *y == b) {
            found.push((a, b));
        }
    }
    found.sort_unstable();
    found
}

/// Every half ring of a drawing's sheet. The window of the line must not choose among them: where a
/// piece is narrower than its sheet, the marks stand beside the picture of the piece.
fn halves_of(drawing: &Drawing, sheets: &[Sheet]) -> Vec<Half> {
    let rings = sheets[drawing.sheet].half_rings.iter();
    rings
        .map(|ring| Half {
            centre: ring.centre,
            into: ring.into,
        })
        .collect()
}

impl Half {
    fn moved(self, by: Affine) -> Self {
        Self {
            centre: by * self.centre,
            into: by * self.into.to_point() - by * Point::ZERO,
        }
    }
}

impl Joint {
    /// The move that lays the second sheet against the first so that the marks close: the best in the
    /// mean square (Kabsch 1976, in the plane). `None` if the marks do not hold two sheets straight.
    pub fn closing(&self) -> Option<Affine> {
        let count = self.marks.len().max(1) as f64;
        let mean = |of: fn(&(Half, Half)) -> Point| {
            let sum = self.marks.iter().map(of).map(Point::to_vec2);
            sum.fold(Vec2::ZERO, |sum, v| sum + v) / count
        };
        let (first, second) = (mean(|m| m.0.centre), mean(|m| m.1.centre));
        let (mut along, mut across, mut reach) = (0.0, 0.0, 0.0_f64);
        for (a, b) in &self.marks {
            let (a, b) = (a.centre.to_vec2() - first, b.centre.to_vec2() - second);
            along += b.dot(a);
            across += b.cross(a);
            reach = reach.max(b.hypot());
        }
        if 2.0 * reach < HOLDS_FROM {
            return None;
        }
        let angle = f64::atan2(across, along);
        let quarters = (angle / std::f64::consts::FRAC_PI_2).round();
        let skew = angle - quarters * std::f64::consts::FRAC_PI_2;
        let turn = match 2.0 * reach * skew.abs() < STRAIGHT_WITHIN {
            true => quarter_turns(quarters.rem_euclid(4.0) as u8),
            false => Affine::rotate(angle),
        };
        Some(Affine::translate(first) * turn * Affine::translate(-second))
    }

    /// How far the halves of the worst mark lie apart when the sheets are moved so, mm.
    pub fn apart(&self, first: Affine, second: Affine) -> f64 {
        let apart = |(a, b): &(Half, Half)| (first * a.centre).distance(second * b.centre);
        self.marks.iter().map(apart).fold(0.0, f64::max)
    }
}
