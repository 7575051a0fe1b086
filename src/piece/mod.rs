//! Step 5: seam line and cut line become a finished piece: notches, grain, fold, marks and cuts;
//! and seams are walked.
//!
//! [`finish`] makes the pieces of one size from its draft; [`seam::walk_all`] lays edge on edge.

mod context;
mod finish;
mod grain;
mod mark;
mod mirrored;
pub mod model;
mod notch;
pub mod seam;
mod seen;

pub use finish::finish;
pub use model::*;
