//! `feet/*.yaml`: a foot's tracing and measures, lengths in mm.

use super::fields::Fields;
use super::head::optional;
use super::letters;
use super::node::{Kind, Node, Value};
use super::{FootHead, Reading, yaml};
use crate::design::{FootSpec, Size, Tracing, drawing};
use crate::diagnostic::{Diagnostic, Place};
use crate::geometry::path_text::read_path;
use crate::geometry::units::INCH;
use kurbo::{Affine, BezPath, PathEl, Shape};
use std::collections::BTreeMap;
use std::ops::RangeInclusive;

/// Names that every tracing gives.
const FROM_THE_TRACING: [&str; 3] = ["length", "ball width", "heel width"];

/// Fewer points than this do not show a foot.
const FEWEST_POINTS: usize = 8;

/// More points than this are no tracing by hand or from a scan.
const MOST_POINTS: usize = 5000;

/// Feet that differ by less, mm, take one mirrored pattern: 1/32 in (common practice).
const PAIR_TOLERANCE: f64 = INCH / 32.0;

/// A foot is between these long, mm: from the smallest doll to the largest person. Beyond them
/// the unit is wrong.
const LENGTHS: RangeInclusive<f64> = 5.0..=400.0;

/// The foot in the file that `node` names, or the foot of one of `others`, the sizes before, made
/// larger or smaller; and what formulas may ask of it.
pub(super) fn read(
    node: &Node,
    others: &[Size],
    reading: &mut Reading<'_>,
) -> (Option<FootSpec>, FootHead) {
    let found = match &node.kind {
        Kind::Mapping(_) => {
            graded(node, others, reading).map(|foot| (foot, "‘measures:’ of this foot".to_string()))
        }
        _ => reading
            .text(node, "‘foot’")
            .and_then(|path| file(&path, node, reading).map(|foot| (foot, path))),
    };
    let Some((foot, path)) = found else {
        return (None, FootHead::Unknown);
    };
    let own = foot.measures.keys().map(String::as_str);
    let names = FROM_THE_TRACING.into_iter().chain(own).map(String::from);
    let head = FootHead::Names(names.collect(), path);
    (Some(foot), head)
}

/// `{from: SIZE, length: 110 %, girth: 105 %, measures: {…}}`.
fn graded(node: &Node, others: &[Size], reading: &mut Reading<'_>) -> Option<FootSpec> {
    let mut fields = Fields::of(node, "sizes.SIZE.foot", "the graded foot", reading)?;
    let from = fields.require("from", reading);
    let from = from.and_then(|node| {
        let key = reading.text(node, "‘from’")?;
        let known: Vec<&str> = reading.sizes.iter().map(|size| size.key.as_str()).collect();
        let known = &known[..known.len().saturating_sub(1)];
        let found = others.iter().find(|size| size.key == key);
        if !known.contains(&key.as_str()) {
            let remedy = match known {
                [] => "give the first size a foot of its own: feet/small.yaml".to_string(),
                _ => super::names::suggestion(&key, known),
            };
            let message = format!("there is no size ‘{key}’ before this one");
            reading.error("unknown-size", &node.place, message, remedy);
        } else if found.is_some_and(|size| size.foot.is_none()) {
            let message = format!("size ‘{key}’ has no foot to grade from");
            let remedy = "name a size that has a foot of its own";
            reading.error("no-foot", &node.place, message, remedy);
        }
        found.and_then(|size| size.foot.clone())
    });
    let mut share = |key: &'static str, reading: &mut Reading<'_>| {
        let node = fields.require(key, reading)?;
        reading.ratio(node, &format!("‘{key}’"), 0.2..=5.0)
    };
    let length = share("length", reading);
    let girth = share("girth", reading);
    let (own, own_place) = own_measures(&mut fields, reading);
    fields.finish(reading);
    let mut foot = from?.graded(length?, girth?);
    foot.place = node.place.clone();
    foot.measures_place = own_place.or(foot.measures_place);
    foot.measures.extend(own);
    Some(foot)
}

fn file(path: &str, node: &Node, reading: &mut Reading<'_>) -> Option<FootSpec> {
    let source = reading.named_file(path, &node.place)?;
    let tree = yaml::tree(&source, &source.text, 0, reading.diagnostics)?;
    let size = reading.size.take();
    let foot = foot(&tree, reading);
    reading.size = size;
    foot
}

fn foot(tree: &Node, reading: &mut Reading<'_>) -> Option<FootSpec> {
    let mut fields = Fields::of(tree, "foot", "the foot", reading)?;
    optional(&mut fields, "name", reading);
    let tracing = fields.require("tracing", reading);
    let traced_foot = tracing.and_then(|node| traced(node, reading));
    let (measures, measures_place) = own_measures(&mut fields, reading);
    let other = fields.take("other foot", reading);
    let tolerance = fields.take("pair tolerance", reading);
    let tolerance = tolerance.and_then(|node| reading.length(node, "‘pair tolerance’"));
    let usual = (&measures, measures_place.as_ref());
    let other = other.map(|node| other_foot(node, usual, reading));
    fields.finish(reading);
    let traced = traced_foot?;
    let mut foot = FootSpec {
        tracing: traced.tracing,
        marks: traced.marks,
        inner_left: traced.inner_left.unwrap_or(true),
        pencil: traced.pencil,
        measures,
        other: None,
        pair_tolerance: tolerance.unwrap_or(PAIR_TOLERANCE),
        grading: [1.0; 2],
        measures_place,
        place: tracing?.place.clone(),
    };
    if let Some(other) = other {
        let (other, inner_left) = other?;
        foot.other = Some(Box::new(FootSpec {
            inner_left: inner_left.unwrap_or(!foot.inner_left),
            ..other
        }));
    }
    Some(foot)
}

/// `other foot`: its own tracing, and the measures that differ. Also which side is its inner one,
/// if it says so.
fn other_foot(
    node: &Node,
    (usual, usual_place): (&BTreeMap<String, f64>, Option<&Place>),
    reading: &mut Reading<'_>,
) -> Option<(FootSpec, Option<bool>)> {
    let mut fields = Fields::of(node, "foot.other foot", "the other foot", reading)?;
    let tracing = fields.require("tracing", reading);
    let traced = tracing.and_then(|node| traced(node, reading));
    let mut all = usual.clone();
    let (own, _) = own_measures(&mut fields, reading);
    all.extend(own);
    fields.finish(reading);
    let traced = traced?;
    let foot = FootSpec {
        tracing: traced.tracing,
        marks: traced.marks,
        inner_left: true,
        pencil: traced.pencil,
        measures: all,
        other: None,
        pair_tolerance: PAIR_TOLERANCE,
        grading: [1.0; 2],
        // what both feet lack is added for both
        measures_place: usual_place.cloned(),
        place: tracing?.place.clone(),
    };
    Some((foot, traced.inner_left))
}

/// The measures below `measures:`, and where the first of them stands.
fn own_measures(
    fields: &mut Fields<'_>,
    reading: &mut Reading<'_>,
) -> (BTreeMap<String, f64>, Option<Place>) {
    match fields.take("measures", reading) {
        Some(node) => (measures(node, reading), Some(node.place.clone())),
        None => (BTreeMap::new(), None),
    }
}

fn measures(node: &Node, reading: &mut Reading<'_>) -> BTreeMap<String, f64> {
    let mut measures = BTreeMap::new();
    for entry in reading.named(node, "a measure") {
        if FROM_THE_TRACING.contains(&entry.key.as_str()) {
            let message = format!("‘{}’ is taken from the tracing", entry.key);
            let remedy = "take the line away, or give the measure another name";
            reading.error("bad-name", &entry.place, message, remedy);
            continue;
        }
        let what = format!("‘{}’", entry.key);
        if let Some(mm) = reading.length(&entry.value, &what) {
            measures.insert(entry.key.clone(), mm);
        }
    }
    measures
}

/// What stands below `tracing`.
struct Traced {
    tracing: Tracing,
    marks: Option<[[f64; 2]; 2]>,
    inner_left: Option<bool>,
    pencil: f64,
}

fn traced(node: &Node, reading: &mut Reading<'_>) -> Option<Traced> {
    let mut fields = Fields::of(node, "foot.tracing", "the tracing", reading)?;
    let units = [("mm", 1.0), ("cm", 10.0), ("in", INCH)];
    let drawn = fields.take("drawing", reading);
    let unit = if drawn.is_some() {
        fields.take("unit", reading)
    } else {
        fields.require("unit", reading)
    };
    let unit = unit.and_then(|node| reading.choice(node, "a unit of the tracing", &units));
    let unit = unit.unwrap_or(1.0);
    let points = fields.take("points", reading);
    let path = fields.take("path", reading);
    let given = [points, path, drawn].into_iter().flatten().count();
    let tracing = match (points, path, drawn) {
        _ if given != 1 => {
            let message = format!("the tracing is given in {given} ways; one is wanted");
            let remedy = "give either ‘points:’, or ‘path:’, or ‘drawing:’";
            reading.error("one-way", &node.place, message, remedy);
            None
        }
        (Some(node), _, _) => listed(node, unit, reading),
        (_, Some(node), _) => path_of(node, unit, reading),
        (_, _, Some(node)) => drawing_of(node, reading),
        (None, None, None) => None,
    };
    let marks = marks(&mut fields, unit, reading);
    let sides = [("left", true), ("right", false)];
    let inner = fields.take("inner side", reading);
    let inner = inner.and_then(|node| reading.choice(node, "a side", &sides));
    let pencil = fields.take("pencil", reading);
    let pencil = pencil.and_then(|node| reading.length(node, "‘pencil’"));
    fields.finish(reading);
    let tracing = tracing?;
    in_reach(&tracing, &node.place, reading);
    Some(Traced {
        tracing,
        marks: marks?,
        inner_left: inner,
        pencil: pencil.unwrap_or(0.0),
    })
}

/// The heel and toe marks; `Some(None)` if there are none.
#[expect(clippy::option_option, reason = "wrong marks differ from no marks")]
fn marks(
    fields: &mut Fields<'_>,
    unit: f64,
    reading: &mut Reading<'_>,
) -> Option<Option<[[f64; 2]; 2]>> {
    let heel = fields.take("heel", reading);
    let toe = fields.take("toe", reading);
    match (heel, toe) {
        (None, None) => Some(None),
        (Some(heel), Some(toe)) => {
            let heel = point(heel, "the heel mark", unit, reading);
            let toe = point(toe, "the toe mark", unit, reading);
            Some(Some([heel?, toe?]))
        }
        (heel, _) => {
            fields.missing(if heel.is_some() { "toe" } else { "heel" }, reading);
            None
        }
    }
}

fn point(node: &Node, what: &str, unit: f64, reading: &mut Reading<'_>) -> Option<[f64; 2]> {
    let number = |node: &Node| match node.scalar().map(|scalar| scalar.value) {
        Some(Value::Number(number)) if number.is_finite() => Some(number * unit),
        _ => None,
    };
    let pair = match &node.kind {
        Kind::List(items) if items.len() == 2 => [number(&items[0]), number(&items[1])],
        _ => [None, None],
    };
    match pair {
        [Some(x), Some(y)] => Some([x, y]),
        _ => {
            let message = format!("{what} is not a pair of bare numbers");
            reading.error("wrong-type", &node.place, message, "write [12.5, 40]");
            None
        }
    }
}

fn listed(node: &Node, unit: f64, reading: &mut Reading<'_>) -> Option<Tracing> {
    let Kind::List(items) = &node.kind else {
        reading.wrong_type(
            node,
            "‘points’",
            "a list of points",
            "write [[0, 3], [1, 4], …]",
        );
        return None;
    };
    if items.len() < FEWEST_POINTS || items.len() > MOST_POINTS {
        let message = format!("the tracing has {} points", items.len());
        let remedy = format!(
            "read off {FEWEST_POINTS} or more round the foot, closer where it bends; 60 are good"
        );
        reading.error("tracing", &node.place, message, remedy);
        return None;
    }
    let points: Vec<_> = items
        .iter()
        .map(|item| point(item, "a point of the tracing", unit, reading))
        .collect();
    let points = points.into_iter().collect::<Option<_>>()?;
    Some(Tracing::Points(points))
}

fn path_of(node: &Node, unit: f64, reading: &mut Reading<'_>) -> Option<Tracing> {
    let text = reading.bounded(node, "‘path’", letters::PATH)?;
    let Some(path) = read_path(&text) else {
        let message = "‘path’ is no path data of a drawing";
        let remedy = "copy the d=\"M …\" of the path from the drawing, without the quotation marks";
        reading.error("tracing", &node.place, message, remedy);
        return None;
    };
    closed(Affine::scale(unit) * path, &node.place, reading)
}

fn drawing_of(node: &Node, reading: &mut Reading<'_>) -> Option<Tracing> {
    let group = "foot.tracing.drawing";
    let path = drawn_path(node, group, "the drawing of the foot", reading)?;
    closed(path, &node.place, reading)
}

/// The path of a drawing that `file` and `path` name.
pub(super) fn drawn_path(
    node: &Node,
    group: &'static str,
    what: &str,
    reading: &mut Reading<'_>,
) -> Option<BezPath> {
    let mut fields = Fields::of(node, group, what, reading)?;
    let file = fields.require("file", reading);
    let id = fields.require("path", reading);
    fields.finish(reading);
    let (file, id) = (file?, id?);
    let name = reading.text(file, "‘file’")?;
    let id = reading.text(id, "‘path’")?;
    let source = reading.named_file(&name, &file.place)?;
    match drawing::path(&source, &id) {
        Ok(path) => Some(path),
        Err(diagnostic) => {
            reading.diagnostics.push(diagnostic);
            None
        }
    }
}

fn closed(path: BezPath, place: &Place, reading: &mut Reading<'_>) -> Option<Tracing> {
    let starts = path
        .elements()
        .iter()
        .filter(|e| matches!(e, PathEl::MoveTo(_)));
    let what = if !path.is_finite() {
        "holds a number that is too large"
    } else if starts.count() != 1 {
        "must be one closed line"
    } else if path.elements().len() < 3 {
        "encloses nothing"
    } else {
        return Some(Tracing::Path(path));
    };
    let message = format!("the path of the tracing {what}");
    let diagnostic = Diagnostic::error("tracing", Some(place), message);
    reading
        .diagnostics
        .push(diagnostic.remedy("draw the foot as one closed path"));
    None
}

fn in_reach(tracing: &Tracing, place: &Place, reading: &mut Reading<'_>) {
    let bounds = match tracing {
        Tracing::Path(path) => path.bounding_box(),
        Tracing::Points(points) => points
            .iter()
            .map(|[x, y]| kurbo::Rect::new(*x, *y, *x, *y))
            .reduce(|a, b| a.union(b))
            .unwrap_or_default(),
    };
    let length = bounds.width().max(bounds.height());
    if !LENGTHS.contains(&length) {
        let message = format!("the tracing is {length:.1} mm long");
        let remedy = format!(
            "a foot is between {} mm and {} mm long; check ‘unit:’",
            LENGTHS.start(),
            LENGTHS.end()
        );
        reading.error("out-of-range", place, message, remedy);
    }
}
