//! Openings through which work is turned, and rows that hold a turned allowance.

use super::shape::cut_extent;
use super::{One, Said};
use crate::design::Formula;
use crate::diagnostic::Level;
use kurbo::Shape;
use std::f64::consts::PI;

/// Cloth pushed together through an opening fills this share of it (from judgement).
const FILLED: f64 = 0.5;

/// No opening is smaller than this, mm: a finger or the end of a brush turns it (common practice).
const FINGER: f64 = 12.0;

/// Named measures of the design that hold words known under `key`.
fn measures<'a>(one: &One<'a>, key: &str) -> Vec<(&'a str, &'a Formula)> {
    let own = one.design.own().measures.iter();
    let known: Vec<&String> = own
        .map(|(name, _)| name)
        .filter(|name| one.knows(key, name))
        .collect();
    let all = one.size.measures.iter().chain(&one.design.measures);
    let mut found: Vec<(&str, &Formula)> = Vec::new();
    for (name, formula) in all {
        let new = found.iter().all(|(told, _)| told != name);
        if new && known.contains(&name) {
            found.push((name, formula));
        }
    }
    found
}

/// The whole work goes through the opening that is left in a seam: bunched together, its cloth fills a
/// part of the circle into which the opening's two edges spread.
pub(super) fn gaps(one: &One, said: &mut Said) {
    let Some(least) = least_gap(one) else {
        return;
    };
    for (name, formula) in measures(one, "known.gap") {
        // A distance between two marks is no opening: only a measure that no piece is drawn with is.
        let Some(gap) = one.length(formula).filter(|gap| *gap < least) else {
            continue;
        };
        let of_shoe = formula.names().iter().any(|name| name.starts_with("shoe."));
        if of_shoe || is_drawn_with(one, name) {
            continue;
        }
        let message = format!(
            "Through ‘{name}’, {gap:.1} mm, the work is hardly turned: it needs about {least:.0} mm{}",
            one.inside()
        );
        let remedy = "Leave a longer opening.";
        said.tell(
            Level::Warning,
            "gap-too-small",
            name,
            (&formula.place, message, remedy),
        );
    }
}

/// Whether a piece or another measure hangs on a measure.
fn is_drawn_with(one: &One, name: &str) -> bool {
    let measures = &one.design.measures;
    let mut others = measures.iter().filter(|(other, _)| other != name);
    if others.any(|(_, formula)| formula.names().contains(&name)) {
        return true;
    }
    let text = &one.design.source.text;
    let pieces = text.lines().skip_while(|line| !line.starts_with("pieces:"));
    pieces.skip(1).any(|line| {
        let line = line.split('#').next().unwrap_or("");
        let mut at = line.match_indices(name);
        at.any(|(at, _)| {
            let edge = |c: Option<char>| !c.is_some_and(|c| c.is_alphanumeric() || c == '_');
            edge(line[..at].chars().next_back()) && edge(line[at + name.len()..].chars().next())
        })
    })
}

fn least_gap(one: &One) -> Option<f64> {
    let mut bulk = 0.0;
    let mut longest: f64 = 0.0;
    for (piece, _) in one.pieces() {
        let half = if piece.fold.is_some() { 2.0 } else { 1.0 };
        let area = half * piece.cut_line.area().abs();
        for cut in &piece.cuts {
            let cloth = one
                .design
                .cloth
                .iter()
                .find(|cloth| cloth.key == cut.material)?;
            // Of a pair each is turned by itself.
            let each = if cut.mirrored { 0.5 } else { 1.0 };
            bulk += each * area * f64::from(cut.count) * cloth.thickness?;
        }
        let extent = cut_extent(piece);
        longest = longest.max(extent.width()).max(extent.height());
    }
    // Two edges of length g spread to a circle of area g²/π.
    let across = bulk / longest.max(1.0) / FILLED;
    Some((PI * across).sqrt().max(FINGER))
}

/// A row along a turned edge holds the allowance behind it.
pub(super) fn rows(one: &One, said: &mut Said) {
    let deep = one.pieces().flat_map(|(piece, _)| &piece.allowances);
    let deep = deep.copied().filter(|deep| *deep > 0.0);
    let Some(deep) = deep.min_by(f64::total_cmp) else {
        return;
    };
    for (name, formula) in measures(one, "known.edge row") {
        let Some(row) = one.length(formula).filter(|row| *row > deep + 0.05) else {
            continue;
        };
        let message = format!(
            "‘{name}’, {row:.1} mm from the edge, does not catch the allowance, which is {deep:.1} mm \
             deep{}",
            one.inside()
        );
        let remedy = "Sew the row nearer to the edge, or give more allowance.";
        said.tell(
            Level::Warning,
            "stitch-outside-allowance",
            name,
            (&formula.place, message, remedy),
        );
    }
}
