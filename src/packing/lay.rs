//! The lay during a search: every piece in some place, overlaps allowed and weighed. mm, y down.

use super::task::{Place, Task};
use kurbo::{Rect, Vec2};

/// How fast the weight of an overlap grows that stays: by the first factor where it is hardly there
/// and by the second where it is the worst of all. Weights of overlaps that are gone shrink by the
/// third. Faster growth drives pieces apart sooner but forgets sooner what was learnt (values of
/// Gardeyn et al. 2025).
const GROWTH: (f32, f32, f32) = (1.2, 2.0, 0.95);

/// Boxes are compared in rows of this many.
const LANE: usize = 16;

/// All pieces in their places, with the overlap of each two and its weight.
#[derive(Clone, Debug)]
pub(super) struct Lay<'a> {
    pub(super) task: &'a Task,
    pub(super) bays: Vec<Rect>,
    pub(super) places: Vec<Place>,
    boxes: Boxes,
    count: usize,
    losses: Vec<f32>,
    weights: Vec<f32>,
    /// How many places have been judged so far: the measure of effort.
    pub(super) judged: u64,
}

impl<'a> Lay<'a> {
    /// All weights 1. `places` holds one place for each piece of the task.
    pub(super) fn new(task: &'a Task, bays: Vec<Rect>, places: Vec<Place>) -> Self {
        let count = task.pieces.len();
        let boxes = Boxes::new(places.len() + task.fixed.len());
        let losses = vec![0.0; count * (count + task.fixed.len())];
        let weights = vec![1.0; losses.len()];
        let mut lay = Self {
            task,
            bays,
            places,
            boxes,
            count,
            losses,
            weights,
            judged: 0,
        };
        for (index, place) in task.fixed.iter().enumerate() {
            lay.boxes.set(count + index, lay.bounds(place));
        }
        lay.refresh();
        lay
    }

    /// Puts all pieces down at once and forgets the weights. Counts as judging every place, so that
    /// a search which only does this comes to its end as well.
    pub(super) fn reset(&mut self, places: &[Place]) {
        self.judged += 1 + places.len() as u64;
        self.restore(places);
        self.weights.fill(1.0);
    }

    /// Puts all pieces down at once; the weights stay.
    pub(super) fn restore(&mut self, places: &[Place]) {
        self.places.clear();
        self.places.extend_from_slice(places);
        self.refresh();
    }

    fn refresh(&mut self) {
        for piece in 0..self.count {
            self.boxes.set(piece, self.bounds(&self.places[piece]));
        }
        for piece in 0..self.count {
            self.measure(piece);
        }
    }

    fn bounds(&self, place: &Place) -> Rect {
        self.task.shapes.all[place.shape].bounds + place.at
    }

    fn width(&self) -> usize {
        self.count + self.task.fixed.len()
    }

    fn other(&self, index: usize) -> &Place {
        self.places
            .get(index)
            .unwrap_or_else(|| &self.task.fixed[index - self.count])
    }

    /// Puts one piece down.
    pub(super) fn put(&mut self, piece: usize, place: Place) {
        self.places[piece] = place;
        self.boxes.set(piece, self.bounds(&place));
        self.measure(piece);
    }

    fn measure(&mut self, piece: usize) {
        let width = self.width();
        let place = self.places[piece];
        let bounds = self.bounds(&place);
        for index in (0..width).filter(|&index| index != piece) {
            let other = self.other(index);
            let loss = if self.boxes.touches(index, bounds) {
                self.task
                    .shapes
                    .overlap(place.shape, other.shape, other.at - place.at)
            } else {
                0.0
            };
            self.losses[piece * width + index] = loss;
            if index < self.count {
                self.losses[index * width + piece] = loss;
            }
        }
    }

    /// The weighed overlap that `piece` would have in `place`. Once it is known to reach `bound` the
    /// rest is not looked at, and what is returned is some number of at least `bound`.
    pub(super) fn judge(&mut self, piece: usize, place: &Place, bound: f32) -> f32 {
        self.judged += 1;
        let bounds = self.bounds(place);
        let weights = &self.weights[piece * self.width()..];
        let mut sum = 0.0;
        for row in 0..self.boxes.rows() {
            let hits = self.boxes.hits(row, bounds);
            if u128::from_ne_bytes(hits) == 0 {
                continue;
            }
            for (k, _) in hits.iter().enumerate().filter(|&(_, &hit)| hit != 0) {
                let index = row * LANE + k;
                if index == piece {
                    continue;
                }
                let other = self.other(index);
                let by = other.at - place.at;
                let loss = self.task.shapes.overlap(place.shape, other.shape, by);
                sum += loss * weights[index];
                if sum >= bound {
                    return sum;
                }
            }
        }
        sum
    }

    /// The weighed overlap of `piece` where it lies.
    pub(super) fn weighed(&self, piece: usize) -> f32 {
        let row = piece * self.width()..(piece + 1) * self.width();
        self.losses[row.clone()]
            .iter()
            .zip(&self.weights[row])
            .map(|(l, w)| l * w)
            .sum()
    }

    /// Whether `piece` overlaps anything.
    pub(super) fn overlaps(&self, piece: usize) -> bool {
        self.losses[piece * self.width()..(piece + 1) * self.width()]
            .iter()
            .any(|&l| l > 0.0)
    }

    /// The overlap of all pieces, unweighed; 0 only where the lay can be cut.
    pub(super) fn loss(&self) -> f32 {
        let width = self.width();
        let row = |i: usize| {
            self.losses[i * width + i + 1..(i + 1) * width]
                .iter()
                .sum::<f32>()
        };
        (0..self.count).map(row).sum()
    }

    /// Raises the weights of the overlaps that are there and lowers the others (guided local
    /// search, Voudouris and Tsang 1999, in the form of Gardeyn et al. 2025).
    pub(super) fn reweigh(&mut self) {
        let worst = self
            .losses
            .iter()
            .copied()
            .fold(f32::MIN_POSITIVE, f32::max);
        let (low, high, decay) = GROWTH;
        for (weight, &loss) in self.weights.iter_mut().zip(&self.losses) {
            *weight = if loss > 0.0 {
                *weight * (low + (high - low) * loss / worst)
            } else {
                (*weight * decay).max(1.0)
            };
        }
    }

    /// The nearest place to `place` within its bay.
    pub(super) fn within(&self, place: Place) -> Option<Place> {
        let range = self.task.range(place.shape, &self.bays[place.bay])?;
        let x = place.at.x.clamp(range.x0, range.x1);
        let y = place.at.y.clamp(range.y0, range.y1);
        Some(Place {
            at: Vec2::new(x, y),
            ..place
        })
    }

    /// How far the pieces in the last bay reach to the right.
    pub(super) fn end(&self) -> f64 {
        let last = self.bays.len() - 1;
        let inside = self.places.iter().filter(|place| place.bay == last);
        inside
            .map(|place| self.bounds(place).x1)
            .fold(self.bays[last].x0, f64::max)
    }
}

/// Upright boxes, a little too large so that f32 loses nothing, side by side in memory.
#[derive(Clone, Debug)]
struct Boxes {
    x0: Vec<f32>,
    x1: Vec<f32>,
    y0: Vec<f32>,
    y1: Vec<f32>,
}

impl Boxes {
    fn new(count: usize) -> Self {
        let padded = count.next_multiple_of(LANE);
        let (low, high) = (vec![f32::INFINITY; padded], vec![f32::NEG_INFINITY; padded]);
        Self {
            x0: low.clone(),
            x1: high.clone(),
            y0: low,
            y1: high,
        }
    }

    fn set(&mut self, index: usize, bounds: Rect) {
        let [x0, y0, x1, y1] = widened(bounds);
        (self.x0[index], self.x1[index]) = (x0, x1);
        (self.y0[index], self.y1[index]) = (y0, y1);
    }

    fn rows(&self) -> usize {
        self.x0.len() / LANE
    }

    fn touches(&self, index: usize, bounds: Rect) -> bool {
        let [x0, y0, x1, y1] = widened(bounds);
        (self.x0[index] < x1)
            & (self.x1[index] > x0)
            & (self.y0[index] < y1)
            & (self.y1[index] > y0)
    }

    fn hits(&self, row: usize, bounds: Rect) -> [u8; LANE] {
        let [x0, y0, x1, y1] = widened(bounds);
        let range = row * LANE..(row + 1) * LANE;
        let (xs0, xs1) = (&self.x0[range.clone()], &self.x1[range.clone()]);
        let (ys0, ys1) = (&self.y0[range.clone()], &self.y1[range]);
        let mut hits = [0; LANE];
        for k in 0..LANE {
            hits[k] = u8::from((xs0[k] < x1) & (xs1[k] > x0) & (ys0[k] < y1) & (ys1[k] > y0));
        }
        hits
    }
}

fn widened(bounds: Rect) -> [f32; 4] {
    let down = |v: f64| (v - 1e-6 * v.abs()) as f32;
    let up = |v: f64| (v + 1e-6 * v.abs()) as f32;
    [
        down(bounds.x0),
        down(bounds.y0),
        up(bounds.x1),
        up(bounds.y1),
    ]
}
