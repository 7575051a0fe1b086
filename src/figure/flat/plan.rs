//! A figure before it is drawn: groups of plies that lie on each other, side by side on the paper, and
//! what is to be seen besides. Geometry in mm of each group; sizes of signs in mm on paper.

use super::arrow::{self, Kind};
use super::board::Board;
use super::ply::{HIDDEN, Numbered, Ply, numeral};
use super::stitch;
use super::worked::{LaidStrip, Row, Thread};
use crate::figure::Tint;
use crate::plates::ink::Stroke;
use kurbo::{Affine, BezPath, Line, ParamCurveNearest, Point, Rect, Shape, Vec2};

/// Space between pieces side by side, between two that an arrow joins, and between rows.
const GAP: f64 = 6.0;
const ARROW_GAP: f64 = 15.0;
const ROW_GAP: f64 = 5.0;
/// Space between two states below each other.
const STATE_GAP: f64 = 11.0;

/// Room of a number under its piece.
pub(super) const NUMBER_ROOM: f64 = 5.0;
/// Percent of the true size: so large that nobody takes a figure for a pattern, and the least that
/// still shows something.
const LARGEST: u32 = 66;
const SMALLEST: u32 = 3;
/// Joined pieces stand side by side if that costs no more than this share of their scale.
const SIDE_BY_SIDE: f64 = 0.5;
/// The two of a pair do so if it costs no more than this.
const PAIR_SIDE_BY_SIDE: f64 = 0.7;
/// A letter stands this far inside the seam line.
const NOTE_INSIDE: f64 = 2.7;
/// Such a letter's type size, points.
const TAG: f64 = 7.5;
/// What an arrow from piece to piece keeps from the middle of such a letter.
const LINK_CLEAR: f64 = 2.4;
/// Room round a group for arrows that leave it.
const SWING: f64 = 7.0;

/// An arrow within a group.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Arrow {
    pub(super) path: BezPath,
    pub(super) kind: Kind,
}

/// Plies that lie on each other, the lowest first, and what is drawn over them.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Group {
    pub(super) plies: Vec<Ply>,
    pub(super) rows: Vec<Row>,
    pub(super) lines: Vec<(BezPath, Stroke)>,
    /// Threads on which an edge is drawn up.
    pub(super) threads: Vec<Thread>,
    /// Elastic and ribbon on the plies.
    pub(super) strips: Vec<LaidStrip>,
    pub(super) arrows: Vec<Arrow>,
    /// Small letters at notches that meet: the notch on the seam line, and the way out of the cloth.
    pub(super) notes: Vec<(String, Point, Vec2)>,
    /// Number of the piece, under it.
    pub(super) number: Option<usize>,
    /// Tint of the under side of the uppermost ply, where a corner of it may be turned back.
    pub(super) under: Option<Tint>,
}

impl Group {
    pub(super) fn of(ply: Ply) -> Self {
        Self {
            number: Some(ply.piece.number),
            plies: vec![ply],
            ..Self::default()
        }
    }

    /// What the cloth takes up, mm.
    pub(super) fn bounds(&self) -> Rect {
        let boxes = self.plies.iter().map(|ply| ply.outline().bounding_box());
        let strips = self.strips.iter().map(|strip| strip.surface.bounding_box());
        let boxes = boxes.chain(strips);
        boxes.reduce(|a, b| a.union(b)).unwrap_or_default()
    }

    /// Draws it but for its letters; `again` says that a part of it is drawn again in a larger scale.
    fn draw(&self, board: &mut Board, paper: Affine, again: bool) {
        for ply in &self.plies {
            ply.draw(board, paper);
        }
        for (index, ply) in self.plies.iter().enumerate() {
            let mut hidden = Board::default();
            hidden.line(paper * ply.onto * &ply.surface, HIDDEN);
            for above in &self.plies[index + 1..] {
                board.within(paper * above.onto * &above.surface, hidden.clone());
            }
        }
        for strip in &self.strips {
            strip.draw(board, paper);
        }
        for (path, stroke) in &self.lines {
            board.line(paper * path, *stroke);
        }
        for thread in &self.threads {
            thread.draw(board, paper);
        }
        let scale = paper.determinant().abs().sqrt();
        for row in &self.rows {
            if let Some(path) = row.at(scale, again) {
                stitch::draw(board, &(paper * path), row.look);
            }
        }
        for arrow in &self.arrows {
            arrow::draw(board, &(paper * &arrow.path), arrow.kind);
        }
    }

    /// The small letters with their middles on paper.
    fn tags(&self, paper: Affine, larger: f64) -> impl Iterator<Item = (&str, Point)> {
        self.notes.iter().map(move |(letter, at, outward)| {
            let away = paper * (*at + *outward) - paper * *at;
            let inward = if away.hypot() > 0.0 {
                -away.normalize()
            } else {
                away
            };
            let middle = paper * *at + inward * (NOTE_INSIDE * larger);
            (letter.as_str(), middle)
        })
    }
}

/// A small letter on white.
fn on_white(board: &mut Board, letter: BezPath) {
    board.white_line(&letter, 1.0);
    board.fill(letter);
}

/// A point of a group.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spot {
    pub(super) group: usize,
    pub(super) at: Point,
}

/// All groups of a figure.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Plan {
    pub(super) groups: Vec<Group>,
    /// Arrows from one group to another, each with the ways it may go, the best first.
    pub(super) links: Vec<Vec<[Spot; 2]>>,
    /// Whether the groups are states of the same thing: an arrow leads from one to the next.
    pub(super) states: bool,
    /// Whether arrows swing out of the groups.
    pub(super) swings: bool,
    /// Whether lines leave the pieces, so that numbers stand aside.
    pub(super) crowded: bool,
    /// By how much letters and numbers are larger than usual, as a share.
    pub(super) more: f64,
}

/// Where each group stands on the paper.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Placed {
    pub(super) scale: f64,
    pub(super) onto: Vec<Affine>,
    pub(super) size: Vec2,
}

impl Plan {
    /// By which factor letters and numbers are larger than usual.
    pub(super) fn larger(&self) -> f64 {
        1.0 + self.more
    }

    /// The largest scale in whole percent, at most [`LARGEST`], at which all groups find room;
    /// [`SMALLEST`] if none.
    pub(super) fn placed(&self, room: Vec2) -> Placed {
        let bounds: Vec<Rect> = self.groups.iter().map(Group::bounds).collect();
        let fits = |placed: &Placed| placed.size.x <= room.x && placed.size.y <= room.y;
        let largest = |width: f64| {
            let at = |percent: u32| self.rows(&bounds, f64::from(percent) / 100.0, width);
            let found = (SMALLEST..=LARGEST).rev().map(at).find(fits);
            found.unwrap_or_else(|| at(SMALLEST))
        };
        let wrapped = largest(room.x);
        // an arrow is plainest between pieces side by side, and left is left and right is right
        let least = match (self.links.is_empty(), self.is_pair()) {
            (false, _) => SIDE_BY_SIDE,
            (true, true) => PAIR_SIDE_BY_SIDE,
            (true, false) => return wrapped,
        };
        let level = largest(f64::INFINITY);
        if level.scale >= least * wrapped.scale && fits(&level) {
            level
        } else {
            wrapped
        }
    }

    /// Whether it is one piece and its mirror image, each by itself.
    fn is_pair(&self) -> bool {
        let [a, b] = &self.groups[..] else {
            return false;
        };
        let (Some(a), Some(b)) = (a.plies.first(), b.plies.first()) else {
            return false;
        };
        let turned = |ply: &Ply| ply.onto.determinant() < 0.0;
        a.piece.key == b.piece.key && a.tint == b.tint && turned(a) != turned(b)
    }

    fn gap(&self) -> f64 {
        if self.states || !self.links.is_empty() {
            ARROW_GAP
        } else {
            GAP
        }
    }

    fn rows(&self, bounds: &[Rect], scale: f64, width: f64) -> Placed {
        let margin = if self.swings { SWING } else { 0.0 };
        let size_of = |(group, bounds): (&Group, &Rect)| {
            let number = if group.number.is_some() {
                NUMBER_ROOM * self.larger()
            } else {
                0.0
            };
            Vec2::new(
                bounds.width() * scale,
                bounds.height() * scale + number + margin,
            )
        };
        let sizes: Vec<Vec2> = self.groups.iter().zip(bounds).map(size_of).collect();
        let rows = in_rows(&sizes, width, self.gap());
        let whole = rows.iter().map(|(_, size)| size.x).fold(0.0, f64::max);
        let mut onto = vec![Affine::IDENTITY; self.groups.len()];
        let mut top = 0.0;
        let row_gap = if self.states { STATE_GAP } else { ROW_GAP };
        for (row, room) in &rows {
            let mut x = (whole - room.x) / 2.0;
            for index in row {
                let own = sizes[*index];
                // rows stand on a common foot line, states and joined pieces on a common middle
                let down = if self.gap() > GAP {
                    (room.y - own.y) / 2.0
                } else {
                    room.y - own.y
                };
                onto[*index] = Affine::translate((x, top + down + margin))
                    * Affine::scale(scale)
                    * Affine::translate(-bounds[*index].origin().to_vec2());
                x += own.x + self.gap();
            }
            top += room.y + row_gap;
        }
        Placed {
            scale,
            onto,
            size: Vec2::new(whole, (top - row_gap).max(0.0)),
        }
    }

    /// Draws all groups with their numbers, and the arrows between them.
    pub(super) fn draw(&self, placed: &Placed, numbers: &[Numbered]) -> Board {
        let mut board = Board::default();
        for (group, onto) in self.groups.iter().zip(&placed.onto) {
            group.draw(&mut board, *onto, self.crowded);
        }
        for numbered in numbers {
            board.fill(self.numeral(numbered.number, numbered.at));
        }
        if self.states {
            for pair in self
                .groups
                .iter()
                .zip(&placed.onto)
                .collect::<Vec<_>>()
                .windows(2)
            {
                let [a, b] = [0, 1].map(|i| pair[i].1.transform_rect_bbox(pair[i].0.bounds()));
                arrow::next_state(&mut board, a, b);
            }
        }
        for ways in &self.links {
            if let Some(ends) = self.linked(ways, placed) {
                arrow::link(&mut board, ends);
            }
        }
        // an arrow that finds no way past the letters runs under them
        for (letter, at) in self.tags(&placed.onto) {
            on_white(&mut board, self.tag(letter, at));
        }
        board
    }

    /// The outlines of a small letter.
    pub(super) fn tag(&self, letter: &str, at: Point) -> BezPath {
        numeral(letter, at, TAG * self.larger())
    }

    /// The small letters of all groups, which lie on paper as `onto` says, with their middles.
    pub(super) fn tags(&self, onto: &[Affine]) -> impl Iterator<Item = (&str, Point)> {
        let groups = self.groups.iter().zip(onto);
        groups.flat_map(|(group, onto)| group.tags(*onto, self.larger()))
    }

    /// The first way of an arrow that keeps clear of all letters; if none does, the one that keeps farthest
    /// from them.
    pub(super) fn linked(&self, ways: &[[Spot; 2]], placed: &Placed) -> Option<[Point; 2]> {
        let letters: Vec<Point> = self.tags(&placed.onto).map(|(_, at)| at).collect();
        let on_paper = |way: &[Spot; 2]| {
            let [from, to] = way;
            [from, to].map(|spot| placed.onto[spot.group] * spot.at)
        };
        let clear = LINK_CLEAR * self.larger();
        let off = |[from, to]: &[Point; 2]| {
            let line = Line::new(*from, *to);
            let off = letters.iter().map(|at| line.nearest(*at, 1e-3).distance_sq);
            off.fold(f64::INFINITY, f64::min).sqrt()
        };
        let mut ways = ways.iter().map(on_paper);
        let closer = |a: &[Point; 2], b: &[Point; 2]| off(b).total_cmp(&off(a));
        let farthest = ways.clone().min_by(closer);
        ways.find(|way| off(way) >= clear).or(farthest)
    }
}

impl Plan {
    /// The cloth with what is worked on it, in a larger scale: signs and lines keep their size, so that
    /// there is room for what had none.
    pub(super) fn magnified(&self, placed: &Placed, by: Affine) -> Board {
        let mut board = Board::default();
        for (group, onto) in self.groups.iter().zip(&placed.onto) {
            group.draw(&mut board, by * *onto, false);
        }
        let onto: Vec<Affine> = placed.onto.iter().map(|onto| by * *onto).collect();
        for (letter, at) in self.tags(&onto) {
            on_white(&mut board, self.tag(letter, at));
        }
        board
    }
}

/// Indices of each row with the row's size.
fn in_rows(sizes: &[Vec2], width: f64, gap: f64) -> Vec<(Vec<usize>, Vec2)> {
    let mut rows: Vec<(Vec<usize>, Vec2)> = Vec::new();
    for (index, own) in sizes.iter().enumerate() {
        match rows.last_mut() {
            Some((row, room)) if room.x + gap + own.x <= width => {
                row.push(index);
                *room = Vec2::new(room.x + gap + own.x, room.y.max(own.y));
            }
            _ => rows.push((vec![index], *own)),
        }
    }
    rows
}

#[cfg(test)]
mod tests;
