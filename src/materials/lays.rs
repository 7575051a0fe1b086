//! What is laid on a cloth: every piece as often as it is cut, as rings that may be turned as grain,
//! nap and right side allow. Millimetres; along the cloth is x, across it is y, downwards.
//!
//! Paper pieces are drawn as they are laid on the right side of the cloth. A piece with a fold edge is a
//! half: on cloth that is laid double it keeps that edge on the fold; on single cloth it lies
//! opened out, both halves.

use crate::design::{Cloth, Design, Stock};
use crate::geometry::ON_FOLD;
use crate::piece::{Piece, SizedPieces};
use kurbo::{Affine, BezPath, ParamCurve, PathEl, PathSeg, Point, Shape};

/// Rings are straight pieces this near to the cut line, mm.
const FLAT: f64 = 0.02;

/// Turns that are tried for a piece without grain: every so many degrees.
const TURN_STEP: usize = 45;

/// A piece to be laid.
#[derive(Debug, Clone, PartialEq)]
pub struct LayPiece {
    /// Its key.
    pub key: String,
    /// Key of its size: of two patterns for left and right foot the one it belongs to.
    pub size: String,
    /// Its number.
    pub number: usize,
    /// As printed.
    pub title: String,
    /// Its cut line as it lies on the cloth: closed, its grain along x.
    pub path: BezPath,
    /// From the piece's own axes to those of `path`.
    pub onto_lay: Affine,
    /// The fold of a piece that lies opened out, in the axes of `path`.
    pub opened_at: Option<[Point; 2]>,
    /// Grain line, in the axes of `path`.
    pub grain: Option<[Point; 2]>,
    /// How often it is laid.
    pub count: u32,
    /// How it may be turned, degrees; empty for any way.
    pub turns: Vec<f64>,
    /// Whether its path is that of the pattern turned over.
    pub turned_over: bool,
    /// Whether it may be laid face down.
    pub either_face: bool,
    /// Whether it lies with its lowest side (y = 0) on the fold of the cloth.
    pub on_fold: bool,
    /// How many come out of each time it is laid.
    pub gives: u32,
}

/// What is laid on one cloth in one size, for one of what the design makes.
#[derive(Debug, Clone, PartialEq)]
pub struct Lay {
    /// Cloth key.
    pub cloth: String,
    /// Key of the size as declared.
    pub size: String,
    /// The size as printed.
    pub title: String,
    /// The pieces.
    pub pieces: Vec<LayPiece>,
}

impl Lay {
    /// Area of all pieces as cut, mm².
    pub fn area(&self) -> f64 {
        let of = |p: &LayPiece| p.path.area().abs() * f64::from(p.count * p.gives);
        self.pieces.iter().map(of).sum()
    }

    /// What is laid and on what, whatever its cut lines: by this the last layout of it is known.
    pub(super) fn called(&self, stock: &Stock) -> String {
        let one = |p: &LayPiece| {
            let LayPiece { key, size, .. } = p;
            format!("{key} {size} {} {}", p.turned_over, p.opened_at.is_some())
        };
        let pieces: Vec<String> = self.pieces.iter().map(one).collect();
        format!("{} {} {stock:?}: {pieces:?}", self.cloth, self.size)
    }

    /// The same for `times` of what the design makes.
    pub fn times(&self, times: u32) -> Self {
        let mut many = self.clone();
        for piece in &mut many.pieces {
            piece.count *= times;
        }
        many
    }
}

/// What pieces are cut by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CutBy {
    /// Scissors, round the paper pieces.
    Hand,
    /// A machine, from the drawings for it: some of them without allowance.
    Machine,
}

/// Every cloth of every size, sizes first; a cloth of which nothing is cut is left out. Sizes for the
/// left and the right foot are one.
pub fn lays(design: &Design, sizes: &[SizedPieces], by: CutBy) -> Vec<Lay> {
    let mut declared: Vec<(&str, Vec<usize>)> = Vec::new();
    for (index, size) in design.sizes.iter().enumerate() {
        match declared.iter_mut().find(|(key, _)| *key == size.declared) {
            Some((_, members)) => members.push(index),
            None => declared.push((&size.declared, vec![index])),
        }
    }
    let mut lays = Vec::new();
    for (key, members) in declared {
        let title = design.sizes[members[0]].declared_title();
        for cloth in &design.cloth {
            let pieces: Vec<LayPiece> = members
                .iter()
                .filter_map(|index| sizes.get(*index))
                .flat_map(|sized| sized.pieces.iter().map(|piece| (piece, &sized.size)))
                .flat_map(|(piece, size)| {
                    let cutting = &design.shop.cutting;
                    let bare = by == CutBy::Machine
                        && cutting.is_without_allowance(&piece.key, &cloth.key);
                    laid(piece, size, cloth, bare)
                })
                .collect();
            if !pieces.is_empty() {
                lays.push(Lay {
                    cloth: cloth.key.clone(),
                    size: key.to_string(),
                    title: title.clone(),
                    pieces,
                });
            }
        }
    }
    lays
}

/// The piece as it is laid on `cloth`, `bare` without its allowance: once, or turned over as a second
/// entry.
fn laid(piece: &Piece, size: &str, cloth: &Cloth, bare: bool) -> Vec<LayPiece> {
    let Some(cut) = piece.cuts.iter().find(|cut| cut.material == cloth.key) else {
        return Vec::new();
    };
    let one = LayPiece {
        key: piece.key.clone(),
        size: size.to_string(),
        number: piece.number,
        title: piece.title.clone(),
        path: match bare {
            true => piece.outline.path(),
            false => piece.cut_line.clone(),
        },
        onto_lay: Affine::IDENTITY,
        opened_at: None,
        grain: piece.grain,
        count: cut.count,
        turns: turns(piece, cloth),
        turned_over: false,
        either_face: cloth.sides_alike && !is_drawn_on(piece, bare),
        on_fold: false,
        gives: 1,
    };
    let fold = piece
        .fold
        .as_deref()
        .and_then(|edge| fold_line(piece, edge));
    match (fold, cloth.double) {
        (Some(fold), true) => vec![on_fold(one, fold)],
        (Some(fold), false) => faces(opened(one, fold), cut.mirrored),
        (None, true) => doubled(one, cut.mirrored, cloth),
        (None, false) => faces(one, cut.mirrored),
    }
    .into_iter()
    .map(along_the_grain)
    .collect()
}

/// Whether anything is drawn on the piece, so that one face of it is another than the other even where
/// those of the cloth are alike.
fn is_drawn_on(piece: &Piece, bare: bool) -> bool {
    let has_seam_line = !bare && piece.allowances.iter().any(|a| *a > 1e-6);
    has_seam_line || !piece.marks.is_empty() || !piece.notches.is_empty()
}

/// Turns with the grain: the grain line lies along the cloth. Bias pieces are drawn with the grain line
/// at their angle, so the same holds for them.
fn turns(piece: &Piece, cloth: &Cloth) -> Vec<f64> {
    let every = |step: usize| (0..360).step_by(step).map(|turn| turn as f64).collect();
    match (cloth.has_grain, piece.grain) {
        _ if cloth.one_way => vec![0.0],
        (true, Some(_)) => with_the_grain(piece.grain_within),
        // nothing is said of it, but askew no piece of a cloth with a grain is meant to lie
        (true, None) => every(90),
        (false, _) => every(TURN_STEP),
    }
}

/// Either way along the cloth, and off the grain by as much as the piece allows, and half of it.
fn with_the_grain(within: f64) -> Vec<f64> {
    let off: &[f64] = if within > 0.0 {
        &[0.0, -1.0, -0.5, 0.5, 1.0]
    } else {
        &[0.0]
    };
    let both = [0.0, 180.0];
    both.iter()
        .flat_map(|way| off.iter().map(move |share| way + share * within))
        .collect()
}

/// Half of the pieces turned over, where the sides of the cloth differ or something is drawn on one: cut
/// alike, one of a pair would have its lines on the other face.
fn faces(one: LayPiece, mirrored: bool) -> Vec<LayPiece> {
    let turned = if mirrored { one.count / 2 } else { 0 };
    if one.either_face || turned == 0 {
        return vec![one];
    }
    let over = LayPiece {
        count: turned,
        ..turned_over(&one)
    };
    let count = one.count - turned;
    vec![LayPiece { count, ..one }, over]
}

/// On double cloth every place gives two, one turned over; an odd one is cut through one layer only.
fn doubled(one: LayPiece, mirrored: bool, cloth: &Cloth) -> Vec<LayPiece> {
    let pairs = match mirrored || cloth.sides_alike {
        true => one.count / 2,
        // both layers would give one turned over, which the piece is not
        false => 0,
    };
    let single = one.count - 2 * pairs;
    let two = LayPiece {
        count: pairs,
        gives: 2,
        ..one.clone()
    };
    let rest = LayPiece {
        count: single,
        ..one
    };
    [two, rest].into_iter().filter(|p| p.count > 0).collect()
}

fn turned_over(piece: &LayPiece) -> LayPiece {
    LayPiece {
        turned_over: !piece.turned_over,
        ..piece.moved(Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, 0.0]))
    }
}

/// The half and its reflection about the fold as one ring.
fn opened(one: LayPiece, fold: [Point; 2]) -> LayPiece {
    let [start, end] = fold;
    let half = off_the_line(&one.path, fold);
    let mirror = Affine::reflect(start, end - start);
    let mut whole = half.clone();
    let other = mirror * half.reverse_subpaths();
    whole.extend(other.elements().iter().skip(1).copied());
    whole.close_path();
    LayPiece {
        path: whole,
        opened_at: Some(fold),
        ..one
    }
}

/// What a closed ring has off the line through two points, from one of its ends on the line to the other.
fn off_the_line(ring: &BezPath, [start, end]: [Point; 2]) -> BezPath {
    let along = (end - start).normalize();
    let on_line = |p: Point| (p - start).cross(along).abs() < ON_FOLD;
    let lies = |s: &PathSeg| [0.0, 0.5, 1.0].iter().all(|t| on_line(s.eval(*t)));
    let segments: Vec<PathSeg> = ring.segments().collect();
    let count = segments.len();
    let starts = |i: &usize| lies(&segments[(i + count - 1) % count]) && !lies(&segments[*i]);
    let first = (0..count).find(starts).unwrap_or(0);
    let round = (0..count).map(|i| segments[(first + i) % count]);
    crate::geometry::curve::chained(round.take_while(|s| !lies(s)))
}

/// Laid with the fold on the lowest side: the piece stands above it.
fn on_fold(one: LayPiece, [start, end]: [Point; 2]) -> LayPiece {
    let turn = -(end - start).atan2();
    let onto = Affine::rotate(turn) * Affine::translate(-start.to_vec2());
    let mut laid = one.moved(onto);
    // the piece stands below the fold, whose side is y = 0
    if laid.path.bounding_box().center().y < 0.0 {
        laid = laid.moved(Affine::rotate(std::f64::consts::PI));
    }
    LayPiece {
        on_fold: true,
        turns: vec![0.0],
        ..laid
    }
}

/// Turned so that its grain line lies along x; a piece on the fold stays as it is.
fn along_the_grain(piece: LayPiece) -> LayPiece {
    match piece.grain {
        Some([from, to]) if !piece.on_fold => piece.moved(Affine::rotate(-(to - from).atan2())),
        _ => piece,
    }
}

impl LayPiece {
    /// The piece moved as a whole.
    pub fn moved(&self, by: Affine) -> Self {
        let line = |line: Option<[Point; 2]>| line.map(|ends| ends.map(|p| by * p));
        Self {
            path: by * &self.path,
            onto_lay: by * self.onto_lay,
            opened_at: line(self.opened_at),
            grain: line(self.grain),
            ..self.clone()
        }
    }

    /// Its cut line as a closed ring of straight pieces, mm.
    pub fn ring(&self) -> Vec<Point> {
        let mut ring: Vec<Point> = Vec::new();
        kurbo::flatten(&self.path, FLAT, |element| {
            if let PathEl::MoveTo(p) | PathEl::LineTo(p) = element
                && ring
                    .last()
                    .is_none_or(|last: &Point| last.distance(p) > 1e-6)
            {
                ring.push(p);
            }
        });
        if ring.len() > 1 && ring[0].distance(ring[ring.len() - 1]) < 1e-6 {
            ring.pop();
        }
        ring
    }
}

/// Ends of the fold edge.
fn fold_line(piece: &Piece, edge: &str) -> Option<[Point; 2]> {
    let edge = piece.outline.edge(edge)?;
    let segments = edge.segments();
    Some([segments.first()?.start(), segments.last()?.end()])
}
