//! Words beside marks and along the fold, inside the piece where there is room. Millimetres, in
//! the drawing's axes.

use super::drawing::Drawing;
use super::field;
use super::lettering::{self, CAP_HEIGHT, DESCENT, Face, TextLine};
use super::mark;
use super::nested::Nest;
use crate::design::LineKind;
use crate::geometry::curve;
use crate::geometry::ring::contains;
use crate::geometry::units::POINT;
use crate::piece::{Mark, MarkKind};
use kurbo::{Affine, BezPath, Line, Point, Rect, Shape, Vec2};
use std::f64::consts::{FRAC_PI_2, PI};

/// Type size in points.
const POINTS: f64 = 7.2;
/// Words keep this far from every line.
const CLEAR: f64 = 0.7;
/// Shares of a line's length at which words are tried, best first.
const SHARES: [f64; 9] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88];

/// A placing line is short if it is no longer than so many times its words.
const SHORT: f64 = 1.5;

/// Captions in place, and those that found none.
#[derive(Debug, Clone, Default)]
pub struct Captions {
    /// Set beside their marks.
    pub lines: Vec<TextLine>,
    /// The room they take up, as the sides of (turned) boxes.
    pub room: Vec<Line>,
    /// To be said in the label instead: `fold line: turn up here`.
    pub left_over: Vec<String>,
    /// A mark that lies elsewhere in each size, and that could not be given its size's name.
    pub unnamed: bool,
}

/// Sets the words of the fold and of all marks; marks that lie elsewhere in each size are named by it.
/// `obstacles` are further lines to keep clear of, in the drawing's axes.
pub fn captions(nest: &Nest<'_>, drawing: &Drawing, obstacles: &[Line]) -> Captions {
    let mut captions = Captions::default();
    let mut setter = Setter {
        drawing,
        obstacles,
        taken: Vec::new(),
        within: None,
    };
    if let Some(fold) = drawing.fold {
        for words in ["plates.fold words", "plates.fold words short"].map(|key| nest.words.get(key))
        {
            if let Some(line) = setter.along(words, &super::ink::path_of(&[fold.p0, fold.p1])) {
                captions.lines.push(line);
                break;
            }
        }
    }
    for (own, member) in nest.members.iter().enumerate() {
        let placed = drawing.placed * Affine::translate(nest.onto_common(member));
        for (index, mark) in member.piece.marks.iter().enumerate() {
            let shared = drawing.shared_marks.get(index).copied().unwrap_or(false);
            if !nest.is_nested() || shared {
                let Some(words) = &mark.words else { continue };
                if shared && member.size != nest.members[0].size {
                    continue;
                }
                match setter.beside(words, mark, placed) {
                    Some(line) => captions.lines.push(line),
                    None => captions
                        .left_over
                        .push(mark::in_label(mark, words, &nest.words)),
                }
                continue;
            }
            let long = mark
                .words
                .as_ref()
                .map(|w| format!("{w}, {}", member.title));
            setter.within = Some(own);
            let texts = long.into_iter().chain([member.title.to_string()]);
            let found = texts
                .into_iter()
                .find_map(|t| setter.beside(&t, mark, placed));
            setter.within = None;
            captions.unnamed |= found.is_none();
            captions.lines.extend(found.map(|line| TextLine {
                size: Some(member.size),
                ..line
            }));
        }
    }
    captions.room = setter.taken;
    captions
}

struct Setter<'a> {
    drawing: &'a Drawing,
    obstacles: &'a [Line],
    taken: Vec<Line>,
    /// The size within whose cut line words stand; none for all sizes.
    within: Option<usize>,
}

impl Setter<'_> {
    fn beside(&mut self, words: &str, mark: &Mark, placed: Affine) -> Option<TextLine> {
        match &mark.kind {
            MarkKind::Line { kind, path } => {
                let path = placed * path;
                match kind {
                    LineKind::Placement if is_short(&path, words) => {
                        let beyond = self.beyond(words, &path);
                        // a line that has no other name than this keeps it all the same
                        let named = self.within.is_some();
                        beyond.or_else(|| named.then(|| self.along(words, &path))?)
                    }
                    _ => self.along(words, &path),
                }
            }
            MarkKind::Hole { at, diameter } => {
                self.round(words, placed * *at, Vec2::splat(diameter / 2.0 + 0.8))
            }
            MarkKind::Eyelet { at, diameter } | MarkKind::Button { at, diameter } => {
                self.round(words, placed * *at, Vec2::splat(diameter.max(2.4) / 2.0))
            }
            MarkKind::Buttonhole { from, to } => {
                let slit = Rect::from_points(placed * *from, placed * *to).inflate(1.2, 1.2);
                self.round(words, slit.center(), slit.size().to_vec2() / 2.0)
            }
        }
    }

    /// Beyond an end of a short placing line, in line with it or across it: beside it they would name one
    /// side, and what is placed may lie at the other.
    fn beyond(&mut self, words: &str, path: &BezPath) -> Option<TextLine> {
        let length = curve::length(path, 1e-3);
        let width = lettering::width(words, Face::Regular, POINTS);
        let [above, below] = [CAP_HEIGHT, DESCENT].map(|share| share * POINTS * POINT);
        let ends = [(length, 1.0), (0.0, -1.0)];
        let mut ways = [(width, false), (above + below, true)]
            .into_iter()
            .flat_map(|place| ends.map(|end| (place, end)));
        ways.find_map(|((reach, across), (at, way))| {
            let station = curve::station(path, at, 1e-3)?;
            let out = station.tangent * way;
            let line = match across {
                true => Vec2::new(-out.y, out.x),
                false => out,
            };
            let angle = readable(line.atan2());
            let middle = station.point + out * (CLEAR + 0.5 + reach / 2.0);
            let down = Affine::rotate(angle) * Point::new(0.0, (above - below) / 2.0);
            self.set(words, middle + down.to_vec2(), angle)
        })
    }

    /// Along a line, on either side of it.
    fn along(&mut self, words: &str, path: &BezPath) -> Option<TextLine> {
        let length = curve::length(path, 1e-3);
        for share in SHARES {
            let station = curve::station(path, length * share, 1e-3)?;
            let angle = readable(station.tangent.atan2());
            let gap = CLEAR + 0.5;
            for above in [true, false] {
                let drop = if above {
                    -(gap + DESCENT * POINTS * POINT)
                } else {
                    gap + CAP_HEIGHT * POINTS * POINT
                };
                let down = Affine::rotate(angle) * Point::new(0.0, drop);
                if let Some(line) = self.set(words, station.point + down.to_vec2(), angle) {
                    return Some(line);
                }
            }
        }
        None
    }

    /// Right, left, below or above a mark that reaches `half` from its middle.
    fn round(&mut self, words: &str, at: Point, half: Vec2) -> Option<TextLine> {
        let width = lettering::width(words, Face::Regular, POINTS) / 2.0;
        let (cap, descent) = (CAP_HEIGHT * POINTS * POINT, DESCENT * POINTS * POINT);
        let gap = CLEAR + 0.4;
        let places = [
            Vec2::new(half.x + gap + width, cap / 2.0),
            Vec2::new(-half.x - gap - width, cap / 2.0),
            Vec2::new(0.0, half.y + gap + cap),
            Vec2::new(0.0, -half.y - gap - descent),
        ];
        places
            .into_iter()
            .find_map(|place| self.set(words, at + place, 0.0))
    }

    fn is_inside(&self, point: Point) -> bool {
        match self.within {
            Some(own) => contains(&self.drawing.sizes[own].ring, point),
            None => self.drawing.is_inside(point),
        }
    }

    /// A centred line whose baseline's middle is `at`, if it stands clear inside the piece.
    fn set(&mut self, words: &str, at: Point, angle: f64) -> Option<TextLine> {
        let width = lettering::width(words, Face::Regular, POINTS);
        let upright = Rect::new(
            -width / 2.0,
            -CAP_HEIGHT * POINTS * POINT,
            width / 2.0,
            DESCENT * POINTS * POINT,
        );
        let to_upright = Affine::rotate(-angle) * Affine::translate(-at.to_vec2());
        let turned: Vec<Line> = self
            .drawing
            .lines()
            .chain(self.obstacles)
            .chain(&self.taken)
            .map(|l| to_upright * *l)
            .collect();
        let middle = to_upright.inverse() * upright.center();
        let fits = self.is_inside(middle) && field::is_clear(&turned, upright, CLEAR);
        if !fits {
            return None;
        }
        let back = to_upright.inverse();
        self.taken
            .extend(field::sides(upright).map(|side| back * side));
        Some(TextLine {
            text: words.to_string(),
            at,
            width: width + 0.3,
            centred: true,
            points: POINTS,
            face: Face::Regular,
            soft: true,
            turn: angle.to_degrees(),
            size: None,
        })
    }
}

/// Whether a line is hardly longer than its words.
fn is_short(path: &BezPath, words: &str) -> bool {
    let width = lettering::width(words, Face::Regular, POINTS);
    curve::length(path, 1e-3) <= SHORT * width
}

/// The angle of words along a line, never upside down; upright lines are read from the right-hand side.
fn readable(angle: f64) -> f64 {
    if angle > FRAC_PI_2 - 1e-6 {
        angle - PI
    } else if angle <= -FRAC_PI_2 - 1e-6 {
        angle + PI
    } else {
        angle
    }
}

/// Room of all captions of `lines` as one upright rectangle each, for tests and packing.
pub fn bounds(line: &TextLine) -> Rect {
    let start = if line.centred { -line.width / 2.0 } else { 0.0 };
    let upright = Rect::new(
        start,
        -line.face.height() * line.points * POINT,
        start + line.width,
        DESCENT * line.points * POINT,
    );
    let turn = Affine::translate(line.at.to_vec2()) * Affine::rotate(line.turn.to_radians());
    (turn * upright.to_path(0.1)).bounding_box()
}
