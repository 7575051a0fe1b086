//! pressfoot computes, typesets and proofs patterns for small sewn things, doll shoes first.
//!
//! The data go one way, and the modules stand in that order:
//!
//! 1. [`folder::DesignFolder::read`] reads every file of a design once;
//! 2. [`design::read`] makes a checked [`design::Design`] of them, every mistake told at its place;
//! 3. [`foot::Foot::new`] smooths a tracing;
//! 4. [`draft::shoe::draft_shoe`] drafts a shoe over a foot, and [`draft::draft()`] gives every formula
//!    its value and every piece its seam and cut line, for one size;
//! 5. [`piece::finish`] adds notches and marks, and walks the seams;
//! 6. [`materials::gather`] says what to buy and what to cut;
//! 7. [`plates::plan()`] lays the pieces out on true-scale pages;
//! 8. [`figure`] draws them small, and the finished shoe from its form;
//! 9. [`booklet::typeset`] sets the booklet as PDF;
//! 10. [`proof::prove`] opens the PDF again and compares it with what was intended;
//! 11. [`review::review`] reads the design as an editor would;
//! 12. [`edition::Numbers`] keeps every figure, [`edition::Record`] what was sold; [`export`] writes cut
//!     files.
//!
//! Before all of them, [`trace`] reads the outline of a foot from a scan or photograph.
//!
//! Printed words come from the tables of [`language`].
//! [`pipeline`] calls them in turn, [`desk`] shows a browser what is written, [`cli`] is the command line. [`geometry`] and [`diagnostic`]
//! serve all of them. Lengths are millimetres, y points down, outlines run clockwise on the page.

pub mod booklet;
pub mod cli;
pub mod design;
pub mod desk;
pub mod diagnostic;
pub mod draft;
pub mod edition;
pub mod export;
pub mod figure;
pub mod folder;
pub mod foot;
pub mod geometry;
pub mod language;
pub mod materials;
pub mod packing;
pub mod piece;
pub mod pipeline;
pub mod plates;
pub mod proof;
pub mod review;
pub mod trace;
