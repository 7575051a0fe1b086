//! Strips laid over a shoe that was drafted over a form: what a designer would read off the padded
//! foot. Millimetres.

use super::lengths::{StripSide, Strips};
use crate::draft::shoe::Shoe;
use crate::draft::shoe::topline::FormPoint;
use crate::foot::form::{FootSide, Form, station};
use crate::geometry::space::Vec3;

/// Halvings of a strip's way, and rounds in which its points are moved after each: chords of a sixty-
/// fourth of a strip are shorter than the strip by less than its ten-thousandth.
const HALVINGS: usize = 6;
const ROUNDS: usize = 60;

/// Points of a seam or wall that is followed.
const POINTS: usize = 200;

/// A place on one side of the surface: mm from the toe along the feather edge, and from 0 there to 1
/// on the ridge.
pub(super) type Place = [f64; 2];

impl Strips {
    /// The strips that lie on the form of `shoe`, between the points of the drafted pieces.
    #[must_use]
    pub fn over(shoe: &Shoe) -> Self {
        let form = &shoe.form;
        let surface = &form.surface;
        let length = shoe.foot.length;
        let throat = form.toplines.each_ref().map(|line| place(&line[0]));
        let toe = [0.0, 0.0];
        let over_toe = FootSide::BOTH.map(|side| way(surface, side, throat[side as usize], toe));
        let topline = |piece: &crate::geometry::Outline| {
            piece
                .edge("topline")
                .map_or(0.0, crate::geometry::Edge::length)
        };
        let sides = FootSide::BOTH.map(|side| {
            let seam = &form.side_seams[side as usize];
            let ball = surface.edge.distance_at(side, station::BALL * length);
            let (at_ball, mark) = ([ball, 0.0], place(&seam.sole()));
            let from = throat[side as usize];
            let polyline = seam.points.windows(2);
            let low = surface.edge.distance_at(side, form.cut.low_point);
            StripSide {
                throat_to_ball: way(surface, side, from, at_ball),
                toe_to_ball: way(surface, side, toe, at_ball),
                throat_to_side_mark: way(surface, side, from, mark),
                ball_to_side_mark: seam.sole().distance - ball,
                throat_to_seam_top: way(surface, side, from, place(&seam.top())),
                seam: polyline.map(|w| w[0].point.distance(w[1].point)).sum(),
                low_height: Some(up(surface, side, low, form.topline_place(side, low))),
            }
        });
        let back = surface.edge.length(FootSide::Inner);
        let top = form.topline_place(FootSide::Inner, back);
        Self {
            throat_to_toe: over_toe[0].min(over_toe[1]),
            back_height: up(surface, FootSide::Inner, back, top),
            heel_topline: topline(&shoe.heel),
            toe_topline: Some(topline(&shoe.toe)),
            sides,
        }
    }
}

fn place(point: &FormPoint) -> Place {
    [point.distance, point.place]
}

/// Length of the section line at `distance` up to `top`.
fn up(surface: &Form, side: FootSide, distance: f64, top: f64) -> f64 {
    let section = surface.section(side, distance);
    let at = |i: usize| section.point(top * i as f64 / POINTS as f64);
    (0..POINTS).map(|i| at(i).distance(at(i + 1))).sum()
}

/// Length of the shortest way over one side of the surface: a chain of points, each moved to the
/// place nearest to the middle of its neighbours, which makes the sum of squares of its steps least;
/// then twice as many points.
pub(super) fn way(surface: &Form, side: FootSide, from: Place, to: Place) -> f64 {
    let mut chain = vec![from, to];
    let laid = Laid { surface, side };
    for _ in 0..HALVINGS {
        chain = halved(&chain);
        for _ in 0..ROUNDS {
            for i in 1..chain.len() - 1 {
                let [before, after] = [chain[i - 1], chain[i + 1]].map(|p| laid.at(p));
                chain[i] = laid.nearer(chain[i], before.lerp(after, 0.5));
            }
        }
    }
    let points: Vec<Vec3> = chain.iter().map(|p| laid.at(*p)).collect();
    points.windows(2).map(|w| w[0].distance(w[1])).sum()
}

fn halved(chain: &[Place]) -> Vec<Place> {
    let mut all = vec![chain[0]];
    for pair in chain.windows(2) {
        all.push([0, 1].map(|k| 0.5 * (pair[0][k] + pair[1][k])));
        all.push(pair[1]);
    }
    all
}

struct Laid<'a> {
    surface: &'a Form,
    side: FootSide,
}

impl Laid<'_> {
    fn at(&self, [distance, place]: Place) -> Vec3 {
        self.surface.point(self.side, distance, place)
    }

    /// The place after one step of Gauss's and Newton's method towards the one nearest to `goal`.
    fn nearer(&self, place: Place, goal: Vec3) -> Place {
        let whole = self.surface.edge.length(self.side);
        let probes = [1e-4 * whole, 1e-4];
        let limits = [whole, 1.0];
        let here = self.at(place);
        let slope = |k: usize| {
            let mut moved = place;
            let ahead = place[k] + probes[k] <= limits[k];
            let probe = if ahead { probes[k] } else { -probes[k] };
            moved[k] += probe;
            (self.at(moved) - here) * (1.0 / probe)
        };
        let (u, v, off) = (slope(0), slope(1), goal - here);
        let (uu, uv, vv) = (u.dot(u) + 1e-9, u.dot(v), v.dot(v) + 1e-9);
        let (ru, rv) = (u.dot(off), v.dot(off));
        let determinant = uu * vv - uv * uv;
        if determinant <= 1e-12 * uu * vv {
            return place;
        }
        let change = [
            (ru * vv - rv * uv) / determinant,
            (rv * uu - ru * uv) / determinant,
        ];
        [0, 1].map(|k| {
            let most = 0.1 * limits[k];
            (place[k] + change[k].clamp(-most, most)).clamp(0.0, limits[k])
        })
    }
}
