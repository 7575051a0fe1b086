//! pressfoot computes, typesets and proofs patterns for small sewn things.

pub mod booklet;
pub mod cli;
pub mod design;
pub mod diagnostic;
pub mod draft;
pub mod edition;
pub mod export;
pub mod figure;
pub mod folder;
pub mod foot;
pub mod geometry;
pub mod materials;
pub mod piece;
pub mod pipeline;
pub mod plates;
pub mod proof;
