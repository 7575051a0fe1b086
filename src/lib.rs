//! pressfoot computes, typesets and proofs patterns for small sewn things.

pub mod design;
pub mod diagnostic;
pub mod foot;
pub mod geometry;
pub mod piece;
pub mod proof;
