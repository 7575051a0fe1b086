//! The upper of a shoe as a net of points: columns from the heel's middle over the outer side, the
//! toe and the inner side back to the heel, rows from the feather edge up to the topline or, before
//! the throat, to the ridge. Millimetres, the foot's axes.

use super::Extent;
use crate::draft::shoe::ShoeForm;
use crate::figure::drawing::polyline::lengths;
use crate::figure::drawing::{Curve, net_triangles, vertex_normals};
use crate::foot::form::FootSide;
use crate::geometry::space::Vec3;
use std::f64::consts::FRAC_PI_2;
use std::sync::OnceLock;

/// Rows of the net.
const ROWS: usize = 20;

/// Columns of each side before and behind the throat.
pub(super) const BEFORE: usize = 32;
const BEHIND: usize = 56;

/// How much closer together columns stand near the throat, where the topline turns.
pub(super) const CROWD: f64 = 1.7;

/// How far each edge of a slit throat is drawn aside, as a share of the foot's length.
const SLIT: f64 = 0.05;

/// Rounds in which normals are averaged.
pub(super) const ROUNDS: usize = 2;

/// The net.
#[derive(Debug, Clone)]
pub(super) struct Upper {
    pub(super) points: Vec<Vec3>,
    pub(super) normals: Vec<Vec3>,
    /// Over the points that are the same for both sides, which are one here.
    pub(super) triangles: Vec<[u32; 3]>,
    pub(super) columns: usize,
    /// Columns at which the outer and the inner topline begin.
    pub(super) throats: [usize; 2],
    /// The line of stitching below the topline, made when it is first asked for.
    pub(super) stitching: OnceLock<Vec<Curve>>,
}

/// A section line of the net.
#[derive(Debug, Clone, Copy)]
struct Column {
    side: FootSide,
    distance: f64,
    /// How high it goes, from 0 to 1 on the ridge.
    top: f64,
}

impl Upper {
    pub(super) const ROWS: usize = ROWS;

    pub(super) fn new(form: &ShoeForm, extent: &Extent) -> Self {
        Self::with_throat(form, extent, 0)
    }

    /// The upper with its throat slit open along the ridge, `slit` mm long: its topline runs down one
    /// edge of the slit and up the other.
    pub(super) fn slit(form: &ShoeForm, extent: &Extent, slit: f64) -> Self {
        let whole = Self::new(form, extent);
        let ridge = |column: usize| whole.points[Self::index(column, ROWS - 1)];
        let [outer, inner] = whole.throats;
        let ahead = (outer..whole.columns / 2 - 2)
            .take_while(|c| ridge(*c).distance(ridge(outer)) <= slit)
            .count();
        let mut opened = Self::with_throat(form, extent, ahead);
        for number in 0..ahead {
            let open = 1.0 - number as f64 / ahead as f64;
            for (column, side) in [(outer + number, -1.0), (inner - number, 1.0)] {
                for row in 0..ROWS {
                    // The edges part, and the cloth beside them follows.
                    let near = (row as f64 / (ROWS - 1) as f64).powi(4);
                    let point = &mut opened.points[Self::index(column, row)];
                    point.y += side * SLIT * extent.length * open * near;
                }
            }
        }
        opened.normals = vertex_normals(&opened.points, &opened.triangles, ROUNDS);
        opened.weld_normals(ahead);
        opened.face_out(extent);
        opened
    }

    /// The topline begins `ahead` columns before the throat.
    fn with_throat(form: &ShoeForm, extent: &Extent, ahead: usize) -> Self {
        let columns = columns(form);
        let count = columns.len();
        let mut points: Vec<Vec3> = Vec::with_capacity(count * ROWS);
        for column in &columns {
            let section = form.surface.section(column.side, column.distance);
            let place = |row: usize| column.top * row as f64 / (ROWS - 1) as f64;
            points.extend((0..ROWS).map(|row| section.point(place(row))));
        }
        // The heel's line belongs to both sides.
        for row in 0..ROWS {
            let last = (count - 1) * ROWS + row;
            let middle = points[row].lerp(points[last], 0.5);
            points[row] = middle;
            points[last] = middle;
        }
        let throats = [BEHIND + ahead, count - 1 - BEHIND - ahead];
        let same = welded(count, throats[0]);
        let mut triangles = net_triangles(count, ROWS, false);
        for triangle in &mut triangles {
            *triangle = triangle.map(|i| same[i as usize]);
        }
        let normals = vertex_normals(&points, &triangles, ROUNDS);
        let mut upper = Self {
            points,
            normals,
            triangles,
            columns: count,
            throats,
            stitching: OnceLock::new(),
        };
        upper.weld_normals(ahead);
        upper.face_out(extent);
        upper
    }

    /// Points that are the same have one normal.
    fn weld_normals(&mut self, ahead: usize) {
        let same = welded(self.columns, BEHIND + ahead);
        for (index, same) in same.iter().enumerate() {
            self.normals[index] = self.normals[*same as usize];
        }
    }

    /// Makes the normals point away from the middle of the shoe, and the triangles with them.
    pub(super) fn face_out(&mut self, extent: &Extent) {
        let middle = extent.middle();
        let pairs = self.points.iter().zip(&self.normals);
        let outward: f64 = pairs.map(|(p, n)| n.dot(*p - middle)).sum();
        if outward < 0.0 {
            self.normals.iter_mut().for_each(|n| *n = -*n);
            self.triangles.iter_mut().for_each(|t| t.swap(1, 2));
        }
    }

    /// Number of a point in the net.
    pub(super) fn index(column: usize, row: usize) -> usize {
        column * ROWS + row
    }

    /// The columns that end at the topline, from the heel over the outer side and back.
    pub(super) fn topline_columns(&self) -> Vec<usize> {
        let [outer, inner] = self.throats;
        // Both columns at the throat end in one point.
        (0..=outer).chain(inner + 1..self.columns).collect()
    }

    /// The point and normal at a column and a row, both between whole numbers.
    pub(super) fn at(&self, column: f64, row: f64) -> (Vec3, Vec3) {
        let split = |value: f64, count: usize| {
            let value = value.clamp(0.0, (count - 1) as f64);
            let whole = (value as usize).min(count - 2);
            (whole, value - whole as f64)
        };
        let (c, across) = split(column, self.columns);
        let (r, up) = split(row, ROWS);
        let mix = |values: &[Vec3]| {
            let on = |c: usize| values[Self::index(c, r)].lerp(values[Self::index(c, r + 1)], up);
            on(c).lerp(on(c + 1), across)
        };
        (mix(&self.points), mix(&self.normals))
    }

    /// The row at a distance down from the top of a column, mm.
    pub(super) fn row_below(&self, column: f64, distance: f64) -> f64 {
        let whole = (column.max(0.0) as usize).min(self.columns - 2);
        let share = column - whole as f64;
        let on = |column: usize| {
            let line = &self.points[Self::index(column, 0)..Self::index(column + 1, 0)];
            let along = lengths(line);
            let wanted = (along[ROWS - 1] - distance).max(0.0);
            let after = along.partition_point(|l| *l <= wanted).clamp(1, ROWS - 1);
            let (from, to) = (along[after - 1], along[after]);
            (after - 1) as f64 + (wanted - from) / (to - from).max(1e-12)
        };
        on(whole) * (1.0 - share) + on(whole + 1) * share
    }
}

/// The columns, from the heel over the outer side, the toe and the inner side.
fn columns(form: &ShoeForm) -> Vec<Column> {
    let mut columns = side_columns(form, FootSide::Outer);
    let inner = side_columns(form, FootSide::Inner);
    // The toe's own line belongs to both sides.
    columns.extend(inner.into_iter().rev().skip(1));
    columns
}

/// One side's columns from heel to toe. Before the throat both sides have theirs at the same x, so
/// that their ends on the ridge are the same points.
fn side_columns(form: &ShoeForm, side: FootSide) -> Vec<Column> {
    let surface = &form.surface;
    let edge = &surface.edge;
    let start = surface.base_of(form.throat().x);
    let from = edge.distance_at(side, start);
    let whole = edge.length(side) - from;
    let behind = (1..=BEHIND).rev().map(|i| {
        let share = i as f64 / BEHIND as f64;
        let distance = from + whole * share.powf(CROWD);
        Column {
            side,
            distance,
            top: form.topline_place(side, distance),
        }
    });
    let before = (0..BEFORE).map(|i| {
        let share = i as f64 / (BEFORE - 1) as f64;
        let x = start + (edge.front() - start) * (FRAC_PI_2 * share).sin();
        let last = i + 1 == BEFORE;
        Column {
            side,
            distance: if last { 0.0 } else { edge.distance_at(side, x) },
            top: 1.0,
        }
    });
    behind.chain(before).collect()
}

/// For each point of the net the first that is the same: the heel's column and the ridge.
fn welded(count: usize, throat: usize) -> Vec<u32> {
    let mut same: Vec<u32> = (0..(count * ROWS) as u32).collect();
    for row in 0..ROWS {
        same[(count - 1) * ROWS + row] = row as u32;
    }
    for column in throat..count / 2 {
        let other = count - 1 - column;
        same[Upper::index(other, ROWS - 1)] = Upper::index(column, ROWS - 1) as u32;
    }
    same
}
