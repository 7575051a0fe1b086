//! `pieces` of a design: each with its shape, what is done to it, and how it is cut.

use super::edges::Edges;
use super::fields::Fields;
use super::head::optional;
use super::node::{Entry, Node};
use super::{Reading, finish, marks, outlines, shapes};
use crate::design::{PieceSpec, ShapeSpec, ShoePart};
use crate::diagnostic::Place;
use crate::language::phrase;
use std::collections::BTreeMap;

/// A coat has sixty pieces.
const MOST: usize = 300;

/// So many in all sizes together: each is drafted, packed and drawn in each size. Sixty in twenty sizes
/// make some hundred sheets and take half a gigabyte.
const MOST_IN_ALL_SIZES: usize = 1200;

/// So many are cut for one size, as for a quilt: each is laid on the cloth. In all sizes together six
/// times as many.
const MOST_CUT: (usize, usize) = (1000, 6000);

/// Names that begin something else in a formula.
const TAKEN: [(&str, &str); 2] = [
    ("foot", "the names of the foot's measures"),
    ("shoe", "the names of what the shoe's draft gives"),
];

/// The design's `pieces`, in order, each made in so many sizes.
pub(super) fn read(
    fields: &mut Fields<'_>,
    sizes: usize,
    reading: &mut Reading<'_>,
) -> Vec<PieceSpec> {
    let Some(node) = fields.require("pieces", reading) else {
        return Vec::new();
    };
    let entries = reading.named(node, "a piece");
    reading.not_too_many("pieces", MOST, entries.iter().map(|entry| &entry.place));
    let most = MOST_IN_ALL_SIZES / sizes.max(1);
    if let Some(entry) = entries.get(most).filter(|_| entries.len() <= MOST) {
        let (count, all) = (entries.len(), entries.len() * sizes);
        let message = format!(
            "{count} pieces in {sizes} sizes are {all} to draw; there may be {MOST_IN_ALL_SIZES}"
        );
        let remedy = "take sizes or pieces away, or make several designs of it";
        reading.error("too-large", &entry.place, message, remedy);
    }
    // all names first: a piece may speak of one that comes later
    for entry in &entries {
        reading.edges.push((entry.key.clone(), Edges::Unknown));
    }
    let mut pieces = Vec::new();
    let keys = entries.iter().map(|e| (vec![e.key.as_str()], &e.place));
    refuse_same_files("pieces", keys, reading);
    for entry in entries {
        if let Some((word, names)) = TAKEN.iter().find(|(word, _)| *word == entry.key) {
            let message = format!("a piece cannot be called ‘{word}’");
            let remedy = format!("‘{word}.’ begins {names}; choose another name");
            reading.error("bad-name", &entry.place, message, remedy);
        }
        pieces.extend(piece(entry, reading));
    }
    not_too_many_cut(&pieces, sizes, reading);
    pieces
}

fn not_too_many_cut(pieces: &[PieceSpec], sizes: usize, reading: &mut Reading<'_>) {
    let cuts = pieces.iter().flat_map(|piece| &piece.cuts);
    let count: usize = cuts.clone().map(|cut| cut.count as usize).sum();
    let most = MOST_CUT.0.min(MOST_CUT.1 / sizes.max(1));
    let mut so_far = 0;
    let first_beyond = cuts.clone().find(|cut| {
        so_far += cut.count as usize;
        so_far > most
    });
    if let Some(cut) = first_beyond {
        let message = if sizes > 1 {
            format!("{count} pieces are cut in each of {sizes} sizes; there may be {most}")
        } else {
            format!("{count} pieces are cut; there may be {most}")
        };
        let remedy = "cut fewer, or make several designs of it";
        reading.error("too-large", &cut.place, message, remedy);
    }
}

/// Refuses two names of which one would take the other's file. Each comes with all the names it gives
/// to files.
pub(super) fn refuse_same_files<'e>(
    what: &str,
    names: impl Iterator<Item = (Vec<&'e str>, &'e Place)>,
    reading: &mut Reading<'_>,
) {
    let mut taken: BTreeMap<String, String> = BTreeMap::new();
    for (own, place) in names {
        for name in &own {
            let file = super::names::file_name(name);
            if let Some(other) = taken.get(&file) {
                let message = format!(
                    "the {what} ‘{other}’ and ‘{name}’ would both be written to files called ‘{file}’"
                );
                let remedy = "call one of them something that differs in more than capitals, blanks \
                              and hyphens";
                reading.error("same-file-name", place, message, remedy);
            }
        }
        let files = own
            .iter()
            .map(|n| (super::names::file_name(n), n.to_string()));
        taken.extend(files.collect::<Vec<_>>());
    }
}

fn piece(entry: &Entry, reading: &mut Reading<'_>) -> Option<PieceSpec> {
    let key = entry.key.as_str();
    let what = format!("piece ‘{key}’");
    let mut fields = Fields::of(&entry.value, "pieces.PIECE", what, reading)?.at(&entry.place);
    let title = optional(&mut fields, "title", reading).unwrap_or_else(|| phrase::capital(key));
    let note = optional(&mut fields, "note", reading);
    let mut points = outlines::points(&mut fields, key, reading);
    let shape = shapes::read(&mut fields, key, &points, reading);
    let (on_fold, mirror_on) = axes(&mut fields, shape.as_ref(), reading);
    let edges = match (&shape, &mirror_on) {
        (None, _) => Edges::Unknown,
        (Some((_, edges)), Some((axis, _))) => edges.clone().mirrored(axis),
        (Some((_, edges)), None) => edges.clone(),
    };
    if let Some(known) = reading.edges.iter_mut().find(|(piece, _)| piece == key) {
        known.1 = edges;
    }
    // a stiffener lies inside the seam and has no allowance of its own accord
    let of_shoe =
        matches!(&shape, Some((ShapeSpec::Shoe { part, .. }, _)) if *part != ShoePart::Stiffener);
    let allowance = finish::allowance(&mut fields, key, of_shoe, reading);
    let corners = finish::corners(&mut fields, key, reading);
    let grain = finish::grain(&mut fields, reading);
    let grain_within = finish::grain_within(&mut fields, reading);
    let notches = finish::notches(&mut fields, key, reading);
    points.drawing = false;
    points.names.extend(
        shape
            .as_ref()
            .map_or(&[][..], |(shape, _)| shape.points())
            .iter()
            .map(|p| p.to_string()),
    );
    let marks = marks::read(&mut fields, &points, reading);
    let common_point = fields.take("common point", reading);
    let common_point =
        common_point.and_then(|node| outlines::point(node, "‘common point’", &points, reading));
    let cuts = finish::cuts(&mut fields, reading);
    fields.finish(reading);
    Some(PieceSpec {
        key: key.to_string(),
        title,
        note,
        shape: shape?.0,
        points: points.formulas,
        common_point,
        on_fold,
        mirror_on,
        allowance: allowance.all,
        edge_allowances: allowance.edges,
        corner: corners.all,
        corner_specs: corners.single,
        grain,
        grain_within,
        notches,
        marks,
        cuts,
        place: entry.place.clone(),
    })
}

type Axis = Option<(String, Place)>;

/// The edge on the fold and the edge that is mirrored on.
fn axes(
    fields: &mut Fields<'_>,
    shape: Option<&(ShapeSpec, Edges)>,
    reading: &mut Reading<'_>,
) -> (Axis, Axis) {
    let fold = fields.take("on fold", reading);
    let mirror = fields.take("mirror on", reading);
    if let (Some(_), Some(mirror)) = (fold, mirror) {
        let message = format!("{} lies on the fold and is mirrored too", fields.what());
        let remedy = "keep ‘on fold’ if the buyer cuts it on folded cloth, ‘mirror on’ if the whole \
                      piece is to be printed";
        reading.error("fold-edge", &mirror.place, message, remedy);
    }
    let mut axis = |node: Option<&Node>, key: &str| {
        let node = node?;
        let edge = reading.text(node, &format!("‘{key}’"))?;
        if let Some((shape, edges)) = shape {
            check_axis(&edge, node, shape, edges, reading);
        }
        Some((edge, node.place.clone()))
    };
    (axis(fold, "on fold"), axis(mirror, "mirror on"))
}

fn check_axis(
    edge: &str,
    node: &Node,
    shape: &ShapeSpec,
    edges: &Edges,
    reading: &mut Reading<'_>,
) {
    if let Edges::Known(names) = edges
        && !names.iter().any(|name| name == edge)
    {
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let remedy = super::names::suggestion(edge, &names);
        let message = format!("the piece has no edge ‘{edge}’");
        reading.error("unknown-edge", &node.place, message, remedy);
        return;
    }
    let straight = match shape {
        ShapeSpec::Drawn { edges, .. } => {
            let stretches: Vec<_> = edges.iter().filter(|e| e.name == edge).collect();
            stretches.len() == 1 && stretches[0].handles.is_empty()
        }
        ShapeSpec::Rectangle { .. } => !edge.starts_with("corner"),
        ShapeSpec::Tracing { .. } | ShapeSpec::Ellipse { .. } | ShapeSpec::Shoe { .. } => false,
        ShapeSpec::Svg { .. } | ShapeSpec::Inset { .. } => true,
    };
    if !straight {
        let message = format!("edge ‘{edge}’ is not one straight line, so it cannot lie on a fold");
        let remedy = "draw the middle of the piece as one edge without handles";
        reading.error("fold-edge", &node.place, message, remedy);
    }
}
