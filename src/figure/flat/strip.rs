//! Elastic and ribbon that lie on a piece and hang out beyond an edge, as wide and as long as the design
//! has them. Millimetres.

use super::find::{Finder, nearest};
use super::plan::Plan;
use super::ply::Ply;
use super::request::{Named, OverEdge, Stitching, Strip, StripSewn};
use super::target::target;
use super::worked::LaidStrip;
use crate::geometry::curve;
use crate::geometry::probe::is_inside;
use crate::piece::MarkKind;
use crate::plates::ink::{Stroke, path_of, stroke};
use kurbo::{BezPath, Point, Shape, Vec2};

/// The least of it that is seen beyond the edge, as a share of its width; and the most that is drawn, as
/// a share of the longer side of what it lies on.
const LEAST_OUT: f64 = 1.0;
const MOST: f64 = 0.9;

/// Stitches keep this share of the strip's width from its sides, and from the ends of what lies on cloth.
pub(super) const INSIDE: f64 = 0.2;

/// So small a square is sewn in fine stitches.
pub(super) const STITCHES: Stroke = stroke(0.25, Some([0.7, 0.35]));

/// A line drawn across it.
pub(super) const MARK: Stroke = stroke(0.35, None);

/// How a strip runs, in the axes of its ply.
struct Course {
    /// The middle of its beginning.
    start: Point,
    /// Along it, out over the edge, and across it: unit vectors.
    way: Vec2,
    across: Vec2,
    /// From its beginning to the edge.
    on_cloth: f64,
}

impl Course {
    /// From the middle of the line of `ply`, square to it, to the edge; `None` after a report.
    fn of(ply: &Ply, out: &OverEdge, finder: &mut Finder) -> Option<Self> {
        let OverEdge { from, past } = out;
        let Some(line) = line_of(ply, &from.text) else {
            let message = format!("{} has no line ‘{}’", ply.piece.title, from.text);
            let names = ply.piece.marks.iter().filter_map(|m| m.words.as_deref());
            finder.wrong(&from.place, message, nearest(&from.text, names));
            return None;
        };
        let edge = finder.edge(&ply.piece, past)?;
        let middle = curve::station(&line, curve::length(&line, 1e-3) / 2.0, 1e-3)?;
        let end = edge.station(edge.length() / 2.0);
        let out = Vec2::new(end.tangent.y, -end.tangent.x);
        // on the side of the edge
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
                from.text, past.text
            );
            let remedy = "Name the edge beyond which it hangs out.";
            finder.wrong(&past.place, message, remedy);
            return None;
        }
        Some(Self {
            start: middle.point,
            way,
            across: middle.tangent,
            on_cloth,
        })
    }

    /// From one place along it to another, `half` mm to either side: open at the far end.
    fn stretch(&self, from: f64, to: f64, half: f64) -> BezPath {
        let corners = [(to, -half), (from, -half), (from, half), (to, half)];
        path_of(&corners.map(|(along, aside)| self.at(along, aside)))
    }

    /// The place so far along it and to its side.
    fn at(&self, along: f64, aside: f64) -> Point {
        self.start + self.way * along + self.across * aside
    }
}

/// How far inside an edge its rows of stitches lie; 0 if it has none. `None` after a report.
fn deepest_row(rows: &[Stitching], edge: &Named, finder: &mut Finder) -> Option<f64> {
    let along = |row: &&Stitching| row.edges.iter().any(|named| named.text == edge.text);
    let mut deepest = 0.0_f64;
    for inside in rows
        .iter()
        .filter(along)
        .filter_map(|row| row.inside.as_ref())
    {
        deepest = deepest.max(finder.length(inside)?);
    }
    Some(deepest)
}

/// Lays the strip on the uppermost ply that has the line, sewn down clear of the `rows` of the edge past which it
/// hangs; `None` after a report.
pub(super) fn add(
    plan: &mut Plan,
    (asked, out): (&Strip, &OverEdge),
    rows: &[Stitching],
    finder: &mut Finder,
) -> Option<()> {
    let [width, length] = measured(&asked.trim, finder)?;
    let [g, p] = target(plan, None, Some(&out.past), finder)?;
    let group = &mut plan.groups[g];
    let has_line = |ply: &Ply| line_of(ply, &out.from.text).is_some();
    // of a piece that is folded, the uppermost part that shows the line
    let upper = group.plies.iter().rposition(has_line).unwrap_or(p);
    let ply = &group.plies[upper];
    let course = Course::of(ply, out, finder)?;
    let bounds = ply.surface.bounding_box();
    let least = course.on_cloth + LEAST_OUT * width;
    let mark = match &asked.marked {
        None => None,
        Some(out) => Some((finder.length(out)?, &out.place)),
    };
    if let Some((_, place)) = mark.filter(|(out, _)| course.on_cloth + out >= length) {
        let message = format!("The line lies beyond the end of ‘{}’", asked.trim.text);
        finder.wrong(place, message, "Give a shorter length.");
        return None;
    }
    // a line is seen with a little beyond it
    let marked = mark.map_or(0.0, |(out, _)| course.on_cloth + out + LEAST_OUT * width);
    let most = (MOST * bounds.width().max(bounds.height()))
        .max(least)
        .max(marked);
    let open = course.stretch(0.0, length.clamp(least, most), 0.5 * width);
    let mut surface = open.clone();
    surface.close_path();
    let onto = ply.onto;
    if let Some((out, _)) = mark {
        let at = course.on_cloth + out;
        let across = [-0.5, 0.5].map(|half| course.at(at, half * width));
        group.lines.push((onto * path_of(&across), MARK));
    }
    group.strips.push(LaidStrip {
        edge: onto * if length > most { open } else { surface.clone() },
        surface: onto * surface,
        hidden: false,
    });
    if asked.sewn == StripSewn::Square {
        let room = course.on_cloth - deepest_row(rows, &out.past, finder)?;
        let room = if room > 0.0 { room } else { course.on_cloth };
        let clear = (INSIDE * width).min(room / 4.0);
        let half = (0.5 - INSIDE) * width;
        let mut square = course.stretch(clear, room - clear, half);
        square.close_path();
        group.lines.push((onto * square, STITCHES));
    }
    Some(())
}

/// Width and length of a trim; both must be known.
pub(super) fn measured(named: &Named, finder: &mut Finder) -> Option<[f64; 2]> {
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
        middle.is_some_and(|middle| is_inside(&ply.surface, middle.point))
    };
    lines.into_iter().find(seen).cloned()
}
