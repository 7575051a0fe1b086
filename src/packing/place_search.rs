//! A better place for one piece: samples all over the cloth and round where it lies, and descent
//! along the axes from the best of them. mm, y down.

use super::lay::Lay;
use super::random::Random;
use super::task::{Place, Task};
use kurbo::{Rect, Vec2};

/// How thoroughly a place is looked for. More samples find farther places, more descents make more
/// of each; both cost in proportion.
#[derive(Clone, Copy, Debug)]
pub(super) struct Care {
    /// Samples all over the cloth.
    pub(super) wide: usize,
    /// Samples within one piece's width of where it lies.
    pub(super) close: usize,
    /// Descents, from the best samples.
    pub(super) descents: usize,
}

/// First step, last step of the descents, and of the final one, as parts of the piece's smaller
/// extent (Gardeyn et al. 2025).
const COARSE: (f64, f64) = (0.25, 0.02);
const FINE: (f64, f64) = (0.02, 0.001);

/// A step that helped is followed by a longer one, one that did not by a shorter one.
const STRIDE: (f64, f64) = (1.1, 0.5);

/// A place with its weighed overlap.
#[derive(Clone, Copy, Debug)]
struct Sample {
    place: Place,
    loss: f32,
}

/// Puts `piece` into the best place found, if that is better than where it lies (Gardeyn et al.
/// 2025, search of a placement by sampling and coordinate descent).
pub(super) fn improve(lay: &mut Lay, piece: usize, care: Care, random: &mut Random) {
    let now = Sample {
        place: lay.places[piece],
        loss: lay.weighed(piece),
    };
    let extent = lay.task.shapes.all[now.place.shape].bounds.size();
    let extent = extent.width.min(extent.height);
    let mut best = Shortlist::new(care.descents, 0.1 * extent, now);
    for round in 0..care.close + care.wide {
        let place = match round < care.close {
            true => close(lay, piece, random),
            false => wide(lay, piece, random),
        };
        let Some(place) = place else { continue };
        let loss = lay.judge(piece, &place, best.bound());
        best.offer(Sample { place, loss });
        if loss == 0.0 {
            break;
        }
    }
    let mut found = now;
    for index in 0..best.list.len() {
        let sample = descend(lay, piece, best.list[index], COARSE, random);
        if sample.loss < found.loss {
            found = sample;
        }
        if found.loss == 0.0 {
            break;
        }
    }
    found = descend(lay, piece, found, FINE, random);
    if found.loss < now.loss {
        lay.put(piece, found.place);
    }
}

fn wide(lay: &Lay, piece: usize, random: &mut Random) -> Option<Place> {
    let choices = lay.task.choices_of(piece);
    let shape = choices[random.below(choices.len())];
    let bay = random.below(lay.bays.len());
    anywhere(lay.task, &lay.bays, shape, bay, random)
}

/// Somewhere within the bay, evenly.
pub(super) fn anywhere(
    task: &Task,
    bays: &[Rect],
    shape: usize,
    bay: usize,
    random: &mut Random,
) -> Option<Place> {
    let range = task.range(shape, &bays[bay])?;
    let at = Vec2::new(
        random.between(range.x0, range.x1),
        random.between(range.y0, range.y1),
    );
    Some(Place { shape, bay, at })
}

fn close(lay: &Lay, piece: usize, random: &mut Random) -> Option<Place> {
    let now = lay.places[piece];
    let choices = lay.task.choices_of(piece);
    let shape = choices[random.below(choices.len())];
    let (old, new) = (&lay.task.shapes.all[now.shape], &lay.task.shapes.all[shape]);
    let middle = now.at + (old.bounds.center() - new.bounds.center());
    let (width, height) = (new.bounds.width() / 2.0, new.bounds.height() / 2.0);
    let by = Vec2::new(
        random.between(-width, width),
        random.between(-height, height),
    );
    lay.within(Place {
        shape,
        bay: now.bay,
        at: middle + by,
    })
}

/// Descends from `from` along a random one of both axes and both diagonals at a time, until the step
/// is below the last one of `steps` or nothing overlaps any more.
fn descend(
    lay: &mut Lay,
    piece: usize,
    from: Sample,
    steps: (f64, f64),
    random: &mut Random,
) -> Sample {
    let extent = lay.task.shapes.all[from.place.shape].bounds.size();
    let extent = extent.width.min(extent.height);
    let held = lay.task.shapes.all[from.place.shape].held_at.is_some();
    let last = steps.1 * extent;
    let (mut x, mut y) = (steps.0 * extent, if held { 0.0 } else { steps.0 * extent });
    let mut best = from;
    while best.loss > 0.0 && (x > last || y > last) {
        let axis = if held { 0 } else { random.below(4) };
        let step = match axis {
            0 => Vec2::new(x, 0.0),
            1 => Vec2::new(0.0, y),
            2 => Vec2::new(x, y),
            _ => Vec2::new(x, -y),
        };
        let before = best.loss;
        for by in [step, -step] {
            let next = Place {
                at: best.place.at + by,
                ..best.place
            };
            let Some(place) = lay.within(next) else {
                continue;
            };
            let loss = lay.judge(piece, &place, best.loss);
            if loss < best.loss {
                best = Sample { place, loss };
                break;
            }
        }
        let stride = if best.loss < before {
            STRIDE.0
        } else {
            STRIDE.1
        };
        if axis != 1 {
            x *= stride;
        }
        if axis != 0 {
            y *= stride;
        }
    }
    best
}

/// The best few samples, no two of them beside each other.
struct Shortlist {
    list: Vec<Sample>,
    most: usize,
    apart: f64,
}

impl Shortlist {
    fn new(most: usize, apart: f64, first: Sample) -> Self {
        Self {
            list: vec![first],
            most,
            apart,
        }
    }

    /// What a sample must stay below to be of use.
    fn bound(&self) -> f32 {
        if self.list.len() < self.most {
            f32::INFINITY
        } else {
            self.list.last().map_or(f32::INFINITY, |sample| sample.loss)
        }
    }

    fn offer(&mut self, sample: Sample) {
        if sample.loss >= self.bound() {
            return;
        }
        let beside = |other: &Sample| {
            other.place.shape == sample.place.shape
                && (other.place.at - sample.place.at).hypot() < self.apart
        };
        if let Some(index) = self.list.iter().position(beside) {
            if self.list[index].loss <= sample.loss {
                return;
            }
            self.list.remove(index);
        }
        let index = self.list.partition_point(|other| other.loss <= sample.loss);
        self.list.insert(index, sample);
        self.list.truncate(self.most);
    }
}
