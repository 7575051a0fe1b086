//! Step 2: the text of a design folder becomes a checked [`Design`].
//!
//! [`read`] reads `design.yaml`, `feet/*.yaml` and the heads of `booklet/*.md`; every mistake is
//! reported with its place, all in one run. What depends on a size (formulas, tracings) is kept as
//! it was written, already parsed and checked for names and dimension, and evaluated in `draft`,
//! in the order that [`order::order`] gives.

pub mod chapter;
pub mod cloth;
mod cloth_kind;
mod cutting;
pub mod drawing;
pub mod fit_spec;
mod fit_words;
pub mod form;
pub mod formula;
mod grading;
pub mod keys;
pub mod length_style;
pub mod look;
mod look_up;
pub mod model;
pub mod order;
pub mod paper;
pub mod picture;
pub mod piece_spec;
pub mod printed;
pub mod quantity;
mod read;
pub mod shoe_spec;
mod thread;
pub mod translated;
pub mod translation;
mod trim;

pub use chapter::{Chapter, ChapterKind, Part};
pub use cloth::*;
pub use cloth_kind::{ClothFacts, ClothKind};
pub use cutting::{CutColours, Cutting, NotchCut, PICTURE, Shop};
pub use fit_spec::*;
pub use form::Form;
pub use formula::Formula;
pub use length_style::LengthStyle;
pub use look::Look;
pub use look_up::{Accepted, CareKind, EditionFault, EditionNote, FinishedMeasure, LookUp, is_day};
pub use model::*;
pub use paper::{Paper, PaperKind, paper_keys};
pub use picture::{Crop, PictureSpec};
pub use piece_spec::*;
pub use quantity::{Dimension, Quantity};
pub(crate) use read::{node, spans, weight, yaml};
pub use read::{read, read_in_part, read_picture_block};
pub use shoe_spec::*;
pub use thread::{STITCH_LENGTH, Sewn, SewnLine, Stitch, ThreadSpec};
pub use translation::Translation;
pub use trim::{Trim, TrimKind, TrimWeight, is_soft};
