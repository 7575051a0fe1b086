//! Line tints that tell the sides and cloths of a piece apart without grey. Millimetres.

use crate::plates::ink::Stroke;
use crate::plates::svg::{Svg, path_data};
use kurbo::{BezPath, Circle, Line, Point, Rect, Shape, Vec2};

/// What a surface is, which says how it is tinted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Tint {
    /// Right side: white.
    #[default]
    Right,
    /// Wrong side: hatched at 45 degrees.
    Wrong,
    /// Lining: dots.
    Lining,
    /// Interfacing and stiffener: a square grid.
    Stiffener,
}

/// Between lines of hatching, across them.
pub(super) const HATCH_PITCH: f64 = 1.1;
/// Between dots.
pub(super) const DOT_PITCH: f64 = 1.5;
/// Diameter of a dot.
pub(super) const DOT: f64 = 0.32;
/// Between lines of the grid.
pub(super) const GRID_PITCH: f64 = 1.6;

const fn solid(width: f64) -> Stroke {
    Stroke {
        width,
        dash: None,
        round: false,
    }
}

/// Paints `surface` with `tint`; `id` must be unique in the drawing.
pub fn paint(svg: &mut Svg, surface: &BezPath, tint: Tint, id: &str) {
    svg.fill_with(surface, "#ffffff");
    let bounds = surface.bounding_box();
    let (pattern, stroke) = match tint {
        Tint::Right => return,
        Tint::Wrong => (hatch(bounds), Some(solid(0.12))),
        Tint::Lining => (dots(bounds), None),
        Tint::Stiffener => (grid(bounds), Some(solid(0.1))),
    };
    let clip = path_data(surface);
    svg.push(&format!(
        "<clipPath id=\"{id}\"><path d=\"{clip}\"/></clipPath><g clip-path=\"url(#{id})\">"
    ));
    match stroke {
        Some(stroke) => svg.stroke(None, &pattern, stroke),
        None => svg.fill(&pattern),
    }
    svg.push("</g>\n");
}

fn add(path: &mut BezPath, line: Line) {
    path.move_to(line.p0);
    path.line_to(line.p1);
}

/// Lines rising to the right, `HATCH_PITCH` apart.
fn hatch(bounds: Rect) -> BezPath {
    let mut path = BezPath::new();
    let step = HATCH_PITCH * std::f64::consts::SQRT_2;
    let height = bounds.height();
    let mut x = bounds.x0 - height;
    while x < bounds.x1 {
        let foot = Point::new(x, bounds.y1);
        add(
            &mut path,
            Line::new(foot, foot + Vec2::new(height, -height)),
        );
        x += step;
    }
    path
}

fn dots(bounds: Rect) -> BezPath {
    let mut path = BezPath::new();
    let mut y = bounds.y0 + DOT_PITCH / 2.0;
    while y < bounds.y1 {
        let mut x = bounds.x0 + DOT_PITCH / 2.0;
        while x < bounds.x1 {
            path.extend(Circle::new((x, y), DOT / 2.0).path_elements(0.01));
            x += DOT_PITCH;
        }
        y += DOT_PITCH;
    }
    path
}

fn grid(bounds: Rect) -> BezPath {
    let mut path = BezPath::new();
    let mut x = bounds.x0 + GRID_PITCH / 2.0;
    while x < bounds.x1 {
        add(&mut path, Line::new((x, bounds.y0), (x, bounds.y1)));
        x += GRID_PITCH;
    }
    let mut y = bounds.y0 + GRID_PITCH / 2.0;
    while y < bounds.y1 {
        add(&mut path, Line::new((bounds.x0, y), (bounds.x1, y)));
        y += GRID_PITCH;
    }
    path
}

/// A small square of `tint` for the key of tints: 12 by 7 mm.
pub fn swatch(tint: Tint) -> Vec<u8> {
    let mut svg = Svg::new(12.4, 7.4);
    let square = Rect::new(0.2, 0.2, 12.2, 7.2).to_path(0.1);
    paint(&mut svg, &square, tint, "tint");
    svg.stroke(None, &square, solid(0.25));
    svg.finish()
}
