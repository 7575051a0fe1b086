//! Remnants that belong to nothing: the end of a line that turns off sharply and meets no other line, and
//! short lines with an end in the open. What hides a line cuts such bits off where three surfaces come
//! together. Millimetres on paper.

use super::chain::{Chain, End, STEP};
use super::join;
use super::line_kind::LineKind;
use super::polyline::{length, unit};
use kurbo::{Line, ParamCurveNearest, Point};

/// A line turns off at its end if it does so within this length...
const TAIL: f64 = 1.6;
/// ...by more than this, degrees, measured over so many samples.
const TURNS: f64 = 50.0;
const SAMPLES: usize = 3;

/// A line with one or both of its ends in the open is left out if it is shorter than this.
const STUBS: [f64; 2] = [1.6, 3.0];

/// An end nearer to another line than this meets it.
const MEETS: f64 = 0.2;

/// Takes the remnants away, once all ends are brought to where they belong. Contours stay, and so do lines
/// that lie on a surface without ending at others.
pub(super) fn cut(chains: &mut Vec<Chain>) {
    for number in 0..chains.len() {
        for end in End::BOTH {
            if !ends_at_lines(&chains[number]) {
                continue;
            }
            if let Some(tail) = tail(&chains[number], end)
                && is_free(chains, (number, end))
            {
                let chain = &mut chains[number];
                let kept = chain.points.len() - tail;
                match end {
                    End::First => drop(chain.points.drain(..tail)),
                    End::Last => chain.points.truncate(kept),
                }
            }
        }
    }
    join::bridge(chains, |chains, end| {
        ends_at_lines(&chains[end.0]) && is_free(chains, end)
    });
    let stub = |number: usize| {
        let chain = &chains[number];
        let whole = length(&chain.points);
        if !ends_at_lines(chain) || whole >= STUBS[1] {
            return false;
        }
        let free = |end: &&End| is_free(chains, (number, **end));
        let free = End::BOTH.iter().filter(free).count();
        free.checked_sub(1).is_some_and(|more| whole < STUBS[more])
    };
    let stubs: Vec<bool> = (0..chains.len()).map(stub).collect();
    let mut stubs = stubs.into_iter();
    chains.retain(|_| !stubs.next().unwrap_or(false));
}

fn ends_at_lines(chain: &Chain) -> bool {
    !chain.closed && chain.kind != LineKind::Outer && !chain.kind.floats()
}

/// How many samples the end has beyond the place where it turns off; `None` if it does not, or the line is
/// hardly longer.
fn tail(chain: &Chain, end: End) -> Option<usize> {
    let reach = (TAIL / STEP) as usize;
    if chain.points.len() < 2 * reach {
        return None;
    }
    let at = |i: usize| chain.inward(end, i);
    let cosine = |i: &usize| {
        let before = unit(at(*i) - at(i + SAMPLES));
        let after = unit(at(i.saturating_sub(SAMPLES)) - at(*i));
        before.dot(after)
    };
    let sharpest = (2..=reach).min_by(|i, j| cosine(i).total_cmp(&cosine(j)))?;
    (cosine(&sharpest) < TURNS.to_radians().cos()).then_some(sharpest)
}

/// Whether an end meets no other line and is not drawn back behind something.
fn is_free(chains: &[Chain], (number, end): (usize, End)) -> bool {
    let (chain, tip) = (&chains[number], chains[number].end(end));
    let others = chains.iter().enumerate();
    let mut others = others.filter(|(other, c)| *other != number && !c.kind.floats());
    chain.gap(end) == 0.0 && !others.any(|(_, other)| meets(&other.points, tip))
}

fn meets(points: &[Point], tip: Point) -> bool {
    points.windows(2).any(|pair| {
        let nearest = Line::new(pair[0], pair[1]).nearest(tip, 1e-6);
        nearest.distance_sq <= MEETS * MEETS
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chain(corners: &[(f64, f64)]) -> Chain {
        let mut points = vec![Point::from(corners[0])];
        for pair in corners.windows(2) {
            let (from, to) = (Point::from(pair[0]), Point::from(pair[1]));
            let steps = (from.distance(to) / STEP).round() as usize;
            points.extend((1..=steps).map(|i| from.lerp(to, i as f64 / steps as f64)));
        }
        Chain {
            points,
            kind: LineKind::Edge,
            born: LineKind::Edge,
            gaps: [0.0; 2],
            closed: false,
            silhouette: false,
            curve: 0,
            tag: 0,
        }
    }

    #[test]
    fn an_end_that_turns_off_into_the_open_is_cut_at_the_turn() {
        let hooked = chain(&[(0.0, 0.0), (10.0, 0.0), (10.0, 1.0)]);
        let mut chains = vec![hooked.clone()];
        cut(&mut chains);
        let end = chains[0].end(End::Last);
        assert!(end.distance(Point::new(10.0, 0.0)) < 0.5, "{end}");
        // one that meets another line is a corner of something
        let mut met = vec![hooked, chain(&[(8.0, 1.0), (12.0, 1.0)])];
        cut(&mut met);
        assert_eq!(met[0].end(End::Last), Point::new(10.0, 1.0));
        // and a bend farther off is the line's own
        let mut bent = vec![chain(&[(0.0, 0.0), (10.0, 0.0), (10.0, 4.0)])];
        cut(&mut bent);
        assert_eq!(bent[0].end(End::Last), Point::new(10.0, 4.0));
    }

    #[test]
    fn two_ends_in_the_open_that_lead_to_each_other_are_one_line() {
        let line = |bend: f64| {
            let mut chains = vec![
                chain(&[(0.0, 0.0), (6.0, 0.0)]),
                chain(&[(7.0, 0.2), (10.0, 0.2 + bend)]),
            ];
            cut(&mut chains);
            chains.len()
        };
        assert_eq!(line(0.8), 1);
        // one that leads elsewhere is another
        assert_eq!(line(3.0), 2);
    }

    #[test]
    fn a_short_line_with_an_end_in_the_open_goes_and_one_between_two_lines_stays() {
        let rails = || {
            [
                chain(&[(0.0, 0.0), (6.0, 0.0)]),
                chain(&[(0.0, 1.2), (6.0, 1.2)]),
            ]
        };
        let mut chains: Vec<Chain> = rails().into();
        chains.push(chain(&[(3.0, 0.0), (3.0, 1.2)]));
        chains.push(chain(&[(4.0, 0.0), (4.6, 0.8)]));
        cut(&mut chains);
        assert_eq!(chains.len(), 3);
        assert_eq!(chains[2].end(End::Last), Point::new(3.0, 1.2));
    }
}
