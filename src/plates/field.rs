//! Where on an area something still fits clear of every line: a grid of cells, blocked where a
//! line runs, with sums so that a rectangle is judged at once. Lengths in mm.
//!
//! A cell touched by a line counts as blocked as a whole, so a rectangle found free lies clear of
//! the line itself; the answer errs on the safe side by up to one cell.

use crate::geometry::ring::crossings;
use kurbo::{BezPath, Line, PathEl, Point, Rect, Vec2};

/// Area with blocked cells, still being drawn on.
#[derive(Debug, Clone)]
pub struct Mask {
    area: Rect,
    cell: f64,
    columns: usize,
    rows: usize,
    blocked: Vec<bool>,
}

/// A finished mask that answers questions.
#[derive(Debug, Clone)]
pub struct Field {
    mask: Mask,
    sums: Vec<u32>,
}

impl Mask {
    /// An empty mask over `area` with square cells of `cell` mm.
    pub fn new(area: Rect, cell: f64) -> Self {
        let count = |length: f64| (length / cell - 1e-9).ceil().clamp(1.0, 4000.0) as usize;
        let (columns, rows) = (count(area.width()), count(area.height()));
        Self {
            area,
            cell,
            columns,
            rows,
            blocked: vec![false; columns * rows],
        }
    }

    fn set(&mut self, x: f64, y: f64) {
        let column = ((x - self.area.x0) / self.cell).floor();
        let row = ((y - self.area.y0) / self.cell).floor();
        if column >= 0.0 && row >= 0.0 {
            let (column, row) = (column as usize, row as usize);
            if column < self.columns && row < self.rows {
                self.blocked[row * self.columns + column] = true;
            }
        }
    }

    /// Blocks the cells that `line` touches.
    pub fn block_line(&mut self, line: Line) {
        let Some(line) = clipped(line, self.area.inset(self.cell)) else {
            return;
        };
        let along = line.p1 - line.p0;
        let steps = (along.hypot() / (self.cell / 4.0)).ceil().max(1.0) as usize;
        for step in 0..=steps {
            let point = line.p0 + along * (step as f64 / steps as f64);
            self.set(point.x, point.y);
        }
    }

    /// Blocks all lines.
    pub fn block_lines<'a>(&mut self, lines: impl IntoIterator<Item = &'a Line>) {
        lines.into_iter().for_each(|line| self.block_line(*line));
    }

    /// Blocks every cell that overlaps `rect`.
    pub fn block_rect(&mut self, rect: Rect) {
        let (columns, rows) = self.cells(rect);
        for row in rows {
            for column in columns.clone() {
                self.blocked[row * self.columns + column] = true;
            }
        }
    }

    /// Blocks the cells whose middle lies inside one of the rings (`inside`), or outside all.
    pub fn block_rings<'a>(&mut self, rings: impl IntoIterator<Item = &'a [Point]>, inside: bool) {
        let rings: Vec<&[Point]> = rings.into_iter().collect();
        for row in 0..self.rows {
            let y = self.area.y0 + (row as f64 + 0.5) * self.cell;
            let mut spans: Vec<(f64, f64)> = Vec::new();
            for ring in &rings {
                let mut crossings = crossings(ring, y);
                crossings.sort_by(f64::total_cmp);
                spans.extend(crossings.chunks_exact(2).map(|c| (c[0], c[1])));
            }
            for column in 0..self.columns {
                let x = self.area.x0 + (column as f64 + 0.5) * self.cell;
                if spans.iter().any(|s| s.0 <= x && x < s.1) == inside {
                    self.blocked[row * self.columns + column] = true;
                }
            }
        }
    }

    fn cells(&self, rect: Rect) -> (std::ops::Range<usize>, std::ops::Range<usize>) {
        let range = |a: f64, b: f64, origin: f64, count: usize| {
            let first = ((a - origin) / self.cell + 1e-6).floor().max(0.0) as usize;
            let end = ((b - origin) / self.cell - 1e-6).ceil().max(0.0) as usize;
            first.min(count)..end.min(count)
        };
        (
            range(rect.x0, rect.x1, self.area.x0, self.columns),
            range(rect.y0, rect.y1, self.area.y0, self.rows),
        )
    }

    /// The finished field.
    pub fn seal(self) -> Field {
        let width = self.columns + 1;
        let mut sums = vec![0u32; width * (self.rows + 1)];
        for row in 0..self.rows {
            let mut run = 0;
            for column in 0..self.columns {
                run += u32::from(self.blocked[row * self.columns + column]);
                sums[(row + 1) * width + column + 1] = sums[row * width + column + 1] + run;
            }
        }
        Field { mask: self, sums }
    }
}

impl Field {
    /// The mask, to draw on further.
    pub fn mask(&self) -> Mask {
        self.mask.clone()
    }

    /// Whether `rect` lies within the area and touches no blocked cell.
    pub fn is_free(&self, rect: Rect) -> bool {
        let area = self.mask.area;
        let within = rect.x0 >= area.x0 - 1e-6
            && rect.y0 >= area.y0 - 1e-6
            && rect.x1 <= area.x1 + 1e-6
            && rect.y1 <= area.y1 + 1e-6;
        if !within {
            return false;
        }
        let (columns, rows) = self.mask.cells(rect);
        let width = self.mask.columns + 1;
        let sum = |row: usize, column: usize| i64::from(self.sums[row * width + column]);
        sum(rows.end, columns.end) + sum(rows.start, columns.start)
            == sum(rows.start, columns.end) + sum(rows.end, columns.start)
    }

    /// The place for a rectangle of `width` by `height` mm that stays free when grown by `clear`
    /// mm all round, with the least `cost` of its position; the first in reading order among
    /// equals.
    pub fn place(
        &self,
        (width, height): (f64, f64),
        clear: f64,
        cost: impl Fn(Rect) -> f64,
    ) -> Option<Rect> {
        let area = self.mask.area;
        let steps = |room: f64| {
            (room >= -1e-9).then(|| (room.max(0.0) / self.mask.cell + 1e-6).floor() as usize)
        };
        let columns = steps(area.width() - width - 2.0 * clear)?;
        let rows = steps(area.height() - height - 2.0 * clear)?;
        let mut best: Option<(f64, Rect)> = None;
        for row in 0..=rows {
            for column in 0..=columns {
                let x = area.x0 + clear + column as f64 * self.mask.cell;
                let y = area.y0 + clear + row as f64 * self.mask.cell;
                let rect = Rect::new(x, y, x + width, y + height);
                let price = cost(rect);
                if best.is_none_or(|b| price < b.0 - 1e-9)
                    && self.is_free(rect.inflate(clear, clear))
                {
                    best = Some((price, rect));
                }
            }
        }
        best.map(|b| b.1)
    }
}

/// The part of `line` in `rect` (Liang and Barsky, 1984).
pub fn clipped(line: Line, rect: Rect) -> Option<Line> {
    let along = line.p1 - line.p0;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    let sides = [
        (-along.x, line.p0.x - rect.x0),
        (along.x, rect.x1 - line.p0.x),
        (-along.y, line.p0.y - rect.y0),
        (along.y, rect.y1 - line.p0.y),
    ];
    for (slope, room) in sides {
        if slope.abs() < 1e-12 {
            if room < 0.0 {
                return None;
            }
        } else if slope < 0.0 {
            from = from.max(room / slope);
        } else {
            to = to.min(room / slope);
        }
    }
    (from <= to).then(|| Line::new(line.p0 + along * from, line.p0 + along * to))
}

/// Whether `rect`, grown by `clear` mm, is met by none of the lines.
pub fn is_clear<'a>(lines: impl IntoIterator<Item = &'a Line>, rect: Rect, clear: f64) -> bool {
    let rect = rect.inflate(clear, clear);
    lines.into_iter().all(|l| clipped(*l, rect).is_none())
}

/// Distance from `point` to `line`, mm.
pub fn distance(point: Point, line: Line) -> f64 {
    let along: Vec2 = line.p1 - line.p0;
    let squared = along.hypot2();
    let share = if squared > 0.0 {
        ((point - line.p0).dot(along) / squared).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (line.p0 + along * share).distance(point)
}

/// `path` as straight lines no further than `tolerance` mm from it.
pub fn flat(path: &BezPath, tolerance: f64) -> Vec<Line> {
    let mut lines = Vec::new();
    let (mut start, mut at) = (Point::ZERO, Point::ZERO);
    // kurbo may exceed the tolerance asked for by a third
    kurbo::flatten(path, tolerance * 0.75, |element| match element {
        PathEl::MoveTo(p) => (start, at) = (p, p),
        PathEl::LineTo(p) => {
            lines.push(Line::new(at, p));
            at = p;
        }
        PathEl::ClosePath => {
            if at.distance(start) > 1e-9 {
                lines.push(Line::new(at, start));
            }
            at = start;
        }
        _ => {}
    });
    lines
}

/// The four sides of a rectangle.
pub fn sides(rect: Rect) -> [Line; 4] {
    let [a, b, c, d] = [
        Point::new(rect.x0, rect.y0),
        Point::new(rect.x1, rect.y0),
        Point::new(rect.x1, rect.y1),
        Point::new(rect.x0, rect.y1),
    ];
    [
        Line::new(a, b),
        Line::new(b, c),
        Line::new(c, d),
        Line::new(d, a),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_free_place_lies_clear_of_lines_and_inside_the_ring() {
        let area = Rect::new(0.0, 0.0, 60.0, 40.0);
        let ring = [(5.0, 5.0), (55.0, 5.0), (55.0, 35.0), (5.0, 35.0)].map(Point::from);
        let grain = Line::new((30.0, 8.0), (30.0, 32.0));
        let mut mask = Mask::new(area, 0.5);
        mask.block_rings([&ring[..]], false);
        mask.block_line(grain);
        let field = mask.seal();
        let near_middle = |r: Rect| r.center().distance(Point::new(30.0, 20.0));
        let rect = field
            .place((15.0, 10.0), 2.0, near_middle)
            .expect("there is room");
        assert!(rect.x0 >= 7.0 && rect.x1 <= 53.0 && rect.y0 >= 7.0 && rect.y1 <= 33.0);
        assert!(rect.x1 <= 28.0 || rect.x0 >= 32.0);
        assert!(field.place((30.0, 10.0), 2.0, near_middle).is_none());
    }

    #[test]
    fn clipping_keeps_what_lies_inside() {
        let rect = Rect::new(0.0, 0.0, 10.0, 10.0);
        let cut = clipped(Line::new((-5.0, 5.0), (20.0, 5.0)), rect).expect("crosses");
        assert_eq!((cut.p0.x, cut.p1.x), (0.0, 10.0));
        assert!(clipped(Line::new((-5.0, 5.0), (-1.0, 9.0)), rect).is_none());
        assert!(clipped(Line::new((-1.0, -3.0), (13.0, -3.0)), rect).is_none());
    }
}
