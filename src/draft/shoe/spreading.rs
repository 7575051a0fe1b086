//! The back of the heel piece cut longer at its topline, to be gathered on elastic. Millimetres.

use super::donning::BackFit;
use super::easing::rounded_window;
use super::notch::{NotchedPiece, ShoeNotch};
use super::patch::{MeshedPatch, UpperEdge};
use super::shoe_form::ShoeForm;
use super::told::Told;
use crate::foot::form::FootSide;
use crate::geometry::root::root;
use kurbo::{Point, Vec2};

/// The share of the gathered stretch over which the spread rises and falls.
const RAMPS: f64 = 0.4;

/// Slashes; so many that what lies between two is narrower than the mesh.
const RIBS: usize = 161;

/// The widest fan, radians.
const MOST: f64 = 3.0;

/// The stretch of the heel piece's topline that is gathered on elastic. Distances along its edge
/// `topline`, from the inner side seam, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Casing {
    /// Where it begins, on the inner side.
    pub from: f64,
    /// Where it ends, on the outer side.
    pub to: f64,
    /// How much longer the topline was cut for it than the shoe's form is there.
    pub added: f64,
    /// The elastic, relaxed, without what is sewn in at its ends.
    pub elastic: f64,
}

impl Casing {
    /// The same where the inner side seam was taken in by `by` mm at the topline.
    pub(super) fn taken_in(self, by: f64) -> Self {
        Self {
            from: self.from - by,
            to: self.to - by,
            ..self
        }
    }

    /// The notches at both its ends.
    pub(super) fn notches(&self) -> [ShoeNotch; 2] {
        let ends = [("elastic, inner", self.from), ("elastic, outer", self.to)];
        ends.map(|(name, distance)| ShoeNotch {
            piece: NotchedPiece::Heel,
            edge: "topline",
            name,
            distance,
        })
    }
}

/// How a heel piece is slashed from its topline to its sole edge and spread, with slashes close
/// together in place of the few that scissors make.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Spread {
    ribs: Vec<Rib>,
    /// How much longer the topline becomes.
    pub(super) added: f64,
}

/// A slash: where it ends on the topline and on the sole edge, mm from the starts of these edges of
/// the heel piece, and the share of the whole turn that lies before it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Rib {
    topline: f64,
    sole: f64,
    share: f64,
}

/// A slash on the flat piece, before and after.
struct Laid {
    foot: Point,
    top: Point,
    next_foot: Point,
    angle: f64,
}

impl Spread {
    /// The casing at the back and the slashes under it, each along a section line of the form: even,
    /// fewer at both ends. `None`, told, if the heel piece's topline is too short for it.
    pub(super) fn new(
        form: &ShoeForm,
        back: &BackFit,
        told: &mut Told<'_>,
    ) -> Option<(Casing, Self)> {
        let [inner, outer] = FootSide::BOTH.map(|side| behind_seam(form, side));
        let [inner_half, outer_half] = [&inner, &outer].map(|way| way[way.len() - 1].topline);
        let span = back.cloth - back.added;
        if 0.5 * span > inner_half.min(outer_half) {
            let message = format!(
                "The elastic at the back takes up {span:.1} mm of the topline, the heel piece has \
                 {inner_half:.1} mm of it on the inner side and {outer_half:.1} mm on the outer side.",
            );
            let remedy = "Gather a shorter stretch, or move the side marks to the toe.";
            told.refuse("shoe-donning", message, remedy);
            return None;
        }
        let from = inner_half - 0.5 * span;
        let ribs = (0..RIBS).map(|i| {
            let share = i as f64 / (RIBS - 1) as f64;
            let topline = from + span * share;
            let sole = if topline <= inner_half {
                // The sole edge runs from the outer side mark.
                let outer_sole = outer[outer.len() - 1].sole;
                outer_sole + inner[inner.len() - 1].sole - sole_below(&inner, topline)
            } else {
                sole_below(&outer, inner_half + outer_half - topline)
            };
            Rib {
                topline,
                sole,
                share: turned(share),
            }
        });
        let casing = Casing {
            from,
            to: from + back.cloth,
            added: back.added,
            elastic: back.elastic,
        };
        let spread = Self {
            ribs: ribs.collect(),
            added: back.added,
        };
        Some((casing, spread))
    }

    /// The flat heel piece spread: the strip of cloth between two slashes keeps its shape, turns
    /// about its foot on the sole edge, and opens at the topline; what lies before the first and
    /// behind the last slash only moves. The sole edge keeps its length. `None` if no turn gives the
    /// topline its length.
    pub(super) fn opened(&self, patch: &MeshedPatch, flat: &[Point]) -> Option<Vec<Point>> {
        if self.added <= 0.0 {
            return Some(flat.to_vec());
        }
        let topline = &patch.edge(UpperEdge::Topline).points;
        let length = |points: &[Point]| {
            let steps = topline.windows(2);
            steps
                .map(|w| points[w[0]].distance(points[w[1]]))
                .sum::<f64>()
        };
        let wanted = length(flat) + self.added;
        let turn = |whole: f64| turned_by(&self.laid(patch, flat, whole), flat);
        let whole = root(|whole| length(&turn(whole)) - wanted, 0.0, MOST, 1e-7)?;
        Some(turn(whole))
    }

    /// The slashes on the flat piece, spread by `whole` radians altogether.
    fn laid(&self, patch: &MeshedPatch, flat: &[Point], whole: f64) -> Vec<Laid> {
        let on = |edge: UpperEdge, along: f64| {
            let edge = patch.edge(edge);
            let above = edge.along.partition_point(|a| *a <= along);
            let above = above.clamp(1, edge.along.len() - 1);
            let (from, to) = (edge.along[above - 1], edge.along[above]);
            let ends = [edge.points[above - 1], edge.points[above]].map(|i| flat[i]);
            ends[0].lerp(ends[1], ((along - from) / (to - from)).clamp(0.0, 1.0))
        };
        let mut laid: Vec<Laid> = Vec::with_capacity(self.ribs.len());
        for rib in &self.ribs {
            let foot = on(UpperEdge::Sole, rib.sole);
            // From the inner side, at the left with the sole below: a fan opens clockwise.
            let angle = (0.5 - rib.share) * whole;
            let next_foot = laid.last().map_or(foot, |last| {
                let middle = 0.5 * (last.angle + angle);
                last.next_foot + turned_way(foot - last.foot, middle)
            });
            laid.push(Laid {
                foot,
                top: on(UpperEdge::Topline, rib.topline),
                next_foot,
                angle,
            });
        }
        laid
    }
}

/// The points of a piece once its slashes are spread.
fn turned_by(laid: &[Laid], flat: &[Point]) -> Vec<Point> {
    let last = laid.len() - 1;
    // Clockwise of a slash lies what comes after it; between two neighbours it changes sides.
    let beyond = |rib: &Laid, point: Point| -(rib.top - rib.foot).cross(point - rib.foot);
    let moved = |point: &Point| {
        let place = laid.partition_point(|rib| beyond(rib, *point) > 0.0);
        let (before, after) = (&laid[place.saturating_sub(1)], &laid[place.min(last)]);
        let (past, left) = (beyond(before, *point), -beyond(after, *point));
        let widths = [before, after].map(|rib| (rib.top - rib.foot).hypot());
        let (past, left) = (past / widths[0], left / widths[1]);
        let within = place > 0 && place <= last && past + left > 0.0;
        let share = if within { past / (past + left) } else { 0.0 };
        let foot = before.foot.lerp(after.foot, share);
        let next_foot = before.next_foot.lerp(after.next_foot, share);
        let angle = before.angle + share * (after.angle - before.angle);
        next_foot + turned_way(*point - foot, angle)
    };
    flat.iter().map(moved).collect()
}

fn turned_way(way: Vec2, angle: f64) -> Vec2 {
    let (sine, cosine) = angle.sin_cos();
    Vec2::new(cosine * way.x - sine * way.y, sine * way.x + cosine * way.y)
}

/// The share of the whole turn before a share of the gathered stretch: the running sum of a window.
fn turned(share: f64) -> f64 {
    const STEPS: usize = 400;
    let weight = |i: usize| rounded_window((i as f64 + 0.5) / STEPS as f64, RAMPS);
    let sum = |steps: f64| {
        let whole = steps as usize;
        let rest = if whole < STEPS {
            (steps - whole as f64) * weight(whole)
        } else {
            0.0
        };
        (0..whole).map(weight).sum::<f64>() + rest
    };
    sum(share * STEPS as f64) / sum(STEPS as f64)
}

/// A point of one side's topline: how far behind the side seam, and how far behind the side mark its
/// section line begins on the sole.
struct Behind {
    topline: f64,
    sole: f64,
}

/// One side's topline from the side seam to the back of the heel.
fn behind_seam(form: &ShoeForm, side: FootSide) -> Vec<Behind> {
    let seam = &form.side_seams[side as usize];
    let (mark, top) = (seam.sole().distance, seam.top());
    let mut last = top.point;
    let mut way = vec![Behind {
        topline: 0.0,
        sole: top.distance - mark,
    }];
    let line = form.toplines[side as usize].iter();
    for point in line.filter(|p| p.distance > top.distance + 1e-9) {
        way.push(Behind {
            topline: way[way.len() - 1].topline + last.distance(point.point),
            sole: point.distance - mark,
        });
        last = point.point;
    }
    way
}

/// How far behind the side mark the section line begins that ends at `topline`.
fn sole_below(way: &[Behind], topline: f64) -> f64 {
    let above = way.partition_point(|p| p.topline <= topline);
    let above = above.clamp(1, way.len() - 1);
    let (a, b) = (&way[above - 1], &way[above]);
    let share = ((topline - a.topline) / (b.topline - a.topline)).clamp(0.0, 1.0);
    a.sole + share * (b.sole - a.sole)
}
