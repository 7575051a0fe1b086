//! A topline gathered on an elastic at the back: the casing's stitching and small folds.
//! Millimetres, the foot's axes.

use super::upper::Upper;
use super::{Extent, ShoeLook, part};
use crate::figure::drawing::polyline::lengths;
use crate::figure::drawing::{Curve, LineKind};
use crate::geometry::space::Vec3;

/// Shares of the foot's length: how far along the topline from the middle of the back the gathers
/// go, depth of the casing, distance of folds.
const SPAN: f64 = 0.40;
const CASING: f64 = 0.078;
const APART: f64 = 0.026;

/// Points of the casing's line on each side, and of a fold.
const POINTS: usize = 80;
const FOLD: usize = 8;

/// The gathers on both faces of the cloth.
pub(super) fn gathers(net: &Upper, look: &ShoeLook, extent: &Extent) -> Vec<Curve> {
    let length = extent.length;
    let mut drawn = Gathers::new(net, extent.cloth(look));
    let depth = CASING * length;
    for way in [1.0, -1.0] {
        drawn.casing(way, SPAN * length, depth);
    }
    // Folds look sewn, not ruled: small numbers that are always the same vary them.
    let mut chance = Chance(3);
    let mut at = 0.013 * length;
    let mut below = false;
    while at < (SPAN - 0.015) * length {
        for way in [1.0, -1.0] {
            let at = way * (at + (chance.next() - 0.5) * 0.006 * length);
            let more = chance.next();
            if below {
                drawn.fold(at, [0.006 * length, depth * (0.55 + 0.2 * more)], true);
                drawn.fold(at, [depth * 1.03, depth * (1.35 + 0.3 * more)], false);
            } else {
                drawn.fold(at, [depth * (0.42 - 0.2 * more), depth * 0.97], true);
            }
        }
        at += APART * length;
        below = !below;
    }
    drawn.curves
}

struct Gathers<'a> {
    net: &'a Upper,
    thickness: f64,
    /// Columns of the topline and how far along it they end.
    columns: Vec<usize>,
    along: Vec<f64>,
    curves: Vec<Curve>,
}

impl<'a> Gathers<'a> {
    fn new(net: &'a Upper, thickness: f64) -> Self {
        let columns = net.topline_columns();
        let ends = columns
            .iter()
            .map(|c| net.points[Upper::index(*c, Upper::ROWS - 1)]);
        let ends: Vec<Vec3> = ends.collect();
        Self {
            net,
            thickness,
            along: lengths(&ends),
            columns,
            curves: Vec::new(),
        }
    }

    /// The column that ends at a distance from the middle of the back along the topline; negative
    /// distances are on the inner side.
    fn column(&self, distance: f64) -> f64 {
        let whole = self.along.last().copied().unwrap_or(0.0);
        let wanted = if distance < 0.0 {
            whole + distance
        } else {
            distance
        };
        let last = self.along.len() - 1;
        let after = self.along.partition_point(|l| *l <= wanted).clamp(1, last);
        let (from, to) = (self.along[after - 1], self.along[after]);
        let share = ((wanted - from) / (to - from).max(1e-12)).clamp(0.0, 1.0);
        let (a, b) = (self.columns[after - 1] as f64, self.columns[after] as f64);
        a + share * (b - a)
    }

    fn push(&mut self, on: Vec<(Vec3, Vec3)>, kind: LineKind, both: bool) {
        let (points, normals): (Vec<Vec3>, Vec<Vec3>) = on.into_iter().unzip();
        if both {
            let inside = points.iter().zip(&normals);
            let inside = inside.map(|(p, n)| *p - *n * self.thickness).collect();
            let inward = normals.iter().map(|n| -*n).collect();
            self.curves.push(Curve::new(inside, inward, kind));
        }
        self.curves
            .push(Curve::new(points, normals, kind).tagged(part::GATHERS));
    }

    fn casing(&mut self, way: f64, span: f64, depth: f64) {
        let points = (0..POINTS).map(|i| {
            let distance = way * span * (i as f64 + 0.01) / (POINTS - 1) as f64;
            let column = self.column(distance);
            self.net.at(column, self.net.row_below(column, depth))
        });
        let points = points.collect();
        self.push(points, LineKind::Stitch, true);
    }

    /// A fold between two distances below the topline.
    fn fold(&mut self, at: f64, [from, to]: [f64; 2], both: bool) {
        let column = self.column(at);
        let (top, bottom) = (
            self.net.row_below(column, from),
            self.net.row_below(column, to),
        );
        let points = (0..FOLD).map(|i| {
            let share = i as f64 / (FOLD - 1) as f64;
            self.net.at(column, bottom + (top - bottom) * share)
        });
        let points = points.collect();
        self.push(points, LineKind::Gathers, both);
    }
}

/// Numbers between 0 and 1 in an order that is always the same (Steele, Lea & Flood 2014).
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^= bits >> 31;
        (bits >> 11) as f64 / (1u64 << 53) as f64
    }
}
