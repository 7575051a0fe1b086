//! How a design is sewn: by hand, by machine, or both.

use super::thread::stitches_used;
use crate::design::Design;

/// Whether anything is sewn by hand, and whether anything is by machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SewnBy {
    /// By hand.
    pub hand: bool,
    /// By machine.
    pub machine: bool,
}

/// How the design is sewn, by the stitches that it names; none where it names none.
pub fn sewn_by(design: &Design) -> Option<SewnBy> {
    let stitches = stitches_used(design, design.thread.as_ref()?);
    (!stitches.is_empty()).then(|| SewnBy {
        hand: stitches.iter().any(|stitch| !stitch.by_machine()),
        machine: stitches.iter().any(|stitch| stitch.by_machine()),
    })
}
