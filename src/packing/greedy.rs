//! Greedy placement: pieces one after the other, the largest first, each as far to the left as it
//! goes. The start of every search, and what a search has to beat. mm, y down.

use super::task::{Place, Task};
use kurbo::{Rect, Vec2};

/// Heights that are tried, evenly over the bay, beside those at which a piece lines up with others.
const HEIGHTS: usize = 40;

/// Pieces are kept this part of their coordinates apart, so that rounding never makes them overlap.
const HAIR: f64 = 1e-13;

/// Bottom-left-fill in its exact form along rows: at each height that is tried, the leftmost free x
/// is taken from the shifts at which the piece meets those that lie already (after the bottom-left
/// heuristic of Baker, Coffman and Rivest 1980, with holes filled). Bays are filled in turn; where a
/// copy of an item found no room none of its later copies is tried again. The pieces that found no
/// place are given back as an error.
pub(super) fn fill(task: &Task, bays: &[Rect]) -> Result<Vec<Place>, Vec<usize>> {
    let mut filler = Filler::new(task, bays);
    let mut places: Vec<Option<Place>> = vec![None; task.pieces.len()];
    let mut left = Vec::new();
    let mut first_open = vec![0; task.choices.len()];
    for piece in task.by_size() {
        let item = task.pieces[piece].item;
        let place = (first_open[item]..bays.len()).find_map(|bay| filler.leftmost(piece, bay));
        match place {
            Some(place) => filler.laid[place.bay].push(place),
            None => left.push(piece),
        }
        first_open[item] = place.map_or(bays.len(), |place| place.bay);
        places[piece] = place;
    }
    if left.is_empty() {
        Ok(places.into_iter().flatten().collect())
    } else {
        Err(left)
    }
}

struct Filler<'a> {
    task: &'a Task,
    bays: &'a [Rect],
    /// What lies in each bay.
    laid: Vec<Vec<Place>>,
    crossings: Vec<(f64, i32)>,
    spans: Vec<(f64, f64)>,
}

impl<'a> Filler<'a> {
    fn new(task: &'a Task, bays: &'a [Rect]) -> Self {
        let mut laid = vec![Vec::new(); bays.len()];
        for place in &task.fixed {
            laid[place.bay].push(*place);
        }
        Self {
            task,
            bays,
            laid,
            crossings: Vec::new(),
            spans: Vec::new(),
        }
    }

    fn leftmost(&mut self, piece: usize, bay: usize) -> Option<Place> {
        let mut best: Option<(f64, f64, Place)> = None;
        for &shape in self.task.choices_of(piece) {
            let Some(range) = self.task.range(shape, &self.bays[bay]) else {
                continue;
            };
            let bounds = self.task.shapes.all[shape].bounds;
            for y in self.heights(bay, range, bounds) {
                let Some(x) = self.free(shape, bay, range, y) else {
                    continue;
                };
                let key = (x + bounds.x1, y + bounds.y1);
                if best.as_ref().is_none_or(|(a, b, _)| key < (*a, *b)) {
                    best = Some((
                        key.0,
                        key.1,
                        Place {
                            shape,
                            bay,
                            at: Vec2::new(x, y),
                        },
                    ));
                }
            }
        }
        best.map(|(_, _, place)| place)
    }

    fn heights(&self, bay: usize, range: Rect, bounds: Rect) -> Vec<f64> {
        if range.height() == 0.0 {
            return vec![range.y0];
        }
        let step = range.height() / HEIGHTS as f64;
        let even = (0..=HEIGHTS).map(|i| (range.y0 + step * i as f64).min(range.y1));
        let lined_up = self.laid[bay].iter().flat_map(|place| {
            let other = self.task.shapes.all[place.shape].bounds + place.at;
            [other.y1 - bounds.y0, other.y0 - bounds.y1]
        });
        let mut heights: Vec<f64> = even
            .chain(lined_up)
            .filter(|y| (range.y0..=range.y1).contains(y))
            .collect();
        heights.sort_by(f64::total_cmp);
        heights.dedup();
        heights
    }

    /// The leftmost shift at height `y` where the shape overlaps nothing.
    fn free(&mut self, shape: usize, bay: usize, range: Rect, y: f64) -> Option<f64> {
        self.spans.clear();
        for place in &self.laid[bay] {
            let (meeting, backwards) = self.task.shapes.meeting(place.shape, shape);
            let from = self.spans.len();
            let by = if backwards {
                place.at.y - y
            } else {
                y - place.at.y
            };
            meeting.spans(by, &mut self.crossings, &mut self.spans);
            for span in &mut self.spans[from..] {
                if backwards {
                    *span = (-span.1, -span.0);
                }
                *span = (span.0 + place.at.x, span.1 + place.at.x);
            }
        }
        self.spans.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut x = range.x0;
        for &(from, to) in &self.spans {
            if from >= x {
                break;
            }
            x = x.max(to + HAIR * to.abs());
        }
        (x <= range.x1).then_some(x)
    }
}
