//! One page of a finished PDF as a stranger sees it: page boxes, closed stroked lines, letters, links, and
//! the box of everything that leaves ink.
//!
//! Millimetres, y down, from the top left corner of the trimmed page as it is shown (`/Rotate` and
//! `/UserUnit` are applied). What shows no ink is left out: white or fully transparent paint,
//! invisible text, and whatever lies outside its clips or off the page.

use super::ink::{DrawnLine, Ink, Tone};
use super::letter::Letter;
use super::paint::{HalfRing, Paint};
use kurbo::Rect;
use std::collections::BTreeMap;

/// One page.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sheet {
    /// Width of the trimmed page, mm.
    pub width: f64,
    /// Height of the trimmed page, mm.
    pub height: f64,
    /// Whether the sheet is larger than the trimmed page, so that ink may run over the edge.
    pub bleed: bool,
    /// Closed stroked lines of one subpath, dark enough to be followed.
    pub lines: Vec<DrawnLine>,
    /// Everything that leaves ink.
    pub ink: Vec<Ink>,
    /// Everything that is painted, white paint too, in the order of painting.
    pub paint: Vec<Paint>,
    /// Half rings, which mark where sheets join.
    pub half_rings: Vec<HalfRing>,
    /// Colours of letters and stroked lines; white ones are left out.
    pub tones: Vec<Tone>,
    /// Letters in the order in which they are painted.
    pub letters: Vec<Letter>,
    /// Box of the ink of each marked content, by its number.
    pub extents: BTreeMap<i32, Rect>,
    /// Links to pages of the file.
    pub links: Vec<Link>,
}

/// A link to a page of the file.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Link {
    /// Where it stands.
    pub bounds: Rect,
    /// The page it leads to, from 1.
    pub page: usize,
}
