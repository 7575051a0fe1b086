//! Outlines from a drawing in true size (SVG): paths, polygons, ellipses and circles, each closed and on its
//! own. Lengths in mm, y downwards.

#[cfg(test)]
mod tests;

use super::axis;
use super::picture::Picture;
use super::reference::Kind;
use super::{Sheet, Toe, Traced, from_left, told};
use crate::design::drawing::{numbers, transform};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::geometry::curve;
use crate::geometry::path_text::{FARTHEST, lies_within, read_path};
use crate::geometry::probe::is_inside;
use crate::geometry::rounding::{DRAWN, rounded_path};
use crate::geometry::units::INCH;
use image::{Rgb, RgbImage};
use kurbo::{Affine, BezPath, PathEl, Point, Rect, Shape};
use roxmltree::{Document, Node};

/// What is smaller than this, mm, is no foot.
const SHORTEST: f64 = 9.0;

/// What is larger than this, mm, is none either.
const LONGEST: f64 = 400.0;

/// Width and height may be scaled this much apart.
const DISTORTION: f64 = 1e-3;

/// Pixels to the mm of the picture that shows what was taken, at most.
const SHOWN: f64 = 8.0;

/// Things that hold shapes which are not drawn where they stand.
const HIDDEN: [&str; 6] = ["defs", "clipPath", "mask", "pattern", "symbol", "marker"];

/// Takes the outlines from the drawing in the bytes of a file. `None` if there are none; then
/// `diagnostics` says why.
pub fn trace(
    name: &str,
    bytes: &[u8],
    toe: Option<Toe>,
    diagnostics: &mut Diagnostics,
) -> Option<Sheet> {
    match outlines(name, bytes, diagnostics) {
        Ok(outlines) => laid(outlines, toe, diagnostics),
        Err(refused) => {
            diagnostics.push(*refused);
            None
        }
    }
}

fn fault(message: String, remedy: &str) -> Box<Diagnostic> {
    Box::new(Diagnostic::error("trace-drawing", None, message).remedy(remedy))
}

/// The closed shapes that lie in no other one, in mm.
fn outlines(
    name: &str,
    bytes: &[u8],
    diagnostics: &mut Diagnostics,
) -> Result<Vec<BezPath>, Box<Diagnostic>> {
    let unreadable = |why: String| {
        fault(
            format!("{name} is no readable drawing: {why}"),
            "save it again as plain SVG",
        )
    };
    let text = std::str::from_utf8(bytes).map_err(|e| unreadable(e.to_string()))?;
    let document = Document::parse(text).map_err(|e| unreadable(e.to_string()))?;
    let root = document.root_element();
    let to_mm = scale(name, &root, diagnostics)?;
    let mut all = Vec::new();
    for node in root.descendants().filter(|node| is_drawn(node, &root)) {
        let Some(path) = shape(&node) else {
            continue;
        };
        let own = placed(&node).ok_or_else(|| {
            fault(
                format!("{name}: a transform cannot be read"),
                "save it as plain SVG",
            )
        })?;
        // further away numbers are too coarse to measure with
        let laid = to_mm * own * path;
        if lies_within(&laid, FARTHEST) {
            all.extend(closed_parts(&laid));
        }
    }
    let size = |path: &BezPath| {
        let bounds = path.bounding_box();
        bounds.width().hypot(bounds.height())
    };
    all.retain(|path| (SHORTEST..=LONGEST).contains(&size(path)));
    let within = |path: &BezPath, other: &BezPath| {
        let start = path.elements().first().and_then(PathEl::end_point);
        path.area().abs() < other.area().abs() && start.is_some_and(|p| is_inside(other, p))
    };
    let outermost = all
        .iter()
        .filter(|path| !all.iter().any(|other| within(path, other)));
    Ok(outermost.cloned().collect())
}

/// What tells the scale of a drawing.
const TELLS_SCALE: &str = "give width and height of the drawing in mm, cm or in, and a viewBox, so that its \
                           scale is known";

/// From the units of the drawing to mm.
fn scale(
    name: &str,
    root: &Node<'_, '_>,
    diagnostics: &mut Diagnostics,
) -> Result<Affine, Box<Diagnostic>> {
    let side = |key: &str| {
        let text = root.attribute(key).map(str::trim);
        let text = text.filter(|t| !t.ends_with('%') && *t != "auto");
        let read = text.map(|text| {
            let message = format!("{name}: its {key} is ‘{text}’, which is no length on paper");
            length(text).ok_or_else(|| fault(message, TELLS_SCALE))
        });
        read.transpose()
    };
    let (width, height) = (side("width")?, side("height")?);
    let mut pixels = [width, height]
        .into_iter()
        .flatten()
        .any(|(_, pixels)| pixels);
    let (scale, corner) = match root.attribute("viewBox") {
        Some(text) => view_box(name, text, [width, height].map(|side| Some(side?.0)))?,
        None => {
            pixels = true;
            (INCH / 96.0, Point::ZERO)
        }
    };
    if !(scale.is_finite() && scale > 0.0 && corner.is_finite()) {
        let message = format!("{name}: its size is not more than 0");
        return Err(fault(message, TELLS_SCALE));
    }
    if pixels {
        let message = format!("{name} gives its size in pixels; 96 of them were taken for an inch");
        let told = Diagnostic::warning("trace-pixels", None, message);
        diagnostics
            .push(told.remedy("compare the length with your tracing, or save the drawing in mm"));
    }
    Ok(Affine::scale(scale) * Affine::translate(-corner.to_vec2()))
}

/// Mm to one unit of a view box, and its corner; `sides` are width and height of the drawing, mm.
fn view_box(
    name: &str,
    text: &str,
    sides: [Option<f64>; 2],
) -> Result<(f64, Point), Box<Diagnostic>> {
    let values = numbers(text).and_then(|n| <[f64; 4]>::try_from(n).ok());
    let Some([x, y, across, down]) = values else {
        let message = format!("{name}: its viewBox is not four numbers");
        return Err(fault(message, TELLS_SCALE));
    };
    let scale = match [sides[0].map(|w| w / across), sides[1].map(|h| h / down)] {
        [Some(a), Some(b)] if (a / b - 1.0).abs() > DISTORTION => {
            let message = format!("{name}: it is scaled differently across and down");
            return Err(fault(message, "make width and height fit the viewBox"));
        }
        [Some(scale), _] | [None, Some(scale)] => scale,
        [None, None] => {
            let message = format!("{name}: it does not say how large it is");
            return Err(fault(message, TELLS_SCALE));
        }
    };
    Ok((scale, Point::new(x, y)))
}

/// A length in mm, and whether it is one of pixels (CSS: 96 to the inch).
fn length(text: &str) -> Option<(f64, bool)> {
    let is_unit = |c: char| c.is_ascii_alphabetic() && c != 'e' && c != 'E';
    let end = text.find(is_unit).unwrap_or(text.len());
    let number: f64 = text[..end].trim().parse().ok()?;
    let (unit, pixels) = match text[end..].trim() {
        "mm" => (1.0, false),
        "cm" => (10.0, false),
        "in" => (INCH, false),
        "pt" => (INCH / 72.0, false),
        "pc" => (INCH / 6.0, false),
        "px" | "" => (INCH / 96.0, true),
        _ => return None,
    };
    (number.is_finite() && number > 0.0).then_some((number * unit, pixels))
}

fn is_drawn(node: &Node<'_, '_>, root: &Node<'_, '_>) -> bool {
    let hidden = |node: &Node<'_, '_>| {
        let tag = node.tag_name().name();
        let nested = tag == "svg" && node != root;
        let style = node.attribute("style").unwrap_or("").replace(' ', "");
        nested
            || HIDDEN.contains(&tag)
            || node.attribute("display") == Some("none")
            || style.contains("display:none")
    };
    node.is_element()
        && !node
            .ancestors()
            .any(|above| above.is_element() && hidden(&above))
}

fn shape(node: &Node<'_, '_>) -> Option<BezPath> {
    let value = |key: &str| {
        node.attribute(key)
            .map_or(Some(0.0), |t| t.trim().parse::<f64>().ok())
            .filter(|value| value.abs() <= FARTHEST)
    };
    let path = match node.tag_name().name() {
        "path" => read_path(node.attribute("d")?)?,
        "polygon" | "polyline" => {
            let values = numbers(node.attribute("points")?)?;
            let mut points = values.chunks_exact(2).map(|p| Point::new(p[0], p[1]));
            let mut path = BezPath::new();
            path.move_to(points.next()?);
            points.for_each(|p| path.line_to(p));
            if node.tag_name().name() == "polygon" {
                path.close_path();
            }
            path
        }
        "circle" => {
            let centre = Point::new(value("cx")?, value("cy")?);
            kurbo::Circle::new(centre, value("r")?).to_path(1e-4)
        }
        "ellipse" => {
            let centre = Point::new(value("cx")?, value("cy")?);
            kurbo::Ellipse::new(centre, (value("rx")?, value("ry")?), 0.0).to_path(1e-4)
        }
        _ => return None,
    };
    lies_within(&path, FARTHEST).then_some(path)
}

/// All transforms from the outermost element down to the shape.
fn placed(node: &Node<'_, '_>) -> Option<Affine> {
    let texts = node
        .ancestors()
        .filter_map(|above| above.attribute("transform"));
    texts
        .map(transform)
        .try_fold(Affine::IDENTITY, |whole, own| Some(own? * whole))
}

/// The parts of a path that are closed, or whose ends meet.
fn closed_parts(path: &BezPath) -> Vec<BezPath> {
    let mut parts: Vec<BezPath> = Vec::new();
    for element in path.elements() {
        match (element, parts.last_mut()) {
            (PathEl::MoveTo(_), _) => parts.push(BezPath::from_vec(vec![*element])),
            (_, Some(part)) => part.push(*element),
            (_, None) => {}
        }
    }
    let closed = |mut part: BezPath| {
        let (first, last) = (part.elements().first()?, part.elements().last()?);
        if *last != PathEl::ClosePath {
            let meet = first.end_point()?.distance(last.end_point()?) < 0.01;
            if !meet {
                return None;
            }
            part.close_path();
        }
        (part.elements().len() > 3 && part.area().abs() > 1.0).then_some(part)
    };
    parts.into_iter().filter_map(closed).collect()
}

fn laid(outlines: Vec<BezPath>, toe: Option<Toe>, diagnostics: &mut Diagnostics) -> Option<Sheet> {
    let bounds = outlines
        .iter()
        .map(Shape::bounding_box)
        .reduce(|a, b| a.union(b));
    let Some(bounds) = bounds.map(|b| b.inset(5.0)) else {
        let message = "there is no closed shape as large as a foot in the drawing";
        let remedy = "draw the outline as one closed path, in true size";
        diagnostics.push(Diagnostic::error("trace-no-shape", None, message).remedy(remedy));
        return None;
    };
    let scale = (2000.0 / bounds.width().max(bounds.height())).min(SHOWN);
    let size = [bounds.width() * scale, bounds.height() * scale];
    let mut shapes = Vec::new();
    for path in outlines {
        shapes.push(traced(path, toe, bounds, scale, diagnostics)?);
    }
    from_left(&mut shapes);
    let shown = RgbImage::from_pixel(size[0].ceil() as u32, size[1].ceil() as u32, Rgb([255; 3]));
    Some(Sheet {
        picture: Picture {
            light: Vec::new(),
            shown,
            averaged: 1,
            resolution: None,
            photograph: false,
            focal: None,
        },
        kind: Kind::Drawing,
        shapes,
    })
}

fn traced(
    path: BezPath,
    toe: Option<Toe>,
    bounds: Rect,
    scale: f64,
    diagnostics: &mut Diagnostics,
) -> Option<Traced> {
    let path = if path.area() < 0.0 {
        curve::reversed(&path)
    } else {
        path
    };
    let pixel = |mm: Point| ((mm - bounds.origin()) * scale).to_point();
    let ends = match axis::ends(&path, toe, &pixel) {
        Ok(ends) => ends,
        Err(both) => {
            let size = [bounds.width() * scale, bounds.height() * scale];
            diagnostics.push(told::which_is_the_toe(both.map(pixel), toe, size));
            return None;
        }
    };
    let outline = ends.to_axes() * path.clone();
    let laid = outline.bounding_box();
    Some(Traced {
        points: curve::spread(&outline, super::POINTS),
        drawn: Some(rounded_path(&outline, DRAWN).to_svg()),
        chord: ends.heel.distance(ends.toe),
        length: laid.height(),
        width: laid.width(),
        accuracy: 0.0,
        line: None,
        ends: [pixel(ends.heel), pixel(ends.toe)],
        pixels: curve::spread(&path, 4 * super::POINTS)
            .into_iter()
            .map(pixel)
            .collect(),
        gaps: Vec::new(),
        side: None,
        outline,
    })
}
