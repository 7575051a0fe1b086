//! Step 5: a seam line becomes a finished piece: cut line, notches, grain, fold, marks and cuts;
//! and seams are walked.
//!
//! [`finish`] makes the pieces of one size from its draft; [`seam::walk_all`] lays edge on edge.

mod allowance;
mod finish;
mod grain;
mod mark;
pub mod model;
mod notch;
pub mod seam;

pub use finish::finish;
pub use model::*;
