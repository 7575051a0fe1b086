//! Names of nested sizes beside their own lines: at several places round each outline, along the
//! line where there is room, else at the end of a short straight leader from a dot on the line.
//! Millimetres, in the axes of the drawing.

use super::drawing::Drawing;
use super::field::{self, distance};
use super::label::{DOT, Label, TextLine};
use super::lettering::{self, CAP_HEIGHT, DESCENT, Face};
use super::nested::Nest;
use super::nested_notches;
use super::nested_stations::{STEP, crossings, own_lines, stations};
use crate::geometry::units::POINT;
use crate::language::Places;
use kurbo::{Affine, Line, Point, Rect, Vec2};

/// Type size in points.
const POINTS: f64 = 7.2;
/// Names keep this far from every line.
const CLEAR: f64 = 0.7;
/// From the middle of a cut line to a name along it.
const ALONG: f64 = 1.1;
/// Any other size's line is further from a name along a line by this, so that no one takes it for its.
const FURTHER: f64 = 1.2;
/// A dot keeps this far from other sizes' lines: its own radius and more than half a line.
const DOT_CLEAR: f64 = 1.2;
/// From one row of a name to the next, in parts of its size.
const PITCH_OF_ROWS: f64 = 1.2;
/// Lengths of leaders that are tried.
pub(super) const LEADERS: [f64; 14] = [
    2.4, 3.4, 4.6, 6.0, 7.0, 8.0, 9.0, 10.0, 11.2, 12.5, 13.7, 15.0, 16.5, 18.0,
];
/// A name for every so many mm of outline, but three at least, or two on small pieces.
const PITCH: f64 = 150.0;
const LEAST: usize = 3;
const LEAST_SMALL: usize = 2;
/// Pieces less than this across, or with an outline shorter than this, are small.
const SMALL: f64 = 40.0;
/// A leader meets its line and crosses others at this sine of the angle or more: 45 degrees.
const STEEP: f64 = 0.7;
/// Nothing further off than this is looked at.
const NEAR: f64 = 45.0;

/// How many names each size has at least.
pub fn least(nest: &Nest<'_>) -> usize {
    if nest.across() < SMALL {
        LEAST_SMALL
    } else {
        LEAST
    }
}

/// The names of all sizes and of marks that differ; places are clear of all lines, of `rooms`, and of
/// further `obstacles`, and `allowed`.
pub fn names(
    nest: &Nest<'_>,
    drawing: &Drawing,
    (obstacles, rooms): (&[Line], &[Line]),
    allowed: &dyn Fn(Rect) -> bool,
) -> Vec<Label> {
    let others: Vec<Line> = drawing
        .inner
        .iter()
        .chain(obstacles)
        .chain(rooms)
        .copied()
        .collect();
    let mut setter = Setter {
        lines: (0..drawing.sizes.len())
            .map(|i| own_lines(drawing, i))
            .collect(),
        others,
        allowed,
        taken: Vec::new(),
        sides: Vec::new(),
        bounds: drawing.bounds(),
    };
    let mut names = Vec::new();
    // they have the least choice
    for notch in nested_notches::crowded(nest, drawing) {
        let member = &nest.members[notch.member];
        let places: Places<'_> = &[("size", &member.title)];
        let long = nest.words.say("plates.notch of size", places);
        // in two lines it is less wide
        let below = format!("\n{}", member.title);
        let stacked = nest.words.say("plates.notch of size", &[("size", &below)]);
        let texts = [long, stacked, member.title.to_string()];
        let Some(mut name) = setter.notch(&texts, &notch) else {
            continue;
        };
        name.size = Some(member.size);
        setter.take(&name);
        names.push(name);
    }
    let count = drawing.sizes.len();
    for (index, member) in nest.members.iter().enumerate() {
        let stations = stations(&drawing.sizes[index].ring);
        let length = stations.len() as f64 * STEP;
        let wanted = ((length / PITCH).round() as usize).max(least(nest));
        let mut placed: Vec<Point> = Vec::new();
        for turn in 0..wanted {
            // each size begins a little further on, so that names do not stand in each other's way
            let share = (turn as f64 + index as f64 / (2.0 * count as f64)) / wanted as f64;
            let apart = 0.45 * length / wanted as f64;
            let name = setter.best(
                index,
                member.title,
                &stations,
                share,
                (&placed, apart.min(60.0)),
            );
            let Some((at, mut name)) = name else { continue };
            placed.push(at);
            name.size = Some(member.size);
            setter.take(&name);
            names.push(name);
        }
    }
    names
}

/// Lines near a station, told apart.
pub(super) struct Near {
    /// The size's own cut line.
    cut: Vec<Line>,
    /// Its own seam line.
    seam: Vec<Line>,
    /// Cut and seam lines of other sizes.
    foreign: Vec<Line>,
    /// Marks, names, furniture.
    others: Vec<Line>,
}

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

impl Setter<'_> {
    /// The best place near `share` of the outline, and at least `apart` from those `placed`.
    fn best(
        &self,
        index: usize,
        text: &str,
        stations: &[(Point, Vec2)],
        share: f64,
        (placed, apart): (&[Point], f64),
    ) -> Option<(Point, Label)> {
        let count = stations.len();
        let mut best: Option<(f64, Point, Label)> = None;
        for (i, (at, tangent)) in stations.iter().enumerate() {
            if placed.iter().any(|p| p.distance(*at) < apart) {
                continue;
            }
            let off = (i as f64 / count as f64 - share).abs();
            let off = off.min(1.0 - off) * count as f64 * STEP;
            let price = 0.12 * off;
            if best.as_ref().is_some_and(|b| price >= b.0) {
                continue;
            }
            let near = self.near(index, *at);
            for (more, label) in self.tries(text, *at, *tangent, &near) {
                let price = price + more;
                if best.as_ref().is_none_or(|b| price < b.0 - 1e-9) {
                    best = Some((price, *at, label));
                }
            }
        }
        best.map(|b| (b.1, b.2))
    }

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

    /// Every way to name a line at this station, with its price.
    fn tries(&self, text: &str, at: Point, tangent: Vec2, near: &Near) -> Vec<(f64, Label)> {
        let mut found = Vec::new();
        for outward in [false, true] {
            if let Some(label) = self.along(text, at, tangent, outward, near) {
                found.push((self.beyond(&label), label));
            }
        }
        // a dot on a place where the line could be another's tells nothing
        let lonely = near.foreign.iter().all(|l| distance(at, *l) >= DOT_CLEAR)
            && near
                .seam
                .iter()
                .chain(&near.others)
                .all(|l| distance(at, *l) >= DOT);
        if !lonely {
            return found;
        }
        for way in [
            Vec2::new(1.0, 0.0),
            Vec2::new(-1.0, 0.0),
            Vec2::new(0.0, 1.0),
            Vec2::new(0.0, -1.0),
        ] {
            if way.cross(tangent).abs() < STEEP {
                continue;
            }
            for length in LEADERS {
                if let Some((crossed, label)) = self.led(text, at, way * length, near) {
                    let price = 4.0 + 0.6 * length + 2.0 * crossed as f64 + self.beyond(&label);
                    found.push((price, label));
                    break;
                }
            }
        }
        found
    }

    /// Price of room beyond what the lines need.
    pub(super) fn beyond(&self, label: &Label) -> f64 {
        let all = self.bounds.union(label.bounds());
        1.5 * (all.width() - self.bounds.width() + all.height() - self.bounds.height())
    }

    /// The name along the line, outside or inside the outline, which runs clockwise.
    fn along(
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

    fn take(&mut self, label: &Label) {
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
