//! In which order the measures and pieces of a design are worked out for one size, so that every
//! formula finds its names computed; and the circles that make that impossible.

#[cfg(test)]
mod tests;

use super::Formula;
use super::{Design, PieceSpec, PointSpec, ShapeSpec, Size};
use crate::diagnostic::{Diagnostic, Place};
use std::collections::{BTreeMap, BTreeSet};

/// One thing to work out.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Step {
    /// The measure of this name.
    Measure(String),
    /// The seam line of the piece of this key: its edges, width, height, perimeter, area.
    SeamLine(String),
    /// The cut line of the piece of this key: its cut width and cut height.
    CutLine(String),
    /// The shoe that is drafted from the foot.
    Shoe,
}

impl Step {
    /// The name of the measure or the piece.
    pub fn name(&self) -> &str {
        match self {
            Self::Measure(name) | Self::SeamLine(name) | Self::CutLine(name) => name,
            Self::Shoe => "shoe",
        }
    }

    /// The step that gives a name of a formula its value; `None` for names of the foot.
    pub fn giving(name: &str) -> Option<Self> {
        match name.split_once('.') {
            None => Some(Self::Measure(name.to_string())),
            Some(("foot", _)) => None,
            Some(("shoe", _)) => Some(Self::Shoe),
            Some((piece, "cut width" | "cut height")) => Some(Self::CutLine(piece.to_string())),
            Some((piece, _)) => Some(Self::SeamLine(piece.to_string())),
        }
    }
}

/// The formula of measure `name` in `size`: the size's own, or the design's.
pub fn measure<'d>(design: &'d Design, size: &'d Size, name: &str) -> Option<&'d Formula> {
    let own = size.measures.iter().find(|(key, _)| key == name);
    let usual = || design.measures.iter().find(|(key, _)| key == name);
    own.or_else(usual).map(|(_, formula)| formula)
}

/// The names of all measures in `size`: the design's in order, then those that only sizes give.
pub fn measures<'d>(design: &'d Design, size: &'d Size) -> Vec<&'d str> {
    let mut seen: BTreeSet<&str> = BTreeSet::new();
    let all = design.measures.iter().chain(&size.measures);
    all.map(|(name, _)| name.as_str())
        .filter(|name| seen.insert(name))
        .collect()
}

/// All steps of `design` in `size`, each after those it needs; otherwise in the design's order.
///
/// # Errors
/// One diagnostic for each circle of formulas, with its chain. Names that nothing is called are
/// passed over.
pub fn order(design: &Design, size: &Size) -> Result<Vec<Step>, Vec<Diagnostic>> {
    let nodes = nodes(design, size);
    let mut walk = Walk {
        needs: needs(&nodes),
        steps: nodes.iter().map(|node| node.step.clone()).collect(),
        state: vec![State::New; nodes.len()],
        sorted: Vec::with_capacity(nodes.len()),
        circles: Vec::new(),
    };
    for start in 0..nodes.len() {
        walk.from(start);
    }
    if walk.circles.is_empty() {
        Ok(walk.sorted)
    } else {
        Err(walk.circles)
    }
}

/// A step with what it needs.
struct Node<'d> {
    step: Step,
    needs: Vec<(Step, Need<'d>)>,
}

/// Where a step says that it needs another.
#[derive(Clone, Copy)]
enum Need<'d> {
    /// By a name in a formula.
    Name(&'d Formula, &'d str),
    /// By a key of the design.
    Key(&'d Place),
}

impl Need<'_> {
    fn place(self) -> Place {
        match self {
            Self::Name(formula, name) => formula.place_of(name),
            Self::Key(place) => place.clone(),
        }
    }
}

fn nodes<'d>(design: &'d Design, size: &'d Size) -> Vec<Node<'d>> {
    let all = design.measures.iter().chain(&size.measures);
    // the size's own come last and stay
    let formulas: BTreeMap<&str, &Formula> = all.map(|(name, f)| (name.as_str(), f)).collect();
    let mut nodes = Vec::new();
    for name in measures(design, size) {
        let needs = formulas.get(name).map_or_else(Vec::new, |f| used([*f]));
        let step = Step::Measure(name.to_string());
        nodes.push(Node { step, needs });
    }
    if let Some(shoe) = &design.shoe {
        nodes.push(Node {
            step: Step::Shoe,
            needs: used(shoe.formulas()),
        });
    }
    for piece in &design.pieces {
        nodes.push(Node {
            step: Step::SeamLine(piece.key.clone()),
            needs: seam_line(piece),
        });
    }
    for piece in &design.pieces {
        let single = piece.edge_allowances.iter();
        let edges = single.filter_map(|(_, formula, _)| formula.as_ref());
        let mut needs = used(piece.allowance.iter().chain(edges));
        needs.push((Step::SeamLine(piece.key.clone()), Need::Key(&piece.place)));
        let step = Step::CutLine(piece.key.clone());
        nodes.push(Node { step, needs });
    }
    nodes
}

fn used<'d>(formulas: impl IntoIterator<Item = &'d Formula>) -> Vec<(Step, Need<'d>)> {
    let mut needs = Vec::new();
    for formula in formulas {
        for name in formula.names() {
            needs.extend(Step::giving(name).map(|step| (step, Need::Name(formula, name))));
        }
    }
    needs
}

/// What the seam line of a piece needs. Marks and notches come later and are not asked.
fn seam_line(piece: &PieceSpec) -> Vec<(Step, Need<'_>)> {
    match &piece.shape {
        ShapeSpec::Tracing {
            ease,
            inner_mark,
            outer_mark,
        } => used([ease, inner_mark, outer_mark]),
        ShapeSpec::Rectangle {
            width,
            height,
            radius,
        } => used([width, height].into_iter().chain(radius)),
        ShapeSpec::Ellipse { width, height } => used([width, height]),
        ShapeSpec::Svg { .. } => Vec::new(),
        ShapeSpec::Shoe { place, .. } => vec![(Step::Shoe, Need::Key(place))],
        ShapeSpec::Inset { of, by, place } => {
            let mut needs = used([by]);
            needs.push((Step::SeamLine(of.clone()), Need::Key(place)));
            needs
        }
        ShapeSpec::Drawn { start, edges } => {
            let along = edges.iter().flat_map(|e| e.handles.iter().chain([&e.to]));
            let points = along.chain([start]);
            points.flat_map(|point| at_point(piece, point)).collect()
        }
    }
}

fn at_point<'d>(piece: &'d PieceSpec, point: &'d PointSpec) -> Vec<(Step, Need<'d>)> {
    match point {
        PointSpec::At(pair) => used(pair),
        // only marks stand on edges, and they come after all lines
        PointSpec::OnEdge { .. } => Vec::new(),
        PointSpec::Named(name, _) => {
            let found = piece.points.iter().find(|(key, _)| key == name);
            found.map_or_else(Vec::new, |(_, pair)| used(pair))
        }
    }
}

fn needs<'d>(nodes: &[Node<'d>]) -> Vec<Vec<(usize, Need<'d>)>> {
    let steps = nodes.iter().enumerate().map(|(i, node)| (&node.step, i));
    let index: BTreeMap<&Step, usize> = steps.collect();
    let known = |(step, need): &(Step, Need<'d>)| index.get(step).map(|i| (*i, *need));
    nodes
        .iter()
        .map(|node| node.needs.iter().filter_map(known).collect())
        .collect()
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum State {
    New,
    Open,
    Done,
}

/// Depth-first search with its own stack: a chain of measures may be longer than the thread's.
struct Walk<'d> {
    needs: Vec<Vec<(usize, Need<'d>)>>,
    steps: Vec<Step>,
    state: Vec<State>,
    sorted: Vec<Step>,
    circles: Vec<Diagnostic>,
}

impl Walk<'_> {
    fn from(&mut self, start: usize) {
        if self.state[start] != State::New {
            return;
        }
        self.state[start] = State::Open;
        let mut path: Vec<(usize, usize)> = vec![(start, 0)];
        while let Some((node, next)) = path.last_mut() {
            let node = *node;
            let Some((needed, _)) = self.needs[node].get(*next) else {
                self.state[node] = State::Done;
                self.sorted.push(self.steps[node].clone());
                path.pop();
                continue;
            };
            let needed = *needed;
            *next += 1;
            match self.state[needed] {
                State::Done => {}
                State::New => {
                    self.state[needed] = State::Open;
                    path.push((needed, 0));
                }
                State::Open => {
                    let on_path = path.iter().position(|(open, _)| *open == needed);
                    let circle: Vec<usize> = path[on_path.unwrap_or(0)..]
                        .iter()
                        .map(|(open, _)| *open)
                        .collect();
                    self.report(circle);
                }
            }
        }
    }

    /// Reports a circle at the place where its first member, in the design's order, names the next.
    fn report(&mut self, mut circle: Vec<usize>) {
        let first = circle.iter().enumerate().min_by_key(|(_, node)| **node);
        let turn = first.map_or(0, |(position, _)| position);
        circle.rotate_left(turn);
        let next = circle.get(1).copied().unwrap_or(circle[0]);
        let place = self.needs[circle[0]]
            .iter()
            .find(|(needed, _)| *needed == next);
        let mut chain: Vec<&str> = circle.iter().map(|node| self.steps[*node].name()).collect();
        chain.dedup();
        if chain.len() > 1 && chain.first() == chain.last() {
            chain.pop();
        }
        chain.push(chain[0]);
        let chain = chain.join(" → ");
        let message = format!("these formulas go in a circle: {chain}");
        let place = place.map(|(_, need)| need.place());
        self.circles.push(
            Diagnostic::error("formula-cycle", place.as_ref(), message)
                .remedy("give one of them a value that does not hang on the others"),
        );
    }
}
