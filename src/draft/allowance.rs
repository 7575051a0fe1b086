//! Allowances of the edges, treatments of the corners, and the cut line they give.

use super::drafter::Drafter;
use crate::design::{CornerSpec, PieceSpec};
use crate::diagnostic::{Diagnostic, Place};
use crate::geometry::{Corner, CutFault, Outline, cut_line as parallel};
use kurbo::BezPath;

/// The cut line lies within this distance of the exact parallel curve, mm: a fifth of the
/// 0.01 mm that the proof allows on paper.
const CUT_TOLERANCE: f64 = 0.002;

/// Less is no allowance but what is left over when equal lengths are taken from each other, mm.
const NOTHING: f64 = 1e-6;

/// No scissors cut a narrower one, mm.
const NARROWEST: f64 = 0.1;

/// No allowance is wider than this, mm: no hem is, and so wide a round corner has points without number.
const WIDEST: f64 = 1000.0;

/// Allowance of each edge in mm: what the edge names, else the piece's own, else none; none on the
/// fold.
pub(super) fn of_edges(drafter: &Drafter, spec: &PieceSpec, outline: &Outline) -> Option<Vec<f64>> {
    let mut list = Vec::new();
    for edge in outline.edges() {
        let own = spec
            .edge_allowances
            .iter()
            .find(|(name, ..)| covers(name, &edge.name));
        let on_fold = spec
            .on_fold
            .as_ref()
            .is_some_and(|(name, _)| *name == edge.name);
        let formula = match own {
            _ if on_fold => None,
            Some((_, formula, _)) => formula.as_ref(),
            None => spec.allowance.as_ref(),
        };
        let value = match formula {
            None => 0.0,
            Some(formula) => {
                let value = drafter.length(formula)?;
                if value.abs() < NOTHING {
                    0.0
                } else if (NARROWEST..=WIDEST).contains(&value) {
                    value
                } else {
                    drafter.say(no_width(value, spec, &edge.name, &formula.place));
                    return None;
                }
            }
        };
        list.push(value);
    }
    Some(list)
}

fn no_width(value: f64, spec: &PieceSpec, edge: &str, place: &Place) -> Diagnostic {
    let (wrong, remedy) = if value < 0.0 {
        (
            "less than nothing",
            "Give a length of zero or more, or ‘none’.",
        )
    } else if value < NARROWEST {
        (
            "too narrow to cut",
            "Give a length of 0.1 mm or more, or ‘none’.",
        )
    } else {
        ("more than a metre", "Check the number and its unit.")
    };
    let message = format!(
        "The allowance of {}, edge {edge}, is {wrong}: {value:.2} mm",
        spec.title
    );
    Diagnostic::error("allowance", Some(place), message).remedy(remedy)
}

/// Whether a name given in the design means this edge: its own name, or the name of the half that
/// was mirrored.
fn covers(name: &str, edge: &str) -> bool {
    edge == name || edge.strip_suffix(" mirrored") == Some(name)
}

/// The cut line, or `None` after a report.
pub(super) fn cut_line(
    drafter: &Drafter,
    spec: &PieceSpec,
    outline: &Outline,
    allowances: &[f64],
) -> Option<BezPath> {
    if allowances.iter().all(|a| *a < 1e-9) {
        return Some(outline.path());
    }
    let corners = corners(spec, outline, allowances);
    match parallel(outline, allowances, &corners, CUT_TOLERANCE) {
        Ok(path) => Some(path),
        Err(fault) => {
            drafter.say(fault_of(&fault, spec, &drafter.size.title));
            None
        }
    }
}

fn corners(spec: &PieceSpec, outline: &Outline, allowances: &[f64]) -> Vec<Corner> {
    let edges = outline.edges();
    let count = edges.len();
    let corner_at = |index: usize| {
        let before = (index + count - 1) % count;
        let pair = [&edges[before].name, &edges[index].name];
        let own = spec.corner_specs.iter().find(|([a, b], ..)| {
            (covers(a, pair[0]) && covers(b, pair[1])) || (covers(b, pair[0]) && covers(a, pair[1]))
        });
        match own.map_or(spec.corner, |(_, corner, _)| *corner) {
            CornerSpec::Mitre(limit) => Corner::Mitre { limit },
            CornerSpec::Round => Corner::Round,
            CornerSpec::Chamfer => Corner::Chamfer,
            CornerSpec::Square => Corner::Square,
            CornerSpec::Folded => Corner::Folded {
                hem_begins: allowances[index] > allowances[before],
            },
        }
    };
    (0..count).map(corner_at).collect()
}

fn fault_of(fault: &CutFault, spec: &PieceSpec, size: &str) -> Diagnostic {
    let title = &spec.title;
    let own = |edge: &str| {
        let named = spec
            .edge_allowances
            .iter()
            .find(|(name, ..)| covers(name, edge));
        match named {
            Some((_, _, place)) => place.clone(),
            None => spec
                .allowance
                .as_ref()
                .map_or_else(|| spec.place.clone(), |formula| formula.place.clone()),
        }
    };
    match fault {
        CutFault::Swallowed { edge, at } => {
            let message = format!(
                "The allowance of {title}, edge {edge}, swallows a corner or hollow near \
                 x {:.1} mm, y {:.1} mm in size {size}: no cut line can follow it",
                at.x, at.y
            );
            Diagnostic::error("allowance-swallows", Some(&own(edge)), message).remedy(
                "Make the allowance of this edge smaller, or open the corner or hollow there.",
            )
        }
        CutFault::BadAllowance | CutFault::Mismatch | CutFault::Nothing => {
            let message = format!("No cut line could be made for {title}, size {size}");
            Diagnostic::error("allowance", Some(&spec.place), message)
                .remedy("Check its allowances and corners.")
        }
    }
}
