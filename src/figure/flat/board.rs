//! A drawing as a list of what is painted, in order, so that parts of it can be moved, painted again
//! larger, and measured. Millimetres on paper.

use crate::figure::tint::{self, Tint};
use crate::plates::ink::Stroke;
use crate::plates::svg::{Svg, path_data};
use kurbo::{Affine, BezPath, PathEl, Point, Rect, Shape, Vec2};

/// Flattening tolerance for clearances, mm.
const FLAT: f64 = 0.05;

/// A line so wide is bold, mm: the edge of what lies below.
const BOLD: f64 = 0.55;

/// White round the drawing, mm: half the heaviest line and a little more.
const RIM: f64 = 0.6;

/// An unbroken line with round ends, of this width, mm.
pub(super) const fn round(width: f64) -> Stroke {
    Stroke {
        width,
        dash: None,
        round: true,
    }
}

/// One thing that is painted.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Element {
    /// A surface in ink, or in white.
    Fill { path: BezPath, white: bool },
    /// A surface of cloth.
    Cloth { path: BezPath, tint: Tint },
    /// A line in ink.
    Line { path: BezPath, stroke: Stroke },
    /// What follows, seen only within `clip`.
    Within { clip: BezPath, inside: Vec<Element> },
}

/// What is painted, first to last.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Board {
    pub(super) elements: Vec<Element>,
}

impl Board {
    pub(super) fn cloth(&mut self, path: BezPath, tint: Tint) {
        self.elements.push(Element::Cloth { path, tint });
    }

    pub(super) fn line(&mut self, path: BezPath, stroke: Stroke) {
        self.elements.push(Element::Line { path, stroke });
    }

    /// White along a path, as a surface: so that it bares what lies under it and is no line itself.
    pub(super) fn white_line(&mut self, path: &BezPath, width: f64) {
        let style = kurbo::Stroke::new(width);
        let path = kurbo::stroke(path, &style, &kurbo::StrokeOpts::default(), FLAT);
        self.white(path);
    }

    pub(super) fn fill(&mut self, path: BezPath) {
        self.elements.push(Element::Fill { path, white: false });
    }

    pub(super) fn white(&mut self, path: BezPath) {
        self.elements.push(Element::Fill { path, white: true });
    }

    pub(super) fn within(&mut self, clip: BezPath, inside: Board) {
        let inside = inside.elements;
        if !inside.is_empty() {
            self.elements.push(Element::Within { clip, inside });
        }
    }

    /// All of it moved, turned or made larger; widths and dashes of lines stay.
    pub(super) fn moved(&self, by: Affine) -> Board {
        Board {
            elements: self.elements.iter().map(|e| moved(e, by)).collect(),
        }
    }

    /// The smallest upright rectangle round all that is painted, lines with their widths.
    pub(super) fn bounds(&self) -> Option<Rect> {
        let boxes = self.elements.iter().filter_map(bounds);
        boxes.reduce(|a, b| a.union(b))
    }

    /// Every line as points, for finding room beside it.
    pub(super) fn polylines(&self) -> Vec<Vec<Point>> {
        let mut list = Vec::new();
        for element in &self.elements {
            gather(element, &mut list);
        }
        list
    }

    /// What bold lines cover, each with half of `round` at both sides, as closed paths.
    pub(super) fn bold(&self, round: f64) -> Vec<BezPath> {
        let lines = self.elements.iter().filter_map(|element| match element {
            Element::Line { path, stroke } if stroke.width >= BOLD => {
                let style = kurbo::Stroke::new(stroke.width + round);
                let options = kurbo::StrokeOpts::default();
                Some(kurbo::stroke(path, &style, &options, FLAT))
            }
            _ => None,
        });
        lines.collect()
    }

    /// Width and height of the drawing.
    pub(super) fn size(&self) -> Vec2 {
        let frame = self.frame();
        Vec2::new(frame.width(), frame.height())
    }

    fn frame(&self) -> Rect {
        let bounds = self.bounds().unwrap_or(Rect::new(0.0, 0.0, 1.0, 1.0));
        bounds.inflate(RIM, RIM)
    }

    /// The drawing as SVG; its upper left corner moves to the origin.
    pub(super) fn svg(&self) -> Vec<u8> {
        let frame = self.frame();
        let placed = self.moved(Affine::translate(-frame.origin().to_vec2()));
        let mut svg = Svg::new(frame.width(), frame.height());
        let mut number = 0;
        for element in &placed.elements {
            paint(&mut svg, element, &mut number);
        }
        svg.finish()
    }
}

fn moved(element: &Element, by: Affine) -> Element {
    match element {
        Element::Fill { path, white } => Element::Fill {
            path: by * path,
            white: *white,
        },
        Element::Cloth { path, tint } => Element::Cloth {
            path: by * path,
            tint: *tint,
        },
        Element::Line { path, stroke } => Element::Line {
            path: by * path,
            stroke: *stroke,
        },
        Element::Within { clip, inside } => Element::Within {
            clip: by * clip,
            inside: inside.iter().map(|e| moved(e, by)).collect(),
        },
    }
}

fn bounds(element: &Element) -> Option<Rect> {
    let some = |path: &BezPath| (!path.is_empty()).then(|| path.bounding_box());
    match element {
        Element::Fill { path, .. } | Element::Cloth { path, .. } => some(path),
        Element::Line { path, stroke } => {
            some(path).map(|b| b.inflate(stroke.width / 2.0, stroke.width / 2.0))
        }
        Element::Within { clip, inside } => {
            let inside = inside.iter().filter_map(bounds).reduce(|a, b| a.union(b))?;
            let both = inside.intersect(some(clip)?);
            (both.width() > 0.0 && both.height() > 0.0).then_some(both)
        }
    }
}

fn gather(element: &Element, list: &mut Vec<Vec<Point>>) {
    match element {
        // what is seen within a shape only follows other lines, or lies in its own circle
        Element::Cloth { .. } | Element::Fill { white: true, .. } | Element::Within { .. } => {}
        Element::Fill { path, .. } | Element::Line { path, .. } => {
            kurbo::flatten(path, FLAT, |part| match part {
                PathEl::MoveTo(p) => list.push(vec![p]),
                PathEl::LineTo(p) => {
                    if let Some(last) = list.last_mut() {
                        last.push(p);
                    }
                }
                PathEl::ClosePath => {
                    if let Some(last) = list.last_mut() {
                        last.extend(last.first().copied());
                    }
                }
                PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
            });
        }
    }
}

/// `number` counts what needs a name of its own in the file.
fn paint(svg: &mut Svg, element: &Element, number: &mut usize) {
    match element {
        Element::Fill { path, white: false } => svg.fill(path),
        Element::Fill { path, white: true } => svg.fill_with(path, "#ffffff"),
        Element::Cloth { path, tint } => {
            *number += 1;
            tint::paint(svg, path, *tint, &format!("t{number}"));
        }
        Element::Line { path, stroke } => svg.stroke(None, path, *stroke),
        Element::Within { clip, inside } => {
            *number += 1;
            let (id, data) = (format!("w{number}"), path_data(clip));
            svg.push(&format!(
                "<clipPath id=\"{id}\"><path d=\"{data}\"/></clipPath>\
                 <g clip-path=\"url(#{id})\">\n"
            ));
            inside.iter().for_each(|e| paint(svg, e, number));
            svg.push("</g>\n");
        }
    }
}
