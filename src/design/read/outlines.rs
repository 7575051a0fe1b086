//! `points` and `outline` of a piece: edges drawn from point to point.

use super::Reading;
use super::edges::Edges;
use super::fields::Fields;
use super::node::{Kind, Node};
use super::{finish, names};
use crate::design::{Dimension, DrawnEdge, Formula, PointSpec, ShapeSpec};

/// The named points of a piece.
pub(super) struct Points {
    /// Those that could be read, in order.
    pub formulas: Vec<(String, [Formula; 2])>,
    /// The names of all.
    pub names: Vec<String>,
    /// Key of the piece.
    pub piece: String,
    /// Whether the outline is being read, which cannot stand on its own edges.
    pub drawing: bool,
}

/// The `points` of a piece.
pub(super) fn points(fields: &mut Fields<'_>, piece: &str, reading: &mut Reading<'_>) -> Points {
    let mut points = Points {
        formulas: Vec::new(),
        names: Vec::new(),
        piece: piece.to_string(),
        drawing: true,
    };
    let Some(node) = fields.take("points", reading) else {
        return points;
    };
    for entry in reading.named(node, "a point") {
        points.names.push(entry.key.clone());
        let what = format!("point ‘{}’", entry.key);
        if let Some(pair) = pair(&entry.value, &what, reading) {
            points.formulas.push((entry.key.clone(), pair));
        }
    }
    points
}

/// `[x, y]`, both lengths.
fn pair(node: &Node, what: &str, reading: &mut Reading<'_>) -> Option<[Formula; 2]> {
    match &node.kind {
        Kind::List(items) if items.len() == 2 => {
            let x = reading.formula(&items[0], &format!("x of {what}"), Dimension::Length);
            let y = reading.formula(&items[1], &format!("y of {what}"), Dimension::Length);
            Some([x?, y?])
        }
        _ => {
            let remedy = "write [across, down], such as [12 mm, 0 mm]";
            reading.wrong_type(node, what, "a pair of lengths", remedy);
            None
        }
    }
}

/// A point: one of the piece's names, or `[x, y]`.
pub(super) fn point(
    node: &Node,
    what: &str,
    points: &Points,
    reading: &mut Reading<'_>,
) -> Option<PointSpec> {
    if matches!(node.kind, Kind::List(_)) {
        return pair(node, what, reading).map(PointSpec::At);
    }
    if matches!(node.kind, Kind::Mapping(_)) {
        return on_edge(node, what, points, reading);
    }
    let name = reading.text(node, what)?;
    if !points.names.contains(&name) {
        let names: Vec<&str> = points.names.iter().map(String::as_str).collect();
        let remedy = if names.is_empty() {
            "write [across, down], or name the point under ‘points:’".to_string()
        } else {
            names::suggestion(&name, &names)
        };
        let message = format!("the piece has no point ‘{name}’");
        reading.error("unknown-point", &node.place, message, remedy);
        return None;
    }
    Some(PointSpec::Named(name, node.place.clone()))
}

/// A point on an edge of the finished seam line, for a mark.
fn on_edge(
    node: &Node,
    what: &str,
    points: &Points,
    reading: &mut Reading<'_>,
) -> Option<PointSpec> {
    if points.drawing {
        let remedy = "write [across, down], or name the point under ‘points:’";
        reading.wrong_type(node, what, "a point", remedy);
        return None;
    }
    let mut fields = Fields::of(node, "pieces.PIECE.lines.through", what, reading)?;
    let edge = fields.require("edge", reading);
    let edge = edge.and_then(|node| {
        let edge = reading.text(node, "‘edge’")?;
        finish::use_edge(&points.piece, &edge, &node.place, reading);
        Some(edge)
    });
    let at = finish::place_on_edge(&mut fields, node, reading);
    let inward = fields.take("inward", reading);
    let inward = inward.map(|node| reading.formula(node, "‘inward’", Dimension::Length));
    fields.finish(reading);
    Some(PointSpec::OnEdge {
        edge: edge?,
        at: at?,
        inward: match inward {
            None => None,
            Some(inward) => Some(inward?),
        },
        place: node.place.clone(),
    })
}

/// The points of a list; `None` if any is wrong.
pub(super) fn point_list(
    node: &Node,
    what: &str,
    points: &Points,
    reading: &mut Reading<'_>,
) -> Option<Vec<PointSpec>> {
    // a single `[x, y]` is one point, not two
    let items = match &node.kind {
        Kind::List(items) if !is_pair(items, points) => items.iter().collect(),
        _ => vec![node],
    };
    let list: Vec<_> = items
        .into_iter()
        .map(|item| point(item, what, points, reading))
        .collect();
    list.into_iter().collect()
}

/// Whether a list holds two lengths, not two points: none is the name of a point, and not both
/// look like names.
fn is_pair(items: &[Node], points: &Points) -> bool {
    let [x, y] = items else {
        return false;
    };
    let (Some(x), Some(y)) = (x.scalar(), y.scalar()) else {
        return false;
    };
    let is_point = |text: &str| points.names.iter().any(|name| name == text);
    let is_name = |text: &str| names::fault(text).is_none();
    let (x, y) = (x.text.trim(), y.text.trim());
    !(is_point(x) || is_point(y) || is_name(x) && is_name(y))
}

/// The `outline` of a piece, with its edges.
pub(super) fn read(
    node: &Node,
    points: &Points,
    reading: &mut Reading<'_>,
) -> Option<(ShapeSpec, Edges)> {
    let group = "pieces.PIECE.outline";
    let mut fields = Fields::of(node, group, "the outline", reading)?;
    let start = fields.require("start", reading);
    let start = start.and_then(|node| point(node, "‘start’", points, reading));
    let edges = fields.require("edges", reading);
    fields.finish(reading);
    let node = edges?;
    let drawn: Vec<Option<DrawnEdge>> = reading
        .list(node)
        .into_iter()
        .map(|item| edge(item, points, reading))
        .collect();
    let edges: Vec<DrawnEdge> = drawn.into_iter().collect::<Option<_>>()?;
    let names = run_names(&edges, reading)?;
    let start = start?;
    let Some(last) = edges.last() else {
        let message = "the outline has no edges";
        let remedy = "write one line for each edge: - {name: top, to: b}";
        reading.error("empty-value", &node.place, message, remedy);
        return None;
    };
    if let (PointSpec::Named(first, _), PointSpec::Named(end, place)) = (&start, &last.to)
        && first != end
    {
        let message = format!("the outline begins at ‘{first}’ but ends at ‘{end}’");
        let remedy = format!("lead the last edge back to ‘{first}’");
        reading.error("open-outline", place, message, remedy);
        return None;
    }
    Some((ShapeSpec::Drawn { start, edges }, Edges::Known(names)))
}

fn edge(node: &Node, points: &Points, reading: &mut Reading<'_>) -> Option<DrawnEdge> {
    let group = "pieces.PIECE.outline.edges";
    let mut fields = Fields::of(node, group, "an edge", reading)?;
    let name = fields.require("name", reading);
    let name = name.and_then(|node| edge_name(node, reading));
    let to = fields.require("to", reading);
    let to = to.and_then(|node| point(node, "‘to’", points, reading));
    let handles = match fields.take("handles", reading) {
        Some(node) => handles(node, points, reading),
        None => Some(Vec::new()),
    };
    fields.finish(reading);
    Some(DrawnEdge {
        name: name?,
        to: to?,
        handles: handles?,
        place: node.place.clone(),
    })
}

/// One or two handles of a curve.
pub(super) fn handles(
    node: &Node,
    points: &Points,
    reading: &mut Reading<'_>,
) -> Option<Vec<PointSpec>> {
    let handles = point_list(node, "a handle", points, reading)?;
    if handles.is_empty() || handles.len() > 2 {
        let message = format!("a curve has one or two handles, not {}", handles.len());
        let remedy = "part the edge into stretches of the same name, each with its handles";
        reading.error("out-of-range", &node.place, message, remedy);
        return None;
    }
    Some(handles)
}

/// The name of an edge, which must not be confused with other names.
pub(super) fn edge_name(node: &Node, reading: &mut Reading<'_>) -> Option<String> {
    let name = reading.text(node, "the name of an edge")?;
    if !reading.good_name(&name, &node.place, "an edge") {
        return None;
    }
    let why = if names::OF_A_PIECE.contains(&name.as_str()) {
        "it is a measure of the whole piece"
    } else if name == "all" || name.contains(" and ") {
        "‘all’ and ‘and’ have their own meaning where edges are listed"
    } else {
        return Some(name);
    };
    let message = format!("an edge cannot be called ‘{name}’: {why}");
    reading.error("bad-name", &node.place, message, "choose another name");
    None
}

/// The names of the edges, each once; a name that comes back after another is reported.
fn run_names(edges: &[DrawnEdge], reading: &mut Reading<'_>) -> Option<Vec<String>> {
    let mut names: Vec<String> = Vec::new();
    for edge in edges {
        if names.last() == Some(&edge.name) {
            continue;
        }
        if names.contains(&edge.name) {
            let message = format!("edge ‘{}’ comes back after other edges", edge.name);
            let remedy = "stretches of one edge follow each other: begin the outline where an edge \
                          begins, or give this one another name";
            reading.error("same-name", &edge.place, message, remedy);
            return None;
        }
        names.push(edge.name.clone());
    }
    Some(names)
}
