//! Step 10: the finished PDF, read as a stranger would, against what was intended.
//!
//! It shares no code with `plates` and `booklet`: what it knows of the design is only
//! [`Intended`], and everything else it takes from the bytes of the file.

pub mod intended;

pub use intended::{Intended, IntendedLine, IntendedOutline};
