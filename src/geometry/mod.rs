//! Plane geometry in millimetres: outlines with named edges, their lengths, offsets and cut lines,
//! and the smoothing of hand tracings. No files, no YAML, no pages.
//!
//! Axes: x to the right, y down, as on the page. Rings run clockwise as seen on the page, which is
//! the direction in which `kurbo`'s signed area is positive; the outward normal of a tangent
//! `(x, y)` is then `(y, -x)`.

pub mod bands;
pub mod bezier_fit;
pub mod curve;
pub mod cut_line;
pub mod flatten;
pub mod hull;
mod inset;
pub mod mesh;
pub mod outline;
pub mod path_text;
pub mod pchip;
pub mod probe;
pub mod ring;
pub mod root;
pub mod rounding;
mod runs_back;
pub mod smooth;
pub mod space;
mod unfold;
mod unfold_ring;
pub mod units;
mod winding;

pub use cut_line::{Corner, CutFault, cut_line, edge_of};
pub use inset::INSET_TOLERANCE;
pub use outline::{Edge, Outline, OutlineFault};
pub use unfold::BEYOND_AXIS;
pub use unfold_ring::{ON_FOLD, unfolded as unfolded_ring};
