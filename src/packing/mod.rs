//! Irregular packing of sewing pieces: on cloth of one width as short as possible ([`strip`]), or on
//! few sheets, rectangular or of any outline ([`sheets`]). mm, y down, f64.
//!
//! The way of the data: [`Item`]s are tidied, simplified outwards, grown by half the spacing and
//! turned (`prepare`); a first lay is filled greedily (`greedy`); workers side by side shorten the
//! cloth and pull overlapping pieces apart (`search`, `worker`, `separate`, `place_search`), after
//! Gardeyn, Vanden Berghe and Wauters 2025, "An open-source heuristic to reboot 2D nesting
//! research", arXiv:2509.13329. Whether two pieces meet is not found from their outlines each time
//! but from the curve of all shifts at which they do (`meeting`), how deep they lie in each other
//! from a grid over it (`depth_map`). What comes out is verified with the true rings ([`faults`]);
//! a lay that does not stand up to it is never given back.
//!
//! The same items, effort and seed give the same layout on every machine and on any number of
//! threads, except where the effort is given as a time.

mod depth_map;
mod effort;
mod greedy;
mod item;
mod lay;
mod meeting;
mod place_search;
mod poles;
mod prepare;
mod random;
mod ring;
mod search;
mod separate;
mod shape;
mod sheets;
mod simplify;
mod strip;
mod swell;
mod task;
mod verify;
mod worker;

pub use effort::{Budget, Effort};
pub use item::{Item, Layout, Placed, Reason, Refusal, Turns};
pub use sheets::{Sheet, Sheets, Stock, greedy_sheets, sheets};
pub use strip::{Strip, greedy_strip, strip};
pub use verify::{Cloth, Fault, faults};

#[cfg(test)]
mod tests;
