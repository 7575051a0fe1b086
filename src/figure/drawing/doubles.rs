//! Lines that run side by side: the weaker one goes. Millimetres on paper.

use super::chain::{Chain, End, STEP};
use super::line_kind::LineKind;
use super::polyline::{cleaned, runs, tangents};
use kurbo::{Point, Vec2};

/// A line goes where a stronger one is this near...
const NEAR: f64 = 0.45;
/// ...second lines of a thickness where it is this much farther...
const FARTHER: f64 = 1.3;
/// ...and beside a button, which is small, only this near.
const NEAR_BUTTON: f64 = 0.15;

/// Lines are side by side if the angle between them has a cosine above this: 32 degrees.
const PARALLEL: f64 = 0.85;

/// Stretches left that are shorter than the first go; those gone and shorter than the second stay.
const LEAST: [f64; 2] = [1.0, 0.6];

/// What is left of an edge must be this many times longer than the shortest that is drawn, unless it goes on
/// where the stronger line ends: a ribbon that turns away hands its outline from one line to the next.
const REMAINDER: f64 = 3.0;

/// A line ends within so many samples of its last one.
const AT_END: usize = 3;

/// Side of the cells in which samples are looked up; at least as large as the largest distance.
const CELL: f64 = 0.7;

/// The chains without double lines. `factor` scales line widths.
pub(super) fn without_doubles(mut chains: Vec<Chain>, size: [f64; 2], factor: f64) -> Vec<Chain> {
    // what lies over an edge keeps its outline
    let under = |chain: &Chain| chain.kind == LineKind::Edge;
    chains.sort_by_key(|chain| {
        let longest = std::cmp::Reverse(chain.points.len());
        (chain.kind.rank(), under(chain), longest)
    });
    let mut stronger = Samples::new(size);
    let mut kept = Vec::new();
    for chain in chains {
        let tangents = tangents(&chain.points);
        let beside = if matches!(
            chain.kind,
            LineKind::Gathers | LineKind::Detail | LineKind::Hatching
        ) {
            vec![None; chain.points.len()]
        } else {
            beside(&chain, &tangents, &stronger, factor)
        };
        keep(&chain, &beside, &mut kept);
        if !chain.kind.floats() {
            let button = chain.born == LineKind::Button;
            for (i, (point, tangent)) in chain.points.iter().zip(tangents).enumerate() {
                stronger.add(Known {
                    point: *point,
                    tangent,
                    button,
                    end: end_near(&chain, i).map(|end| chain.outward(end)),
                });
            }
        }
    }
    kept
}

/// For each sample the stronger line that it runs beside.
fn beside(chain: &Chain, tangents: &[Vec2], stronger: &Samples, factor: f64) -> Vec<Option<Known>> {
    let farther = chain.kind == LineKind::Inner;
    let near = NEAR * factor.max(0.95) * if farther { FARTHER } else { 1.0 };
    let samples = chain.points.iter().zip(tangents).enumerate();
    let beside = samples.map(|(i, (point, tangent))| {
        let (distance, other) = stronger.nearest(*point, near)?;
        let near = if other.button { NEAR_BUTTON } else { near };
        let parallel = tangent.dot(other.tangent).abs() > PARALLEL;
        // where one begins as the other ends they are one line
        let begins = end_near(chain, i).map(|end| -chain.outward(end));
        let goes_on = is_outline(chain) && begins.is_some_and(|way| other.leads(way));
        (distance < near && parallel && !goes_on).then_some(other)
    });
    beside.collect()
}

/// The end of a line to which a sample is near.
fn end_near(chain: &Chain, sample: usize) -> Option<End> {
    let last = sample + AT_END >= chain.points.len();
    match sample < AT_END {
        _ if chain.closed => None,
        true => Some(End::First),
        false => last.then_some(End::Last),
    }
}

/// Whether it bounds a strap or ribbon, the outline of which goes on from its edge to where it turns away.
fn is_outline(chain: &Chain) -> bool {
    chain.kind == LineKind::Strap
}

fn keep(chain: &Chain, beside: &[Option<Known>], kept: &mut Vec<Chain>) {
    let free = beside.iter().map(Option::is_none).collect();
    let free = cleaned(free, LEAST[0] / STEP, LEAST[1] / STEP);
    let whole = free.iter().all(|f| *f);
    let lenient = matches!(
        chain.kind,
        LineKind::Outer | LineKind::Seam | LineKind::Stitch
    );
    let count = chain.points.len();
    // beyond its own end a line has nothing to go on from
    let led = |beyond: Option<usize>, way: Vec2| {
        let other = beyond.and_then(|i| beside.get(i));
        other.is_none_or(|other| other.is_some_and(|other| other.leads(way)))
    };
    for run in runs(&free).into_iter().filter(|run| run.on) {
        let way = chain.points[run.to - 1] - chain.points[run.from];
        let led = led(run.from.checked_sub(1), way) && led(Some(run.to), -way);
        let goes_on = is_outline(chain) && led;
        let times = if whole || lenient || goes_on {
            1.0
        } else {
            REMAINDER
        };
        if ((run.to - run.from) as f64) * STEP < chain.kind.shortest() * times - 1e-9 {
            continue;
        }
        let gap = |end: usize, here: bool| if here { chain.gaps[end] } else { 0.0 };
        kept.push(Chain {
            points: chain.points[run.from..run.to].to_vec(),
            gaps: [gap(0, run.from == 0), gap(1, run.to == count)],
            closed: chain.closed && whole,
            ..chain.clone()
        });
    }
}

/// A sample of a line that stays.
#[derive(Debug, Clone, Copy)]
struct Known {
    point: Point,
    tangent: Vec2,
    button: bool,
    /// The way out of its line's end, if that is near.
    end: Option<Vec2>,
}

impl Known {
    /// Whether its line ends near it, on a way like this.
    fn leads(&self, way: Vec2) -> bool {
        self.end.is_some_and(|out| out.dot(way) > 0.0)
    }
}

/// Samples in square cells.
struct Samples {
    columns: usize,
    rows: usize,
    cells: Vec<Vec<Known>>,
}

impl Samples {
    fn new(size: [f64; 2]) -> Self {
        let [columns, rows] = size.map(|extent| (extent / CELL).ceil().max(1.0) as usize + 1);
        Self {
            columns,
            rows,
            cells: vec![Vec::new(); columns * rows],
        }
    }

    fn cell(&self, point: Point) -> [usize; 2] {
        let number = |v: f64, count: usize| ((v / CELL).max(0.0) as usize).min(count - 1);
        [number(point.x, self.columns), number(point.y, self.rows)]
    }

    fn add(&mut self, known: Known) {
        let [column, row] = self.cell(known.point);
        self.cells[row * self.columns + column].push(known);
    }

    /// The nearest sample within `limit`, which is at most [`CELL`], and its distance.
    fn nearest(&self, point: Point, limit: f64) -> Option<(f64, Known)> {
        let [column, row] = self.cell(point);
        let mut best: Option<(f64, Known)> = None;
        for row in row.saturating_sub(1)..=(row + 1).min(self.rows - 1) {
            for column in column.saturating_sub(1)..=(column + 1).min(self.columns - 1) {
                for known in &self.cells[row * self.columns + column] {
                    let distance = known.point.distance(point);
                    if distance < best.map_or(limit, |(d, _)| d) {
                        best = Some((distance, *known));
                    }
                }
            }
        }
        best
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::drawing::polyline::resampled;

    fn chain(curve: usize, corners: &[(f64, f64)]) -> Chain {
        let corners: Vec<Point> = corners.iter().copied().map(Point::from).collect();
        Chain {
            points: resampled(&corners, STEP),
            kind: LineKind::Strap,
            born: LineKind::Strap,
            gaps: [0.0; 2],
            closed: false,
            silhouette: false,
            curve,
            tag: 0,
        }
    }

    /// How far along the second line what is left of it begins, beside a first one of 10 mm.
    fn left(corners: &[(f64, f64)]) -> Option<f64> {
        let chains = vec![chain(0, &[(0.0, 0.0), (10.0, 0.0)]), chain(1, corners)];
        let kept = without_doubles(chains, [20.0, 20.0], 1.0);
        let second = kept.iter().find(|chain| chain.curve == 1)?;
        Some(second.points[0].x)
    }

    #[test]
    fn what_goes_on_where_a_stronger_line_ends_stays_and_a_splinter_beside_it_goes() {
        // it runs on for 1.6 mm, with which it takes the outline over
        let goes_on = left(&[(7.0, 0.2), (11.6, 0.2)]).expect("kept");
        assert!((10.0..10.7).contains(&goes_on), "{goes_on}");
        // as long, but it leaves a line that goes on itself
        assert_eq!(left(&[(3.0, 0.2), (6.0, 0.2), (6.6, 1.5)]), None);
        // as long, but it ends with the stronger line
        assert_eq!(left(&[(7.5, 1.0), (9.6, 0.2), (10.0, 0.2)]), None);
        // one that begins as the other ends, too short for a line between others
        let begins = left(&[(9.8, 0.1), (11.2, 0.1)]).expect("kept");
        assert!(begins < 10.0, "{begins}");
        // long enough for a line of its own
        assert!(left(&[(3.0, 0.2), (6.0, 0.2), (8.0, 4.0)]).is_some());
    }

    #[test]
    fn a_strap_keeps_its_outline_beside_a_longer_edge_below() {
        let topline = Chain {
            kind: LineKind::Edge,
            born: LineKind::Edge,
            ..chain(0, &[(0.0, 0.0), (16.0, 0.0)])
        };
        let strap = chain(1, &[(4.0, 3.0), (6.0, 0.2), (9.0, 0.2)]);
        let whole = strap.points.len();
        let kept = without_doubles(vec![topline, strap], [20.0, 20.0], 1.0);
        let of = |curve: usize| kept.iter().filter(move |chain| chain.curve == curve);
        assert!(of(1).any(|chain| chain.points.len() == whole));
        assert!(of(0).all(|chain| chain.points.len() < (16.0 / STEP) as usize));
    }
}
