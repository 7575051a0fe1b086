//! The lines of one piece by what a cutter does with them. Millimetres, in the piece's own axes. A piece
//! kept as a half is drawn whole, unless it lies on the fold of the cloth.

use super::form::Form;
use super::triangles::{self, Triangle};
use crate::design::{LineKind, NotchCut};
use crate::geometry::{curve, unfolded_ring};
use crate::piece::{MarkKind, Notch, Piece};
use crate::plates::ink::path_of;
use crate::plates::notch;
use kurbo::{Affine, BezPath, Point};

/// Half the arms of the cross in the middle of a button's place, mm.
const CROSS: f64 = 1.0;

/// Points nearer to each other than this, mm, are one.
const TOGETHER: f64 = 1e-3;

/// A circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Round {
    /// Its middle.
    pub at: Point,
    /// Its diameter, mm.
    pub diameter: f64,
}

/// The lines of a piece.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct PieceLines {
    /// The line that is cut, one ring.
    pub outline: BezPath,
    /// Short cuts into the allowance.
    pub slits: Vec<BezPath>,
    /// Drill holes and eyelets.
    pub holes: Vec<Round>,
    /// Fold lines.
    pub score: Vec<BezPath>,
    /// Seam line, places, notches.
    pub marks: Vec<BezPath>,
    /// Buttons.
    pub buttons: Vec<Round>,
    /// Grain line.
    pub guide: Vec<BezPath>,
}

impl PieceLines {
    /// The lines of `form`; `as_half` leaves a piece kept as a half as it is.
    pub fn of(form: &Form<'_>, as_half: bool) -> Self {
        let piece = form.piece;
        let ring = match form.without_allowance {
            true => piece.outline.path(),
            false => piece.cut_line.clone(),
        };
        let fold = fold_line(piece).filter(|_| !as_half);
        let opened = fold.and_then(|[from, to]| unfolded_ring(&ring, from, to));
        // one that does not run along its fold cannot be opened out
        let mirror = match (fold, &opened) {
            (Some([from, to]), Some(_)) => Some(Affine::reflect(from, to - from)),
            _ => None,
        };
        let mut lines = Self {
            outline: opened.unwrap_or(ring),
            ..Self::default()
        };
        if !form.without_allowance {
            lines.marks.extend(seam_lines(piece));
        }
        lines.add_marks(piece);
        lines.guide.extend(piece.grain.map(|ends| path_of(&ends)));
        if let Some(mirror) = mirror {
            lines.mirror(mirror);
        }
        lines.add_notches(form, mirror);
        lines
    }

    /// The lines moved as a whole.
    pub fn moved(&self, by: Affine) -> Self {
        let paths = |paths: &[BezPath]| paths.iter().map(|path| by * path).collect();
        let rounds = |rounds: &[Round]| {
            let moved = |round: &Round| Round {
                at: by * round.at,
                ..*round
            };
            rounds.iter().map(moved).collect()
        };
        Self {
            outline: by * &self.outline,
            slits: paths(&self.slits),
            holes: rounds(&self.holes),
            score: paths(&self.score),
            marks: paths(&self.marks),
            buttons: rounds(&self.buttons),
            guide: paths(&self.guide),
        }
    }

    fn add_marks(&mut self, piece: &Piece) {
        for mark in &piece.marks {
            match &mark.kind {
                MarkKind::Hole { at, diameter } | MarkKind::Eyelet { at, diameter } => {
                    self.holes.push(Round {
                        at: *at,
                        diameter: *diameter,
                    });
                }
                MarkKind::Button { at, diameter } => {
                    self.buttons.push(Round {
                        at: *at,
                        diameter: *diameter,
                    });
                    for arm in [(CROSS, 0.0), (0.0, CROSS)] {
                        self.marks.push(path_of(&[*at - arm, *at + arm]));
                    }
                }
                MarkKind::Buttonhole { from, to } => self.marks.push(path_of(&[*from, *to])),
                MarkKind::Line { kind, path } => match kind {
                    LineKind::Fold => self.score.push(path.clone()),
                    LineKind::Placement | LineKind::Stitching => self.marks.push(path.clone()),
                },
            }
        }
    }

    /// Adds what lies on the other side of the fold; what lies on the fold itself has no image.
    fn mirror(&mut self, mirror: Affine) {
        for paths in [&mut self.score, &mut self.marks] {
            let other: Vec<BezPath> = paths.iter().map(|path| mirror * path).collect();
            paths.extend(other);
        }
        for rounds in [&mut self.holes, &mut self.buttons] {
            let other: Vec<Round> = rounds
                .iter()
                .map(|round| Round {
                    at: mirror * round.at,
                    ..*round
                })
                .zip(rounds.iter())
                .filter(|(image, round)| image.at.distance(round.at) > TOGETHER)
                .map(|(image, _)| image)
                .collect();
            rounds.extend(other);
        }
    }

    fn add_notches(&mut self, form: &Form<'_>, mirror: Option<Affine>) {
        let mut triangles: Vec<Triangle> = Vec::new();
        for notch in &form.piece.notches {
            let bare = Notch {
                allowance: 0.0,
                ..notch.clone()
            };
            let (notch, line) = match form.without_allowance {
                true => (&bare, form.piece.outline.path()),
                false => (notch, form.piece.cut_line.clone()),
            };
            let is_marked =
                form.notches == NotchCut::Mark || notch.allowance < notch::LEAST_ALLOWANCE;
            for middle in notch::middles(notch, &line) {
                if is_marked {
                    self.add_line(&notch::tick(notch, middle), mirror, |all| &mut all.marks);
                    continue;
                }
                let tip = middle - notch.outward * notch::depth(notch);
                let one = Triangle { middle, tip };
                let images = mirror.map(|mirror| Triangle {
                    middle: mirror * middle,
                    tip: mirror * tip,
                });
                for one in std::iter::once(one).chain(images) {
                    let is_there = |t: &Triangle| t.middle.distance(one.middle) <= TOGETHER;
                    if !triangles.iter().any(is_there) {
                        triangles.push(one);
                    }
                }
            }
            if notch.centre {
                let tick = notch::centre_tick(notch);
                self.add_line(&tick, mirror, |all| &mut all.marks);
            }
        }
        let slits = match form.notches {
            NotchCut::Vee => {
                let (outline, left) =
                    triangles::cut_out(&self.outline, &triangles, notch::HALF_BASE);
                self.outline = outline;
                left
            }
            NotchCut::Slit | NotchCut::Mark => triangles,
        };
        let slit = |t: &Triangle| path_of(&[t.middle, t.tip]);
        self.slits.extend(slits.iter().map(slit));
    }

    fn add_line(
        &mut self,
        ends: &[Point; 2],
        mirror: Option<Affine>,
        list: fn(&mut Self) -> &mut Vec<BezPath>,
    ) {
        let line = path_of(ends);
        let image = mirror.map(|mirror| mirror * &line);
        list(self).extend(std::iter::once(line).chain(image));
    }
}

/// The ends of the edge on the fold.
pub(super) fn fold_line(piece: &Piece) -> Option<[Point; 2]> {
    let edge = piece.outline.edge(piece.fold.as_deref()?)?;
    Some([edge.start(), edge.end()])
}

/// The seam line where it is not the cut line: stretches of edges that have an allowance.
pub(super) fn seam_lines(piece: &Piece) -> Vec<BezPath> {
    let edges = piece.outline.edges();
    let sewn: Vec<bool> = edges
        .iter()
        .zip(&piece.allowances)
        .map(|(edge, allowance)| *allowance > 1e-9 && piece.fold.as_ref() != Some(&edge.name))
        .collect();
    if sewn.len() == edges.len() && sewn.iter().all(|sewn| *sewn) {
        return vec![piece.outline.path()];
    }
    // begins behind an edge that has none, so that no stretch is parted
    let first = sewn.iter().position(|sewn| !sewn).unwrap_or(0);
    let order: Vec<usize> = (0..sewn.len()).map(|i| (first + i) % sewn.len()).collect();
    let rows = order.chunk_by(|a, b| sewn[*a] == sewn[*b]);
    let rows = rows.filter(|row| sewn[row[0]]);
    rows.map(|row| curve::chained(row.iter().flat_map(|i| edges[*i].segments())))
        .collect()
}
