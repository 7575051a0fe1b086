//! The ply that what is asked for is worked on.

use super::find::{Finder, nearest};
use super::plan::Plan;
use super::ply::Ply;
use super::request::Named;

/// The group and ply meant: the one of the piece, or the uppermost that has the edge.
pub(super) fn target(
    plan: &Plan,
    piece: Option<&Named>,
    edge: Option<&Named>,
    finder: &mut Finder,
) -> Option<[usize; 2]> {
    let plies = || {
        let groups = plan.groups.iter().enumerate().rev();
        groups.flat_map(|(g, group)| {
            let plies = group.plies.iter().enumerate().rev();
            plies.map(move |(p, ply)| ([g, p], ply))
        })
    };
    if let Some(named) = piece {
        let found = plies().find(|(_, ply)| ply.piece.key == named.text);
        if found.is_none() {
            let keys: Vec<String> = plies().map(|(_, ply)| ply.piece.key.clone()).collect();
            let message = format!("Piece ‘{}’ is not in this figure", named.text);
            let remedy = nearest(&named.text, keys.iter().map(String::as_str));
            finder.wrong(&named.place, message, remedy);
        }
        return found.map(|(at, _)| at);
    }
    let has = |ply: &Ply| edge.is_none_or(|named| ply.piece.outline.edge(&named.text).is_some());
    let found = plies().find(|(_, ply)| has(ply)).or_else(|| plies().next());
    found.map(|(at, _)| at)
}
