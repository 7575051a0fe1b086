//! The folded corner: the hem's end mirrors its neighbour, so that it lies level with the
//! neighbour's cut edge when it is turned in (common practice for hems and casings).

use super::FOLD_REACH;
use super::corner::{Bridge, Turn, Way, outward};
use super::trim::{first_crossing, from_place, reversed, to_place};
use kurbo::{Affine, Line, ParamCurve, PathSeg, Point, Vec2};

/// The corner as seen from the hem: both cut lines lead away from it.
struct Hem {
    vertex: Point,
    /// Unit vector along the hem's stitching line, away from the corner.
    along: Vec2,
    /// Unit vector outward from the hem.
    outward: Vec2,
    /// Unit tangent of the neighbour's seam line, away from the corner.
    neighbour: Vec2,
    /// Allowance of the hem, mm.
    depth: f64,
    /// Nothing may lie further from the corner, mm.
    reach: f64,
}

/// The three stretches of a folded corner, all leading from the neighbour towards the hem.
struct Folded {
    /// The neighbour's cut line, away from the corner, from where it meets the stitching line.
    neighbour: Vec<PathSeg>,
    /// From the stitching line to the hem's cut line.
    mirrored: Vec<PathSeg>,
    /// The hem's cut line, away from the corner.
    hem: Vec<PathSeg>,
}

/// The folded corner between sides `before` and `next`, which are cut back as needed; `None` if it
/// does not turn outward, the hem has no allowance, or the corner is too sharp.
pub(super) fn bridge(
    turn: &Turn,
    hem_begins: bool,
    sides: &mut [Vec<PathSeg>],
    before: usize,
    next: usize,
) -> Option<Bridge> {
    let depth = if hem_begins {
        turn.width_after
    } else {
        turn.width_before
    };
    if turn.way() != Way::Opening || depth <= 0.0 || before == next {
        return None;
    }
    let hem = hem_at(turn, hem_begins, depth);
    if hem_begins {
        let folded = hem.fold(&reversed(&sides[before]), &sides[next])?;
        sides[before] = reversed(&folded.neighbour);
        sides[next] = folded.hem;
        return Some(Bridge {
            before: Vec::new(),
            after: folded.mirrored,
        });
    }
    let folded = hem.fold(&sides[next], &reversed(&sides[before]))?;
    sides[next] = folded.neighbour;
    sides[before] = reversed(&folded.hem);
    Some(Bridge {
        before: reversed(&folded.mirrored),
        after: Vec::new(),
    })
}

fn hem_at(turn: &Turn, hem_begins: bool, depth: f64) -> Hem {
    let (along, outward, neighbour) = if hem_begins {
        (turn.after, outward(turn.after), -turn.before)
    } else {
        (-turn.before, outward(turn.before), turn.after)
    };
    Hem {
        vertex: turn.vertex,
        along,
        outward,
        neighbour,
        depth,
        reach: FOLD_REACH * turn.wider(),
    }
}

impl Hem {
    fn fold(&self, neighbour: &[PathSeg], hem: &[PathSeg]) -> Option<Folded> {
        let neighbour = self.cut_at_stitching_line(neighbour)?;
        let mirrored = self.mirrored(&neighbour)?;
        let tip = mirrored.last()?.end();
        if tip.distance(self.vertex) > self.reach {
            return None;
        }
        let hem = self.hem_from(tip, hem)?;
        Some(Folded {
            neighbour,
            mirrored,
            hem,
        })
    }

    /// How far outside the stitching line `point` lies, mm.
    fn height(&self, point: Point) -> f64 {
        (point - self.vertex).dot(self.outward)
    }

    /// The neighbour's cut line from where it meets the hem's stitching line.
    fn cut_at_stitching_line(&self, neighbour: &[PathSeg]) -> Option<Vec<PathSeg>> {
        let start = neighbour.first()?.start();
        let height = self.height(start);
        if height > 1e-9 {
            let reach = self.reach;
            let place = first_crossing(neighbour, self.vertex, self.along, reach, reach)?;
            return Some(from_place(neighbour, place));
        }
        let fall = -self.neighbour.dot(self.outward);
        if height >= -1e-9 || fall < 1e-9 {
            return Some(neighbour.to_vec());
        }
        let meeting = start + height / fall * self.neighbour;
        if meeting.distance(self.vertex) > self.reach {
            return None;
        }
        let mut longer = vec![Line::new(meeting, start).into()];
        longer.extend_from_slice(neighbour);
        Some(longer)
    }

    /// The neighbour's cut line down to the hem's depth, mirrored outward.
    fn mirrored(&self, neighbour: &[PathSeg]) -> Option<Vec<PathSeg>> {
        let floor = self.vertex - self.depth * self.outward;
        let far = 2.0 * self.reach;
        let inside = match first_crossing(neighbour, floor, self.along, far, far) {
            Some(place) => to_place(neighbour, place),
            None => {
                let fall = -self.neighbour.dot(self.outward);
                let start = neighbour.first()?.start();
                let end = start + self.depth / fall.max(1e-9) * self.neighbour;
                vec![Line::new(start, end).into()]
            }
        };
        let mirror = Affine::reflect(self.vertex, self.along);
        Some(inside.into_iter().map(|segment| mirror * segment).collect())
    }

    /// The hem's cut line from `tip` on, which lies at the hem's depth.
    fn hem_from(&self, tip: Point, hem: &[PathSeg]) -> Option<Vec<PathSeg>> {
        let start = hem.first()?.start();
        if (tip - start).dot(self.along) <= 1e-9 {
            let mut longer = vec![Line::new(tip, start).into()];
            longer.extend_from_slice(hem);
            return Some(longer);
        }
        let place = first_crossing(hem, tip, self.outward, self.reach, self.reach)?;
        let kept = from_place(hem, place);
        let mut joined = vec![Line::new(tip, kept[0].start()).into()];
        joined.extend(kept);
        Some(joined)
    }
}
