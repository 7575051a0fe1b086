//! What was drawn on the paper: closed lines, and filled shapes. Rings in pixels, clockwise on the page.

use super::plane::{Mask, Plane};
use super::regions::{Region, Regions};
use super::ruled;
use crate::geometry::hull::hull;
use crate::geometry::ring::{area, contains};
use kurbo::{Point, Vec2};

/// A shape is at least this long, mm; what is smaller is a letter or a blot.
const SHORTEST: f64 = 9.0;

/// A shape fills this share of its convex hull: a foot with a slender waist fills 0.92.
const SOLID: f64 = 0.85;

/// Half the gaps in a line that are tried to be closed, mm. Beyond the last nothing tells a broken line
/// from two lines.
const HALF_GAPS: [f64; 8] = [0.0, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0];

/// Specks shorter than this, mm, are no line.
const SPECK: f64 = 1.5;

/// Half the widest line that may be drawn across a shape (an axis, a mark), mm.
const HALF_CHORD: f64 = 0.8;

/// Pixels to the mm in which closed lines are looked for: gaps shorter than one do not show, and are told
/// when the line is followed.
const ROUGH: f64 = 3.0;

/// What a shape is drawn with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Drawn {
    /// A closed line, found with gaps up to twice this bridged, pixels; the ring lies inside it.
    Line(f64),
    /// A filled shape; the ring is its edge.
    Filled,
}

/// The rough ring of a shape.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// Points round it.
    pub ring: Vec<Point>,
    /// What it is drawn with.
    pub drawn: Drawn,
}

/// All that was found.
#[derive(Debug, Clone, Default)]
pub struct Shapes {
    /// Shapes, the lines first.
    pub list: Vec<Shape>,
    /// Where a line as long as a foot leaves the picture.
    pub cut: Option<Point>,
    /// Where something dark and solid does: a cut-out foot, or the table beside the paper.
    pub cut_filled: Option<Point>,
    /// How many lines of a ruling run across the picture, if it is ruled.
    pub ruled: Option<usize>,
    /// Whether there are lines as long as a foot, closed or not.
    pub lines: bool,
}

/// What is looked at.
#[derive(Clone, Copy)]
pub struct View<'v> {
    /// All ink.
    pub ink: &'v Plane,
    /// What of it is narrow: lines.
    pub fine: &'v Plane,
    /// From here on something is ink and not noise, on the softened plane.
    pub level: f32,
    /// Pixels to the mm.
    pub per_mm: f64,
    /// What is no tracing.
    pub apart: Apart,
}

/// Where nothing is a tracing.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub enum Apart {
    /// Nowhere.
    #[default]
    Nowhere,
    /// On a card with these corners.
    Card([Point; 4]),
    /// Outside of the field of a sheet.
    Outside([Point; 4]),
}

impl Apart {
    /// The same in a picture that is `times` as large.
    fn scaled(self, times: f64) -> Self {
        let scaled = |corners: [Point; 4]| corners.map(|p| (p.to_vec2() * times).to_point());
        match self {
            Self::Nowhere => Self::Nowhere,
            Self::Card(corners) => Self::Card(scaled(corners)),
            Self::Outside(corners) => Self::Outside(scaled(corners)),
        }
    }

    /// Whether `place` is such a place.
    fn holds(&self, place: Point) -> bool {
        match self {
            Self::Nowhere => false,
            Self::Card(card) => {
                let centre = middle(card);
                let grown = card.map(|p| centre + (p - centre) * 1.1);
                contains(&grown, place)
            }
            Self::Outside(field) => !contains(field, place),
        }
    }
}

impl View<'_> {
    /// The shapes in view.
    pub fn shapes(&self) -> Shapes {
        let mut found = Shapes::default();
        self.lines(&mut found);
        self.filled(&mut found);
        let rings: Vec<Vec<Point>> = found.list.iter().map(|s| s.ring.clone()).collect();
        let within = |shape: &Shape| {
            let others = rings.iter().filter(|r| area(r) > area(&shape.ring));
            others.into_iter().any(|r| contains(r, middle(&shape.ring)))
        };
        found.list.retain(|shape| !within(shape));
        found
    }

    fn is_long(&self, region: &Region, shrunk: f64) -> bool {
        region.reach() + 2.0 * shrunk >= SHORTEST * self.per_mm
    }

    /// The lines without specks, and whether one of them leaves the picture.
    fn line_mask(&self, found: &mut Shapes) -> Mask {
        let mut mask = Mask::of(&self.fine.softened(), self.level);
        let regions = Regions::of(&mask, true);
        let speck = |r: &Region| r.reach() < SPECK * self.per_mm || self.apart.holds(r.centre());
        let drop: Vec<bool> = regions.list.iter().map(speck).collect();
        for (own, label) in mask.data.iter_mut().zip(&regions.labels) {
            *own &= *label > 0 && !drop[*label as usize - 1];
        }
        for (region, _) in regions.list.iter().zip(&drop).filter(|(_, drop)| !**drop) {
            let long = region.reach() >= 1.5 * SHORTEST * self.per_mm;
            found.lines |= long;
            // the shadow of a sheet's edge runs along the border
            let leaves = region.on_border > 0 && (region.on_border as f64) < 0.3 * region.reach();
            if long && leaves && found.cut.is_none() {
                found.cut = self.leaves(&regions, region);
            }
        }
        mask
    }

    /// Where a region meets the border of the picture.
    fn leaves(&self, regions: &Regions, region: &Region) -> Option<Point> {
        let (width, height) = (self.ink.width, self.ink.height);
        let on_border = |i: &usize| {
            let (x, y) = (i % width, i / width);
            x == 0 || y == 0 || x + 1 == width || y + 1 == height
        };
        let mut own = (0..width * height).filter(|i| regions.labels[*i] == region.label);
        let pixel = own.find(on_border)?;
        Some(Point::new((pixel % width) as f64, (pixel / width) as f64))
    }

    /// Closed lines, by the holes they enclose: first those that are closed, then those with larger and
    /// larger gaps.
    fn lines(&self, found: &mut Shapes) {
        let mask = self.line_mask(found);
        // rough rings do: the line is followed in the whole picture
        let times = (self.per_mm / ROUGH).floor().max(1.0);
        let mask = mask.coarse(times as usize);
        // the printed lines of a tracing sheet are known
        if !matches!(self.apart, Apart::Outside(_)) {
            found.ruled = ruled::lines(&mask);
        }
        let rough = View {
            per_mm: self.per_mm / times,
            apart: self.apart.scaled(1.0 / times),
            ..*self
        };
        rough.closed(&mask, found, times);
    }

    /// Closed lines of `mask`, each of whose pixels are `times` of the picture's.
    fn closed(&self, mask: &Mask, found: &mut Shapes, times: f64) {
        let distance = mask.distance();
        for half_gap in HALF_GAPS {
            let bridged = half_gap * self.per_mm;
            let open = Mask::of(&distance, (bridged + 0.5) as f32);
            let regions = Regions::of(&open, false);
            let hole = |r: &&Region| {
                r.on_border == 0 && self.is_long(r, bridged) && !self.apart.holds(r.centre())
            };
            let holes: Vec<&Region> = regions.list.iter().filter(hole).collect();
            for ring in self.joined(&regions, &holes, bridged) {
                let ring: Vec<Point> = ring
                    .iter()
                    .map(|p| (p.to_vec2() * times).to_point())
                    .collect();
                let centre = middle(&ring);
                let known =
                    |s: &Shape| contains(&s.ring, centre) || contains(&ring, middle(&s.ring));
                if !found.list.iter().any(known) {
                    let drawn = Drawn::Line(bridged * times);
                    found.list.push(Shape { ring, drawn });
                }
            }
        }
    }

    /// The rings of holes; holes that only a line across the shape parts are one.
    fn joined(&self, regions: &Regions, holes: &[&Region], bridged: f64) -> Vec<Vec<Point>> {
        let sound = |ring: &Vec<Point>| {
            ring.len() > 20 && area(ring) / area(&hull(ring.clone())).max(1.0) >= SOLID
        };
        let single = |hole: &&Region| regions.ring(&[hole.label], hole.bounds);
        if holes.len() < 2 {
            return holes.iter().map(single).filter(sound).collect();
        }
        let reach = HALF_CHORD * self.per_mm + bridged;
        let labels: Vec<u32> = holes.iter().map(|h| h.label).collect();
        let union = regions.mask(&labels);
        let grown = Mask::of(&union.distance(), reach as f32).other();
        // grown and worn by the same reach: narrow lines across are gone, the rest is as it was
        let closed = Mask::of(&grown.other().distance(), reach as f32);
        let groups = Regions::of(&closed, true);
        let mut rings = Vec::new();
        for group in &groups.list {
            let ring = groups.ring(&[group.label], group.bounds);
            let own = |h: &&&Region| contains(&ring, first_place(regions, h));
            let members: Vec<&&Region> = holes.iter().filter(own).collect();
            let solid = area(&ring) / area(&hull(ring.clone())).max(1.0);
            match members.as_slice() {
                [] => {}
                [one] => rings.push(single(one)),
                _ if solid >= 0.5 * (1.0 + SOLID) => rings.push(ring),
                several => rings.extend(several.iter().map(|h| single(h))),
            }
        }
        rings.retain(sound);
        rings
    }

    /// Filled shapes: dark all over, and solid.
    fn filled(&self, found: &mut Shapes) {
        let regions = Regions::of(&Mask::of(&self.ink.softened(), self.level), true);
        for region in &regions.list {
            if !self.is_long(region, 0.0) || self.apart.holds(region.centre()) {
                continue;
            }
            let narrow = (region.area as f64) < 2.5 * self.per_mm * region.reach();
            if narrow {
                continue;
            }
            let ring = regions.ring(&[region.label], region.bounds);
            let enclosed = area(&ring).max(1.0);
            let whole = region.area as f64 / enclosed;
            let solid = enclosed / area(&hull(ring.clone())).max(1.0);
            if whole < 0.75 || solid < SOLID {
                continue;
            }
            if region.on_border > 0 {
                let share = enclosed / self.ink.data.len() as f64;
                if found.cut_filled.is_none() && share < 0.4 {
                    found.cut_filled = self.leaves(&regions, region);
                }
                continue;
            }
            let drawn = Drawn::Filled;
            found.list.push(Shape { ring, drawn });
        }
    }
}

/// Some place of a region.
fn first_place(regions: &Regions, region: &Region) -> Point {
    regions
        .first(region)
        .map_or(Point::ZERO, |p| p + Vec2::new(0.0, 0.01))
}

/// The mean of the points of a ring.
pub fn middle(ring: &[Point]) -> Point {
    let sum = ring.iter().fold(Vec2::ZERO, |sum, p| sum + p.to_vec2());
    (sum / ring.len().max(1) as f64).to_point()
}
