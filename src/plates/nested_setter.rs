//! Where a name finds room beside the line of its size: along it, or at the end of a short leader.
//! Millimetres, in the axes of the drawing.

use super::drawing::Drawing;
use super::field;
use super::label::Label;
use super::leader::DOT;
use super::lettering::{self, CAP_HEIGHT, DESCENT, Face, TextLine};
use super::nested_stations::{crossings, own_lines};
use crate::geometry::units::POINT;
use kurbo::{Affine, Line, Point, Rect, Vec2};

/// Type size in points.
const POINTS: f64 = 7.2;
/// Names keep this far from every line.
const CLEAR: f64 = 0.7;
/// From the middle of a cut line to a name along it.
const ALONG: f64 = 1.1;
/// Any other size's line is further from a name along a line by this, so that no one takes it for its.
const FURTHER: f64 = 1.2;
/// From one row of a name to the next, in parts of its size.
const PITCH_OF_ROWS: f64 = 1.2;
/// Lengths of leaders that are tried.
pub(super) const LEADERS: [f64; 14] = [
    2.4, 3.4, 4.6, 6.0, 7.0, 8.0, 9.0, 10.0, 11.2, 12.5, 13.7, 15.0, 16.5, 18.0,
];
/// Nothing further off than this is looked at.
const NEAR: f64 = 45.0;

/// Lines near a station, told apart.
pub(super) struct Near {
    /// The size's own cut line.
    cut: Vec<Line>,
    /// Its own seam line.
    pub(super) seam: Vec<Line>,
    /// Cut and seam lines of other sizes.
    pub(super) foreign: Vec<Line>,
    /// Marks, names, furniture.
    pub(super) others: Vec<Line>,
}

/// Sets names beside the lines of a drawing.
pub(super) struct Setter<'a> {
    /// Cut and seam line of each size.
    lines: Vec<[Vec<Line>; 2]>,
    others: Vec<Line>,
    allowed: &'a dyn Fn(Rect) -> bool,
    /// Rooms of names in place, and their leaders.
    taken: Vec<Rect>,
    sides: Vec<Line>,
    bounds: Rect,
}

impl<'a> Setter<'a> {
    /// Without names; `others` are lines that a name keeps clear of besides those of the sizes, and it
    /// stands only where `allowed`.
    pub(super) fn new(
        drawing: &Drawing,
        others: Vec<Line>,
        allowed: &'a dyn Fn(Rect) -> bool,
    ) -> Self {
        Self {
            lines: (0..drawing.sizes.len())
                .map(|i| own_lines(drawing, i))
                .collect(),
            others,
            allowed,
            taken: Vec::new(),
            sides: Vec::new(),
            bounds: drawing.bounds(),
        }
    }

    /// The lines near a place on the line of the size at `index`.
    pub(super) fn near(&self, index: usize, at: Point) -> Near {
        let window = Rect::from_center_size(at, (2.0 * NEAR, 2.0 * NEAR));
        let keep = |lines: &[Line]| -> Vec<Line> {
            let kept = lines
                .iter()
                .filter(|l| field::clipped(**l, window).is_some());
            kept.copied().collect()
        };
        let foreign = self.lines.iter().enumerate().filter(|(i, _)| *i != index);
        let foreign: Vec<Line> = foreign
            .flat_map(|(_, l)| l.iter().flatten())
            .copied()
            .collect();
        let mut others = keep(&self.others);
        others.extend(keep(&self.sides));
        Near {
            cut: keep(&self.lines[index][0]),
            seam: keep(&self.lines[index][1]),
            foreign: keep(&foreign),
            others,
        }
    }

    /// The cut lines of the other sizes.
    pub(super) fn foreign_cuts(&self, index: usize) -> impl Iterator<Item = Line> {
        let others = self
            .lines
            .iter()
            .enumerate()
            .filter(move |(i, _)| *i != index);
        others.flat_map(|(_, lines)| lines[0].iter()).copied()
    }

    /// Price of room beyond what the lines need.
    pub(super) fn beyond(&self, label: &Label) -> f64 {
        let all = self.bounds.union(label.bounds());
        1.5 * (all.width() - self.bounds.width() + all.height() - self.bounds.height())
    }

    /// The name along the line, outside or inside the outline, which runs clockwise.
    pub(super) fn along(
        &self,
        text: &str,
        at: Point,
        tangent: Vec2,
        outward: bool,
        near: &Near,
    ) -> Option<Label> {
        let mut angle = tangent.atan2();
        // never upside down; upright lines are read from the right-hand side
        if angle > std::f64::consts::FRAC_PI_2 - 1e-6 {
            angle -= std::f64::consts::PI;
        } else if angle <= -std::f64::consts::FRAC_PI_2 - 1e-6 {
            angle += std::f64::consts::PI;
        }
        let outside = Vec2::new(tangent.y, -tangent.x);
        let side = if outward { outside } else { -outside };
        let up = Affine::rotate(angle) * Point::new(0.0, -1.0);
        let above = side.dot(up.to_vec2()) > 0.0;
        let (cap, descent) = (CAP_HEIGHT * POINTS * POINT, DESCENT * POINTS * POINT);
        let drop = if above {
            -(ALONG + descent)
        } else {
            ALONG + cap
        };
        let base = at + (Affine::rotate(angle) * Point::new(0.0, drop)).to_vec2();
        let width = lettering::width(text, Face::Regular, POINTS);
        let upright = Rect::new(-width / 2.0, -cap, width / 2.0, descent);
        let back = Affine::translate(base.to_vec2()) * Affine::rotate(angle);
        let to_upright = back.inverse();
        let free = |lines: &[Line], clear: f64| {
            lines.iter().all(|l| {
                let room = upright.inflate(clear, clear);
                field::clipped(to_upright * *l, room).is_none()
            })
        };
        let sides = field::sides(upright).map(|s| back * s);
        let room = sides
            .iter()
            .fold(Rect::from_points(sides[0].p0, sides[0].p1), |r, s| {
                r.union(Rect::from_points(s.p0, s.p1))
            });
        let clear = free(&near.cut, CLEAR)
            && free(&near.seam, CLEAR)
            && free(&near.foreign, ALONG + FURTHER)
            && free(&near.others, CLEAR)
            && self.is_free(room.inflate(CLEAR, CLEAR))
            && (self.allowed)(room);
        clear.then(|| Label {
            lines: vec![text_line(text, base, width, angle)],
            words: room,
            ..Label::default()
        })
    }

    fn is_free(&self, room: Rect) -> bool {
        let apart =
            |r: &Rect| r.x1 <= room.x0 || r.x0 >= room.x1 || r.y1 <= room.y0 || r.y0 >= room.y1;
        self.taken.iter().all(apart)
    }

    /// The name at the end of a leader, and how many lines the leader crosses.
    pub(super) fn led(
        &self,
        text: &str,
        at: Point,
        way: Vec2,
        near: &Near,
    ) -> Option<(usize, Label)> {
        let rows: Vec<&str> = text.lines().map(str::trim_end).collect();
        let widths = rows
            .iter()
            .map(|row| lettering::width(row, Face::Regular, POINTS));
        let width = widths.fold(0.0, f64::max);
        let (cap, descent) = (CAP_HEIGHT * POINTS * POINT, DESCENT * POINTS * POINT);
        let pitch = PITCH_OF_ROWS * POINTS * POINT;
        let further = pitch * (rows.len().max(1) - 1) as f64;
        let end = at + way;
        let gap = 0.7;
        let middle = if way.y == 0.0 {
            let aside = way.x.signum() * (gap + width / 2.0);
            end + Vec2::new(aside, (cap - further) / 2.0)
        } else if way.y > 0.0 {
            end + Vec2::new(0.0, gap + cap)
        } else {
            end - Vec2::new(0.0, gap + descent + further)
        };
        let room = Rect::new(
            middle.x - width / 2.0,
            middle.y - cap,
            middle.x + width / 2.0,
            middle.y + further + descent,
        );
        let lines = || near.cut.iter().chain(&near.seam).chain(&near.foreign);
        let leader = Line::new(at, end);
        let whole = Rect::from_points(at, end).inflate(0.4, 0.4);
        let clear = field::is_clear(lines(), room, CLEAR)
            && field::is_clear(&near.others, room, CLEAR)
            && field::is_clear(&near.others, whole, 0.0)
            && self.is_free(room.inflate(CLEAR, CLEAR))
            && self.is_free(whole)
            && (self.allowed)(room.union(whole));
        if !clear {
            return None;
        }
        let crossed = crossings(leader, &near.cut, true)?
            + crossings(leader, &near.seam, false)?
            + crossings(leader, &near.foreign, false)?;
        let label = Label {
            lines: rows
                .iter()
                .enumerate()
                .map(|(i, row)| {
                    let width = lettering::width(row, Face::Regular, POINTS);
                    text_line(row, middle + Vec2::new(0.0, pitch * i as f64), width, 0.0)
                })
                .collect(),
            rules: vec![leader],
            dot: Some(at),
            words: room,
            ..Label::default()
        };
        Some((crossed, label))
    }

    /// Keeps the room of a name in place from those that follow.
    pub(super) fn take(&mut self, label: &Label) {
        for rule in &label.rules {
            self.sides.push(*rule);
        }
        if let Some(dot) = label.dot {
            self.sides.extend(field::sides(Rect::from_center_size(
                dot,
                (2.0 * DOT, 2.0 * DOT),
            )));
        }
        self.taken.push(label.words);
    }
}

fn text_line(text: &str, at: Point, width: f64, angle: f64) -> TextLine {
    TextLine {
        text: text.to_string(),
        at,
        width: width + 0.3,
        centred: true,
        points: POINTS,
        face: Face::Regular,
        soft: false,
        turn: angle.to_degrees(),
        size: None,
    }
}
