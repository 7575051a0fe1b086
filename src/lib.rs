//! pressfoot computes, typesets and proofs patterns for small sewn things.

pub mod booklet;
pub mod design;
pub mod diagnostic;
pub mod edition;
pub mod export;
pub mod folder;
pub mod geometry;
pub mod piece;
pub mod plates;
pub mod proof;
