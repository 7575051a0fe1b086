//! An outline taken from an SVG drawing in true size: a path found by its `id`, in mm, split into
//! named edges at its corners.

use crate::diagnostic::{Diagnostic, Place, SourceText};
use crate::geometry::{Edge, curve};
use kurbo::{Affine, BezPath, PathEl};
use std::sync::Arc;

/// A turn sharper than this parts two edges. Hand-drawn smooth joints are a degree or two off; the
/// flattest real corners of small pieces, where a topline meets a seam, turn by 20° and more.
pub const CORNER_DEGREES: f64 = 10.0;

/// What is wrong with a drawing.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct DrawingFault {
    code: &'static str,
    /// Byte offset into the drawing, if the fault has a place in it.
    offset: Option<usize>,
    message: String,
    remedy: &'static str,
}

impl DrawingFault {
    fn new(code: &'static str, message: String, remedy: &'static str) -> Self {
        Self { code, offset: None, message, remedy }
    }

    fn at(mut self, offset: usize) -> Self {
        self.offset = Some(offset);
        self
    }

    /// The fault told at its place in the drawing, or where the design names the drawing.
    pub(super) fn diagnostic(&self, text: &Arc<SourceText>, named: &Place) -> Diagnostic {
        let place = self.offset.map(|offset| {
            let before = text.text.get(..offset).unwrap_or_default();
            let line_start = before.rfind('\n').map_or(0, |i| i + 1);
            let line = before.matches('\n').count() + 1;
            let column = before[line_start..].chars().count() + 1;
            Place { source: text.clone(), line, column }
        });
        let message = format!("{} ({})", self.message, text.path);
        Diagnostic::error(self.code, Some(place.as_ref().unwrap_or(named)), message)
            .remedy(self.remedy)
    }
}

/// The edges of the closed path `id` in the drawing `text`, named in the order of the path by
/// `names`. Lengths are mm: the drawing's width and viewBox give the scale.
pub(super) fn outline(
    text: &SourceText,
    id: &str,
    names: &[String],
) -> Result<Vec<Edge>, DrawingFault> {
    let (path, offset) = closed_path(&text.text, id)?;
    let stretches = curve::corners(&path, CORNER_DEGREES);
    if stretches.len() != names.len() {
        let message = format!(
            "The path {id} has {} stretches between corners, but {} edges are named",
            stretches.len(),
            names.len()
        );
        let remedy = "Name one edge for each stretch, in the order of the path from its start; a \
                      turn of more than 10 degrees counts as a corner.";
        return Err(DrawingFault::new("drawing-edges", message, remedy).at(offset));
    }
    Ok(names.iter().zip(stretches).map(|(name, curve)| Edge::new(name.clone(), curve)).collect())
}

fn closed_path(text: &str, id: &str) -> Result<(BezPath, usize), DrawingFault> {
    let document = roxmltree::Document::parse(text).map_err(|e| {
        let message = format!("The drawing is no well-formed SVG: {e}");
        DrawingFault::new("drawing-unreadable", message, "Save it again as plain SVG.")
    })?;
    let path = document.descendants().find(|n| n.attribute("id") == Some(id));
    let Some(node) = path.filter(|n| n.has_tag_name("path") || n.tag_name().name() == "path")
    else {
        let message = format!("The drawing has no path with the id {id}");
        let remedy = "Give the outline's path this id, or name its id in the design.";
        return Err(DrawingFault::new("drawing-path", message, remedy));
    };
    let offset = node.range().start;
    let data = node.attribute("d").unwrap_or_default();
    let path = BezPath::from_svg(data).map_err(|e| {
        let message = format!("The path {id} cannot be read: {e}");
        DrawingFault::new("drawing-path", message, "Draw it again as a plain path.").at(offset)
    })?;
    if !path.is_finite() {
        let message = format!("The path {id} has a coordinate that is no number");
        return Err(DrawingFault::new("drawing-path", message, "Draw it again.").at(offset));
    }
    let subpaths = path.elements().iter().filter(|e| matches!(e, PathEl::MoveTo(_))).count();
    if subpaths != 1 {
        let message = format!("The path {id} has {subpaths} parts; an outline has one");
        return Err(DrawingFault::new("drawing-path", message, "Keep one closed line.").at(offset));
    }
    Ok((placed(&document, &node)? * path, offset))
}

/// From the path's own units to mm: the transforms above it, then the drawing's scale.
fn placed(
    document: &roxmltree::Document,
    node: &roxmltree::Node,
) -> Result<Affine, DrawingFault> {
    let mut transform = Affine::IDENTITY;
    for ancestor in node.ancestors() {
        let Some(text) = ancestor.attribute("transform") else { continue };
        let parsed: svgtypes::Transform = text.parse().map_err(|e| {
            let message = format!("The transform {text} cannot be read: {e}");
            DrawingFault::new("drawing-path", message, "Apply the transform in the drawing.")
                .at(ancestor.range().start)
        })?;
        let own = Affine::new([parsed.a, parsed.b, parsed.c, parsed.d, parsed.e, parsed.f]);
        transform = own * transform;
    }
    Ok(Affine::scale(scale(&document.root_element())?) * transform)
}

/// Millimetres in one unit of the drawing: width ÷ viewBox width where both are given with a unit
/// of length, else CSS pixels (1/96 in, CSS Values 3 §6.2).
fn scale(root: &roxmltree::Node) -> Result<f64, DrawingFault> {
    let width = root.attribute("width").and_then(|w| w.parse::<svgtypes::Length>().ok());
    let view: Option<svgtypes::ViewBox> = root.attribute("viewBox").and_then(|v| v.parse().ok());
    let pixel = 25.4 / 96.0;
    let millimetres = width.and_then(|w| {
        let unit = match w.unit {
            svgtypes::LengthUnit::Mm => 1.0,
            svgtypes::LengthUnit::Cm => 10.0,
            svgtypes::LengthUnit::In => 25.4,
            svgtypes::LengthUnit::Pt => 25.4 / 72.0,
            svgtypes::LengthUnit::Pc => 25.4 / 6.0,
            svgtypes::LengthUnit::Px | svgtypes::LengthUnit::None => pixel,
            _ => return None,
        };
        Some(w.number * unit)
    });
    match (millimetres, view) {
        (Some(width), Some(view)) if view.w > 0.0 && width > 0.0 => Ok(width / view.w),
        (_, None) => Ok(pixel),
        _ => {
            let message = "The drawing does not say how large it is".to_string();
            let remedy = "Give the svg element a width in mm and a viewBox.";
            Err(DrawingFault::new("drawing-scale", message, remedy).at(root.range().start))
        }
    }
}
