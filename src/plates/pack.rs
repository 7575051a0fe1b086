//! Packing upright rectangles on an area with obstacles, by its largest free rectangles (Jylänki,
//! 2010, 'maximal rectangles'). Lengths in mm; nothing is turned here.

use kurbo::{Point, Rect};

/// The free part of an area, as all largest free rectangles; they overlap one another.
#[derive(Debug, Clone)]
pub struct Free {
    gap: f64,
    rects: Vec<Rect>,
}

impl Free {
    /// An empty area in which things keep `gap` mm apart (not from the area's edge).
    pub fn new(area: Rect, gap: f64) -> Self {
        let grown = Rect::new(area.x0, area.y0, area.x1 + gap, area.y1 + gap);
        Self {
            gap,
            rects: vec![grown],
        }
    }

    /// The place for `width` by `height` whose lower edge stands highest, then leftmost.
    pub fn find(&self, width: f64, height: f64) -> Option<Point> {
        let (width, height) = (width + self.gap - 1e-9, height + self.gap - 1e-9);
        let mut best: Option<Point> = None;
        for rect in &self.rects {
            let fits = rect.width() >= width && rect.height() >= height;
            if fits && best.is_none_or(|b| (rect.y0, rect.x0) < (b.y, b.x)) {
                best = Some(rect.origin());
            }
        }
        best
    }

    /// Takes `rect` (and the gap round it) away.
    pub fn take(&mut self, rect: Rect) {
        // the free rectangles reach one gap further right and down than what may lie in them, and
        // so does what is taken
        let shadow = Rect::new(rect.x0, rect.y0, rect.x1 + self.gap, rect.y1 + self.gap);
        let mut rects: Vec<Rect> = Vec::new();
        for free in &self.rects {
            let apart = free.x1 <= shadow.x0
                || free.x0 >= shadow.x1
                || free.y1 <= shadow.y0
                || free.y0 >= shadow.y1;
            if apart {
                rects.push(*free);
                continue;
            }
            let parts = [
                Rect::new(free.x0, free.y0, shadow.x0, free.y1),
                Rect::new(shadow.x1, free.y0, free.x1, free.y1),
                Rect::new(free.x0, free.y0, free.x1, shadow.y0),
                Rect::new(free.x0, shadow.y1, free.x1, free.y1),
            ];
            rects.extend(
                parts
                    .into_iter()
                    .filter(|p| p.width() > 1e-6 && p.height() > 1e-6),
            );
        }
        self.rects = without_contained(rects);
    }
}

fn without_contained(rects: Vec<Rect>) -> Vec<Rect> {
    let inside = |a: &Rect, b: &Rect| {
        a.x0 >= b.x0 - 1e-9 && a.y0 >= b.y0 - 1e-9 && a.x1 <= b.x1 + 1e-9 && a.y1 <= b.y1 + 1e-9
    };
    let mut kept: Vec<Rect> = Vec::new();
    for rect in rects {
        if kept.iter().any(|k| inside(&rect, k)) {
            continue;
        }
        kept.retain(|k| !inside(k, &rect));
        kept.push(rect);
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn four_quarters_fill_an_area_with_their_gaps() {
        let mut free = Free::new(Rect::new(0.0, 0.0, 106.0, 106.0), 6.0);
        let mut placed: Vec<Rect> = Vec::new();
        while let Some(at) = free.find(50.0, 50.0) {
            let rect = Rect::from_origin_size(at, (50.0, 50.0));
            assert!(
                placed
                    .iter()
                    .all(|p| p.inflate(5.999, 5.999).intersect(rect).is_zero_area())
            );
            free.take(rect);
            placed.push(rect);
        }
        assert_eq!(placed.len(), 4);
        assert!(free.find(1.0, 1.0).is_none());
    }

    #[test]
    fn an_obstacle_is_kept_clear() {
        let mut free = Free::new(Rect::new(0.0, 0.0, 100.0, 40.0), 6.0);
        free.take(Rect::new(0.0, 20.0, 100.0, 40.0));
        assert_eq!(free.find(100.0, 14.0), Some(Point::ZERO));
        assert!(free.find(10.0, 14.1).is_none());
    }
}
