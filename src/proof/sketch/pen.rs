//! Courses as short SVG path data: broken into straight steps, cut by a window, rounded to a grid.

use kurbo::{BezPath, PathEl, Point, Rect};
use std::fmt::Write;

/// A polyline, and whether its end meets its start.
type Course = (Vec<Point>, bool);

/// Writes path data on a grid of so many steps to the millimetre.
#[derive(Debug, Clone)]
pub struct Pen {
    steps: f64,
    at: [i64; 2],
    data: String,
}

impl Pen {
    /// A pen on a grid of `steps` to the millimetre.
    pub fn new(steps: f64) -> Self {
        let (at, data) = ([0, 0], String::new());
        Self { steps, at, data }
    }

    /// What was written so far: path data in grid steps.
    pub fn data(&self) -> &str {
        &self.data
    }

    /// Draws what `draw` draws, unless it takes more than `bytes`. Whether it was drawn.
    pub fn within(&mut self, bytes: usize, draw: impl FnOnce(&mut Self)) -> bool {
        let (length, at) = (self.data.len(), self.at);
        draw(self);
        let fits = self.data.len() - length <= bytes;
        if !fits {
            self.data.truncate(length);
            self.at = at;
        }
        fits
    }

    /// Draws `path`, off by at most half a step and a rounding, as far as it lies in `window`.
    pub fn path(&mut self, path: &BezPath, window: Rect) {
        for (points, closed) in courses(path, 0.5 / self.steps) {
            let inside = points.iter().all(|p| holds(window, *p));
            if inside {
                self.polyline(&points, closed);
                continue;
            }
            let mut all = points;
            if closed && let Some(first) = all.first().copied() {
                all.push(first);
            }
            for part in cut(&all, window) {
                self.polyline(&part, false);
            }
        }
    }

    /// Draws a line from point to point; nothing if it has no length on the grid.
    pub fn polyline(&mut self, points: &[Point], closed: bool) {
        let on_grid = |v: f64| (v * self.steps).round() as i64;
        let mut grid = points.iter().map(|p| [on_grid(p.x), on_grid(p.y)]);
        let Some(first) = grid.next() else {
            return;
        };
        let mut places = vec![first];
        for place in grid {
            if places.last() != Some(&place) {
                places.push(place);
            }
        }
        if places.len() < 2 {
            return;
        }
        let places = without_middles(places);
        self.data.push('m');
        let mut here = self.at;
        for (index, place) in places.iter().enumerate() {
            self.number(place[0] - here[0], index > 0);
            self.number(place[1] - here[1], true);
            here = *place;
        }
        self.at = here;
        if closed {
            self.data.push('z');
            self.at = places[0];
        }
    }

    fn number(&mut self, number: i64, after_another: bool) {
        if after_another && number >= 0 {
            self.data.push(' ');
        }
        write!(self.data, "{number}").expect("writing to a String never fails");
    }
}

/// Places without those that lie on the straight way from the one before to the one behind.
fn without_middles(places: Vec<[i64; 2]>) -> Vec<[i64; 2]> {
    let mut kept: Vec<[i64; 2]> = Vec::with_capacity(places.len());
    for place in places {
        if let [.., a, b] = kept.as_slice() {
            let [ax, ay] = [b[0] - a[0], b[1] - a[1]];
            let [bx, by] = [place[0] - b[0], place[1] - b[1]];
            if ax * by == ay * bx && ax * bx + ay * by > 0 {
                kept.pop();
            }
        }
        kept.push(place);
    }
    kept
}

/// The subpaths of `path` as polylines, off by `tolerance` mm at most.
fn courses(path: &BezPath, tolerance: f64) -> Vec<Course> {
    let mut all: Vec<Course> = Vec::new();
    kurbo::flatten(path, tolerance, |element| match element {
        PathEl::MoveTo(p) => all.push((vec![p], false)),
        PathEl::LineTo(p) => {
            if let Some((points, _)) = all.last_mut() {
                points.push(p);
            }
        }
        PathEl::ClosePath => {
            if let Some((_, closed)) = all.last_mut() {
                *closed = true;
            }
        }
        // flattening leaves none
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    all
}

fn holds(window: Rect, p: Point) -> bool {
    p.x >= window.x0 && p.x <= window.x1 && p.y >= window.y0 && p.y <= window.y1
}

/// The parts of a polyline that lie in `window`.
fn cut(points: &[Point], window: Rect) -> Vec<Vec<Point>> {
    let mut parts: Vec<Vec<Point>> = Vec::new();
    for pair in points.windows(2) {
        let Some([from, to]) = segment_in(pair[0], pair[1], window) else {
            continue;
        };
        match parts.last_mut() {
            Some(part) if part.last() == Some(&from) => part.push(to),
            _ => parts.push(vec![from, to]),
        }
    }
    parts
}

/// The part of a straight line that lies in `window` (Liang and Barsky 1984).
fn segment_in(a: Point, b: Point, window: Rect) -> Option<[Point; 2]> {
    let way = b - a;
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (along, room) in [
        (-way.x, a.x - window.x0),
        (way.x, window.x1 - a.x),
        (-way.y, a.y - window.y0),
        (way.y, window.y1 - a.y),
    ] {
        if along == 0.0 {
            if room < 0.0 {
                return None;
            }
            continue;
        }
        let t = room / along;
        match along < 0.0 {
            true => enter = enter.max(t),
            false => leave = leave.min(t),
        }
    }
    let at = |t: f64| match t {
        0.0 => a,
        1.0 => b,
        _ => a + way * t,
    };
    (enter <= leave).then(|| [at(enter), at(leave)])
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Shape;

    const FAR: Rect = Rect::new(-1e3, -1e3, 1e3, 1e3);

    #[test]
    fn a_rectangle_is_written_in_steps_of_half_a_millimetre() {
        let mut pen = Pen::new(2.0);
        pen.path(&Rect::new(10.0, 5.0, 20.0, 8.0).to_path(0.1), FAR);
        assert_eq!(pen.data(), "m20 10 20 0 0 6-20 0z");
        // the next course begins from where the one before was closed
        pen.polyline(&[Point::new(11.0, 5.0), Point::new(12.0, 5.0)], false);
        assert_eq!(pen.data(), "m20 10 20 0 0 6-20 0zm2 0 2 0");
    }

    #[test]
    fn what_lies_beyond_the_window_is_cut_off() {
        let mut pen = Pen::new(1.0);
        let square = Rect::new(0.0, 0.0, 10.0, 10.0).to_path(0.1);
        pen.path(&square, Rect::new(-5.0, 2.0, 6.0, 20.0));
        // down the left side is the last way of a square drawn clockwise from its corner
        assert_eq!(pen.data(), "m6 10-6 0 0-8");
    }

    #[test]
    fn a_circle_is_near_enough_to_a_circle() {
        let mut pen = Pen::new(10.0);
        let circle = kurbo::Circle::new((50.0, 50.0), 40.0).to_path(1e-3);
        pen.path(&circle, FAR);
        let drawn = BezPath::from_svg(pen.data()).unwrap();
        let area = std::f64::consts::PI * 400.0 * 400.0;
        assert!((drawn.area().abs() / area - 1.0).abs() < 2e-3);
    }

    #[test]
    fn what_takes_too_many_bytes_is_taken_back() {
        let mut pen = Pen::new(1.0);
        let line = [Point::new(1.0, 1.0), Point::new(9.0, 1.0)];
        assert!(pen.within(20, |pen| pen.polyline(&line, false)));
        let circle = kurbo::Circle::new((50.0, 50.0), 40.0).to_path(1e-3);
        assert!(!pen.within(20, |pen| pen.path(&circle, FAR)));
        pen.polyline(&line, false);
        assert_eq!(pen.data(), "m1 1 8 0m-8 0 8 0");
    }

    #[test]
    fn nothing_is_written_of_what_has_no_length() {
        let mut pen = Pen::new(1.0);
        pen.polyline(&[Point::new(1.0, 1.0), Point::new(1.2, 1.2)], true);
        assert_eq!(pen.data(), "");
    }
}
