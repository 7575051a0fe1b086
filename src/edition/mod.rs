//! Step 11: a design as it was computed, in figures that other programs and later editions may
//! rely on.
//!
//! [`numbers`] writes them down. Nothing here touches the disk.

pub mod numbers;
pub mod path_text;

pub use numbers::{Numbers, PagesFact};
