//! What is drawn over the finished drawing: letters in circles with leaders, and a place drawn larger
//! in a circle. Millimetres on paper.

use super::board::{Board, round};
use super::find::Finder;
use super::plan::{Placed, Plan};
use super::ply::numeral;
use super::request::{Detail, Letter, Named, Spot, SpotKind};
use super::worked::leaving;
use crate::figure::measuring::badge::{RADIUS, Room, leader_end};
use crate::geometry::probe::is_inside;
use crate::plates::ink::{path_of, stroke};
use kurbo::{Affine, BezPath, Circle, Line, ParamCurveNearest, Point, Rect, Shape, Vec2};

/// Radius of the large circle of a detail.
pub(super) const LARGE: f64 = 15.0;
/// White between the drawing and the large circle.
pub(super) const APART: f64 = 4.0;
/// Width of the white under a leader.
const BARE: f64 = 0.9;
/// A leader to a line has no white over so much at its end, mm: the line stays whole there.
const WHOLE: f64 = 0.6;
/// Length and width of the arrowhead of a leader, mm.
const ARROW: Vec2 = Vec2::new(1.3, 0.8);
/// A place this near to a line is on it, mm.
const ON_LINE: f64 = 0.3;
/// Room beside the drawing in which letters may stand.
const MARGIN: f64 = 9.0;

/// Where a place lies on the paper.
pub(super) fn on_paper(
    plan: &Plan,
    placed: &Placed,
    spot: &Spot,
    finder: &mut Finder,
) -> Option<Point> {
    let has = |ply: &super::ply::Ply| {
        let edge = |name: &Named| ply.piece.outline.edge(&name.text).is_some();
        match &spot.what {
            SpotKind::Edge(name) => edge(name),
            SpotKind::Notch(name) => ply.notches.iter().any(|n| n.name == name.text),
            SpotKind::Corner([a, b]) => edge(a) && edge(b),
            SpotKind::Mark(_) => !ply.piece.marks.is_empty(),
            SpotKind::Piece(name) => ply.piece.key == name.text,
        }
    };
    let named = match (&spot.piece, &spot.what) {
        (Some(piece), _) | (None, SpotKind::Piece(piece)) => Some(piece),
        _ => None,
    };
    let all = || {
        let groups = plan.groups.iter().zip(&placed.onto);
        groups.flat_map(|(group, onto)| group.plies.iter().map(move |ply| (ply, *onto)))
    };
    let of_piece = || all().filter(|(ply, _)| named.is_none_or(|n| ply.piece.key == n.text));
    let found = of_piece()
        .find(|(ply, _)| has(ply))
        .or_else(|| of_piece().next());
    let Some((ply, onto)) = found else {
        let name = named.map_or("", |n| n.text.as_str());
        let message = format!("Piece ‘{name}’ is not in this figure");
        let keys: Vec<String> = all().map(|(ply, _)| ply.piece.key.clone()).collect();
        let remedy = super::find::nearest(name, keys.iter().map(String::as_str));
        finder.wrong(named.map_or(&spot.place, |n| &n.place), message, remedy);
        return None;
    };
    let at = finder.spot(ply, spot)?;
    // of a piece that is folded, the part that has the place
    let parts = all().filter(|(part, _)| part.piece.key == ply.piece.key);
    let part = parts
        .into_iter()
        .find(|(part, _)| is_inside(&part.surface, at));
    let (ply, onto) = part.unwrap_or((ply, onto));
    Some(onto * ply.onto * at)
}

/// Puts the letters beside their places; none stands in one of the boxes `taken`.
///
/// They are `larger` than usual by this factor.
pub(super) fn letters(board: &mut Board, list: &[(&Letter, Point)], taken: &[Rect], larger: f64) {
    let Some(bounds) = board.bounds() else {
        return;
    };
    let margin = MARGIN * larger;
    let shift = Vec2::new(margin - bounds.x0, margin - bounds.y0);
    let taken: Vec<Rect> = taken.iter().map(|rect| *rect + shift).collect();
    let lines: Vec<Vec<Point>> = board
        .polylines()
        .into_iter()
        .map(|line| line.into_iter().map(|p| p + shift).collect())
        .collect();
    let (mut badges, mut leaders): (Vec<(u32, Point)>, Vec<[Point; 2]>) = (Vec::new(), Vec::new());
    for (number, (letter, at)) in list.iter().enumerate() {
        let room = Room {
            width: bounds.width() + 2.0 * margin,
            radius: RADIUS * larger,
            lines: &lines,
            boxes: &taken,
            badges: &badges,
            leaders: &leaders,
        };
        let anchor = *at + shift;
        let Some([from, middle]) = room.place(&[anchor]) else {
            continue;
        };
        let end = leader_end(from, middle, RADIUS * larger);
        badges.push((number as u32, middle));
        leaders.push([from, end]);
        let leader = [from - shift, end - shift];
        let names_surface = matches!(letter.spot.what, SpotKind::Piece(_));
        match !names_surface && is_on(&lines, from) {
            true => leader_to_line(board, leader),
            false => leader_into_surface(board, leader),
        }
        badge(board, &letter.letter, middle - shift, larger);
    }
}

/// Whether a point lies on one of the lines.
pub(super) fn is_on(lines: &[Vec<Point>], at: Point) -> bool {
    let segments = lines.iter().flat_map(|line| line.windows(2));
    segments
        .map(|ends| Line::new(ends[0], ends[1]).nearest(at, 1e-3).distance_sq)
        .any(|square| square < ON_LINE * ON_LINE)
}

/// A leader that names a surface ends in a dot (common practice of technical drawing; ISO 128-22).
fn leader_into_surface(board: &mut Board, ends: [Point; 2]) {
    let leader = path_of(&ends);
    board.white_line(&bared(board, &leader), BARE);
    board.line(leader, stroke(0.25, None));
    board.fill(Circle::new(ends[0], 0.45).to_path(1e-3));
}

/// A leader that names a line ends in an arrowhead at it (the same practice): a dot would hide a short
/// one, and white would cut it.
pub(super) fn leader_to_line(board: &mut Board, [at, end]: [Point; 2]) {
    let way = (end - at).normalize();
    let leader = path_of(&[at + way * ARROW.x, end]);
    let bare = path_of(&[at + way * WHOLE, end]);
    board.white_line(&bared(board, &bare), BARE);
    board.line(leader, stroke(0.25, None));
    let back = at + way * ARROW.x;
    let aside = Vec2::new(-way.y, way.x) * (ARROW.y / 2.0);
    let mut head = path_of(&[at, back + aside, back - aside]);
    head.close_path();
    board.fill(head);
}

fn badge(board: &mut Board, letter: &str, at: Point, larger: f64) {
    let circle = Circle::new(at, RADIUS * larger).to_path(1e-3);
    board.white(circle.clone());
    board.line(circle, stroke(0.3, None));
    board.fill(numeral(letter, at, 7.5 * larger));
}

/// Where a leader has white at its sides: not beside a bold edge, which would seem to be cut there.
pub(super) fn bared(board: &Board, leader: &BezPath) -> BezPath {
    leaving(leader.clone(), &board.bold(BARE))
}

/// Where a place is drawn again, in a large circle beside or below the drawing.
#[derive(Debug, Clone, Copy)]
pub(super) struct DetailPlace {
    at: Point,
    middle: Point,
    times: f64,
}

impl DetailPlace {
    /// For the place at `at` of a drawing with these bounds.
    pub(super) fn new(bounds: Rect, asked: &Detail, (at, below): (Point, bool)) -> Self {
        Self {
            at,
            middle: large_middle(bounds, at, below),
            times: asked.times,
        }
    }

    /// The map from the drawing to its larger copy.
    pub(super) fn map(&self) -> Affine {
        magnified(self.at, self.middle, self.times)
    }

    /// The circle round the place, and the one round its copy.
    fn circles(&self) -> [BezPath; 2] {
        let own = Circle::new(self.at, LARGE / self.times);
        let ring = Circle::new(self.middle, LARGE);
        [own, ring].map(|circle| circle.to_path(1e-3))
    }

    fn tangents(&self) -> Vec<BezPath> {
        tangents(self.at, LARGE / self.times, self.middle, LARGE)
    }

    /// All lines that lead from the place to its copy.
    pub(super) fn lines(&self) -> Vec<BezPath> {
        let tangents = self.tangents().into_iter();
        tangents.chain(self.circles()).collect()
    }
}

/// Draws a place again; `larger` is the drawing magnified. Gives the box round the large circle.
pub(super) fn detail(board: &mut Board, place: &DetailPlace, larger: Board) -> Rect {
    let [own, ring] = place.circles();
    board.white_line(&own, 1.2);
    board.line(own, round(0.35));
    for line in place.tangents() {
        board.line(line, stroke(0.22, None));
    }
    board.white(ring.clone());
    board.within(ring.clone(), larger);
    board.line(ring.clone(), round(0.5));
    ring.bounding_box()
}

/// The map from the drawing to its larger copy.
pub(super) fn magnified(at: Point, middle: Point, times: f64) -> Affine {
    Affine::translate(middle.to_vec2()) * Affine::scale(times) * Affine::translate(-at.to_vec2())
}

fn large_middle(bounds: Rect, at: Point, below: bool) -> Point {
    let keep = |value: f64, low: f64, high: f64| {
        let (low, high) = (low + LARGE, high - LARGE);
        if low <= high {
            value.clamp(low, high)
        } else {
            (low + high) / 2.0
        }
    };
    match below {
        true => Point::new(keep(at.x, bounds.x0, bounds.x1), bounds.y1 + APART + LARGE),
        false => Point::new(bounds.x1 + APART + LARGE, keep(at.y, bounds.y0, bounds.y1)),
    }
}

/// The two outer tangents of two circles.
fn tangents(a: Point, ra: f64, b: Point, rb: f64) -> Vec<BezPath> {
    let way = b - a;
    let apart = way.hypot();
    if apart <= rb + ra {
        return Vec::new();
    }
    let lean = ((rb - ra) / apart).asin();
    let line = |side: f64| {
        let angle = way.atan2() + side * (std::f64::consts::FRAC_PI_2 + lean);
        let out = Vec2::from_angle(angle);
        path_of(&[a + out * ra, b + out * rb])
    };
    vec![line(1.0), line(-1.0)]
}
