//! Straps, elastics and cords against what the draft found and where they go in.

use super::shape::{cut_extent, distance_to};
use super::{One, Said};
use crate::design::{ClosureSpec, LineKind, ShapeSpec, Trim, TrimKind};
use crate::diagnostic::Level;
use crate::figure::STRAP_LENGTH;
use crate::geometry::units::INCH;
use crate::piece::{MarkKind, Piece};
use kurbo::{BezPath, Point};
use std::f64::consts::PI;

/// An end that goes into a seam or is sewn down is at least this long, mm (common practice: 1/8 in).
const END: f64 = INCH / 8.0;

/// Room round a flat elastic or ribbon in its casing, mm (common practice).
const SLACK: f64 = 0.5;

/// Rows whose distance varies by more than this share are no casing.
const PARALLEL: f64 = 0.25;

/// A strap is as long as the draft found it, and its end goes into a seam.
pub(super) fn straps(one: &One, said: &mut Said) {
    let shoe = one.design.shoe.as_ref();
    if shoe.is_none_or(|shoe| shoe.closure != ClosureSpec::ElasticStrap) {
        return;
    }
    let Some(needed) = one.of_the_shoe("strap cloth") else {
        return;
    };
    for (piece, spec) in one.pieces() {
        let own = one
            .design
            .own()
            .pieces
            .iter()
            .find(|own| own.key == piece.key);
        let named = own.is_some_and(|own| one.knows("known.strap", &own.title));
        if !(named || names(&spec.shape).iter().any(|name| name == STRAP_LENGTH)) {
            continue;
        }
        let cut = cut_extent(piece);
        let length = cut.width().max(cut.height());
        if length >= needed + END - 0.05 {
            continue;
        }
        let message = format!(
            "{} is cut {length:.1} mm long{}; over the foot it needs {needed:.1} mm, and an end that \
             goes into the seam",
            piece.title,
            one.inside()
        );
        let remedy = "Write ‘shoe.strap cloth’ and add its end, or give that end an allowance.";
        said.tell(
            Level::Error,
            "strap-too-short",
            &piece.key,
            (&spec.place, message, remedy),
        );
    }
}

fn names(shape: &ShapeSpec) -> Vec<String> {
    let formulas = match shape {
        ShapeSpec::Rectangle { width, height, .. } | ShapeSpec::Ellipse { width, height } => {
            vec![width, height]
        }
        _ => Vec::new(),
    };
    let names = formulas.into_iter().flat_map(|formula| formula.names());
    names.map(str::to_string).collect()
}

/// An elastic is as long as the draft found it, and has ends to sew down.
pub(super) fn elastics(one: &One, said: &mut Said) {
    let Some(shoe) = &one.design.shoe else {
        return;
    };
    let name = match shoe.closure {
        ClosureSpec::ElasticStrap => "strap elastic",
        ClosureSpec::BackElastic => "back elastic",
        _ => return,
    };
    let Some(needed) = one.of_the_shoe(name) else {
        return;
    };
    let length = |trim: &Trim| {
        let own = one.length(trim.length.as_ref()?)?;
        let join = trim.join.as_ref().map_or(Some(0.0), |f| one.length(f))?;
        Some(own + join)
    };
    let elastics = one
        .design
        .trims
        .iter()
        .filter(|t| t.kind == TrimKind::Elastic);
    let cut = elastics.filter_map(|trim| Some((trim, length(trim)?)));
    let Some((trim, length)) = cut.max_by(|a, b| a.1.total_cmp(&b.1)) else {
        return;
    };
    if length >= needed + 2.0 * END - 0.05 {
        return;
    }
    let message = format!(
        "{} is cut {length:.1} mm long{}; between its ends it needs {needed:.1} mm, and both are sewn \
         down",
        trim.name,
        one.inside()
    );
    let remedy = format!("Write ‘length: shoe.{name}’ and what both ends need under ‘join’.");
    said.tell(
        Level::Error,
        "elastic-too-short",
        &trim.key,
        (&trim.place, message, &remedy),
    );
}

/// What is drawn through a casing fits between its rows.
pub(super) fn casings(one: &One, said: &mut Said) {
    for (piece, spec) in one.pieces() {
        let Some((width, number)) = casing(one, piece) else {
            continue;
        };
        for trim in &one.design.trims {
            let Some(across) = trim.width.and_then(|mm| flat(trim.kind, mm)) else {
                continue;
            };
            if across <= width + 0.05 {
                continue;
            }
            let message = format!(
                "{} does not go through the casing of {}, which is {width:.1} mm wide and would have to \
                 be {across:.1} mm{}",
                trim.name,
                piece.title,
                one.inside()
            );
            let remedy = "Sew the rows further apart, or take something narrower.";
            let place = spec.place_of_mark(number);
            said.tell(
                Level::Error,
                "casing-too-narrow",
                &trim.key,
                (place, message, remedy),
            );
        }
    }
}

/// How wide two layers lie flat round a trim that is drawn through: half of what goes round it.
fn flat(kind: TrimKind, width: f64) -> Option<f64> {
    match kind {
        TrimKind::Cord => Some(0.5 * PI * width),
        TrimKind::Elastic => Some(width + SLACK),
        _ => None,
    }
}

/// The width of a piece's casing, with the number of its mark: between two rows, or between a row and
/// the edge along which it runs, less the row that is sewn along that edge.
fn casing(one: &One, piece: &Piece) -> Option<(f64, usize)> {
    let own = |words: &str| one.knows("known.casing", words);
    let rows: Vec<(usize, &BezPath)> = piece
        .marks
        .iter()
        .enumerate()
        .filter(|(_, mark)| mark.words.as_deref().is_some_and(own))
        .filter_map(|(number, mark)| match &mark.kind {
            MarkKind::Line {
                kind: LineKind::Stitching,
                path,
            } => Some((number, path)),
            _ => None,
        })
        .collect();
    let (number, first) = rows.first()?;
    let to = |path: &BezPath| {
        let all = along(first).map(|point| distance_to(path, point));
        let (low, high) = all.fold((f64::INFINITY, 0.0_f64), |(low, high), d| {
            (low.min(d), high.max(d))
        });
        (high - low <= PARALLEL * high.max(1.0)).then_some(low)
    };
    if let Some((_, second)) = rows.get(1) {
        return Some((to(second)?, *number));
    }
    let edges = piece.outline.edges().iter();
    let near = edges.filter_map(|edge| to(&edge.curve));
    let depth = near.min_by(f64::total_cmp)?;
    Some((depth - edge_row(one), *number))
}

/// How far from the edge the row is that closes a casing there: a measure of the design that says so.
fn edge_row(one: &One) -> f64 {
    let mut measures = one.design.own().measures.iter();
    let row = measures.find(|(name, _)| one.knows("known.edge row", name));
    row.and_then(|(_, formula)| one.length(formula))
        .unwrap_or(0.0)
}

/// Points along a path.
fn along(path: &BezPath) -> impl Iterator<Item = Point> {
    use kurbo::ParamCurve;
    path.segments()
        .flat_map(|s| (0..=4).map(move |i| s.eval(f64::from(i) / 4.0)))
}
