//! Pieces for other programs and machines.
//!
//! [`cut_file()`] writes the cut line of one piece as a drawing at true scale, for a cutter.
//! Nothing here touches the disk.

mod cut_file;

pub use cut_file::cut_file;
