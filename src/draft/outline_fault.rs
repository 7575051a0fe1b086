//! What is said of an outline that is none.

use crate::design::{PieceSpec, printed};
use crate::diagnostic::{Diagnostic, Place};
use crate::geometry::{Outline, OutlineFault};
use kurbo::Shape;

/// What is said of the outline of `spec` in the size called `size`, at `place`.
pub(super) fn fault_of(
    fault: &OutlineFault,
    spec: &PieceSpec,
    place: &Place,
    size: &str,
) -> Diagnostic {
    let title = &spec.title;
    let (code, what, remedy) = match fault {
        OutlineFault::Empty => ("outline-empty", "has no edge".to_string(), "Give it edges."),
        OutlineFault::NotFinite => (
            "outline-empty",
            "has a coordinate that is no number".into(),
            "Check its formulas.",
        ),
        OutlineFault::Open { before, after, gap } => (
            "outline-open",
            format!("is not closed: {before} ends {gap:.2} mm away from where {after} begins"),
            "Let the last edge return to the start.",
        ),
        OutlineFault::SameName(name) => (
            "edge-twice",
            format!("has two edges called {name}"),
            "Give every edge a name of its own; stretches of one edge must follow each other.",
        ),
        OutlineFault::NoArea => (
            "outline-empty",
            "encloses nothing".into(),
            "Check its points and measures.",
        ),
        OutlineFault::Crosses(at) => (
            "outline-crosses",
            format!(
                "crosses or touches itself near x {:.1} mm, y {:.1} mm",
                at.x, at.y
            ),
            "Move the points or handles there so that the line stays clear of itself.",
        ),
        OutlineFault::RunsBack(at) => (
            "outline-crosses",
            format!(
                "runs back along itself from x {:.1} mm, y {:.1} mm",
                at.x, at.y
            ),
            "Take out the spike, or give the slit or neck there some width.",
        ),
        other => of_axis(other),
    };
    let message = format!("The outline of {title}, size {size}, {what}");
    Diagnostic::error(code, Some(place), message).remedy(remedy)
}

/// No piece is longer or wider, mm: a hundred sheets of A4, the most that are joined, end to end.
const LARGEST: f64 = 20_000.0;

/// What is said of an outline that is larger than any piece.
pub(super) fn too_large(
    outline: &Outline,
    spec: &PieceSpec,
    place: &Place,
    size: &str,
) -> Option<Diagnostic> {
    let bounds = outline.path().bounding_box();
    if bounds.width().max(bounds.height()) <= LARGEST {
        return None;
    }
    let message = format!(
        "{}, size {size}, measures {} by {}; no piece is larger than {}",
        spec.title,
        printed::metric(bounds.width()),
        printed::metric(bounds.height()),
        printed::metric(LARGEST)
    );
    let told = Diagnostic::error("piece-too-large", Some(place), message);
    Some(told.remedy("Check the units of its measures."))
}

/// Code, what is wrong and the remedy of faults of folding, mirroring and insets.
fn of_axis(fault: &OutlineFault) -> (&'static str, String, &'static str) {
    match fault {
        OutlineFault::AcrossEdge { edge, at, by } => (
            "fold-across",
            format!(
                "lies on both sides of the line through edge {edge}, on which it is folded or \
                 mirrored: at x {:.1} mm, y {:.1} mm it is {by:.1} mm beyond it",
                at.x, at.y
            ),
            "Draw only the half on one side of that line; the other half follows from it.",
        ),
        OutlineFault::NoEdge(name) => (
            "unknown-edge",
            format!("has no edge called {name}"),
            "Name one of its edges.",
        ),
        OutlineFault::NotStraight(name) => (
            "fold-curved",
            format!("cannot be mirrored on {name}, which is not straight"),
            "Draw the edge to mirror on as one straight line.",
        ),
        OutlineFault::NothingLeft(by) => (
            "inset-too-large",
            format!(
                "is another piece moved inward by {by:.1} mm, which leaves nothing or two parts"
            ),
            "Make the inset smaller.",
        ),
        _ => (
            "outline-empty",
            "is none".into(),
            "Check its points and measures.",
        ),
    }
}
