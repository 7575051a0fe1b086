//! Pieces for other programs and machines.
//!
//! [`cut_files()`] draws every piece, and every sheet of cloth with the pieces that lie on it, at true
//! scale for a cutter: what is cut, creased, drawn and only looked at in groups of their own
//! (`plot.rs`), no line twice (`once.rs`). [`dxf()`] writes all pieces for programs of the trade. Nothing
//! here touches the disk.

mod cut_files;
mod dxf;
mod form;
mod layout_file;
mod lines;
mod listing;
mod once;
mod picture;
mod piece_file;
mod plot;
mod reference_square;
mod triangles;

pub use cut_files::{CutFile, cut_files};
pub use dxf::dxf;
pub use listing::{BookletFact, LargeFact, ListingJob, listing};
pub use picture::{Sharing, picture_of_drawings, picture_of_pages};

#[cfg(test)]
mod fixture;
