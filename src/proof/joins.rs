//! Whether the sheets of a piece meet where their join marks say: each half ring on a sheet is looked
//! for on the next one, both seen in the axes of the piece that lies on them. Millimetres.

use super::outline::Drawing;
use super::sheet::Sheet;
use kurbo::{Point, Vec2};

/// Halves of a join mark may lie this far apart in the piece, mm: what a careful cutter can see.
pub const JOIN_WITHIN: f64 = 0.1;

/// Halves further apart than this, mm, belong to different joins.
const SAME_JOIN: f64 = 20.0;

/// A mark may stand this far outside the window of its sheet, mm: it stands on the window's edge.
const BESIDE: f64 = 1.0;

/// Two sheets that do not meet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Misjoin {
    /// Index of the one sheet.
    pub sheet: usize,
    /// Index of the other, and how far apart the halves of the mark between them lie in the piece, mm;
    /// `None` if no mark of the first sheet has a partner.
    pub other: Option<(usize, f64)>,
}

struct Half {
    drawing: usize,
    centre: Point,
    into: Vec2,
}

/// The first two sheets that do not meet, of those that show one piece in `drawings`.
pub fn misjoin(drawings: &[Drawing], sheets: &[Sheet]) -> Option<Misjoin> {
    if drawings.len() < 2 {
        return None;
    }
    let halves: Vec<Half> = drawings
        .iter()
        .enumerate()
        .flat_map(|(index, drawing)| halves_of(index, drawing, sheets))
        .collect();
    let sheet = |half: &Half| drawings[half.drawing].sheet;
    let mut met = vec![false; drawings.len()];
    for half in &halves {
        let partners = halves
            .iter()
            .filter(|other| other.drawing != half.drawing && other.into.dot(half.into) < -0.99);
        let nearest = partners
            .map(|other| (other, other.centre.distance(half.centre)))
            .min_by(|a, b| a.1.total_cmp(&b.1));
        match nearest {
            Some((_, apart)) if apart <= JOIN_WITHIN => met[half.drawing] = true,
            Some((other, apart)) if apart <= SAME_JOIN => {
                return Some(Misjoin {
                    sheet: sheet(half),
                    other: Some((sheet(other), apart)),
                });
            }
            _ => {}
        }
    }
    let alone = met.iter().position(|met| !met)?;
    Some(Misjoin {
        sheet: drawings[alone].sheet,
        other: None,
    })
}

/// The half rings on a drawing's sheet, in the axes of the piece.
fn halves_of(index: usize, drawing: &Drawing, sheets: &[Sheet]) -> Vec<Half> {
    let sheet = &sheets[drawing.sheet];
    let window = sheet.lines[drawing.line].window.inflate(BESIDE, BESIDE);
    let back = drawing.placement.to_affine().inverse();
    let turned = |v: Vec2| back * v.to_point() - back * Point::ZERO;
    sheet
        .half_rings
        .iter()
        .filter(|half| window.contains(half.centre))
        .map(|half| Half {
            drawing: index,
            centre: back * half.centre,
            into: turned(half.into),
        })
        .collect()
}
