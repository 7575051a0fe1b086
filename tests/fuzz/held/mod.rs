//! What must hold whatever pressfoot is given: one function for each kind of input, which panics where it
//! does not. A fuzzer calls them (`tests/fuzz/targets`), and `cargo test` with each file of
//! `tests/fuzz/corpus`, so nothing here knows of either.
//!
//! Lengths are mm, y down.

pub mod chapter;
pub mod cut_files;
pub mod design;
pub mod drawing;
pub mod files;
pub mod formula;
pub mod offset;
pub mod packing;
pub mod picture;
pub mod proof;
mod read_back;
mod rings;
mod said;
mod sketch;
pub mod tracing;

/// A kind of input: its name, which is that of its target and of its folder in the corpus, and what must
/// hold for its bytes.
pub type Held = (&'static str, fn(&[u8]));

/// All kinds.
pub const ALL: [Held; 10] = [
    ("chapter", chapter::check),
    ("cut_files", cut_files::check),
    ("design", design::check),
    ("drawing", drawing::check),
    ("formula", formula::check),
    ("offset", offset::check),
    ("packing", packing::check),
    ("picture", picture::check),
    ("proof", proof::check),
    ("tracing", tracing::check),
];
