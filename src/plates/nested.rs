//! Sizes of one piece drawn over each other on their common point, never turned against each other:
//! which pieces can be, and what their lines are. A piece that stands alone is a nest of one.
//! Millimetres; the axes of a nest have their origin at the common point, those of a piece alone are
//! the piece's own.

use super::field::{distance, flat};
use super::nested_marks::{ONE, moved, same};
use super::piece_ink::{bare, fold_ink, fold_line, seam_line};
use super::size_lines::{Dashes, SizeLines};
use super::{ink, mark, notch};
use crate::language::{Places, Words};
use crate::piece::{Mark, Piece, SizedPieces};
use kurbo::{Affine, BezPath, Line, ParamCurve, Point, Rect, Shape, Vec2};

/// Shorter pieces are not nested (house style), and none this narrow: its lines would run together.
const SHORT: f64 = 25.0;
const SLIM: f64 = 12.0;
/// Pieces less than this across get a fine cut line.
const TINY: f64 = 8.0;
/// Cut lines of two sizes keep this far apart on half of their length or more: the width of a line
/// and of the white between them that an eye still sees at arm's length.
const APART: f64 = 1.2;
/// The same of a seam line and another size's cut line, which is broader.
const SEAM_APART: f64 = 0.6;
/// On how much of their length lines must be apart.
const SHARE: f64 = 0.5;
/// Lines are looked at every so many mm.
const LOOK_EVERY: f64 = 2.0;

/// A piece in one size.
#[derive(Debug, Clone, Copy)]
pub struct Member<'a> {
    /// The piece.
    pub piece: &'a Piece,
    /// Title of the size.
    pub title: &'a str,
    /// Index of the size among those of the design.
    pub size: usize,
}

/// A piece in the sizes that are drawn together, in the design's order; never empty.
#[derive(Debug, Clone)]
pub struct Nest<'a> {
    /// The sizes.
    pub members: Vec<Member<'a>>,
    /// The words of what is said of it.
    pub words: Words,
}

/// Why the sizes of a piece are not nested.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    /// It is too short or too narrow, which is nobody's mistake.
    Small,
    /// The folds do not lie on one line.
    Folds,
    /// The lines of two sizes run together.
    Close,
    /// Names found no place beside their lines.
    Names,
}

/// Where the sizes of a piece are laid on each other: the designer's point, the middle of the edge on
/// the fold, or the middle of the seam line's box.
pub fn common_point(piece: &Piece) -> Point {
    let on_fold = || {
        let fold = piece.outline.edge(piece.fold.as_deref()?)?;
        Some(fold.start().midpoint(fold.end()))
    };
    let named = piece.common_point.or_else(on_fold);
    named.unwrap_or_else(|| piece.outline.bounds().center())
}

fn area(member: &Member<'_>) -> f64 {
    member.piece.cut_line.bounding_box().area()
}

impl<'a> Nest<'a> {
    /// A piece in one size.
    pub fn alone(piece: &'a Piece, title: &'a str, size: usize, words: &Words) -> Self {
        let member = Member { piece, title, size };
        Self {
            members: vec![member],
            words: words.clone(),
        }
    }

    /// The piece called `key` in the sizes with these indices, if it is in all of them.
    pub fn of(
        key: &str,
        indices: &[usize],
        sizes: &'a [SizedPieces],
        words: &Words,
    ) -> Option<Self> {
        let member = |index: &usize| {
            let size = sizes.get(*index)?;
            Some(Member {
                piece: size.pieces.iter().find(|p| p.key == key)?,
                title: &size.title,
                size: *index,
            })
        };
        let members = indices.iter().map(member).collect::<Option<Vec<_>>>()?;
        let words = words.clone();
        (members.len() > 1).then_some(Self { members, words })
    }

    /// The piece in its first size: number, title and cuts are alike in all.
    pub fn piece(&self) -> &'a Piece {
        self.members[0].piece
    }

    /// Whether there are several sizes.
    pub fn is_nested(&self) -> bool {
        self.members.len() > 1
    }

    /// Title of the only size; nothing if there are several.
    pub fn only_title(&self) -> Option<&'a str> {
        (!self.is_nested()).then(|| self.members[0].title)
    }

    /// `sizes Small and Large`, or `size Small`.
    pub fn words(&self) -> String {
        let titles: Vec<&str> = self.members.iter().map(|m| m.title).collect();
        self.words.sizes_inside(&titles)
    }

    /// The smallest size.
    pub fn smallest(&self) -> &Member<'a> {
        let mut smallest = &self.members[0];
        for member in &self.members {
            if area(member) < area(smallest) {
                smallest = member;
            }
        }
        smallest
    }

    /// Moves a size onto the common point; nothing if it stands alone.
    pub fn onto_common(&self, member: &Member<'_>) -> Vec2 {
        if self.is_nested() {
            -common_point(member.piece).to_vec2()
        } else {
            Vec2::ZERO
        }
    }

    /// How far across the piece is in its narrowest size, mm.
    pub fn across(&self) -> f64 {
        let boxes = self.members.iter().map(|m| m.piece.cut_line.bounding_box());
        boxes.fold(f64::INFINITY, |least, b| {
            least.min(b.width()).min(b.height())
        })
    }

    /// Whether the allowance of any size is so narrow that the seam line has short dashes.
    pub fn is_narrow(&self) -> bool {
        self.members.iter().any(|m| is_narrow(m.piece))
    }

    fn length(&self) -> f64 {
        let boxes = self.members.iter().map(|m| m.piece.cut_line.bounding_box());
        boxes.fold(f64::INFINITY, |least, b| {
            least.min(b.width().max(b.height()))
        })
    }

    /// Which marks lie on each other in all sizes.
    pub fn shared_marks(&self) -> Vec<bool> {
        let first = &self.members[0];
        let others = &self.members[1..];
        let alike = |index: usize, mark: &Mark| {
            let mark = moved(mark, self.onto_common(first));
            self.is_nested()
                && others.iter().all(|other| {
                    let own = other.piece.marks.get(index);
                    other.piece.marks.len() == first.piece.marks.len()
                        && own.is_some_and(|own| same(&moved(own, self.onto_common(other)), &mark))
                })
        };
        let marks = first.piece.marks.iter().enumerate();
        marks.map(|(i, mark)| alike(i, mark)).collect()
    }

    /// The lines of every size, without what all have in common.
    pub fn lines(&self, shared: &[bool]) -> Vec<SizeLines> {
        let across = self.across();
        let members = self.members.iter().enumerate();
        members
            .map(|(index, member)| {
                let dashes = self.is_nested().then(|| Dashes::new(index, across));
                size_lines(
                    member,
                    self.onto_common(member),
                    shared,
                    dashes,
                    &self.words,
                )
            })
            .collect()
    }

    /// What speaks against nesting it, but for the places of names.
    pub fn fault(&self) -> Option<Fault> {
        if self.length() < SHORT || self.across() < SLIM {
            return Some(Fault::Small);
        }
        if !self.folds_are_one() {
            return Some(Fault::Folds);
        }
        let lines: Vec<SizeLines> = self.lines(&self.shared_marks());
        let cuts: Vec<Vec<Line>> = lines.iter().map(|l| flat(&l.cut, 0.05)).collect();
        for (i, own) in lines.iter().enumerate() {
            for (j, cut) in cuts.iter().enumerate() {
                let seam_hidden = || {
                    own.seam
                        .as_ref()
                        .is_some_and(|s| !apart(s, cut, SEAM_APART))
                };
                if i != j && (!apart(&own.cut, cut, APART) || seam_hidden()) {
                    return Some(Fault::Close);
                }
            }
        }
        None
    }

    fn folds_are_one(&self) -> bool {
        let folds: Vec<Option<Line>> = self
            .members
            .iter()
            .map(|m| fold_line(m.piece).map(|l| l + self.onto_common(m)))
            .collect();
        let on = |p: Point, line: Line| {
            let along = (line.p1 - line.p0).normalize();
            along.cross(p - line.p0).abs() <= ONE
        };
        folds.iter().all(|fold| match (fold, folds[0]) {
            (None, None) => true,
            (Some(own), Some(first)) => on(own.p0, first) && on(own.p1, first),
            _ => false,
        })
    }
}

/// Whether `path` keeps `clear` mm from `lines` on half its length.
fn apart(path: &BezPath, lines: &[Line], clear: f64) -> bool {
    let (mut all, mut free) = (0usize, 0usize);
    for line in flat(path, 0.05) {
        let along = line.p1 - line.p0;
        let steps = (along.hypot() / LOOK_EVERY).ceil().max(1.0);
        // each sample stands for a stretch; short ones weigh as much as long ones divided
        let weight = (along.hypot() * 1e3 / steps) as usize;
        for step in 0..steps as usize {
            let point = line.eval((step as f64 + 0.5) / steps);
            all += weight;
            if lines.iter().all(|l| distance(point, *l) >= clear) {
                free += weight;
            }
        }
    }
    free as f64 >= SHARE * all as f64
}

fn size_lines(
    member: &Member<'_>,
    by: Vec2,
    shared: &[bool],
    dashes: Option<Dashes>,
    words: &Words,
) -> SizeLines {
    let piece = member.piece;
    let move_by = Affine::translate(by);
    let bounds = piece.cut_line.bounding_box();
    let across = bounds.width().min(bounds.height());
    let own_marks = piece.marks.iter().enumerate();
    let own_marks = own_marks.filter(|(i, _)| !shared.get(*i).copied().unwrap_or(false));
    let marks: Vec<Mark> = own_marks.map(|(_, m)| m.clone()).collect();
    let mut ink = mark::ink(&marks, &[&piece.cut_line]);
    let mut under = Vec::new();
    if let Some(line) = fold_line(piece) {
        under.push((move_by * bare(line), ink::BARE));
        ink.append(fold_ink(line));
    }
    let seam = seam_line(piece);
    let told = |key: &str| words.get(&format!("plates.{key}")).to_string();
    let mut outer = vec![told("cut line")];
    if !piece.notches.is_empty() {
        outer.push(words.count("plates.notches", piece.notches.len(), &[]));
    }
    let mut inner = Vec::new();
    inner.extend(seam.as_ref().map(|_| told("seam line")));
    inner.extend(piece.fold.as_ref().map(|_| told("fold")));
    inner.extend(mark::counted(&marks, words));
    SizeLines {
        size: member.size,
        by,
        cut: move_by * &piece.cut_line,
        ring: Vec::new(),
        seam_ring: Vec::new(),
        seam: seam.map(|s| move_by * s),
        notches: notch::ink(piece, across < SLIM).transformed(move_by),
        under,
        ink: ink.transformed(move_by),
        fine: across < TINY,
        narrow: is_narrow(piece),
        dashes,
        told: [outer, inner],
        sentence: words.say(
            "plates.drawn",
            &[
                ("name", &in_size(member, words)),
                ("measures", &measures(bounds, words)),
            ],
        ),
    }
}

/// Whether its least allowance is under 4 mm.
fn is_narrow(piece: &Piece) -> bool {
    let allowances = piece.allowances.iter().copied();
    allowances.filter(|a| *a > 0.01).fold(9.0, f64::min) < 4.0
}

/// `Toe piece, size Large`; without a size where there is one.
fn in_size(member: &Member<'_>, words: &Words) -> String {
    let piece = &member.piece.title;
    match member.title {
        "" => piece.clone(),
        title => {
            let places: Places<'_> = &[("piece", piece), ("size", &words.size_inside(title))];
            words.say("plates.in size", places)
        }
    }
}

fn measures(bounds: Rect, words: &Words) -> String {
    let [width, height] = [bounds.width(), bounds.height()].map(|mm| format!("{mm:.0}"));
    words.say("plates.measures", &[("width", &width), ("height", &height)])
}
