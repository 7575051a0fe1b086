//! From items to a task: rings checked, simplified, grown by half the spacing and turned. mm, y down.

use super::item::{Item, Reason, Refusal, Turns};
use super::poles;
use super::ring;
use super::shape::{Shape, Shapes};
use super::task::{Piece, Task};
use super::{simplify, swell};
use kurbo::{Point, Rect};

/// Where every turn is allowed, at least and at most so many are tried for each item, as many as the
/// effort is worth.
const TURNS: (usize, usize) = (4, 72);

/// Pieces without spacing are kept apart by this part of the height of the cloth, so that no
/// rounding makes them overlap.
const HAIR: f64 = 1e-7;

/// How rings are made ready.
#[derive(Clone, Copy, Debug)]
pub(super) struct Making {
    /// What is kept free between pieces, and between pieces and the edge.
    pub(super) spacing: f64,
    /// How far a simplified ring may lie outside the true one.
    pub(super) simplify: f64,
    /// How many shapes items that may lie in any turn should have together.
    pub(super) shapes: usize,
    /// The height of the cloth or of the highest sheet.
    pub(super) height: f64,
}

impl Making {
    fn gap(&self) -> f64 {
        self.spacing.max(HAIR * self.height)
    }

    /// How much smaller than the cloth a bay is at each edge, for rings that are grown already.
    pub(super) fn inset(&self) -> f64 {
        self.spacing - self.gap() / 2.0
    }

    /// The ring as it is packed; positive area in, positive area out.
    pub(super) fn ready(&self, points: &[Point]) -> Vec<Point> {
        let fewer = simplify::outwards(points, self.simplify);
        match self.spacing > HAIR * self.height {
            true => ring::tidied(&swell::grown(&fewer, self.gap() / 2.0)),
            false => swell::by_a_hair(&fewer, self.gap() / 2.0),
        }
    }
}

/// Makes the task, and shapes of the `obstacles` after all others, with the number of their first
/// one. All items that cannot be packed in any of the `bays` are refused at once.
pub(super) fn task(
    items: &[Item],
    making: Making,
    bays: &[Rect],
    obstacles: &[Vec<Point>],
) -> Result<(Task, usize), Vec<Refusal>> {
    let any = items.iter().filter(|item| item.turns == Turns::Any);
    let any: usize = any.map(|item| 1 + usize::from(item.face_down)).sum();
    let turns = (making.shapes / any.max(1)).clamp(TURNS.0, TURNS.1);
    let mut all: Vec<Shape> = Vec::new();
    let mut choices = Vec::new();
    let mut refusals = Vec::new();
    for (index, item) in items.iter().enumerate() {
        let from = all.len();
        match shapes(item, making, turns, bays).and_then(|shapes| fitting(shapes, making, bays)) {
            Ok(shapes) => all.extend(shapes),
            Err(why) => refusals.push(Refusal { item: index, why }),
        }
        choices.push((from..all.len()).collect());
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let first = all.len();
    all.extend(obstacles.iter().map(|ring| Shape::obstacle(ring)));
    let copies = |(item, of): (usize, &Item)| (0..of.count).map(move |copy| Piece { item, copy });
    let pieces = items.iter().enumerate().flat_map(copies).collect();
    Ok((
        Task {
            shapes: Shapes::new(all),
            pieces,
            choices,
            fixed: Vec::new(),
        },
        first,
    ))
}

fn shapes(item: &Item, making: Making, turns: usize, bays: &[Rect]) -> Result<Vec<Shape>, Reason> {
    let points = ring::tidied(&item.ring);
    let sound = item.ring.iter().all(|point| point.is_finite()) && points.len() > 2;
    if !sound || ring::crosses_itself(&points) {
        return Err(Reason::NoRing);
    }
    let ready = making.ready(&points);
    let poles = if may_fit(&ready, bays) {
        poles::inscribed(&ready, poles::MOST)
    } else {
        Vec::new() // `fitting` refuses it: no circles for what may have tens of thousands of points
    };
    let sides: &[bool] = if item.face_down {
        &[false, true]
    } else {
        &[false]
    };
    if let Some(edge) = item.fold {
        let on_fold = |&mirrored: &bool| {
            let (turn_deg, height) = on_fold(&item.ring, edge, mirrored)?;
            let shape = Shape::new(&ready, &poles, turn_deg, mirrored);
            Some(Shape {
                held_at: Some(height),
                ..shape
            })
        };
        return sides
            .iter()
            .map(on_fold)
            .collect::<Option<_>>()
            .ok_or(Reason::NoFold);
    }
    let turns: Vec<f64> = match &item.turns {
        Turns::Only(turns) => turns.clone(),
        Turns::Any => (0..turns)
            .map(|i| 360.0 * i as f64 / turns as f64)
            .collect(),
    };
    if turns.is_empty() || turns.iter().any(|turn| !turn.is_finite()) {
        return Err(Reason::NoTurn);
    }
    let pairs = sides
        .iter()
        .flat_map(|&side| turns.iter().map(move |&turn| (turn, side)));
    Ok(pairs
        .map(|(turn, side)| Shape::new(&ready, &poles, turn, side))
        .collect())
}

/// Whether the ring has room in one of the bays for all that its area and its extent tell.
fn may_fit(ring: &[Point], bays: &[Rect]) -> bool {
    let (area, extent) = (ring::area(ring).abs(), ring::bounds(ring).size().max_side());
    let has_room = |bay: &Rect| area <= bay.area() && extent <= bay.width().hypot(bay.height());
    bays.iter().any(has_room)
}

/// The turn that lays the edge on the fold with the piece below it (y > 0), and the shift in y that
/// brings it there. Nothing where the piece lies on both sides of the edge.
fn on_fold(points: &[Point], edge: usize, mirrored: bool) -> Option<(f64, f64)> {
    let from = *points.get(edge)?;
    let to = points[(edge + 1) % points.len()];
    let along = if (ring::area(points) > 0.0) == mirrored {
        from - to
    } else {
        to - from
    };
    let along_x = if mirrored { -along.x } else { along.x };
    let turn_deg = -along.y.atan2(along_x).to_degrees();
    let turned = ring::turned(points, turn_deg, mirrored);
    let (a, b) = (turned[edge].y, turned[(edge + 1) % points.len()].y);
    let fold = a.min(b);
    let crossing = 1e-9 * ring::bounds(points).size().max_side();
    (ring::bounds(&turned).y0 >= fold - crossing).then_some((turn_deg, -fold))
}

/// The shapes that fit into one of the bays.
fn fitting(shapes: Vec<Shape>, making: Making, bays: &[Rect]) -> Result<Vec<Shape>, Reason> {
    let grown = making.gap() - 2.0 * making.spacing;
    let reach = |shape: &Shape| {
        let bounds = &shape.bounds;
        shape.held_at.map_or(bounds.height(), |at| bounds.y1 + at)
    };
    let height = |shape: &Shape| reach(shape) - grown;
    let needs = shapes.iter().map(height).fold(f64::INFINITY, f64::min);
    let fit = |shape: &Shape| {
        let b = &shape.bounds;
        bays.iter()
            .any(|bay| b.width() <= bay.width() && reach(shape) <= bay.height())
    };
    let fitting: Vec<Shape> = shapes.into_iter().filter(fit).collect();
    let too_large = Reason::TooLarge {
        needs,
        has: making.height,
    };
    if fitting.is_empty() {
        Err(too_large)
    } else {
        Ok(fitting)
    }
}
