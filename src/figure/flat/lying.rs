//! How one piece lies: which side is up, mirrored or not, its allowances turned in or not. Millimetres.

use super::find::Finder;
use super::ply::Ply;
use super::request::{Shown, Side};
use crate::figure::Tint;
use crate::geometry::Edge;
use kurbo::Affine;

/// Over the upright axis.
const OVER: Affine = Affine::new([-1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);

/// A piece lying as it is asked for, side up and mirrored or not.
pub(super) fn lying(shown: &Shown, finder: &mut Finder, opened: bool) -> Option<(Ply, Tint)> {
    let piece = finder.piece(&shown.piece)?;
    let [right, up] = finder.tints(shown, piece)?;
    let ply = match opened {
        true => Ply::opened(piece, up),
        false => Ply::drawn(piece, up),
    };
    let ply = match (shown.finished, &shown.turned[..]) {
        (false, _) => ply,
        (true, []) => ply.finished(),
        (true, edges) => {
            let found = edges
                .iter()
                .map(|name| finder.edge(&ply.piece, name).cloned());
            let edges: Vec<Edge> = found.collect::<Option<_>>()?;
            ply.turned_in(&edges)
        }
    };
    // turned over once for the other of the pair, once more for the wrong side
    let wrong = shown.side == Some(Side::Wrong);
    Some(match shown.mirrored != wrong {
        true => (ply.moved(OVER), right),
        false => (ply, right),
    })
}
