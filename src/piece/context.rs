//! What the steps of finishing a piece share.

use crate::design::{PieceSpec, Size};
use crate::draft::{Draft, DraftedPiece};

/// What finishing one piece needs to know.
pub(super) struct Context<'a> {
    pub(super) spec: &'a PieceSpec,
    pub(super) size: &'a Size,
    pub(super) draft: &'a Draft,
    pub(super) drafted: &'a DraftedPiece,
    /// Whether a seam joins it to a piece.
    pub(super) is_sewn: bool,
}
