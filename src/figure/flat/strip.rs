//! Elastic and ribbon that lie on a piece and hang out beyond an edge, as wide and as long as the design
//! has them. Millimetres.

use super::extras::target;
use super::find::{Finder, nearest};
use super::plan::Plan;
use super::ply::Ply;
use super::request::{Named, Strip};
use crate::geometry::curve;
use crate::piece::MarkKind;
use crate::plates::drawing::{Stroke, path_of, stroke};
use kurbo::{BezPath, Point, Shape, Vec2};

/// The least of it that is seen beyond the edge, as a share of its width; and the most that is drawn, as
/// a share of the longer side of what it lies on.
const LEAST_OUT: f64 = 1.0;
const MOST: f64 = 0.9;

/// Stitches keep this share of the strip's width from its sides, and from the ends of what lies on cloth.
const INSIDE: f64 = 0.2;

/// So small a square is sewn in fine stitches.
const STITCHES: Stroke = stroke(0.25, Some([0.7, 0.35]));

/// A strip in the axes of its group.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Laid {
    /// What it takes up: closed.
    pub(super) surface: BezPath,
    /// Its edge as it is drawn: open at the far end where it goes on.
    pub(super) edge: BezPath,
}

/// Lays the strip on the uppermost ply that has the line; `None` after a report.
pub(super) fn add(plan: &mut Plan, asked: &Strip, finder: &mut Finder) -> Option<()> {
    let [width, length] = measured(&asked.trim, finder)?;
    let [g, p] = target(plan, None, Some(&asked.past), finder)?;
    let group = &mut plan.groups[g];
    let has_line = |ply: &Ply| line_of(ply, &asked.from.text).is_some();
    // of a piece that is folded, the uppermost part that shows the line
    let upper = group.plies.iter().rposition(has_line).unwrap_or(p);
    let ply = &group.plies[upper];
    let Some(line) = line_of(ply, &asked.from.text) else {
        let message = format!("{} has no line ‘{}’", ply.piece.title, asked.from.text);
        let names = ply.piece.marks.iter().filter_map(|m| m.words.as_deref());
        finder.wrong(&asked.from.place, message, nearest(&asked.from.text, names));
        return None;
    };
    let edge = finder.edge(&ply.piece, &asked.past)?;
    let middle = curve::station(&line, curve::length(&line, 1e-3) / 2.0, 1e-3)?;
    let end = edge.station(edge.length() / 2.0);
    let out = Vec2::new(end.tangent.y, -end.tangent.x);
    // square to the line, on the side of the edge
    let square = Vec2::new(-middle.tangent.y, middle.tangent.x);
    let way = if square.dot(out) < 0.0 {
        -square
    } else {
        square
    };
    let on_cloth = (end.point - middle.point).dot(way);
    if on_cloth <= 0.0 {
        let message = format!(
            "The line ‘{}’ does not lie inside the edge ‘{}’",
            asked.from.text, asked.past.text
        );
        finder.wrong(
            &asked.past.place,
            message,
            "Name the edge beyond which it hangs out.",
        );
        return None;
    }
    let bounds = ply.surface.bounding_box();
    let most = (MOST * bounds.width().max(bounds.height())).max(on_cloth + LEAST_OUT * width);
    let drawn = length.max(on_cloth + LEAST_OUT * width).min(most);
    let at = |along: f64, aside: f64| -> Point {
        middle.point + way * along + middle.tangent * (aside * width)
    };
    let corners = [at(drawn, -0.5), at(0.0, -0.5), at(0.0, 0.5), at(drawn, 0.5)];
    let mut surface = path_of(&corners);
    surface.close_path();
    let edge = if length > most {
        path_of(&corners)
    } else {
        surface.clone()
    };
    let onto = ply.onto;
    group.strips.push(Laid {
        surface: onto * surface,
        edge: onto * edge,
    });
    if asked.sewn {
        let clear = INSIDE * width;
        let (from, to) = (
            clear.min(on_cloth / 4.0),
            on_cloth - clear.min(on_cloth / 4.0),
        );
        let side = 0.5 - INSIDE;
        let mut square = path_of(&[at(from, -side), at(to, -side), at(to, side), at(from, side)]);
        square.close_path();
        group.lines.push((onto * square, STITCHES));
    }
    Some(())
}

/// Width and length of a trim; both must be known.
fn measured(named: &Named, finder: &mut Finder) -> Option<[f64; 2]> {
    let design = finder.design;
    let Some(trim) = design.trims.iter().find(|trim| trim.key == named.text) else {
        let message = format!(
            "A figure names a trim ‘{}’, which the design has not",
            named.text
        );
        let keys = design.trims.iter().map(|trim| trim.key.as_str());
        finder.wrong(&named.place, message, nearest(&named.text, keys));
        return None;
    };
    let (Some(width), Some(length)) = (trim.width, &trim.length) else {
        let message = format!("‘{}’ has no width and length to be drawn with", trim.key);
        finder.wrong(&named.place, message, "Give it ‘width:’ and ‘length:’.");
        return None;
    };
    let join = trim
        .join
        .as_ref()
        .map_or(Some(0.0), |join| finder.length(join))?;
    Some([width, finder.length(length)? + join])
}

/// The line of a ply with these words, where its middle is seen.
fn line_of(ply: &Ply, words: &str) -> Option<BezPath> {
    let lines = ply.piece.marks.iter().filter_map(|mark| match &mark.kind {
        MarkKind::Line { path, .. } if mark.words.as_deref() == Some(words) => Some(path),
        _ => None,
    });
    let seen = |path: &&BezPath| {
        let middle = curve::station(path, curve::length(path, 1e-3) / 2.0, 1e-3);
        middle.is_some_and(|middle| ply.surface.contains(middle.point))
    };
    lines.into_iter().find(seen).cloned()
}
