//! A drawing being made: lines that are known to what is placed later, so that numbers stand clear
//! of them. Millimetres on paper, y down.

use super::badge::{self, Room};
use crate::geometry::rounding::{DRAWN, rounded_path};
use crate::plates::ink::{Stroke, path_of};
use crate::plates::lettering::{self, Face};
use crate::plates::svg::Svg;
use kurbo::{Affine, BezPath, Circle, Point, Rect, Shape, Vec2};

const fn stroke(width: f64, dash: Option<[f64; 2]>) -> Stroke {
    Stroke {
        width,
        dash,
        round: true,
    }
}

/// The foot's contour.
pub(super) const CONTOUR: Stroke = stroke(0.4, None);
/// Other edges of the foot.
pub(super) const INNER: Stroke = stroke(0.26, None);
/// A tape where it is seen.
pub(super) const TAPE: Stroke = stroke(0.6, None);
/// A tape where it is hidden.
pub(super) const HIDDEN: Stroke = stroke(0.25, Some([0.9, 0.9]));
/// Shafts of arrows that show heights and widths.
pub(super) const ARROW: Stroke = stroke(0.35, None);
/// The table, marks, leaders.
pub(super) const THIN: Stroke = stroke(0.2, None);

/// Length of an arrow's head, and half its width.
const HEAD: [f64; 2] = [1.6, 0.55];

/// Size of a number in its circle, and of figures along a scale, points.
const NUMBER: f64 = 7.2;
const FIGURES: f64 = 6.6;

/// White above and below what is drawn.
const AIR: f64 = 0.6;

/// A drawing being made.
pub(super) struct Sketch {
    width: f64,
    /// By which factor letters and their circles are larger than usual.
    larger: f64,
    strokes: Vec<(BezPath, Stroke)>,
    fills: Vec<BezPath>,
    lines: Vec<Vec<Point>>,
    boxes: Vec<Rect>,
    badges: Vec<(u32, Point)>,
    leaders: Vec<[Point; 2]>,
    extent: Option<Rect>,
}

impl Sketch {
    /// A drawing `width` mm wide, its letters `larger` than usual by that factor; as high as what is drawn.
    pub(super) fn new((width, larger): (f64, f64)) -> Self {
        Self {
            width,
            larger,
            strokes: Vec::new(),
            fills: Vec::new(),
            lines: Vec::new(),
            boxes: Vec::new(),
            badges: Vec::new(),
            leaders: Vec::new(),
            extent: None,
        }
    }

    pub(super) fn badges(&self) -> &[(u32, Point)] {
        &self.badges
    }

    /// Radius of the circle round a number, mm.
    pub(super) fn radius(&self) -> f64 {
        badge::RADIUS * self.larger
    }

    pub(super) fn width(&self) -> f64 {
        self.width
    }

    pub(super) fn height(&self) -> f64 {
        self.extent.map_or(0.0, |extent| extent.height())
    }

    /// Adds a line that `path` draws and `points` follow.
    pub(super) fn line(&mut self, points: &[Point], path: &BezPath, stroke: Stroke) {
        self.strokes.push((path.clone(), stroke));
        self.lines.push(points.to_vec());
    }

    /// Adds a line through points.
    pub(super) fn through(&mut self, points: &[Point], stroke: Stroke) {
        self.line(points, &path_of(points), stroke);
    }

    /// An arrow with a head at both ends.
    pub(super) fn arrow(&mut self, from: Point, to: Point) {
        let along = (to - from).normalize();
        let across = Vec2::new(-along.y, along.x) * HEAD[1];
        let inset = along * (0.7 * HEAD[0]);
        self.strokes
            .push((path_of(&[from + inset, to - inset]), ARROW));
        self.lines.push(vec![from, to]);
        for (tip, back) in [(from, along * HEAD[0]), (to, along * -HEAD[0])] {
            let mut head = path_of(&[tip, tip + back + across, tip + back - across]);
            head.close_path();
            self.fills.push(head);
        }
    }

    /// Figures of a scale, the middle of their upper edge at `at`.
    pub(super) fn figures(&mut self, text: &str, at: Point) {
        let path = lettering::outlines(text, Face::Regular, FIGURES * self.larger);
        let bounds = path.bounding_box();
        let by = at - Point::new(bounds.center().x, bounds.y0);
        self.boxes.push(bounds + by);
        self.fills.push(Affine::translate(by) * path);
    }

    /// Puts `number` in a circle beside the line on which `anchors` lie, best first, with a leader to
    /// one of them.
    pub(super) fn number(&mut self, number: u32, anchors: &[Point]) {
        let room = Room {
            width: self.width,
            radius: self.radius(),
            lines: &self.lines,
            boxes: &self.boxes,
            badges: &self.badges,
            leaders: &self.leaders,
        };
        if let Some([anchor, at]) = room.place(anchors) {
            self.badges.push((number, at));
            self.leaders
                .push([anchor, badge::leader_end(anchor, at, self.radius())]);
        }
    }

    /// Ends the drawing: its upper edge comes to 0.
    pub(super) fn close(&mut self) {
        let mut low = f64::INFINITY;
        let mut high = f64::NEG_INFINITY;
        let mut grow = |top: f64, bottom: f64| {
            low = low.min(top - AIR);
            high = high.max(bottom + AIR);
        };
        self.lines.iter().flatten().for_each(|p| grow(p.y, p.y));
        self.boxes.iter().for_each(|b| grow(b.y0, b.y1));
        let reach = self.radius();
        self.badges
            .iter()
            .for_each(|(_, p)| grow(p.y - reach, p.y + reach));
        if !low.is_finite() {
            return;
        }
        let up = Vec2::new(0.0, -low);
        let onto = Affine::translate(up);
        self.strokes
            .iter_mut()
            .for_each(|(path, _)| path.apply_affine(onto));
        self.fills
            .iter_mut()
            .for_each(|path| path.apply_affine(onto));
        self.lines.iter_mut().flatten().for_each(|p| *p += up);
        self.boxes.iter_mut().for_each(|b| *b = *b + up);
        self.badges.iter_mut().for_each(|(_, p)| *p += up);
        self.leaders.iter_mut().flatten().for_each(|p| *p += up);
        self.extent = Some(Rect::new(0.0, 0.0, self.width, high - low));
    }

    /// The drawing as SVG, one unit a millimetre.
    pub(super) fn svg(&self) -> Vec<u8> {
        let mut svg = Svg::new(self.width, self.height());
        for (path, stroke) in &self.strokes {
            svg.stroke(None, &rounded(path), *stroke);
        }
        for path in &self.fills {
            svg.fill(&rounded(path));
        }
        for leader in &self.leaders {
            svg.stroke(None, &rounded(&path_of(leader)), THIN);
        }
        for (number, at) in &self.badges {
            let circle = Circle::new(*at, self.radius()).to_path(1e-3);
            svg.fill_with(&rounded(&circle), "#ffffff");
            svg.stroke(None, &rounded(&circle), ARROW);
            let digits = lettering::outlines(&number.to_string(), Face::Bold, NUMBER * self.larger);
            let middle = digits.bounding_box().center();
            svg.fill(&rounded(&(Affine::translate(*at - middle) * digits)));
        }
        svg.finish()
    }
}

/// Coordinates finer than any printer, and short.
fn rounded(path: &BezPath) -> BezPath {
    rounded_path(path, DRAWN)
}
