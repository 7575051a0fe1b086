//! The ways in which a piece may lie on a plate: turned or not, its label inside or beside it.
//! Millimetres, in the axes of the piece's drawing.

use super::caption::{self, Captions};
use super::drawing::Drawing;
use super::field::{self, Field, Mask};
use super::label::{self, Label};
use super::label_words::{LabelJob, LabelWords};
use super::leader::{self, DOT};
use super::lettering::TextLine;
use super::nested::Nest;
use super::nested_names;
use super::rooms;
use kurbo::{Line, Point, Rect, Size, Vec2};
use std::rc::Rc;

/// What the dot of a leader and its white keep from words in the piece, mm from the dot's middle.
const DOT_CLEAR: f64 = DOT + 0.9;

/// Sizes of the lettering inside a piece, best first: 1 sets the numeral in 19 pt, 0.84 in 16 pt.
pub const SCALES: [f64; 2] = [1.0, 0.84];

/// One way to lay a piece.
#[derive(Debug, Clone)]
pub struct Variant {
    /// The piece as drawn.
    pub drawing: Rc<Drawing>,
    /// Its label; none if no place was found that keeps within the sheet.
    pub label: Option<Label>,
    /// What the label says, for a later attempt.
    pub words: LabelWords,
    /// Words beside marks.
    pub captions: Vec<TextLine>,
    /// Names of nested sizes beside their lines.
    pub names: Vec<Label>,
    /// Room for all of it.
    pub bounds: Rect,
    /// The same in strips one below the other, each no broader than what is drawn there, where that leaves
    /// room to other pieces; else the one box.
    pub rooms: Rc<[Rect]>,
}

/// A piece to be packed.
#[derive(Debug, Clone)]
pub struct Item {
    /// Index of the piece among the pieces of its size.
    pub piece: usize,
    /// The ways to lay it; not empty.
    pub variants: Vec<Variant>,
    /// Number of the set of cloths it is cut from: pieces of one set are kept on plates of their own
    /// where that costs no plate.
    pub group: usize,
}

impl Variant {
    /// Room of lines and names, without the label.
    pub fn drawn(&self) -> Rect {
        drawn(&self.drawing, &self.names)
    }
}

fn drawn(drawing: &Drawing, names: &[Label]) -> Rect {
    let names = names.iter().map(Label::bounds);
    names.fold(drawing.bounds(), |all, r| all.union(r))
}

/// All ways to lay a piece within `room`; none if the piece itself is larger. Where the grain line
/// matters the piece is turned only if it does not fit otherwise.
pub fn variants(nest: &Nest<'_>, job: &LabelJob<'_>, room: Size) -> Vec<Variant> {
    let fits = |d: &Drawing| d.width <= room.width && d.height <= room.height;
    let mut turns: Vec<Vec<Variant>> = Vec::new();
    for quarters in [0, 1] {
        if quarters == 1 && nest.piece().grain.is_some() && !turns.is_empty() {
            break;
        }
        let drawing = Drawing::of(nest, quarters);
        if fits(&drawing) {
            turns.push(labelled(nest, Rc::new(drawing), job, room));
        }
    }
    interleaved(turns)
}

/// The best of each turn, then the second best, and so on.
fn interleaved(turns: Vec<Vec<Variant>>) -> Vec<Variant> {
    let most = turns.iter().map(Vec::len).max().unwrap_or(0);
    let ranked = (0..most).flat_map(|rank| turns.iter().filter_map(move |t| t.get(rank)));
    ranked.cloned().collect()
}

fn labelled(nest: &Nest<'_>, drawing: Rc<Drawing>, job: &LabelJob<'_>, room: Size) -> Vec<Variant> {
    let captions = caption::captions(nest, &drawing, &[]);
    let mut words = LabelWords::of(nest, job);
    words.notes.extend(captions.left_over.iter().cloned());
    let fits = |all: Rect| all.width() <= room.width && all.height() <= room.height;
    let names = if nest.is_nested() {
        let within = |r: Rect| fits(drawing.bounds().union(r));
        nested_names::names(nest, &drawing, (&[], &captions.room), &within)
    } else {
        Vec::new()
    };
    let drawn = drawn(&drawing, &names);
    let variant = |label: Option<Label>| Variant {
        bounds: label.as_ref().map_or(drawn, |l| drawn.union(l.bounds())),
        rooms: rooms::rooms(&drawing, label.iter().chain(&names)).into(),
        drawing: Rc::clone(&drawing),
        label,
        words: words.clone(),
        captions: captions.lines.clone(),
        names: names.clone(),
    };
    let clear = |r: Rect| {
        let apart = |n: &Label| n.bounds().intersect(r.inflate(label::CLEAR, label::CLEAR));
        names.iter().all(|n| apart(n).is_zero_area())
    };
    let within = |r: Rect| fits(drawn.union(r)) && clear(r);
    if !drawing.small {
        let rooms: Vec<Line> = names
            .iter()
            .flat_map(|n| field::sides(n.bounds()))
            .collect();
        let field = inside_field(&drawing, &captions, &rooms, drawing.bounds());
        let found = label::inside(&words, &field, centroid(drawing.core()), &SCALES);
        if let Some(label) = found {
            return vec![variant(Some(label))];
        }
    }
    let rooms: Vec<Rect> = captions.lines.iter().map(caption::bounds).collect();
    let spares = |l: &Label| spares(l, &rooms);
    let leader_clear = |l: &Label| leader_is_clear(l, &names);
    let [few, many] = leader::GRIDS.map(|grid| (&*drawing, grid));
    let mut beside = label::beside(&words, few, &|l| within(l.words) && spares(l));
    if beside.is_empty() {
        beside = label::beside(&words, few, &|l| within(l.words));
    }
    beside.retain(leader_clear);
    // between the names of sizes a leader has few ways
    if beside.is_empty() && !names.is_empty() {
        let allowed = |l: &Label| within(l.words) && leader_clear(l);
        beside = label::beside(&words, many, &allowed);
    }
    if beside.is_empty() {
        return vec![variant(None)];
    }
    beside.into_iter().map(|l| variant(Some(l))).collect()
}

/// Whether the lines of a label run through none of the captions' `rooms`, and its dot, which would be read as
/// a stop, stands close to none.
fn spares(label: &Label, rooms: &[Rect]) -> bool {
    let mut rules = label.rules.iter();
    let dot = label.dot.map(|at| Line::new(at, at));
    let apart = |dot: Line, room: &Rect| !crosses(dot, room.inflate(DOT_CLEAR, DOT_CLEAR));
    rules.all(|rule| rooms.iter().all(|room| !crosses(*rule, *room)))
        && dot.is_none_or(|dot| rooms.iter().all(|room| apart(dot, room)))
}

/// Whether rule and leader of a label run through none of the names.
fn leader_is_clear(label: &Label, names: &[Label]) -> bool {
    let rules = label.rules.iter();
    let mut rules = rules.map(|r| Rect::from_points(r.p0, r.p1).inflate(0.5, 0.5));
    let clear = |r: Rect| names.iter().all(|n| n.bounds().intersect(r).is_zero_area());
    rules.all(clear)
}

/// Whether a level or upright line runs through `room`.
fn crosses(line: Line, room: Rect) -> bool {
    let line = Rect::from_points(line.p0, line.p1).inflate(0.3, 0.3);
    !line.intersect(room).is_zero_area()
}

/// The field in which a label may stand inside the drawing: clear of its lines, of its captions
/// and of further `obstacles`.
pub fn inside_field(
    drawing: &Drawing,
    captions: &Captions,
    obstacles: &[Line],
    area: Rect,
) -> Field {
    let longest = area.width().max(area.height());
    let cell = if longest <= 100.0 {
        0.5
    } else if longest <= 400.0 {
        1.0
    } else {
        2.0
    };
    let mut mask = Mask::new(area, cell);
    for size in &drawing.sizes {
        mask.block_rings([&size.ring[..]], false);
    }
    mask.block_lines(drawing.lines().chain(&captions.room).chain(obstacles));
    for line in &captions.lines {
        mask.block_rect(caption::bounds(line));
    }
    mask.seal()
}

/// Centre of mass of a ring's area.
pub fn centroid(ring: &[Point]) -> Point {
    let (mut area, mut sum) = (0.0, Vec2::ZERO);
    for (i, a) in ring.iter().enumerate() {
        let b = ring[(i + 1) % ring.len()];
        let cross = a.to_vec2().cross(b.to_vec2());
        area += cross;
        sum += (a.to_vec2() + b.to_vec2()) * cross;
    }
    if area.abs() < 1e-9 {
        return ring.first().copied().unwrap_or(Point::ZERO);
    }
    (sum / (3.0 * area)).to_point()
}
