//! Where a number in its circle stands: beside its line, clear of every other line, its leader as
//! short and as straight as may be. Millimetres on paper. The search goes through a fixed set of
//! places in a fixed order, so that one drawing always comes out the same.

use kurbo::{Line, ParamCurve, ParamCurveNearest, Point, Rect, Vec2};

/// Radius of the circle, for letters of the usual size.
pub(in crate::figure) const RADIUS: f64 = 2.1;

/// The circle keeps this far from lines and from other circles.
const CLEAR: f64 = 0.8;
const APART: f64 = 1.2;

/// Directions tried, and distances of the circle's middle from its line.
const DIRECTIONS: usize = 24;
const DISTANCES: [f64; 9] = [4.0, 5.0, 6.2, 7.6, 9.2, 11.0, 13.0, 16.0, 20.0];

/// What a place costs: for each millimetre, for a leader that is neither level nor upright, for each
/// line it crosses, for one that runs close beside a line, for each anchor that would be better, for a
/// line under the circle, and for a leader that touches other letters or numbers.
const PER_LENGTH: f64 = 0.5;
const SLANTED: f64 = 0.8;
const CROSSED: f64 = 6.0;
const BESIDE: f64 = 3.0;
const PER_ANCHOR: f64 = 0.4;
const COVERED: f64 = 40.0;
const TOUCHED: f64 = 40.0;

/// A line this near to a leader runs beside it.
const NEAR_LEADER: f64 = 0.6;

/// The part of a leader next to its own line, which may touch it.
const OWN: f64 = 0.7;

/// What a number must stand clear of.
pub(in crate::figure) struct Room<'a> {
    pub(in crate::figure) width: f64,
    /// Radius of the circle.
    pub(in crate::figure) radius: f64,
    pub(in crate::figure) lines: &'a [Vec<Point>],
    pub(in crate::figure) boxes: &'a [Rect],
    pub(in crate::figure) badges: &'a [(u32, Point)],
    pub(in crate::figure) leaders: &'a [[Point; 2]],
}

/// Where the leader from `anchor` meets the circle of this radius at `at`.
pub(in crate::figure) fn leader_end(anchor: Point, at: Point, radius: f64) -> Point {
    at - (at - anchor).normalize() * radius
}

impl Room<'_> {
    /// The best anchor and place; a circle never covers another one or leaves the drawing.
    pub(in crate::figure) fn place(&self, anchors: &[Point]) -> Option<[Point; 2]> {
        let lines: Vec<Boxed> = self.lines.iter().map(|line| Boxed::new(line)).collect();
        let mut best: Option<(f64, [Point; 2])> = None;
        for (rank, anchor) in anchors.iter().enumerate() {
            for direction in 0..DIRECTIONS {
                let angle = std::f64::consts::TAU * direction as f64 / DIRECTIONS as f64;
                let way = Vec2::from_angle(angle);
                let slanted = direction % (DIRECTIONS / 4) != 0;
                for distance in DISTANCES.map(|d| d * self.radius / RADIUS) {
                    let at = *anchor + way * distance;
                    let touched = f64::from(self.touched(*anchor, at)) * TOUCHED;
                    let whole = |cost: f64| {
                        cost + touched
                            + PER_LENGTH * distance
                            + PER_ANCHOR * rank as f64
                            + if slanted { SLANTED } else { 0.0 }
                    };
                    // No line makes a place cheaper.
                    let worse =
                        |cost: f64| best.is_some_and(|(least, _)| whole(cost) >= least - 1e-9);
                    if worse(0.0) {
                        break;
                    }
                    if !self.is_free(*anchor, at) {
                        continue;
                    }
                    if let Some(cost) = cost_of_lines(&lines, [*anchor, at], self.radius, worse) {
                        best = Some((whole(cost), [*anchor, at]));
                    }
                }
            }
        }
        best.map(|(_, place)| place)
    }

    /// How many boxes the leader touches, but for those in which it begins.
    fn touched(&self, anchor: Point, at: Point) -> u32 {
        let leader = Line::new(anchor, leader_end(anchor, at, self.radius));
        let touches = |figures: &&Rect| {
            let near = figures.inflate(NEAR_LEADER, NEAR_LEADER);
            let [a, b] = [(near.x0, near.y0), (near.x1, near.y1)].map(Point::from);
            let [c, d] = [(near.x1, near.y0), (near.x0, near.y1)].map(Point::from);
            let runs = || {
                [Line::new(a, b), Line::new(c, d)]
                    .iter()
                    .any(|l| crosses(leader, *l))
            };
            !near.contains(anchor) && (near.contains(leader.p1) || runs())
        };
        self.boxes.iter().filter(touches).count() as u32
    }

    /// Whether a number may stand at a place.
    fn is_free(&self, anchor: Point, at: Point) -> bool {
        let reach = self.radius + 0.4;
        if at.x < reach || at.x > self.width - reach {
            return false;
        }
        let near = |p: &Point| p.distance(at) < 2.0 * self.radius + APART;
        if self.badges.iter().any(|(_, p)| near(p)) {
            return false;
        }
        let leader = Line::new(anchor, leader_end(anchor, at, self.radius));
        let touches = |p: Point, limit: f64| apart(leader, p) < limit;
        if self
            .badges
            .iter()
            .any(|(_, p)| touches(*p, self.radius + 0.6))
        {
            return false;
        }
        for [from, to] in self.leaders {
            let other = Line::new(*from, *to);
            if crosses(leader, other) || apart(other, at) < self.radius + 0.6 {
                return false;
            }
        }
        self.boxes.iter().all(|figures| {
            let nearest = Point::new(
                at.x.clamp(figures.x0, figures.x1),
                at.y.clamp(figures.y0, figures.y1),
            );
            nearest.distance(at) >= self.radius + CLEAR
        })
    }
}

/// A line with the boxes of its stretches, so that those far off are passed over.
struct Boxed<'a> {
    stretches: Vec<(Rect, &'a [Point])>,
}

/// Points of a stretch.
const STRETCH: usize = 12;

/// By how much boxes are taken larger, mm, so that rounding excludes nothing.
const LOOSE: f64 = 1e-6;

impl<'a> Boxed<'a> {
    fn new(line: &'a [Point]) -> Self {
        let starts = (0..line.len().saturating_sub(1)).step_by(STRETCH);
        let stretch = |from: usize| {
            let points = &line[from..line.len().min(from + STRETCH + 1)];
            let first = Rect::from_points(points[0], points[0]);
            let around = points.iter().fold(first, |all, p| all.union_pt(*p));
            (around.inflate(LOOSE, LOOSE), points)
        };
        Self {
            stretches: starts.map(stretch).collect(),
        }
    }

    /// Whether `test` holds for one of the segments near the box `around`.
    fn any(&self, around: Rect, test: impl Fn(Line) -> bool) -> bool {
        let near = |stretch: &Rect| {
            stretch.x0 <= around.x1
                && around.x0 <= stretch.x1
                && stretch.y0 <= around.y1
                && around.y0 <= stretch.y1
        };
        let stretches = self.stretches.iter().filter(|(stretch, _)| near(stretch));
        let segments = stretches.flat_map(|(_, points)| points.windows(2));
        segments.map(|w| Line::new(w[0], w[1])).any(test)
    }
}

/// What a place costs for the lines it comes near to; `None` once it is `worse` than another.
fn cost_of_lines(
    lines: &[Boxed],
    [anchor, at]: [Point; 2],
    radius: f64,
    worse: impl Fn(f64) -> bool,
) -> Option<f64> {
    let leader = Line::new(anchor, leader_end(anchor, at, radius));
    let length = (leader.p1 - leader.p0).hypot();
    let free = Line::new(leader.eval((OWN / length).min(0.9)), leader.p1);
    let middle = leader.eval(0.75);
    let round = |point: Point, reach: f64| Rect::from_points(point, point).inflate(reach, reach);
    let (circle, beside) = (round(at, radius + CLEAR), round(middle, NEAR_LEADER));
    let along = Rect::from_points(free.p0, free.p1);
    let mut cost = 0.0;
    for line in lines {
        if line.any(circle, |segment| apart(segment, at) < radius + CLEAR) {
            cost += COVERED;
        }
        if line.any(along, |segment| crosses(free, segment)) {
            cost += CROSSED;
        }
        if line.any(beside, |segment| apart(segment, middle) < NEAR_LEADER) {
            cost += BESIDE;
        }
        if worse(cost) {
            return None;
        }
    }
    (!worse(cost)).then_some(cost)
}

fn apart(line: Line, point: Point) -> f64 {
    line.nearest(point, 1e-6).distance_sq.sqrt()
}

fn crosses(a: Line, b: Line) -> bool {
    let side = |line: Line, p: Point| (line.p1 - line.p0).cross(p - line.p0);
    side(a, b.p0) * side(a, b.p1) < 0.0 && side(b, a.p0) * side(b, a.p1) < 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_stands_beside_its_line_and_clear_of_the_next() {
        let lines = [
            vec![Point::new(20.0, 0.0), Point::new(20.0, 30.0)],
            vec![Point::new(25.0, 0.0), Point::new(25.0, 30.0)],
        ];
        let room = Room {
            width: 60.0,
            radius: RADIUS,
            lines: &lines,
            boxes: &[],
            badges: &[],
            leaders: &[],
        };
        let [anchor, at] = room
            .place(&[Point::new(20.0, 15.0)])
            .expect("there is room");
        assert_eq!(anchor, Point::new(20.0, 15.0));
        // level, to the side on which nothing stands
        assert!((at.y - 15.0).abs() < 1e-9 && at.x < 20.0 - RADIUS, "{at:?}");
    }

    #[test]
    fn a_leader_touches_no_other_number() {
        // a number beside the way straight down, so near that the leader would run along it
        let numeral = [Rect::new(20.3, 21.0, 22.0, 23.5)];
        let lines = [
            vec![Point::new(5.0, 20.0), Point::new(35.0, 20.0)],
            vec![Point::new(5.0, 17.0), Point::new(35.0, 17.0)],
        ];
        let place = |boxes: &[Rect]| {
            let room = Room {
                width: 40.0,
                radius: RADIUS,
                lines: &lines,
                boxes,
                badges: &[],
                leaders: &[],
            };
            let found = room.place(&[Point::new(20.0, 20.0)]);
            found.expect("there is room")[1]
        };
        assert!((place(&[]).x - 20.0).abs() < 1e-9);
        let at = place(&numeral);
        assert!(at.x < 19.5, "{at:?}");
    }
}
