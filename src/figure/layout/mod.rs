//! Layouts drawn: the cloth with the pieces as they are cut, to scale. Pieces have their numbers, and
//! their names where there is room; those laid with the pattern turned over are hatched, as their wrong
//! side is seen. What is left over beyond the pieces is cut short with a broken edge. Millimetres on
//! paper.

mod cloth;
mod label;
#[cfg(test)]
mod tests;

pub use cloth::CLOTH as LAYOUT_CLOTH;

use super::Figure;
use super::tint::{self, Tint};
use crate::design::Stock;
use crate::geometry::rounding::{DRAWN, rounded_path};
use crate::materials::{Laid, LayPiece, Layout, Placed};
use crate::plates::ink::Stroke;
use crate::plates::svg::Svg;
use kurbo::{Affine, BezPath, Insets, Line, Point, Rect, Shape, Size, Vec2};
use label::Label;

/// Drawn at one of these: paper millimetres for cloth millimetres, one to so many.
const SCALES: [f64; 18] = [
    1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0,
    80.0,
];

/// Room beside an edge of cloth for words along it, beside others for a broken edge, mm; a hide needs none.
/// At the left there is only what is drawn, so that it stands flush with the words round the drawing.
const WORDS_MARGIN: f64 = 5.0;
const MARGIN: f64 = 1.6;
const HIDE_MARGIN: f64 = 0.3;

/// Cloth drawn beyond the pieces where the rest is left away, mm on paper, and by how much more at most for
/// larger words on it.
const BEYOND: f64 = 9.0;
const BEYOND_LARGER: f64 = 1.3;

/// Length of a grain line's head, and half its width, mm.
const HEAD: [f64; 2] = [1.2, 0.45];

const CUT: Stroke = solid(0.3);
const EDGE: Stroke = solid(0.25);
const CLOTH_FOLD: Stroke = solid(0.7);
const THIN: Stroke = solid(0.15);
const FOLD: Stroke = Stroke {
    width: 0.2,
    dash: Some([1.6, 0.8]),
    round: false,
};

const fn solid(width: f64) -> Stroke {
    Stroke {
        width,
        dash: None,
        round: false,
    }
}

/// Words on the drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct LayoutWords {
    /// Along an edge that is not used.
    pub selvedge: String,
    /// Along the fold of the cloth.
    pub fold: String,
    /// On what is left over, where they find room.
    pub left_over: Option<String>,
    /// The drawing in words.
    pub alt: String,
}

/// Room for a drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LayoutRoom {
    /// Width and height, mm.
    pub size: Size,
    /// Paper millimetres for one of cloth at most: several layouts at one scale can be compared.
    pub scale: f64,
    /// By which factor words and numbers are larger than usual.
    pub larger: f64,
}

impl LayoutRoom {
    /// A room for a drawing as large as it comes.
    pub fn new(width: f64, height: f64) -> Self {
        Self {
            size: Size::new(width, height),
            scale: 1.0,
            larger: 1.0,
        }
    }
}

/// The view from the cloth to the paper.
#[derive(Debug, Clone, Copy)]
struct View {
    /// From cloth to paper.
    onto: Affine,
    /// Paper for one millimetre of cloth.
    scale: f64,
    /// The part of the cloth that is drawn, on paper.
    frame: Rect,
    /// The paper round it.
    margins: Insets,
    /// Whether cloth beyond the frame is left away, at its right end.
    broken: bool,
    /// By which factor words are larger than usual.
    larger: f64,
}

/// One length of cloth, sheet or hide of `layout` in a room of this size.
pub fn layout(layout: &Layout, laid: &Laid, room: LayoutRoom, words: &LayoutWords) -> Figure {
    let view = View::new(layout, laid, room, words);
    let paper = view.frame.inset(view.margins);
    let (width, height) = (paper.width(), paper.height());
    let mut svg = Svg::new(width, height);
    cloth::draw(&mut svg, layout, laid, &view, words);
    let mut drawn: Vec<(Drawn, &LayPiece)> = Vec::new();
    for (index, placed) in laid.placed.iter().enumerate() {
        let piece = &layout.lay.pieces[placed.piece];
        drawn.push((
            draw_piece(&mut svg, piece, placed, (&view, layout.has_grain), index),
            piece,
        ));
    }
    let labels = drawn
        .iter()
        .filter_map(|(shown, piece)| label::of(shown, piece, room.larger));
    let labels: Vec<Label> = labels.collect();
    // no label hides a cut line, its own or a neighbour's
    for label in &labels {
        svg.fill_with(&label.ground, "#ffffff");
    }
    for (shown, _) in &drawn {
        svg.stroke(None, &shown.path, CUT);
    }
    for label in &labels {
        svg.fill(&label.letters);
    }
    Figure {
        svg: svg.finish(),
        width,
        height,
        alt: words.alt.clone(),
        scale: view.scale,
    }
}

/// Whether the words on what is left over find room where [`layout`] draws.
pub fn says_what_is_left(
    layout: &Layout,
    laid: &Laid,
    room: LayoutRoom,
    words: &LayoutWords,
) -> bool {
    let view = View::new(layout, laid, room, words);
    cloth::left_over(laid, &view, words).is_some()
}

/// How large [`layout`] draws, mm on paper.
pub fn layout_size(layout: &Layout, laid: &Laid, room: LayoutRoom, words: &LayoutWords) -> Size {
    let view = View::new(layout, laid, room, words);
    view.frame.inset(view.margins).size()
}

/// The scale in which [`layout`] draws: paper millimetres for one of cloth.
pub fn layout_scale(layout: &Layout, laid: &Laid, room: LayoutRoom, words: &LayoutWords) -> f64 {
    View::new(layout, laid, room, words).scale
}

impl View {
    /// What is drawn lies along the paper or across it: as it is larger, and at one scale as it is narrower, so
    /// that more of them stand in a row.
    fn new(layout: &Layout, laid: &Laid, room: LayoutRoom, words: &LayoutWords) -> Self {
        let lies = |turned: bool| Lies {
            layout,
            words,
            larger: room.larger,
            turned,
        };
        let candidates = [false, true].map(|turned| Self::turned(laid, room, lies(turned)));
        let view = match candidates {
            [upright, turned] if turned.scale > upright.scale + 1e-9 => turned,
            [upright, turned]
                if turned.scale > upright.scale - 1e-9
                    && turned.frame.width() < upright.frame.width() - 1e-6 =>
            {
                turned
            }
            [upright, _] => upright,
        };
        Self {
            larger: room.larger,
            ..view
        }
    }

    /// But of a hide, what lies far beyond the pieces is left away.
    fn turned(laid: &Laid, room: LayoutRoom, lies: Lies<'_>) -> Self {
        let origin = Rect::from_points(Point::ZERO, Point::ZERO);
        let whole = laid.outline.iter().fold(origin, |r, p| r.union_pt(*p));
        let turn = match lies.turned {
            // (x, y) is (y, -x) on paper
            true => Affine::new([0.0, -1.0, 1.0, 0.0, 0.0, whole.x1]),
            false => Affine::IDENTITY,
        };
        let all = turn.transform_rect_bbox(whole);
        let used = turn.transform_rect_bbox(laid.used);
        let may_break = !matches!(lies.layout.stock, Stock::Hide(_));
        let scales = SCALES.iter().map(|one_to| 1.0 / one_to);
        for scale in scales.filter(|scale| *scale <= room.scale + 1e-9) {
            let beyond = BEYOND * room.larger.min(BEYOND_LARGER) / scale;
            let broken = may_break && used.x1 + 2.0 * beyond < all.x1;
            let shown = Rect::new(
                all.x0,
                all.y0,
                if broken { used.x1 + beyond } else { all.x1 },
                all.y1,
            );
            let margins = lies.margins(broken, shown.height() * scale);
            let taken = (shown.size() * scale).to_rect().inset(margins);
            if taken.width() <= room.size.width && taken.height() <= room.size.height {
                return Self::of(turn, shown, scale, (broken, margins));
            }
        }
        let margins = lies.margins(false, room.size.height);
        let left = room.size.to_rect().inset(-margins);
        let scale = (left.width() / all.width()).min(left.height() / all.height());
        Self::of(turn, all, scale, (false, margins))
    }

    fn of(turn: Affine, shown: Rect, scale: f64, (broken, margins): (bool, Insets)) -> Self {
        let corner = Vec2::new(margins.x0, margins.y0);
        let onto = Affine::translate(corner)
            * Affine::scale(scale)
            * Affine::translate(-shown.origin().to_vec2())
            * turn;
        let size = Size::new(shown.width() * scale, shown.height() * scale);
        Self {
            onto,
            scale,
            frame: Rect::from_origin_size(corner.to_point(), size),
            margins,
            broken,
            larger: 1.0,
        }
    }
}

/// How a cloth lies on the paper, and the words along its edges.
#[derive(Clone, Copy)]
struct Lies<'a> {
    layout: &'a Layout,
    words: &'a LayoutWords,
    /// By which factor words are larger than usual.
    larger: f64,
    /// Its length down the paper, its first selvedge at the left.
    turned: bool,
}

impl Lies<'_> {
    /// Room round the cloth, `high` on paper: cloth off the roll has words along its selvedges or its fold, as
    /// far as they are shown.
    fn margins(&self, broken: bool, high: f64) -> Insets {
        let flush = EDGE.width / 2.0;
        match self.layout.stock {
            Stock::Hide(_) => Insets::uniform(HIDE_MARGIN),
            Stock::Sheet(_) => Insets {
                x0: flush,
                ..Insets::uniform(MARGIN)
            },
            Stock::Roll(_) if self.turned => {
                let (words, line) = match self.layout.double {
                    true => (&self.words.fold, CLOTH_FOLD.width / 2.0),
                    false => (&self.words.selvedge, flush),
                };
                let left = cloth::reach_beside(words, high, self.larger).unwrap_or(line);
                let right = if broken { MARGIN } else { WORDS_MARGIN };
                Insets::new(left, MARGIN, right, MARGIN)
            }
            Stock::Roll(_) => Insets {
                x0: flush,
                ..Insets::uniform_xy(MARGIN, WORDS_MARGIN)
            },
        }
    }
}

/// What is drawn of a piece, on paper.
struct Drawn {
    /// Its cut line.
    path: BezPath,
    /// Its grain line, if there is room for it.
    grain: Option<Line>,
    /// The fold of one that lies opened out.
    fold: Option<Line>,
}

/// Draws a piece but for its cut line.
fn draw_piece(
    svg: &mut Svg,
    piece: &LayPiece,
    placed: &Placed,
    (view, has_grain): (&View, bool),
    index: usize,
) -> Drawn {
    let onto = view.onto * placed.onto;
    let path = rounded(&(onto * &piece.path));
    let turned_over = piece.turned_over != (placed.onto.determinant() < 0.0);
    let tint = if turned_over {
        Tint::Wrong
    } else {
        Tint::Right
    };
    tint::paint(svg, &path, tint, &format!("c{index}"));
    let grain = piece.grain.filter(|_| has_grain);
    let grain = grain.and_then(|grain| draw_grain(svg, grain.map(|p| onto * p)));
    if let Some(fold) = piece.opened_at {
        svg.stroke(None, &line(onto, fold), FOLD);
    }
    let fold = piece.opened_at.map(|[a, b]| Line::new(onto * a, onto * b));
    Drawn { path, grain, fold }
}

/// The grain line with a head at both ends; nothing where there is no room for the heads.
fn draw_grain(svg: &mut Svg, [from, to]: [Point; 2]) -> Option<Line> {
    let along = (to - from).normalize();
    let across = Vec2::new(-along.y, along.x) * HEAD[1];
    if (to - from).hypot() < 4.0 * HEAD[0] {
        return None;
    }
    svg.stroke(None, &line(Affine::IDENTITY, [from, to]), THIN);
    for (tip, back) in [(from, along * HEAD[0]), (to, along * -HEAD[0])] {
        let mut head = BezPath::new();
        head.move_to(tip);
        head.line_to(tip + back + across);
        head.line_to(tip + back - across);
        head.close_path();
        svg.fill(&rounded(&head));
    }
    Some(Line::new(from, to))
}

fn line(onto: Affine, [from, to]: [Point; 2]) -> BezPath {
    rounded(&Line::new(onto * from, onto * to).to_path(1e-3))
}

/// Coordinates finer than any printer, and short.
fn rounded(path: &BezPath) -> BezPath {
    rounded_path(path, DRAWN)
}
