//! Tape measures taken on a surface: a net of points on its section lines, cut by planes.
//! Millimetres, the foot's axes.

use super::feather_edge::FootSide;
use super::surface::{Form, SectionLine};
use crate::geometry::hull;
use crate::geometry::root::least;
use crate::geometry::space::Vec3;
use kurbo::Point;
use std::f64::consts::PI;

/// Points of a net on each side: section lines, and points on each line.
const FINENESS: (usize, usize) = (72, 25);

/// A net of points on a surface.
pub struct Net<'a> {
    form: &'a Form,
    lines: [Vec<Line<'a>>; 2],
}

struct Line<'a> {
    distance: f64,
    section: SectionLine<'a>,
    points: Vec<Vec3>,
}

/// A share of the way along a curve, and how far outside the plane its point lies.
struct Sample {
    share: f64,
    outside: f64,
}

impl<'a> Net<'a> {
    /// A net over the part of the surface whose feather edge lies behind `reach`, a distance from
    /// the heel. Lines are closer together towards the heel, where the surface bends most.
    pub fn new(form: &'a Form, reach: f64) -> Self {
        let lines = FootSide::BOTH.map(|side| {
            let from = form.edge.distance_at(side, reach);
            let whole = form.edge.length(side) - from;
            let line = |i: usize| {
                let turn = 0.5 * PI * i as f64 / (FINENESS.0 - 1) as f64;
                let distance = from + whole * turn.sin();
                let section = form.section(side, distance);
                let points = (0..FINENESS.1).map(|j| section.point(place(j))).collect();
                Line {
                    distance,
                    section,
                    points,
                }
            };
            (0..FINENESS.0).map(line).collect()
        });
        Self { form, lines }
    }

    /// A tape drawn tight round the cut by the plane through `origin` with the given `normal`, which
    /// has no part across the foot, mm.
    pub fn tape(&self, origin: Vec3, normal: Vec3) -> f64 {
        let normal = normal.unit();
        let level = Vec3::new(normal.z, 0.0, -normal.x);
        let side_of = |point: Vec3| (point - origin).dot(normal);
        let mut cut: Vec<Point> = Vec::new();
        let mut add = |p: Vec3| cut.push(Point::new((p - origin).dot(level), p.y));
        for (side, lines) in FootSide::BOTH.into_iter().zip(&self.lines) {
            let mut before: Option<(&Line<'_>, Vec<f64>)> = None;
            for line in lines {
                let sides: Vec<f64> = line.points.iter().map(|p| side_of(*p)).collect();
                for j in crossings(sides.windows(2).map(|w| (w[0], w[1]))) {
                    let span = (place(j), place(j + 1));
                    let at = |share: f64| line.section.point(span.0 + share * (span.1 - span.0));
                    add(sharpened(at, side_of, sides[j], sides[j + 1]));
                }
                if let Some((last, last_sides)) = &before {
                    let pairs = last_sides.iter().copied().zip(sides.iter().copied());
                    for j in crossings(pairs) {
                        let step = line.distance - last.distance;
                        let at = |share: f64| {
                            self.form
                                .point(side, last.distance + share * step, place(j))
                        };
                        add(sharpened(at, side_of, last_sides[j], sides[j]));
                    }
                }
                before = Some((line, sides));
            }
        }
        hull::girth(cut)
    }

    /// A tape level at `height`, mm.
    pub fn level_girth(&self, height: f64) -> f64 {
        let up = Vec3::new(0.0, 0.0, 1.0);
        self.tape(Vec3::new(0.0, 0.0, height), up)
    }

    /// A tape laid level at `height` round the back of the heel, from the upright line at `x` on one
    /// side to that on the other, mm; as far as the surface reaches.
    pub fn heel_wrap(&self, height: f64, x: f64) -> f64 {
        let mut wrap = 0.0;
        for lines in &self.lines {
            let mut way: Vec<Point> = Vec::new();
            for line in lines.iter().rev() {
                let Some(point) = line.at_height(height) else {
                    continue;
                };
                if let Some(last) = way.last().copied()
                    && point.x >= x
                {
                    if last.x < x {
                        way.push(last.lerp(point, (x - last.x) / (point.x - last.x)));
                    }
                    break;
                }
                way.push(point);
            }
            wrap += way.windows(2).map(|w| w[0].distance(w[1])).sum::<f64>();
        }
        wrap
    }

    /// A tape through the hindmost point of the sole and over the ridge at `x`, mm.
    pub fn heel_girth_over(&self, x: f64) -> f64 {
        let heel = Vec3::new(self.form.edge.back(), 0.0, 0.0);
        let way = Vec3::new(x, 0.0, self.form.height(x)) - heel;
        // A hair inside the surface, so that the heel itself is cut.
        let origin = heel + Vec3::new(1e-6, 0.0, 1e-6);
        self.tape(origin, Vec3::new(-way.z, 0.0, way.x))
    }

    /// The smallest tape through the hindmost point of the sole and over the ridge between `from`
    /// and `to`, and the x of the ridge there. Samples alone would jump from one to the next as the
    /// form changes; golden section between the best one's neighbours does not.
    pub fn long_heel(&self, from: f64, to: f64) -> (f64, f64) {
        const SAMPLES: usize = 8;
        let at = |i: usize| from + (to - from) * i as f64 / (SAMPLES - 1) as f64;
        let girths: Vec<f64> = (0..SAMPLES).map(|i| self.heel_girth_over(at(i))).collect();
        let best = (0..SAMPLES).min_by(|a, b| girths[*a].total_cmp(&girths[*b]));
        let best = best.unwrap_or(0).clamp(1, SAMPLES - 2);
        self.long_heel_near(at(best - 1), at(best + 1))
    }

    /// The same where it is known to have one least value between `from` and `to`.
    pub fn long_heel_near(&self, from: f64, to: f64) -> (f64, f64) {
        let (x, girth) = least(|x| self.heel_girth_over(x), from, to, 7);
        (girth, x)
    }
}

impl Line<'_> {
    /// Where the line reaches `height`, seen from above.
    fn at_height(&self, height: f64) -> Option<Point> {
        let rises = |w: &[Vec3]| w[0].z <= height && w[1].z > height;
        let j = self.points.windows(2).position(rises)?;
        let span = (place(j), place(j + 1));
        let at = |share: f64| self.section.point(span.0 + share * (span.1 - span.0));
        let side_of = |p: Vec3| p.z - height;
        let (low, high) = (self.points[j], self.points[j + 1]);
        let point = sharpened(at, side_of, side_of(low), side_of(high));
        Some(Point::new(point.x, point.y))
    }
}

fn place(j: usize) -> f64 {
    j as f64 / (FINENESS.1 - 1) as f64
}

/// The places in a row of pairs at which the sign changes.
fn crossings(pairs: impl Iterator<Item = (f64, f64)>) -> impl Iterator<Item = usize> {
    let changes =
        |(index, (a, b)): (usize, (f64, f64))| ((a <= 0.0) != (b <= 0.0)).then_some(index);
    pairs.enumerate().filter_map(changes)
}

/// The point between shares 0 and 1 of a curve at which `side_of` vanishes, by two steps of false
/// position: the net's chords are far finer than the curve's bends.
fn sharpened(at: impl Fn(f64) -> Vec3, side_of: impl Fn(Vec3) -> f64, from: f64, to: f64) -> Vec3 {
    let (mut low, mut high) = (
        Sample {
            share: 0.0,
            outside: from,
        },
        Sample {
            share: 1.0,
            outside: to,
        },
    );
    let mut point = Vec3::default();
    for _ in 0..2 {
        let share =
            low.share + (high.share - low.share) * low.outside / (low.outside - high.outside);
        point = at(share);
        let outside = side_of(point);
        let next = Sample { share, outside };
        if (outside <= 0.0) == (low.outside <= 0.0) {
            low = next;
        } else {
            high = next;
        }
    }
    point
}
