//! Spreading a piece that is larger than the live area over several sheets: how many, which, and
//! where each lies on the whole. Millimetres, in the axes of the whole: origin at the upper left
//! of the first sheet's frame.
//!
//! Neighbouring sheets share a strip. A sheet is trimmed along its left and lower frame where it
//! has a neighbour there, and laid on the neighbour's lay-on line.

use kurbo::{Line, Point, Rect, Size, Vec2};

/// Width of the strip that neighbouring sheets share, mm (common practice).
pub const OVERLAP: f64 = 10.0;

/// Radius of a join mark, mm.
pub const JOIN_RADIUS: f64 = 5.0;

/// Ticks stand along the frame at every multiple of this on the whole.
pub(super) const TICK: f64 = 50.0;

/// White that is wanted round a join mark, mm, and the least: nearer to a buttonhole it would be copied with it.
const AROUND_JOIN: [f64; 2] = [4.0, 1.0];

/// How many tiles of `usable` mm cover `length` mm when neighbours share `overlap` mm:
/// n = ceil((W - o) / (u - o)).
pub fn count(length: f64, usable: f64, overlap: f64) -> usize {
    if length <= usable {
        return 1;
    }
    // a hair less, so that a length that just fits is not given one more for rounding
    let tiles = (length - overlap) / (usable - overlap) - 1e-9;
    // nobody joins a thousand; without a limit an absurd length would fill the memory
    tiles.ceil().clamp(1.0, 1000.0) as usize
}

/// Sheets in columns and rows, with the piece laid on them.
#[derive(Debug, Clone, PartialEq)]
pub struct Grid {
    /// Across.
    pub columns: usize,
    /// Down.
    pub rows: usize,
    /// Frame of one sheet.
    pub frame: Size,
    /// Whether a sheet is printed, row by row.
    pub kept: Vec<bool>,
}

/// One side of a join mark, in the axes of its sheet's frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HalfJoin {
    /// Middle of the whole circle.
    pub at: Point,
    /// From the middle into this sheet's half: a unit vector.
    pub into: Vec2,
    /// Number through the plate, from 1.
    pub number: usize,
}

/// One joint between two sheets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Joint {
    /// Left or upper sheet.
    pub first: usize,
    /// Right or lower sheet.
    pub second: usize,
    /// Whether the sheets lie side by side.
    pub beside: bool,
}

impl Grid {
    /// A grid that covers `size`, all sheets kept.
    pub fn covering(size: Size, frame: Size) -> Self {
        let columns = count(size.width, frame.width, OVERLAP);
        let rows = count(size.height, frame.height, OVERLAP);
        Self {
            columns,
            rows,
            frame,
            kept: vec![true; columns * rows],
        }
    }

    /// From one sheet to the next.
    pub fn pitch(&self) -> Vec2 {
        Vec2::new(self.frame.width - OVERLAP, self.frame.height - OVERLAP)
    }

    /// The whole.
    pub fn span(&self) -> Size {
        Size::new(
            (self.columns - 1) as f64 * self.pitch().x + self.frame.width,
            (self.rows - 1) as f64 * self.pitch().y + self.frame.height,
        )
    }

    /// Frame of sheet `index` on the whole.
    pub fn region(&self, index: usize) -> Rect {
        let (row, column) = (index / self.columns, index % self.columns);
        let origin = Point::new(column as f64 * self.pitch().x, row as f64 * self.pitch().y);
        Rect::from_origin_size(origin, self.frame)
    }

    /// Number of sheets printed.
    pub fn sheets(&self) -> usize {
        self.kept.iter().filter(|k| **k).count()
    }

    /// Position of sheet `index` among those printed, which gives its letter.
    pub fn ordinal(&self, index: usize) -> usize {
        self.kept[..index].iter().filter(|k| **k).count()
    }

    /// The sheet beside or above or below, if it is printed.
    pub fn neighbour(&self, index: usize, columns: isize, rows: isize) -> Option<usize> {
        let row = (index / self.columns).checked_add_signed(rows)?;
        let column = (index % self.columns).checked_add_signed(columns)?;
        let there = row * self.columns + column;
        (row < self.rows && column < self.columns && self.kept[there]).then_some(there)
    }

    /// Leaves out every sheet that carries no line which another sheet does not carry too.
    pub fn drop_empty(&mut self, lines: &[Line]) {
        let mut points: Vec<Point> = Vec::new();
        for line in lines {
            let along = line.p1 - line.p0;
            let steps = along.hypot().ceil().max(1.0) as usize;
            points.extend((0..=steps).map(|i| line.p0 + along * (i as f64 / steps as f64)));
        }
        for index in 0..self.kept.len() {
            let on = |grid: &Self, sheet: usize, p: Point| {
                let r = grid.region(sheet);
                p.x >= r.x0 && p.x <= r.x1 && p.y >= r.y0 && p.y <= r.y1
            };
            let others: Vec<usize> = (0..self.kept.len())
                .filter(|o| *o != index && self.kept[*o])
                .collect();
            let needed = points
                .iter()
                .any(|p| on(self, index, *p) && !others.iter().any(|o| on(self, *o, *p)));
            self.kept[index] = needed;
        }
    }

    /// All joints between printed sheets, row by row.
    pub fn joints(&self) -> Vec<Joint> {
        let mut joints = Vec::new();
        for index in (0..self.kept.len()).filter(|i| self.kept[*i]) {
            for (columns, rows) in [(1, 0), (0, 1)] {
                if let Some(second) = self.neighbour(index, columns, rows) {
                    joints.push(Joint {
                        first: index,
                        second,
                        beside: columns == 1,
                    });
                }
            }
        }
        joints
    }

    /// Where the join marks stand: two per joint, at a quarter and three quarters of it, moved
    /// along the joint where a line of the piece would run through. For each: the joint, and the
    /// middle of the circle on the whole.
    pub fn join_marks(&self, lines: &[Line]) -> Vec<(Joint, Point)> {
        let mut marks = Vec::new();
        for joint in self.joints() {
            let (a, b) = (self.region(joint.first), self.region(joint.second));
            // side by side, the right-hand sheet's left frame is the joint; one above the other,
            // the upper sheet's lower frame is
            let (start, along, length) = if joint.beside {
                (b.origin(), Vec2::new(0.0, 1.0), b.height())
            } else {
                (Point::new(a.x0, a.y1), Vec2::new(1.0, 0.0), a.width())
            };
            for share in [0.25, 0.75] {
                let at = clear_station(lines, start, along * length, share);
                marks.push((joint, at));
            }
        }
        marks
    }
}

/// The point nearest to `share` of the joint about which a join mark is clear of all lines, with white round it if
/// there is room, and of the ticks of the sheet's frame, which stand on the joint.
fn clear_station(lines: &[Line], start: Point, whole: Vec2, share: f64) -> Point {
    let found = AROUND_JOIN.into_iter().find_map(|white| {
        let reach = JOIN_RADIUS + white;
        stations(whole.hypot(), share, reach)
            .map(|s| start + whole * (s / whole.hypot()))
            .find(|at| !meets_tick(*at, whole) && is_clear_round(lines, *at, reach))
    });
    found.unwrap_or(start + whole * share)
}

/// Places along a joint of this `length`, from near to far of `share` of it, in that half of it.
fn stations(length: f64, share: f64, reach: f64) -> impl Iterator<Item = f64> {
    let (low, high) = if share < 0.5 {
        (OVERLAP + reach, length / 2.0 - reach)
    } else {
        (length / 2.0 + reach, length - OVERLAP - reach)
    };
    let steps = 0..(length as usize);
    let both =
        steps.flat_map(move |step| [1.0, -1.0].map(|side| share * length + side * step as f64));
    both.filter(move |s| *s >= low && *s <= high)
}

/// Whether a circle about `at` would reach a tick of the frame, of those that stand `along` the joint.
fn meets_tick(at: Point, along: Vec2) -> bool {
    let place = if along.x.abs() > along.y.abs() {
        at.x
    } else {
        at.y
    };
    let off = place.rem_euclid(TICK);
    off.min(TICK - off) < JOIN_RADIUS + 1.0
}

fn is_clear_round(lines: &[Line], at: Point, reach: f64) -> bool {
    let near = Rect::from_center_size(at, (2.0 * reach, 2.0 * reach));
    lines.iter().all(|line| {
        super::field::clipped(*line, near).is_none() || super::field::distance(at, *line) > reach
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plates::field::sides;

    #[test]
    fn tile_counts_follow_the_formula() {
        // 400 x 300 mm with 10 mm margin and overlap is 3 x 2 on A4 (190 x 277 mm usable) and on
        // Letter (195.9 x 259.4 mm); plain arithmetic: (400 - 10) / 180 = 2.17, 290 / 267 = 1.09.
        for (across, down) in [(190.0, 277.0), (195.9, 259.4)] {
            assert_eq!(count(400.0, across, 10.0), 3);
            assert_eq!(count(300.0, down, 10.0), 2);
        }
        assert_eq!(count(180.0, 180.0, 10.0), 1);
        assert_eq!(count(350.0, 180.0, 10.0), 2);
        assert_eq!(count(350.1, 180.0, 10.0), 3);
    }

    #[test]
    fn a_sheet_without_a_line_is_left_out() {
        let frame = Size::new(180.0, 240.0);
        let mut grid = Grid::covering(Size::new(500.0, 690.0), frame);
        assert_eq!((grid.columns, grid.rows), (3, 3));
        grid.drop_empty(&sides(Rect::new(2.0, 2.0, 498.0, 688.0)));
        assert!(!grid.kept[4] && grid.sheets() == 8);
        assert_eq!(grid.neighbour(1, 0, 1), None);
    }

    #[test]
    fn every_joint_has_two_marks_on_the_trimmed_frame() {
        let grid = Grid::covering(Size::new(340.0, 460.0), Size::new(180.0, 240.0));
        let marks = grid.join_marks(&[]);
        assert_eq!(marks.len(), 8);
        assert_eq!(marks[0].1, Point::new(170.0, 60.0));
        // a quarter of the way is 45 mm, where the circle would meet the tick at 5 cm
        assert_eq!(marks[2].1, Point::new(44.0, 240.0));
    }

    #[test]
    fn a_join_mark_has_white_round_it_where_there_is_room() {
        let grid = Grid::covering(Size::new(340.0, 240.0), Size::new(180.0, 240.0));
        let at = |lines: &[Line]| grid.join_marks(lines)[0].1;
        // 7 mm beside the joint: 9 mm from its end, by Pythagoras 5.7 mm further along
        let buttonhole = Line::new((163.0, 50.0), (163.0, 70.0));
        assert_eq!(at(&[buttonhole]), Point::new(170.0, 76.0));
        // along the whole joint there is no room for more than 1 mm
        let grain = Line::new((163.0, 0.0), (163.0, 240.0));
        assert_eq!(at(&[grain]), Point::new(170.0, 60.0));
    }
}
