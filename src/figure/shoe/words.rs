//! What a picture of a shoe shows, in words, for those who do not see it.

use super::{ShoeView, part};
use crate::figure::drawing::{Face, LineDrawing, LineKind, Tag, Tints};

/// The words are no longer than this.
const LONGEST: usize = 250;

/// The words: subject, side, view, then what has a line in the picture, strongest first, then what
/// its tint means.
pub(super) fn alt(view: ShoeView, drawing: &LineDrawing, tints: Tints) -> String {
    let subject = match view {
        ShoeView::ThreeQuarter => "Left shoe from the front outside",
        ShoeView::Side => "Left shoe from its outer side",
        ShoeView::Top => "Left shoe from above, toe up",
        ShoeView::Back => "Left shoe from the back outside",
        ShoeView::Pair => "Both shoes from the front",
    };
    let kind = |kind: LineKind| drawing.lines.iter().any(|line| line.kind == kind);
    let tagged = |tag: Tag| drawing.lines.iter().any(|line| line.tag == tag);
    let mut clauses = Vec::new();
    match (kind(LineKind::Strap), kind(LineKind::Button)) {
        (true, true) => clauses.push("strap over the instep with a button on the outer side"),
        (true, false) => clauses.push("strap over the instep"),
        (false, _) => {}
    }
    if tagged(part::SIDE_SEAM) {
        clauses.push("seam up the side");
    }
    if tagged(part::TOPSTITCH) {
        clauses.push("line of stitching round the topline");
    }
    if tagged(part::GATHERS) {
        clauses.push("back gathered on an elastic");
    }
    let lining = drawing.regions.iter().any(|r| r.face == Face::Lining);
    match tints {
        Tints::Lines if lining => clauses.push("the lining is dotted"),
        Tints::Greys if lining => clauses.push("the lining is grey"),
        _ => {}
    }
    let mut words = subject.to_string();
    for (number, clause) in clauses.into_iter().enumerate() {
        let join = if number == 0 { ": " } else { ", " };
        if words.len() + join.len() + clause.len() < LONGEST {
            words.push_str(join);
            words.push_str(clause);
        }
    }
    words.push('.');
    words
}
