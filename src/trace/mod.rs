//! The tracing of a foot, read from a scan or a photograph of the paper it was drawn on.
//!
//! [`trace`] goes this way: [`picture`] decodes the file, [`light`] says how much darker than the paper
//! every pixel is, [`reference`] how large a pixel is (the resolution of a scan, or the [`projection`] that a
//! [`card`] of known size or the printed [`sheet`] gives), [`shapes`] finds closed lines and filled shapes,
//! [`follow`] the middle of the line or the edge at many places, and [`axis`] heel and toe. [`shown`]
//! draws over the picture what was taken; [`drawing`] takes outlines from drawings in true size, and
//! [`foot_file`] writes the text of a foot's file, [`replaced`] puts a new tracing into one that is there. Nothing is read or written here. Places are in pixels or mm, y
//! downwards, rings clockwise on the page.

pub mod axis;
pub mod card;
pub mod drawing;
pub mod follow;
pub mod foot_file;
pub mod light;
pub mod photo;
pub mod picture;
pub mod plane;
pub mod projection;
pub mod reference;
pub mod regions;
pub mod replaced;
mod ring;
mod ruled;
pub mod shapes;
pub mod sheet;
pub mod shown;
pub mod side;
#[cfg(test)]
mod tests;
mod told;

use crate::diagnostic::Diagnostics;
use crate::geometry::curve;
use crate::geometry::smooth::{SmoothFault, smooth_outline};
use axis::Ends;
use follow::Followed;
use kurbo::{BezPath, Point, Shape as _, Vec2};
use picture::Picture;
use reference::{Kind, Reference};
use shapes::View;
use side::Side;

/// Points of an outline: enough for every bend of a foot, few enough to be read.
const POINTS: usize = 84;

/// A longer gap in the line, mm, is not bridged: nobody could say how the line would go on.
pub const LONGEST_GAP: f64 = 4.0;

/// A foot lies along the printed line if its longest chord is turned against it by less than this, as a
/// sine: 12°.
const ALONG: f64 = 0.2;

/// Where the toe is in the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Toe {
    /// At the top.
    Up,
    /// At the bottom.
    Down,
    /// At the left.
    Left,
    /// At the right.
    Right,
}

impl Toe {
    fn direction(self) -> Vec2 {
        match self {
            Self::Up => Vec2::new(0.0, -1.0),
            Self::Down => Vec2::new(0.0, 1.0),
            Self::Left => Vec2::new(-1.0, 0.0),
            Self::Right => Vec2::new(1.0, 0.0),
        }
    }
}

/// What the designer says of the picture.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Wish {
    /// Pixels to the inch of a scan.
    pub dots_per_inch: Option<f64>,
    /// The size is that of a card in the picture, whatever the file says.
    pub card: bool,
    /// Where the toe is.
    pub toe: Option<Toe>,
}

/// One shape, on the foot's axes: the centre heel at the origin, the centre toe above it on the page, as
/// seen from above.
#[derive(Debug, Clone, PartialEq)]
pub struct Traced {
    /// The outline, one closed path, mm.
    pub outline: BezPath,
    /// Points along it, mm.
    pub points: Vec<Point>,
    /// From the heel mark to the toe mark, mm.
    pub chord: f64,
    /// The outline as it was drawn, for drawings: path data in mm on the same axes.
    pub drawn: Option<String>,
    /// From the hindmost to the foremost place, mm.
    pub length: f64,
    /// The greatest width across, mm.
    pub width: f64,
    /// How far the length may be off, mm: two standard deviations.
    pub accuracy: f64,
    /// How thick the line is, mm; `None` for a filled shape.
    pub line: Option<f64>,
    /// Heel and toe in the picture, pixels.
    pub ends: [Point; 2],
    /// The outline in the picture, pixels.
    pub pixels: Vec<Point>,
    /// Gaps of the line that were bridged, in the picture.
    pub gaps: Vec<Point>,
    /// Which foot it is, if the tracing sheet says so.
    pub side: Option<Side>,
}

/// What came of a picture.
#[derive(Debug)]
pub struct Sheet {
    /// The picture.
    pub picture: Picture,
    /// What told its size.
    pub kind: Kind,
    /// Its shapes from left to right, as seen with the toes up.
    pub shapes: Vec<Traced>,
}

/// Traces the picture in the bytes of a file. `None` if nothing came of it; then `diagnostics` says why.
pub fn trace(bytes: &[u8], wish: &Wish, diagnostics: &mut Diagnostics) -> Option<Sheet> {
    let picture = match Picture::decoded(bytes) {
        Ok(picture) => picture,
        Err(fault) => {
            diagnostics.push(told::unreadable(&fault));
            return None;
        }
    };
    let ink = light::ink(&picture);
    if let Some(bad) = told::bad_light(&ink) {
        diagnostics.push(bad);
        return None;
    }
    // softened noise is 0.375 of it; five times that is none
    let level = (1.9 * ink.noise).clamp(0.1, 0.4) as f32;
    let reference = reference::find(&picture, &ink, level, wish, diagnostics)?;
    let [width, height] = picture.size().map(|s| s as f64);
    let centre = Point::new(0.5 * width, 0.5 * height);
    let per_mm = 1.0 / reference.projection.coarsest(centre);
    let fine = follow::fine(&ink.plane, per_mm);
    let view = View {
        ink: &ink.plane,
        fine: &fine,
        level,
        per_mm,
        apart: reference.apart,
    };
    let shapes = view.shapes();
    if let Some(lines) = shapes.ruled {
        diagnostics.push(told::ruled(lines));
        return None;
    }
    let mut followed: Vec<Followed> = shapes
        .list
        .iter()
        .filter_map(|s| follow::follow(&view, s))
        .collect();
    keep_the_large(&mut followed);
    if followed.is_empty() {
        diagnostics.push(told::no_shape(&shapes, [width, height]));
        return None;
    }
    if let Some(place) = shapes.cut {
        diagnostics.push(told::also_cut(place, [width, height]));
    }
    let laid: Vec<Option<Traced>> = followed
        .iter()
        .map(|followed| laid(followed, &reference, wish, [width, height], diagnostics))
        .collect();
    let mut shapes: Vec<Traced> = laid.into_iter().collect::<Option<_>>()?;
    from_left(&mut shapes);
    Some(Sheet {
        picture,
        kind: reference.kind,
        shapes,
    })
}

/// Drops what is less than half as long round as the longest: stamps and blots beside the feet.
fn keep_the_large(followed: &mut Vec<Followed>) {
    let longest = followed
        .iter()
        .map(|f| ring::length(&f.ring))
        .fold(0.0, f64::max);
    followed.retain(|f| ring::length(&f.ring) > 0.5 * longest);
}

/// Orders shapes from left to right as they lie with the toes of the first one up.
fn from_left(shapes: &mut [Traced]) {
    let Some([heel, toe]) = shapes.first().map(|s| s.ends) else {
        return;
    };
    let along = toe - heel;
    let right = Vec2::new(-along.y, along.x);
    let place = |s: &Traced| shapes::middle(&s.pixels).to_vec2().dot(right);
    shapes.sort_by(|a, b| place(a).total_cmp(&place(b)));
}

/// A followed shape in mm, smoothed, on its axes.
fn laid(
    followed: &Followed,
    reference: &Reference,
    wish: &Wish,
    size: [f64; 2],
    diagnostics: &mut Diagnostics,
) -> Option<Traced> {
    let projection = &reference.projection;
    if !gaps_are_short(followed, reference, size, diagnostics) {
        return None;
    }
    let ring: Vec<Point> = followed.ring.iter().map(|p| projection.to_mm(*p)).collect();
    let path = match smooth_outline(&ring) {
        Ok(path) => path,
        Err(fault) => {
            let place = match fault {
                SmoothFault::Crosses(place) => nearest(&ring, place).map(|i| followed.ring[i]),
                _ => followed.ring.first().copied(),
            };
            diagnostics.push(told::crosses(place.unwrap_or_default(), size));
            return None;
        }
    };
    let pixel = |mm: Point| {
        let guess = nearest(&ring, mm).map_or(Point::ZERO, |i| followed.ring[i]);
        projection.to_pixel(mm, guess).unwrap_or(guess)
    };
    let (ends, side) = match ends_of(&path, reference, wish, &pixel) {
        Ok(found) => found,
        Err(both) => {
            diagnostics.push(told::which_is_the_toe(both.map(pixel), wish.toe, size));
            return None;
        }
    };
    let outline = ends.to_axes() * path.clone();
    let bounds = outline.bounding_box();
    let [heel, toe] = [ends.heel, ends.toe].map(pixel);
    let per_pixel = projection.coarsest(heel.midpoint(toe));
    let line = told::line_uncertainty(per_pixel, followed.seen.iter().filter(|s| **s).count());
    let scale = told::scale_uncertainty(reference, heel, toe, bounds.height());
    let accuracy = 2.0 * line.hypot(scale);
    if let Some(uncertain) = told::uncertain(accuracy, bounds.height()) {
        diagnostics.push(uncertain);
    }
    Some(Traced {
        points: curve::spread(&outline, POINTS),
        chord: ends.heel.distance(ends.toe),
        drawn: None,
        length: bounds.height(),
        width: bounds.width(),
        accuracy,
        line: followed.thickness.map(|pixels| pixels * per_pixel),
        ends: [heel, toe],
        pixels: curve::spread(&path, 4 * POINTS)
            .into_iter()
            .map(pixel)
            .collect(),
        gaps: followed.gaps.iter().map(|(place, _)| *place).collect(),
        side,
        outline,
    })
}

/// Heel and toe, and which foot it is if it was drawn on the tracing sheet: there, heel and toe are where
/// the printed line goes through the outline, if the foot lies along it.
///
/// # Errors
/// The two ends if nothing tells which is the toe.
fn ends_of(
    path: &BezPath,
    reference: &Reference,
    wish: &Wish,
    pixel: &dyn Fn(Point) -> Point,
) -> Result<(Ends, Option<Side>), [Point; 2]> {
    let Some(sheet) = &reference.sheet else {
        return Ok((axis::ends(path, wish.toe, pixel)?, None));
    };
    let middle = path.bounding_box().center();
    let on_sheet = |mm: Point| sheet.to_mm(pixel(mm));
    let (side, through, towards_toe) = sheet::line_at(on_sheet(middle));
    let toe = wish.toe.or(Some(Toe::Up));
    let seen: &dyn Fn(Point) -> Point = if wish.toe.is_some() { pixel } else { &on_sheet };
    let chord = axis::ends(path, toe, seen)?;
    let place = |far: f64| {
        let seen = sheet.to_pixel(through + towards_toe * far, pixel(middle))?;
        Some(reference.projection.to_mm(seen))
    };
    let printed = place(-200.0).zip(place(-40.0)).and_then(|(heel, toe)| {
        let along = (toe - heel).normalize();
        let turned = along.cross((chord.toe - chord.heel).normalize()).abs();
        let ahead = along.dot(chord.toe - chord.heel) > 0.0;
        let ends = axis::ends_on_line(path, heel, along)?;
        (turned < ALONG && ahead).then_some(ends)
    });
    Ok((printed.unwrap_or(chord), Some(side)))
}

/// Whether all gaps of the line can be bridged; says what was bridged and what was not.
fn gaps_are_short(
    followed: &Followed,
    reference: &Reference,
    size: [f64; 2],
    diagnostics: &mut Diagnostics,
) -> bool {
    let mut short = true;
    for (place, pixels) in &followed.gaps {
        let long = pixels * reference.projection.coarsest(*place);
        diagnostics.push(told::gap(*place, long, size));
        short &= long <= LONGEST_GAP;
    }
    short
}

fn nearest(points: &[Point], place: Point) -> Option<usize> {
    let off = |i: &usize| points[*i].distance_squared(place);
    (0..points.len()).min_by(|a, b| off(a).total_cmp(&off(b)))
}
