//! The cloth under the pieces: its edges, selvedges and fold, and what is left over.

use super::{CLOTH_FOLD, EDGE, LayoutWords, THIN, View, rounded};
use crate::design::Stock;
use crate::geometry::units::POINT;
use crate::materials::{Laid, Layout};
use crate::plates::lettering::{self, Face};
use crate::plates::svg::Svg;
use kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};

/// Paper colour of the cloth: light enough for the thinnest lines on it.
pub const CLOTH: &str = "#f1efea";

/// Words along edges and on the rest, points.
const WORDS: f64 = 6.6;

/// White between an edge and the words along it, mm.
const AIR: f64 = 1.2;

/// From one line of words to the next, in parts of their size.
const LINE: f64 = 1.25;

/// Height of a wave of the broken edge, mm.
const WAVE: f64 = 1.2;

/// Distance of the lines that hatch a selvedge, mm.
const HATCH: f64 = 1.2;

/// A strip along a selvedge narrower than this on paper, mm, is not hatched.
const SEEN: f64 = 0.4;

pub(super) fn draw(svg: &mut Svg, layout: &Layout, laid: &Laid, view: &View, words: &LayoutWords) {
    let outline = outline(laid, view);
    svg.fill_with(&outline, CLOTH);
    svg.stroke(None, &outline, EDGE);
    if matches!(layout.stock, Stock::Roll(_)) {
        edges(svg, layout, laid, view, words);
    }
    if let Some(text) = left_over(laid, view, words) {
        svg.fill(&rounded(&text));
    }
}

/// The outline on paper; cut short by a wave at the right where cloth is left away.
fn outline(laid: &Laid, view: &View) -> BezPath {
    let mut path = BezPath::new();
    if !view.broken {
        for (index, point) in laid.outline.iter().enumerate() {
            let at = view.onto * *point;
            if index == 0 {
                path.move_to(at);
            } else {
                path.line_to(at);
            }
        }
        path.close_path();
        return rounded(&path);
    }
    let frame = view.frame;
    path.move_to((frame.x0, frame.y1));
    path.line_to((frame.x0, frame.y0));
    path.line_to((frame.x1, frame.y0));
    let waves = (frame.height() / 6.0).round().max(1.0) as usize * 2;
    let step = frame.height() / waves as f64;
    for wave in 0..waves {
        let side = if wave % 2 == 0 { WAVE } else { -WAVE };
        let (from, to) = (wave as f64 * step, (wave + 1) as f64 * step);
        path.curve_to(
            (frame.x1 + side, frame.y0 + from + step / 3.0),
            (frame.x1 + side, frame.y0 + to - step / 3.0),
            (frame.x1, frame.y0 + to),
        );
    }
    path.close_path();
    rounded(&path)
}

/// Selvedges, and the fold of double cloth.
fn edges(svg: &mut Svg, layout: &Layout, laid: &Laid, view: &View, words: &LayoutWords) {
    let bounds = laid.outline.iter().fold(Rect::ZERO, |r, p| r.union_pt(*p));
    let last = Rect::new(bounds.x0, bounds.y1 - layout.selvedge, bounds.x1, bounds.y1);
    let first = Rect::new(bounds.x0, bounds.y0, bounds.x1, bounds.y0 + layout.selvedge);
    match layout.double {
        true => {
            let edge = view.seen(Rect::new(bounds.x0, bounds.y0, bounds.x1, bounds.y0));
            // open: no piece is cut along it
            let mut fold = BezPath::new();
            fold.move_to((edge.x0, edge.y0));
            fold.line_to((edge.x1, edge.y1));
            svg.stroke(None, &rounded(&fold), CLOTH_FOLD);
            beside(svg, edge, view, &words.fold);
        }
        false => selvedge(svg, view.seen(first), view, words),
    }
    selvedge(svg, view.seen(last), view, words);
}

fn selvedge(svg: &mut Svg, strip: Rect, view: &View, words: &LayoutWords) {
    let hidden = strip.x0 > view.frame.x1 - 1e-6 && view.broken;
    if hidden || strip.width().max(strip.height()) < 1.0 {
        return;
    }
    if strip.width().min(strip.height()) >= SEEN {
        let mut hatch = BezPath::new();
        let reach = strip.width().min(strip.height());
        let long = strip.width().max(strip.height());
        let down = strip.height() > strip.width();
        for i in 0..(long / HATCH) as usize {
            let at = i as f64 * HATCH;
            let (from, to) = match down {
                true => (
                    (strip.x0, strip.y0 + at),
                    (strip.x1, (strip.y0 + at + reach).min(strip.y1)),
                ),
                false => (
                    (strip.x0 + at, strip.y0),
                    ((strip.x0 + at + reach).min(strip.x1), strip.y1),
                ),
            };
            hatch.move_to(from);
            hatch.line_to(to);
        }
        svg.stroke(None, &rounded(&hatch), THIN);
    }
    beside(svg, strip, view, &words.selvedge);
}

/// How far words along an edge `long` mm on paper reach out from it; `None` where they find no room.
pub(super) fn reach_beside(words: &str, long: f64, larger: f64) -> Option<f64> {
    let bounds = lettering::outlines(words, Face::Regular, WORDS * larger).bounding_box();
    (bounds.width() <= long).then_some(AIR + bounds.height())
}

/// Words outside the cloth, along an edge that lies at its border.
fn beside(svg: &mut Svg, strip: Rect, view: &View, words: &str) {
    let text = lettering::outlines(words, Face::Regular, WORDS * view.larger);
    let bounds = text.bounding_box();
    let (frame, air) = (view.frame, AIR);
    let upright = strip.height() <= strip.width();
    let room = if upright {
        strip.width()
    } else {
        strip.height()
    };
    if bounds.width() > room {
        return;
    }
    let (turn, at) = if !upright {
        let left = strip.center().x < frame.center().x;
        let x = if left {
            frame.x0 - air
        } else {
            frame.x1 + air + bounds.height()
        };
        (
            Affine::rotate(-std::f64::consts::FRAC_PI_2),
            Point::new(x, frame.y1),
        )
    } else {
        let above = strip.center().y < frame.center().y;
        let y = if above {
            frame.y0 - air
        } else {
            frame.y1 + air + bounds.height()
        };
        (Affine::IDENTITY, Point::new(frame.x0, y))
    };
    let from = Vec2::new(-bounds.x0, -bounds.y1);
    svg.fill(&rounded(
        &(Affine::translate(at.to_vec2()) * turn * Affine::translate(from) * text),
    ));
}

/// Words on what is left over, on paper: on one line, or the second measure below the first. `None` where
/// they find no room.
pub(super) fn left_over(laid: &Laid, view: &View, words: &LayoutWords) -> Option<BezPath> {
    let used = view.onto.transform_rect_bbox(laid.used);
    let frame = view.frame;
    let rest = Rect::new(
        used.x1 + 1.0,
        frame.y0 + 1.0,
        frame.x1 - 1.0,
        frame.y1 - 1.0,
    );
    let points = WORDS * view.larger;
    let line = |words: &str| lettering::outlines(words, Face::Regular, points);
    let settings = |said: &str| {
        let below = said.find(" (").map(|at| {
            let [first, mut second] = [&said[..at], &said[at + 1..]].map(line);
            let aside = first.bounding_box().center().x - second.bounding_box().center().x;
            second.apply_affine(Affine::translate((aside, LINE * points * POINT)));
            [first, second].into_iter().flatten().collect::<BezPath>()
        });
        std::iter::once(line(said)).chain(below)
    };
    let turned = |text: BezPath| {
        let bounds = text.bounding_box();
        let lies = rest.width() >= bounds.width() + 1.0 && rest.height() >= bounds.height() + 1.0;
        let stands = rest.height() >= bounds.width() + 1.0 && rest.width() >= bounds.height() + 1.0;
        match (lies, stands) {
            (true, _) => Some(text),
            (false, true) => Some(Affine::rotate(-std::f64::consts::FRAC_PI_2) * text),
            (false, false) => None,
        }
    };
    let mut all = words.left_over.as_deref().into_iter().flat_map(settings);
    let text = all.find_map(turned)?;
    let by = rest.center() - text.bounding_box().center();
    Some(Affine::translate(by) * text)
}

impl View {
    /// A part of the cloth as it lies on paper, as far as it is drawn.
    fn seen(&self, part: Rect) -> Rect {
        let part = self.onto.transform_rect_bbox(part);
        let frame = self.frame;
        let x = |v: f64| v.clamp(frame.x0, frame.x1);
        let y = |v: f64| v.clamp(frame.y0, frame.y1);
        Rect::new(x(part.x0), y(part.y0), x(part.x1), y(part.y1))
    }
}
