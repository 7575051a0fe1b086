//! Step 5: a seam line becomes a finished piece: cut line, notches, grain, fold, marks and cuts;
//! and seams are walked.

pub mod model;

pub use model::*;
