//! The heel piece from strips: straight at its sides, bent only round the heel, as far as makes its
//! topline as long as its strip. Millimetres, y upwards, the sole below and the outer side at the
//! right.

use super::lengths::Strips;
use super::upright;
use crate::draft::shoe::told::Told;
use crate::foot::form::{FeatherEdge, FootSide, station};
use crate::geometry::bezier_fit::{Chain, FitRule};
use crate::geometry::curve;
use crate::geometry::root::root;
use kurbo::{Affine, BezPath, Line, PathSeg, Point, Vec2};

/// Points of each half of the piece.
const POINTS: usize = 240;

/// Behind the first of these places, as shares of the foot's length, the piece is bent as the sole's
/// seam line turns; before the second it is straight (from judgement, after pieces over a form).
const BENT: [f64; 2] = [crate::foot::HEEL, station::HEEL_FAN];

/// The seam line's direction is that of chords this long either way, as a share of one side.
const SMOOTHED: f64 = 0.02;

/// Bends that a heel piece may have, radians.
const BENDS: [f64; 2] = [-2.0, 3.0];

/// Handles of the topline from its low point to the back, as shares of the way: those of the cut
/// seen from the side.
const HANDLES: [f64; 2] = [0.45, 0.65];

/// One half of the heel piece.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct HalfHeel {
    /// Length of the sole edge from the centre heel to the side mark.
    length: f64,
    /// Heights of the piece at even places along it, from the centre heel.
    heights: Vec<f64>,
    /// By how much the piece has turned at these places since the centre heel, as the sole's seam
    /// line does; only their ratios count.
    turns: Vec<f64>,
}

/// Where and how high the topline is at its lowest, and how high at the ends of one half.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Heights {
    /// At the centre heel.
    pub(super) back: f64,
    /// Lowest, and its distance from the traced heel along the foot.
    pub(super) low: (f64, f64),
    /// At the side seam.
    pub(super) seam: f64,
}

impl HalfHeel {
    /// The half that is sewn to `side` of a sole's seam line from the mark at `mark`, mm from the
    /// toe.
    pub(super) fn new(edge: &FeatherEdge, side: FootSide, mark: f64, heights: Heights) -> Self {
        let whole = edge.length(side);
        let length = whole - mark;
        let place = |i: usize| whole - length * i as f64 / POINTS as f64;
        let reach = SMOOTHED * whole;
        let way = |distance: f64| {
            let ends = [distance - reach, distance + reach];
            let [ahead, behind] = ends.map(|d| edge.at(side, d.clamp(0.0, whole)));
            (ahead - behind).atan2()
        };
        let ahead = edge.at(side, mark).x;
        let high = |x: f64| heights.at(x, edge.back(), ahead);
        let sign = if side == FootSide::Inner { -1.0 } else { 1.0 };
        let foot = edge.front() - edge.back();
        let mut turns = vec![0.0];
        for i in 1..=POINTS {
            let step = sign * (way(place(i)) - way(place(i - 1)));
            let x = (edge.at(side, place(i)).x - edge.back()) / foot;
            let weight = ((BENT[1] - x) / (BENT[1] - BENT[0])).clamp(0.0, 1.0);
            turns.push(turns[i - 1] + weight * step);
        }
        Self {
            length,
            heights: (0..=POINTS)
                .map(|i| high(edge.at(side, place(i)).x))
                .collect(),
            turns,
        }
    }

    pub(super) fn mean(&self, other: &Self) -> Self {
        let mean = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| 0.5 * (a + b)).collect();
        Self {
            length: 0.5 * (self.length + other.length),
            heights: mean(&self.heights, &other.heights),
            turns: mean(&self.turns, &other.turns),
        }
    }
}

impl Heights {
    /// The height at x, where `behind` is the very heel and `ahead` the side mark.
    fn at(&self, x: f64, behind: f64, ahead: f64) -> f64 {
        let (low, at) = self.low;
        if at >= ahead {
            // The low point lies before the seam: the topline falls all the way to it.
            return self.seam + (self.back - self.seam) * rising((ahead - x) / (ahead - behind));
        }
        if x <= at {
            return low + (self.back - low) * rising((at - x) / (at - behind));
        }
        let share = (x - at) / (ahead - at);
        low + (self.seam - low) * share * share
    }
}

/// Height of the topline between its low point and the back, as shares.
fn rising(share: f64) -> f64 {
    let along = |t: f64| {
        let s = 1.0 - t;
        3.0 * s * s * t * HANDLES[0] + 3.0 * s * t * t * HANDLES[1] + t * t * t
    };
    let share = share.clamp(0.0, 1.0);
    let t = root(|t| along(t) - share, 0.0, 1.0, 1e-9).unwrap_or(share);
    t * t * (3.0 - 2.0 * t)
}

/// The whole heel piece.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Heel {
    sole: Chain,
    topline: Chain,
}

impl Heel {
    /// The piece from its halves, inner and outer; `corners` are the angles between its sole edge and
    /// its seams, radians. A topline that no bend gives is told.
    pub(super) fn new(
        halves: &[HalfHeel; 2],
        strips: &Strips,
        corners: [f64; 2],
        foot: f64,
        told: &mut Told<'_>,
    ) -> Option<Self> {
        let bent = Bent::new(halves);
        let off = |bend: f64| polyline(&bent.lines(bend).1) - strips.heel_topline;
        let Some(bend) = root(off, BENDS[0], BENDS[1], 1e-9) else {
            told.refuse(
                "shoe-strips",
                format!(
                    "The strips ‘heel topline’ ({:.1} mm) and ‘back height’ ({:.1} mm) do not go \
                     with the sole, whose edge round the heel is {:.1} mm long.",
                    strips.heel_topline,
                    strips.back_height,
                    halves[0].length + halves[1].length
                ),
                "Lay both strips again, and check the side marks.",
            );
            return None;
        };
        let (sole, topline) = bent.lines(bend);
        let lay = upright(sole[0], sole[sole.len() - 1]);
        let laid = |line: &[Point]| line.iter().map(|p| lay * *p).collect::<Vec<Point>>();
        let (sole, topline) = (laid(&sole), laid(&topline));
        let rule = |fewest: usize, tangents| FitRule {
            tolerance: (0.0016 * foot).max(0.06),
            fewest,
            most: 8,
            tangents,
        };
        let last = sole.len() - 1;
        let ways = [(0, -corners[0], 1.0), (last, corners[1], -1.0)];
        let tangents = ways.map(|(end, turn, sign)| {
            let up = (topline[end] - sole[end]).normalize();
            Some(sign * (Affine::rotate(turn) * up.to_point()).to_vec2())
        });
        let length = halves[0].length + halves[1].length;
        Some(Self {
            sole: Chain::fit(&sole, rule(2, tangents))?.with_length(length),
            topline: Chain::fit(&topline, rule(2, [None; 2]))?.with_length(strips.heel_topline),
        })
    }

    /// What is left for the toe piece of the half turn that both corners make at the seams' tops,
    /// inner and outer, radians.
    pub(super) fn top_corners(&self) -> [f64; 2] {
        let [[inner_mark, inner_top], [outer_mark, outer_top]] = self.seams();
        let angle = |way: Vec2, seam: Vec2| way.cross(seam).atan2(way.dot(seam)).abs();
        let pi = std::f64::consts::PI;
        [
            pi - angle(self.topline.start_tangent(), inner_mark - inner_top),
            pi - angle(-self.topline.end_tangent(), outer_mark - outer_top),
        ]
    }

    /// Side mark and top of both seams, inner and outer.
    fn seams(&self) -> [[Point; 2]; 2] {
        let ends = |chain: &Chain| {
            let path = chain.path();
            let first = path
                .segments()
                .next()
                .map_or(Point::ZERO, |s| kurbo::ParamCurve::start(&s));
            let last = path
                .segments()
                .last()
                .map_or(Point::ZERO, |s| kurbo::ParamCurve::end(&s));
            [first, last]
        };
        let (sole, top) = (ends(&self.sole), ends(&self.topline));
        [[sole[0], top[0]], [sole[1], top[1]]]
    }

    /// Its edges in their order: sole edge, inner side, topline, outer side.
    pub(super) fn edges(&self) -> [BezPath; 4] {
        let [[inner_mark, inner_top], [outer_mark, outer_top]] = self.seams();
        let line = |from: Point, to: Point| curve::chained([PathSeg::Line(Line::new(from, to))]);
        [
            curve::reversed(&self.sole.path()),
            line(inner_mark, inner_top),
            self.topline.path(),
            line(outer_top, outer_mark),
        ]
    }
}

/// A strip of cloth along the sole edge before it is bent: places along it from the inner side mark,
/// the heights there, and how much of the bend lies before each.
struct Bent {
    along: Vec<f64>,
    heights: Vec<f64>,
    shares: Vec<f64>,
}

impl Bent {
    /// A wall that leans inward is bent, laid flat, where the sole's seam line turns, and in
    /// proportion.
    fn new(halves: &[HalfHeel; 2]) -> Self {
        let [inner, outer] = halves;
        let step = |half: &HalfHeel, i: usize| half.length * i as f64 / POINTS as f64;
        let left = (1..=POINTS).rev();
        let right = 0..=POINTS;
        let joined = |inner: &[f64], sign: f64, outer: &[f64]| -> Vec<f64> {
            let first = left.clone().map(|i| sign * inner[i]);
            first.chain(right.clone().map(|i| outer[i])).collect()
        };
        let [along_inner, along_outer] =
            [inner, outer].map(|half| right.clone().map(|i| step(half, i)).collect::<Vec<f64>>());
        let turns = joined(&inner.turns, -1.0, &outer.turns);
        let whole = (turns[turns.len() - 1] - turns[0]).abs().max(1e-9);
        Self {
            along: joined(&along_inner, -1.0, &along_outer),
            heights: joined(&inner.heights, 1.0, &outer.heights),
            shares: turns.iter().map(|turn| turn / whole).collect(),
        }
    }

    /// Sole edge and topline once the whole is bent by `bend` radians, from the inner side.
    fn lines(&self, bend: f64) -> (Vec<Point>, Vec<Point>) {
        let mut sole = vec![Point::ZERO];
        for i in 1..self.along.len() {
            let middle = 0.5 * (self.shares[i - 1] + self.shares[i]) * bend;
            let step = self.along[i] - self.along[i - 1];
            sole.push(sole[i - 1] + step * Vec2::from_angle(middle));
        }
        let up = |i: usize| {
            let angle = self.shares[i] * bend;
            self.heights[i] * Vec2::new(-angle.sin(), angle.cos())
        };
        let topline = sole.iter().enumerate().map(|(i, p)| *p + up(i)).collect();
        (sole, topline)
    }
}

fn polyline(points: &[Point]) -> f64 {
    points.windows(2).map(|w| w[0].distance(w[1])).sum()
}
