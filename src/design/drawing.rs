//! A path of an SVG drawing in true size: millimetres, y down, the axes of the page. Only `path`
//! elements are read; pictures and text are not looked at. Nothing about the size is guessed: where
//! the drawing does not say it in a length of the ruler, or says it in a way that is not followed
//! here (style sheets, drawings inside the drawing), it is refused ([`refusals`]).

mod refusals;

#[cfg(test)]
mod tests;

use crate::diagnostic::{Diagnostic, Place, SourceText};
use crate::geometry::path_text::{FARTHEST, lies_within, read_path};
use crate::geometry::units::INCH;
use kurbo::{Affine, BezPath, PathEl, Point};
use roxmltree::{Document, Node};
use std::sync::Arc;

/// Width and height may be scaled this much apart (relative) before the drawing counts as
/// distorted: below it the error is less than 0.1 mm in 100 mm.
const DISTORTION: f64 = 1e-3;

/// The path whose `id` is `id` in the drawing `source`: closed, one subpath, in mm.
///
/// # Errors
/// A diagnostic in the drawing itself: no SVG, no such path, no true size, not one closed line.
pub fn path(source: &Arc<SourceText>, id: &str) -> Result<BezPath, Diagnostic> {
    let document = Document::parse(&source.text).map_err(|error| {
        let at = error.pos();
        let place = place(source, at.row as usize, at.col as usize);
        let why = error.to_string();
        let why = why.rsplit_once(" at ").map_or(why.as_str(), |(why, _)| why);
        let message = format!("{} is no readable drawing: {why}", source.path);
        Diagnostic::error("drawing", Some(&place), message).remedy("save it again as plain SVG")
    })?;
    let drawing = Drawing {
        source,
        document: &document,
    };
    let element = drawing.element(id)?;
    drawing.refuse_unseen(&element)?;
    let to_mm = drawing.to_mm()?;
    let unreadable = || {
        let message = "the path data cannot be read, or lead further than a kilometre";
        drawing.fault(&element, message, "draw the path again")
    };
    let mut path = read_path(element.attribute("d").unwrap_or("")).ok_or_else(unreadable)?;
    path.apply_affine(to_mm * drawing.transform(&element)?);
    if !lies_within(&path, FARTHEST) {
        return Err(unreadable());
    }
    drawing.one_closed(path, &element)
}

/// Where the path called `id` stands in the drawing; `None` if it has none.
pub fn place_of(source: &Arc<SourceText>, id: &str) -> Option<Place> {
    let document = Document::parse(&source.text).ok()?;
    let mut all = document.descendants();
    let element = all.find(|node| node.attribute("id") == Some(id))?;
    let at = document.text_pos_at(element.range().start);
    Some(place(source, at.row as usize, at.col as usize))
}

/// The ids of all paths, in the order of the drawing.
fn ids<'d>(document: &'d Document<'_>) -> Vec<&'d str> {
    let paths = document
        .descendants()
        .filter(|node| node.has_tag_name(SVG_PATH));
    paths.filter_map(|node| node.attribute("id")).collect()
}

const SVG_PATH: (&str, &str) = ("http://www.w3.org/2000/svg", "path");

struct Drawing<'d> {
    source: &'d Arc<SourceText>,
    document: &'d Document<'d>,
}

impl<'d> Drawing<'d> {
    fn fault(&self, node: &Node<'_, '_>, message: &str, remedy: &str) -> Diagnostic {
        let at = self.document.text_pos_at(node.range().start);
        let place = place(self.source, at.row as usize, at.col as usize);
        let message = format!("{}: {message}", self.source.path);
        Diagnostic::error("drawing", Some(&place), message).remedy(remedy)
    }

    fn element(&self, id: &str) -> Result<Node<'d, 'd>, Diagnostic> {
        let root = self.document.root_element();
        let mut found = self
            .document
            .descendants()
            .filter(|node| node.attribute("id") == Some(id));
        let first = found.next();
        if let (Some(_), Some(second)) = (first, found.next()) {
            let message = format!("two things in it are called ‘{id}’");
            return Err(self.fault(&second, &message, "give each an id of its own"));
        }
        match first {
            Some(node) if node.has_tag_name(SVG_PATH) => Ok(node),
            Some(node) => {
                let message = format!("‘{id}’ is a {}, not a path", node.tag_name().name());
                Err(self.fault(&node, &message, "turn the shape into a path and save again"))
            }
            None => {
                let ids = ids(self.document);
                let shown: Vec<String> = ids.iter().take(8).map(|id| format!("‘{id}’")).collect();
                let remedy = match shown.as_slice() {
                    [] => "give the path this id in the drawing program".to_string(),
                    _ => format!("its paths are called {}", shown.join(", ")),
                };
                Err(self.fault(&root, &format!("it has no path called ‘{id}’"), &remedy))
            }
        }
    }

    /// From the units of the outermost element to mm.
    fn to_mm(&self) -> Result<Affine, Diagnostic> {
        let root = self.document.root_element();
        let remedy = "give width and height of the drawing in mm, cm or in, such as \
                      width=\"120mm\", and a viewBox, so that its scale is known";
        let side = |name: &str| match root.attribute(name).map(str::trim) {
            None => Ok(None),
            Some(text) if text.ends_with('%') || text == "auto" => Ok(None),
            Some(text) => length(text).map(Some).ok_or_else(|| {
                let message = format!("its {name} is ‘{text}’, which says nothing on paper");
                self.fault(&root, &message, remedy)
            }),
        };
        let (width, height) = (side("width")?, side("height")?);
        let Some(view_box) = root.attribute("viewBox") else {
            return Err(self.fault(
                &root,
                "it has no viewBox, so its units are not known",
                remedy,
            ));
        };
        let Some([x, y, across, down]) =
            numbers(view_box).and_then(|n| <[f64; 4]>::try_from(n).ok())
        else {
            return Err(self.fault(&root, "its viewBox is not four numbers", "save it again"));
        };
        let scale = match (width, height) {
            (Some(width), Some(height)) => [width / across, height / down],
            (Some(width), None) => [width / across, width / across],
            (None, Some(height)) => [height / down, height / down],
            (None, None) => {
                return Err(self.fault(&root, "it does not say how large it is", remedy));
            }
        };
        if !scale.iter().all(|s| s.is_finite() && *s > 0.0) {
            return Err(self.fault(&root, "its size is not more than 0", "save it again"));
        }
        if (scale[0] / scale[1] - 1.0).abs() > DISTORTION {
            let remedy = "make width and height fit the viewBox";
            return Err(self.fault(&root, "it is scaled differently across and down", remedy));
        }
        Ok(Affine::scale_non_uniform(scale[0], scale[1]) * Affine::translate((-x, -y)))
    }

    /// All transforms from the outermost element down to `element`.
    fn transform(&self, element: &Node<'_, '_>) -> Result<Affine, Diagnostic> {
        let mut whole = Affine::IDENTITY;
        for node in element.ancestors() {
            if let Some(text) = node.attribute("transform") {
                let own = transform(text).ok_or_else(|| {
                    self.fault(&node, "a transform cannot be read", "save it as plain SVG")
                })?;
                whole = own * whole;
            }
        }
        Ok(whole)
    }

    fn one_closed(&self, mut path: BezPath, node: &Node<'_, '_>) -> Result<BezPath, Diagnostic> {
        let remedy = "draw the piece as one closed path";
        if !path.is_finite() {
            return Err(self.fault(node, "the path holds a number that is too large", remedy));
        }
        let starts = path
            .elements()
            .iter()
            .filter(|e| matches!(e, PathEl::MoveTo(_)));
        if starts.count() != 1 || path.segments().next().is_none() {
            return Err(self.fault(node, "the path is not one single line", remedy));
        }
        if !matches!(path.elements().last(), Some(PathEl::ClosePath)) {
            let (start, end) = (path.elements().first(), path.elements().last());
            let start = start.and_then(PathEl::end_point);
            let end = end.and_then(PathEl::end_point);
            let meets = start.zip(end).is_some_and(|(a, b)| a.distance(b) < 1e-3);
            if !meets {
                return Err(self.fault(node, "the path is not closed", remedy));
            }
            path.close_path();
        }
        Ok(path)
    }
}

fn place(source: &Arc<SourceText>, line: usize, column: usize) -> Place {
    Place {
        source: source.clone(),
        line,
        column,
    }
}

/// An SVG length in mm, if it is given in a unit of the ruler or the printer. A pixel is none:
/// programs write 72, 90 or 96 of them to the inch.
fn length(text: &str) -> Option<f64> {
    let text = text.trim();
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '+')))
        .unwrap_or(text.len());
    let number: f64 = text[..end].parse().ok()?;
    let unit = match text[end..].trim() {
        "mm" => 1.0,
        "cm" => 10.0,
        "in" => INCH,
        "pt" => INCH / 72.0,
        "pc" => INCH / 6.0,
        _ => return None,
    };
    Some(number * unit)
}

/// Numbers with blanks or commas between them; `None` if anything else stands there.
pub(crate) fn numbers(text: &str) -> Option<Vec<f64>> {
    text.split(|c: char| c.is_whitespace() || c == ',')
        .filter(|part| !part.is_empty())
        .map(|part| part.parse().ok())
        .collect()
}

/// A `transform` attribute (SVG 1.1, 7.6).
pub(crate) fn transform(text: &str) -> Option<Affine> {
    let mut whole = Affine::IDENTITY;
    let mut rest = text.trim();
    while !rest.is_empty() {
        let (name, after) = rest.split_once('(')?;
        let (inside, after) = after.split_once(')')?;
        let values = numbers(inside)?;
        let own = match (name.trim(), values.as_slice()) {
            ("matrix", [a, b, c, d, e, f]) => Affine::new([*a, *b, *c, *d, *e, *f]),
            ("translate", [x]) => Affine::translate((*x, 0.0)),
            ("translate", [x, y]) => Affine::translate((*x, *y)),
            ("scale", [s]) => Affine::scale(*s),
            ("scale", [x, y]) => Affine::scale_non_uniform(*x, *y),
            ("rotate", [a]) => Affine::rotate(a.to_radians()),
            ("rotate", [a, x, y]) => Affine::rotate_about(a.to_radians(), Point::new(*x, *y)),
            ("skewX", [a]) => Affine::skew(a.to_radians().tan(), 0.0),
            ("skewY", [a]) => Affine::skew(0.0, a.to_radians().tan()),
            _ => return None,
        };
        whole *= own;
        rest = after.trim_start_matches(|c: char| c.is_whitespace() || c == ',');
    }
    Some(whole)
}
