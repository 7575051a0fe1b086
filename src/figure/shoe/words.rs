//! What a picture of a shoe shows, in words, for those who do not see it.

use super::{ShoeView, part};
use crate::figure::LONGEST;
use crate::figure::drawing::{Face, LineDrawing, LineKind, Tag, Tints};
use crate::language::Words;

/// The words: subject, side, view, then what has a line in the picture, strongest first, then what
/// its tint means.
pub(super) fn alt(
    (view, right): (ShoeView, bool),
    drawing: &LineDrawing,
    tints: Tints,
    words: &Words,
) -> String {
    let foot = words.get(match right {
        true => "figures.foot right",
        false => "figures.foot left",
    });
    let subject = match view {
        ShoeView::ThreeQuarter => "figures.view three-quarter",
        ShoeView::Side => "figures.view side",
        ShoeView::Top => "figures.view top",
        ShoeView::Back => "figures.view back",
        ShoeView::Pair => "figures.view pair",
    };
    let subject = words.say(subject, &[("foot", &foot)]);
    let mut parts = String::new();
    for key in clauses(drawing, tints) {
        let clause = words.get(key);
        if subject.len() + parts.len() + clause.len() + 2 < LONGEST {
            let join = if parts.is_empty() { "" } else { ", " };
            parts.push_str(join);
            parts.push_str(clause);
        }
    }
    match parts.is_empty() {
        true => words.say("figures.shoe", &[("view", &subject)]),
        false => words.say(
            "figures.shoe with",
            &[("view", &subject), ("parts", &parts)],
        ),
    }
}

fn clauses(drawing: &LineDrawing, tints: Tints) -> Vec<&'static str> {
    let kind = |kind: LineKind| drawing.lines.iter().any(|line| line.kind == kind);
    let tagged = |tag: Tag| drawing.lines.iter().any(|line| line.tag == tag);
    let mut clauses = Vec::new();
    match (kind(LineKind::Strap), kind(LineKind::Button)) {
        (true, _) if tagged(part::BOW) => clauses.push("figures.bow"),
        (true, true) => clauses.push("figures.strap and button"),
        (true, false) => clauses.push("figures.strap"),
        (false, _) => {}
    }
    if tagged(part::SIDE_SEAM) {
        clauses.push("figures.side seam");
    }
    if tagged(part::TOPSTITCH) {
        clauses.push("figures.stitching");
    }
    if tagged(part::GATHERS) {
        clauses.push("figures.gathered");
    }
    let lining = drawing.regions.iter().any(|r| r.face == Face::Lining);
    match tints {
        Tints::Lines if lining => clauses.push("figures.lining dotted"),
        Tints::Greys if lining => clauses.push("figures.lining grey"),
        _ => {}
    }
    let wrong = drawing.regions.iter().any(|r| r.face == Face::Wrong);
    if wrong && tints == Tints::Lines {
        clauses.push("figures.wrong side hatched");
    }
    clauses
}
