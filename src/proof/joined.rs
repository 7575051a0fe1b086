//! A piece spread over sheets, put together again as a buyer does it: every sheet's line is cut where
//! the next sheet's edge comes to lie, the sheets are laid against each other by their join marks,
//! and the whole is compared with the intended outline. Millimetres; the whole has the axes of the
//! first sheet. Nothing here knows where the sheets were meant to lie.

use super::intended::IntendedOutline;
use super::joins::{Joint, joints};
use super::outline::{Drawing, Drawn};
use super::ring::Ring;
use kurbo::{Affine, Point, Rect, Vec2};
use std::collections::VecDeque;

/// The joined piece, and the halves of a join mark, may be off by this, mm.
pub const JOIN_WITHIN: f64 = 0.01;

/// Points at which the joined outline is compared lie no further apart than this, mm.
const SPACING: f64 = 0.5;

/// A point may lie this far beyond the edge of a cut sheet, mm, and still be on it.
const EDGE_SLACK: f64 = 0.01;

/// Why sheets do not join; sheets by their index.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Misjoin {
    /// No chain of join marks leads from the first sheet to this one.
    Alone {
        /// The sheet.
        sheet: usize,
    },
    /// The marks of two sheets do not close: one of them stands elsewhere.
    Open {
        /// The sheets.
        sheets: [usize; 2],
        /// How far apart the halves of the worst mark lie, mm.
        apart: f64,
    },
    /// Of the joined piece this point, in the axes of the piece, is on no sheet.
    Gap {
        /// The point.
        at: Point,
    },
}

/// One sheet, cut and laid in its place.
struct Part<'a> {
    ring: &'a Ring,
    window: Rect,
    /// Points on the joints, each with the direction into what is kept.
    cuts: Vec<(Point, Vec2)>,
    place: Affine,
    back: Affine,
}

/// Greatest distance of the joined outline from the intended one and back, mm.
///
/// # Errors
/// If the sheets cannot be joined by their marks.
pub fn joined_deviation(
    outline: &IntendedOutline,
    drawings: &[Drawing],
    drawn: &Drawn<'_>,
) -> Result<f64, Misjoin> {
    let joints = joints(drawings, drawn.sheets);
    let places = places(drawings, &joints)?;
    let parts: Vec<Part<'_>> = drawings
        .iter()
        .enumerate()
        .filter_map(|(index, drawing)| {
            Some(Part {
                ring: drawn.ring(drawing.sheet, drawing.line)?,
                window: drawn.sheets[drawing.sheet].lines[drawing.line].window,
                cuts: cuts(index, &joints),
                place: places[index],
                back: places[index].inverse(),
            })
        })
        .collect();
    let (Some(own), Some(first)) = (Ring::new(&outline.path), drawings.first()) else {
        return Ok(0.0);
    };
    let to_whole = first.placement.to_affine();
    let whole = own.transformed(to_whole);
    let mut worst: f64 = 0.0;
    for part in &parts {
        let kept = part.ring.fine_points(SPACING).into_iter();
        for point in kept.filter(|p| part.keeps(*p)) {
            worst = worst.max(whole.distance(part.place * point));
        }
    }
    for point in whole.fine_points(SPACING) {
        let on_sheets = parts.iter().filter_map(|part| part.distance(point));
        match on_sheets.reduce(f64::max) {
            Some(off) => worst = worst.max(off),
            // a sheet that is off its place leaves a gap where it should lie: the cause is told
            None if worst > JOIN_WITHIN => {}
            None => {
                let at = to_whole.inverse() * point;
                return Err(Misjoin::Gap { at });
            }
        }
    }
    Ok(worst)
}

/// Where each sheet lies in the whole, and the middles of the join marks there.
///
/// # Errors
/// If the sheets cannot be joined by their marks.
pub fn laid(drawings: &[Drawing], drawn: &Drawn<'_>) -> Result<(Vec<Affine>, Vec<Point>), Misjoin> {
    let joints = joints(drawings, drawn.sheets);
    let places = places(drawings, &joints)?;
    let marks = joints.iter().flat_map(|joint| {
        let place = places[joint.first];
        joint.marks.iter().map(move |(half, _)| place * half.centre)
    });
    let marks = marks.collect();
    Ok((places, marks))
}

impl Part<'_> {
    /// Whether a point of the page is left when the sheet is cut.
    fn keeps(&self, point: Point) -> bool {
        let inside = |(at, into): &(Point, Vec2)| (point - *at).dot(*into) >= -EDGE_SLACK;
        let window = self.window.inflate(EDGE_SLACK, EDGE_SLACK);
        window.contains(point) && self.cuts.iter().all(inside)
    }

    /// Distance of the sheet's line from a point of the whole, mm, if the point is on the sheet.
    fn distance(&self, point: Point) -> Option<f64> {
        let own = self.back * point;
        self.keeps(own).then(|| self.ring.distance(own))
    }
}

/// Where the sheet of drawing `index` ends once it is joined: at its own trimmed edge, or at the
/// trimmed edge of the sheet that is laid on it. The middles of the join marks stand on both.
fn cuts(index: usize, joints: &[Joint]) -> Vec<(Point, Vec2)> {
    let mut cuts = Vec::new();
    for joint in joints {
        for (a, b) in &joint.marks {
            if joint.first == index {
                cuts.push((a.centre, a.into));
            } else if joint.second == index {
                cuts.push((b.centre, b.into));
            }
        }
    }
    cuts
}

/// From each sheet's axes to the whole's: sheet after sheet is laid against one that lies already.
fn places(drawings: &[Drawing], joints: &[Joint]) -> Result<Vec<Affine>, Misjoin> {
    let sheets = |joint: &Joint| {
        let (a, b) = (drawings[joint.first].sheet, drawings[joint.second].sheet);
        [a.min(b), a.max(b)]
    };
    let mut places: Vec<Option<Affine>> = vec![None; drawings.len()];
    if let Some(first) = places.first_mut() {
        *first = Some(Affine::IDENTITY);
    }
    let mut reached = VecDeque::from([0]);
    while let Some(here) = reached.pop_front() {
        let Some(place) = places.get(here).copied().flatten() else {
            continue;
        };
        for joint in joints {
            let Some(closing) = joint.closing() else {
                continue;
            };
            let (there, by) = match here {
                _ if here == joint.first => (joint.second, closing),
                _ if here == joint.second => (joint.first, closing.inverse()),
                _ => continue,
            };
            if places[there].is_none() {
                places[there] = Some(place * by);
                reached.push_back(there);
            }
        }
    }
    let alone = |index: usize| Misjoin::Alone {
        sheet: drawings[index].sheet,
    };
    let places: Vec<Affine> = places
        .into_iter()
        .enumerate()
        .map(|(index, place)| place.ok_or_else(|| alone(index)))
        .collect::<Result<_, _>>()?;
    // a ring of sheets must close, too
    for joint in joints {
        let apart = joint.apart(places[joint.first], places[joint.second]);
        if apart > JOIN_WITHIN {
            let sheets = sheets(joint);
            return Err(Misjoin::Open { sheets, apart });
        }
    }
    Ok(places)
}
