//! Marks inside a piece: holes, eyelets, buttons, buttonholes, lines.

use super::Reading;
use super::fields::Fields;
use super::head::optional;
use super::node::Node;
use super::outlines::{Points, handles, point, point_list};
use crate::design::{Formula, LineKind, MarkKindSpec, MarkSpec, PointSpec};

/// All marks of a piece, in the order holes, eyelets, buttons, buttonholes, lines.
pub(super) fn read(
    fields: &mut Fields<'_>,
    points: &Points,
    reading: &mut Reading<'_>,
) -> Vec<MarkSpec> {
    let mut marks = Vec::new();
    let mut group =
        |key: &'static str, one: &dyn Fn(&Node, &mut Reading<'_>) -> Option<MarkSpec>| {
            if let Some(node) = fields.take(key, reading) {
                for item in reading.list(node) {
                    marks.extend(one(item, reading));
                }
            }
        };
    group("holes", &|node, reading| {
        let what = ("pieces.PIECE.holes", "a hole");
        round(node, what, points, reading, |at, diameter| {
            MarkKindSpec::Hole { at, diameter }
        })
    });
    group("eyelets", &|node, reading| {
        let what = ("pieces.PIECE.eyelets", "an eyelet");
        round(node, what, points, reading, |at, diameter| {
            MarkKindSpec::Eyelet { at, diameter }
        })
    });
    group("buttons", &|node, reading| {
        let what = ("pieces.PIECE.buttons", "a button");
        round(node, what, points, reading, |at, diameter| {
            MarkKindSpec::Button { at, diameter }
        })
    });
    group("buttonholes", &|node, reading| {
        buttonhole(node, points, reading)
    });
    group("lines", &|node, reading| line(node, points, reading));
    marks
}

fn round(
    node: &Node,
    (group, what): (&'static str, &'static str),
    points: &Points,
    reading: &mut Reading<'_>,
    kind: fn(PointSpec, Formula) -> MarkKindSpec,
) -> Option<MarkSpec> {
    let mut fields = Fields::of(node, group, what, reading)?;
    let at = fields.require("at", reading);
    let at = at.and_then(|node| point(node, "‘at’", points, reading));
    let diameter = fields.require("diameter", reading);
    let diameter = diameter.and_then(|node| reading.positive(node, "‘diameter’", false));
    let words = optional(&mut fields, "words", reading);
    fields.finish(reading);
    Some(MarkSpec {
        kind: kind(at?, diameter?),
        words,
        place: node.place.clone(),
    })
}

fn buttonhole(node: &Node, points: &Points, reading: &mut Reading<'_>) -> Option<MarkSpec> {
    let group = "pieces.PIECE.buttonholes";
    let mut fields = Fields::of(node, group, "a buttonhole", reading)?;
    let at = fields.require("at", reading);
    let at = at.and_then(|node| point(node, "‘at’", points, reading));
    let length = fields.require("length", reading);
    let length = length.and_then(|node| reading.positive(node, "‘length’", false));
    let angle = fields.take("angle", reading);
    let angle = angle.and_then(|node| reading.angle(node, "‘angle’"));
    let words = optional(&mut fields, "words", reading);
    fields.finish(reading);
    let kind = MarkKindSpec::Buttonhole {
        at: at?,
        length: length?,
        angle: angle.unwrap_or(0.0),
    };
    let place = node.place.clone();
    Some(MarkSpec { kind, words, place })
}

fn line(node: &Node, points: &Points, reading: &mut Reading<'_>) -> Option<MarkSpec> {
    let group = "pieces.PIECE.lines";
    let mut fields = Fields::of(node, group, "a line", reading)?;
    let kinds = [
        ("placement", LineKind::Placement),
        ("stitching", LineKind::Stitching),
        ("fold", LineKind::Fold),
    ];
    let kind = fields.require("kind", reading);
    let kind = kind.and_then(|node| reading.choice(node, "a kind of line", &kinds));
    let course = fields.require("through", reading);
    let through = course.and_then(|node| point_list(node, "a point of the line", points, reading));
    let bend = fields.take("handles", reading);
    let handles = match bend {
        Some(node) => handles(node, points, reading),
        None => Some(Vec::new()),
    };
    let words = optional(&mut fields, "words", reading);
    fields.finish(reading);
    let (course, through, handles) = (course?, through?, handles?);
    let fault = if through.len() < 2 {
        "a line goes through two points or more"
    } else if through.len() > 2 && !handles.is_empty() {
        "a line with handles goes through two points only"
    } else {
        return Some(MarkSpec {
            kind: MarkKindSpec::Line {
                line: kind?,
                through,
                handles,
            },
            words,
            place: node.place.clone(),
        });
    };
    let remedy = "write through: [a, b], and handles for one curve from a to b";
    reading.error("out-of-range", &course.place, fault, remedy);
    None
}
