//! The toe piece from strips, with ruler and compass: centre toe below the throat, ball, side mark
//! and seam top each where two strips meet, then smooth lines. Millimetres, y upwards, the toe below
//! and the inner side at the right.

use super::lengths::{SIDES, Strips};
use super::upright;
use crate::draft::shoe::told::Told;
use crate::foot::form::FootSide;
use crate::geometry::bezier_fit::Chain;
use crate::geometry::curve;
use crate::geometry::root::root;
use kurbo::{Affine, BezPath, CubicBez, Line, PathSeg, Point, Vec2};

/// Lengths of the handles of the sole edge as shares of the chords from the centre toe to the ball and
/// from there to the side mark, and of the topline as shares of its chord (from judgement).
const TOE_HANDLES: [f64; 2] = [0.55, 0.40];
const SIDE_HANDLES: [f64; 2] = [0.35, 0.33];
const TOPLINE_HANDLES: [f64; 2] = [0.40, 0.45];

/// How far the topline's handles may be stretched to give it the length of its strip.
const STRETCH: [f64; 2] = [0.2, 2.2];

/// One half of the toe piece, as if it were the inner one; the throat is the origin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct HalfToe {
    toe: Point,
    ball: Point,
    mark: Point,
    top: Point,
}

/// The whole toe piece.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Toe {
    sole: BezPath,
    topline: BezPath,
    /// Ends of the seams: marks and tops, inner and outer.
    marks: [Point; 2],
    tops: [Point; 2],
    /// Length of the sole edge from the centre toe to the side marks, inner and outer.
    pub(super) sole_halves: [f64; 2],
}

/// Two strips that must meet at a point, and the one between their other ends.
struct Meeting<'a> {
    names: [&'a str; 3],
    side: &'a str,
}

impl Meeting<'_> {
    /// The corner over the base from `p` to `q`, to the left of it, `r` from `p` and `s` from `q`.
    fn corner(
        &self,
        (p, r): (Point, f64),
        (q, s): (Point, f64),
        told: &mut Told<'_>,
    ) -> Option<Point> {
        let base = p.distance(q);
        let along = (r * r - s * s + base * base) / (2.0 * base.max(1e-9));
        let rise = r * r - along * along;
        // Also false for what is no number.
        if rise >= 0.0 && base > 0.0 {
            let way = (q - p) / base;
            return Some(p + along * way + rise.sqrt() * Vec2::new(-way.y, way.x));
        }
        let mut lengths = [base, r, s];
        let longest = lengths.iter().copied().fold(0.0, f64::max);
        lengths.sort_by(f64::total_cmp);
        let [first, second, third] = self.names.map(|name| named(name, self.side));
        told.refuse(
            "shoe-strips",
            format!(
                "The strips ‘{first}’ ({base:.1} mm), ‘{second}’ ({r:.1} mm) and ‘{third}’ \
                 ({s:.1} mm) do not meet: the longest of them, {longest:.1} mm, is longer than the \
                 other two together, {:.1} mm.",
                lengths[0] + lengths[1]
            ),
            "Lay these three strips again, each straight from point to point.",
        );
        None
    }
}

fn named(name: &str, side: &str) -> String {
    if name == "throat to toe" {
        name.into()
    } else {
        format!("{name} {side}")
    }
}

impl HalfToe {
    /// The points of one half; strips that do not meet are told.
    pub(super) fn new(side: FootSide, strips: &Strips, told: &mut Told<'_>) -> Option<Self> {
        let strip = &strips.sides[side as usize];
        let meeting = |names| Meeting {
            names,
            side: SIDES[side as usize],
        };
        let throat = Point::ZERO;
        let toe = Point::new(0.0, -strips.throat_to_toe);
        let ball = meeting(["throat to toe", "throat to ball", "toe to ball"]).corner(
            (throat, strip.throat_to_ball),
            (toe, strip.toe_to_ball),
            told,
        )?;
        let mark = meeting(["throat to ball", "throat to side mark", "ball to side mark"]).corner(
            (throat, strip.throat_to_side_mark),
            (ball, strip.ball_to_side_mark),
            told,
        )?;
        let top = meeting(["throat to side mark", "throat to seam top", "side seam"]).corner(
            (throat, strip.throat_to_seam_top),
            (mark, strip.seam),
            told,
        )?;
        Some(Self {
            toe,
            ball,
            mark,
            top,
        })
    }

    /// From the centre toe over the ball to the side mark, square to the seam there as the heel
    /// piece is.
    fn sole(&self) -> [CubicBez; 2] {
        let (front, hind) = (self.ball - self.toe, self.mark - self.ball);
        let (near, far) = (front.hypot(), hind.hypot());
        let ahead = unit(front / near * far + hind / far * near);
        let seam = unit(self.top - self.mark);
        let end = turned_towards(Vec2::new(-seam.y, seam.x), hind);
        let [from_toe, to_ball] = TOE_HANDLES.map(|share| share * near);
        let [from_ball, to_mark] = SIDE_HANDLES.map(|share| share * far);
        [
            CubicBez::new(
                self.toe,
                self.toe + Vec2::new(from_toe, 0.0),
                self.ball - to_ball * ahead,
                self.ball,
            ),
            CubicBez::new(
                self.ball,
                self.ball + from_ball * ahead,
                self.mark - to_mark * end,
                self.mark,
            ),
        ]
    }

    /// From the throat, which it crosses square to the centre, to the seam's top, where it makes
    /// `corner` radians with the seam; its handles are stretched by `stretch`.
    fn topline(&self, corner: f64, stretch: f64) -> CubicBez {
        let seam = unit(self.mark - self.top);
        let chord = self.top.to_vec2().hypot();
        let out = Affine::rotate(-corner) * seam.to_point();
        let [at_top, at_throat] = TOPLINE_HANDLES.map(|share| share * stretch * chord);
        CubicBez::new(
            Point::ZERO,
            Point::new(at_throat, 0.0),
            self.top + at_top * out.to_vec2(),
            self.top,
        )
    }
}

impl Toe {
    /// The piece from its halves. `corners` are the angles at the seams' tops, radians; `topline`
    /// the length of its topline, if a strip was laid along it.
    pub(super) fn new(
        halves: [HalfToe; 2],
        corners: [f64; 2],
        topline: Option<f64>,
        told: &mut Told<'_>,
    ) -> Self {
        let curves = |stretch: f64| [0, 1].map(|i| halves[i].topline(corners[i], stretch));
        let length = |stretch: f64| curves(stretch).iter().map(arc).sum::<f64>();
        let stretch = topline.map_or(1.0, |wanted| {
            let found = root(|s| length(s) - wanted, STRETCH[0], STRETCH[1], 1e-9);
            found.unwrap_or_else(|| {
                told.warn(
                    "shoe-strips",
                    format!(
                        "The topline of the toe piece comes out {:.1} mm long, its strip is \
                         {wanted:.1} mm long.",
                        length(1.0)
                    ),
                    "Lay ‘toe topline’ and ‘throat to seam top’ again.",
                );
                1.0
            })
        });
        let toplines = curves(stretch);
        let soles = halves.map(|half| half.sole());
        let sole_halves = soles.each_ref().map(|sole| sole.iter().map(arc).sum());
        let mirrored = Affine::FLIP_X;
        // From the inner mark round the toe to the outer one, from the outer top over the throat.
        let sole = reversed(&soles[0])
            .into_iter()
            .chain(soles[1].iter().map(|s| mirrored * *s));
        let topline = reversed(&[mirrored * toplines[1]])
            .into_iter()
            .chain([toplines[0]]);
        let marks = [halves[0].mark, mirrored * halves[1].mark];
        let tops = [halves[0].top, mirrored * halves[1].top];
        let lay = upright(marks[1], marks[0]);
        Self {
            sole: lay * curve::chained(sole.map(PathSeg::Cubic)),
            topline: lay * curve::chained(topline.map(PathSeg::Cubic)),
            marks: marks.map(|p| lay * p),
            tops: tops.map(|p| lay * p),
            sole_halves,
        }
    }

    /// Its edges in their order: sole edge, outer side, topline, inner side.
    pub(super) fn edges(&self) -> [BezPath; 4] {
        let line = |from: Point, to: Point| curve::chained([PathSeg::Line(Line::new(from, to))]);
        [
            self.sole.clone(),
            line(self.marks[1], self.tops[1]),
            self.topline.clone(),
            line(self.tops[0], self.marks[0]),
        ]
    }
}

fn arc(cubic: &CubicBez) -> f64 {
    let chain = Chain {
        segments: vec![*cubic],
        error: 0.0,
        joints: Vec::new(),
    };
    chain.length()
}

fn reversed(chain: &[CubicBez]) -> Vec<CubicBez> {
    let turn = |s: &CubicBez| CubicBez::new(s.p3, s.p2, s.p1, s.p0);
    chain.iter().rev().map(turn).collect()
}

fn unit(v: Vec2) -> Vec2 {
    v / v.hypot().max(1e-300)
}

fn turned_towards(v: Vec2, way: Vec2) -> Vec2 {
    if v.dot(way) < 0.0 { -v } else { v }
}
