//! Step 12: a design as it was computed, in figures that other programs and later editions may
//! rely on; what of it was released, and what moved since.
//!
//! [`numbers`] writes the figures down. [`content()`] gathers what is printed; a [`Record`] keeps it
//! under the number of an edition, and [`file`](mod@file) is the form in which it stands in the design's folder;
//! [`belonging`] tells whether it is one of the design.
//! [`compare()`] tells what differs between two of them, [`overlay`] draws it, [`history`] puts it into
//! words. Nothing here writes to the disk.

pub mod belonging;
pub mod compare;
pub mod content;
pub mod displacement;
pub mod file;
pub mod history;
pub mod numbers;
pub mod overlay;
pub mod record;
pub mod sheet;
pub mod version;

pub use compare::{Comparison, compare};
pub use content::{Made, content};
pub use numbers::{Numbers, PagesFact};
pub use record::{Content, Record};
pub use version::{Change, Version};
