//! Connected regions of a mask and the rings round them. Places in pixels.

use super::plane::{Mask, Plane};
use crate::geometry::ring::area;
use kurbo::Point;

/// A connected region of a mask.
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    /// Its label in [`Regions::labels`], from 1.
    pub label: u32,
    /// Pixels that belong to it.
    pub area: usize,
    /// Columns and rows it lies in: first column, first row, last column, last row.
    pub bounds: [usize; 4],
    /// Pixels of it on the border of the picture.
    pub on_border: usize,
    /// The sum of its places.
    sum: [f64; 2],
}

impl Region {
    /// Its centre of gravity, pixels.
    pub fn centre(&self) -> Point {
        let area = self.area.max(1) as f64;
        Point::new(self.sum[0] / area, self.sum[1] / area)
    }

    /// The diagonal of its bounds, pixels.
    pub fn reach(&self) -> f64 {
        let [x0, y0, x1, y1] = self.bounds.map(|b| b as f64);
        (x1 - x0 + 1.0).hypot(y1 - y0 + 1.0)
    }
}

/// All regions of a mask.
#[derive(Debug)]
pub struct Regions {
    width: usize,
    height: usize,
    /// Which region every pixel belongs to; 0 is none.
    pub labels: Vec<u32>,
    /// The regions in the order of their first pixels.
    pub list: Vec<Region>,
}

impl Regions {
    /// The regions of `mask`, whose pixels hang together by their sides, and with `corners` also by their
    /// corners.
    pub fn of(mask: &Mask, corners: bool) -> Self {
        let mut regions = Regions {
            width: mask.width,
            height: mask.height,
            labels: vec![0; mask.data.len()],
            list: Vec::new(),
        };
        for start in 0..mask.data.len() {
            if mask.data[start] && regions.labels[start] == 0 {
                regions.fill(mask, start, corners);
            }
        }
        regions
    }

    fn fill(&mut self, mask: &Mask, start: usize, corners: bool) {
        let (width, height) = (self.width, self.height);
        let label = self.list.len() as u32 + 1;
        let mut region = Region {
            label,
            area: 0,
            bounds: [usize::MAX, usize::MAX, 0, 0],
            on_border: 0,
            sum: [0.0; 2],
        };
        let mut waiting = vec![start];
        self.labels[start] = label;
        while let Some(pixel) = waiting.pop() {
            let (x, y) = (pixel % width, pixel / width);
            region.area += 1;
            region.sum[0] += x as f64 + 0.5;
            region.sum[1] += y as f64 + 0.5;
            let [x0, y0, x1, y1] = region.bounds;
            region.bounds = [x0.min(x), y0.min(y), x1.max(x), y1.max(y)];
            if x == 0 || y == 0 || x + 1 == width || y + 1 == height {
                region.on_border += 1;
            }
            let (left, right) = (x.saturating_sub(1), (x + 1).min(width - 1));
            let (top, bottom) = (y.saturating_sub(1), (y + 1).min(height - 1));
            for row in top..=bottom {
                for column in left..=right {
                    let next = row * width + column;
                    let beside = corners || row == y || column == x;
                    if beside && mask.data[next] && self.labels[next] == 0 {
                        self.labels[next] = label;
                        waiting.push(next);
                    }
                }
            }
        }
        self.list.push(region);
    }

    /// The pixels of the regions with `labels`.
    pub fn mask(&self, labels: &[u32]) -> Mask {
        Mask {
            width: self.width,
            height: self.height,
            data: self.labels.iter().map(|l| labels.contains(l)).collect(),
        }
    }

    /// The middle of the first pixel of a region.
    pub fn first(&self, region: &Region) -> Option<Point> {
        let pixel = self.labels.iter().position(|l| *l == region.label)?;
        let (x, y) = (pixel % self.width, pixel / self.width);
        Some(Point::new(x as f64 + 0.5, y as f64 + 0.5))
    }

    /// The ring round the regions with `labels`, through the middles between inner and outer pixels, the
    /// longest if there are several; holes do not count.
    pub fn ring(&self, labels: &[u32], bounds: [usize; 4]) -> Vec<Point> {
        let [x0, y0, x1, y1] = bounds;
        let (width, height) = (x1 - x0 + 3, y1 - y0 + 3);
        let mut plane = Plane::filled(width, height, 0.0);
        for y in y0..=y1 {
            for x in x0..=x1 {
                if labels.contains(&self.labels[y * self.width + x]) {
                    plane.data[(y - y0 + 1) * width + x - x0 + 1] = 1.0;
                }
            }
        }
        let (dx, dy) = (x0 as f64 - 1.0, y0 as f64 - 1.0);
        let ring = longest(rings(&plane, 0.5));
        ring.iter()
            .map(|p| Point::new(p.x + dx, p.y + dy))
            .collect()
    }
}

/// The ring that encloses most.
pub fn longest(rings: Vec<Vec<Point>>) -> Vec<Point> {
    let larger = |a: &Vec<Point>, b: &Vec<Point>| area(a).abs().total_cmp(&area(b).abs());
    rings.into_iter().max_by(larger).unwrap_or_default()
}

/// The rings on which `plane` has the value `level`, between pixels, clockwise round what is higher
/// (marching squares; Lorensen & Cline 1987 in the plane). The plane's outermost pixels must be lower.
pub fn rings(plane: &Plane, level: f32) -> Vec<Vec<Point>> {
    const NONE: usize = usize::MAX;
    let (width, height) = (plane.width, plane.height);
    // an edge between pixel middles: 2 * pixel to the right of it, 2 * pixel + 1 below it
    let mut next = vec![NONE; 2 * width * height];
    for y in 0..height.saturating_sub(1) {
        for x in 0..width.saturating_sub(1) {
            let pixel = y * width + x;
            let sides = [
                2 * pixel,
                2 * (pixel + 1) + 1,
                2 * (pixel + width),
                2 * pixel + 1,
            ];
            for (from, to) in steps(plane, level, x, y) {
                next[sides[from]] = sides[to];
            }
        }
    }
    let point = |edge: usize| {
        let (pixel, below) = (edge / 2, edge % 2);
        let other = if below == 1 { pixel + width } else { pixel + 1 };
        let (a, b) = (plane.data[pixel], plane.data[other]);
        let share = f64::from((level - a) / (b - a)).clamp(0.0, 1.0);
        let (x, y) = ((pixel % width) as f64 + 0.5, (pixel / width) as f64 + 0.5);
        match below {
            1 => Point::new(x, y + share),
            _ => Point::new(x + share, y),
        }
    };
    let mut all = Vec::new();
    for start in 0..next.len() {
        let mut ring = Vec::new();
        let mut edge = start;
        while next[edge] != NONE {
            ring.push(point(edge));
            edge = std::mem::replace(&mut next[edge], NONE);
        }
        if ring.len() > 3 {
            all.push(ring);
        }
    }
    all
}

/// How the line of the level goes through the square between four pixel middles: from side to side, the
/// sides counted top, right, bottom, left.
fn steps(plane: &Plane, level: f32, x: usize, y: usize) -> Vec<(usize, usize)> {
    let high = |dx: usize, dy: usize| plane.data[(y + dy) * plane.width + x + dx] >= level;
    let corners = [high(0, 0), high(1, 0), high(1, 1), high(0, 1)];
    let number = corners.iter().fold(0, |n, high| 2 * n + usize::from(*high));
    // the higher side lies to the right of each step
    match number {
        0b1000 => vec![(0, 3)],
        0b0100 => vec![(1, 0)],
        0b0010 => vec![(2, 1)],
        0b0001 => vec![(3, 2)],
        0b1100 => vec![(1, 3)],
        0b0110 => vec![(2, 0)],
        0b0011 => vec![(3, 1)],
        0b1001 => vec![(0, 2)],
        0b0111 => vec![(3, 0)],
        0b1011 => vec![(0, 1)],
        0b1101 => vec![(1, 2)],
        0b1110 => vec![(2, 3)],
        0b1010 => vec![(0, 3), (2, 1)],
        0b0101 => vec![(1, 0), (3, 2)],
        _ => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::ring::contains;

    /// Closed forms: area and girth of a circle; a plane that falls evenly with the distance.
    #[test]
    fn the_ring_of_a_cone_is_a_circle() {
        let mut plane = Plane::filled(61, 61, 0.0);
        for (i, value) in plane.data.iter_mut().enumerate() {
            let (x, y) = ((i % 61) as f64 + 0.5 - 30.2, (i / 61) as f64 + 0.5 - 30.7);
            *value = (25.0 - x.hypot(y)) as f32;
        }
        let rings = rings(&plane, 5.0);
        assert_eq!(rings.len(), 1);
        let circle = std::f64::consts::PI * 400.0;
        assert!(
            (area(&rings[0]) / circle - 1.0).abs() < 2e-3,
            "{}",
            area(&rings[0])
        );
        let centre = Point::new(30.2, 30.7);
        assert!(
            rings[0]
                .iter()
                .all(|p| (p.distance(centre) - 20.0).abs() < 0.02)
        );
        assert!(contains(&rings[0], centre) && !contains(&rings[0], Point::new(1.0, 30.0)));
    }

    #[test]
    fn regions_are_counted_with_their_border_and_their_corners() {
        let rows = ["##..", "....", ".#..", "..#."];
        let data = rows
            .iter()
            .flat_map(|r| r.chars().map(|c| c == '#'))
            .collect();
        let mask = Mask {
            width: 4,
            height: 4,
            data,
        };
        let areas = |corners| -> Vec<(usize, usize)> {
            let regions = Regions::of(&mask, corners).list;
            regions.iter().map(|r| (r.area, r.on_border)).collect()
        };
        assert_eq!(areas(true), [(2, 2), (2, 1)]);
        assert_eq!(areas(false), [(2, 2), (1, 0), (1, 1)]);
        assert_eq!(
            Regions::of(&mask, true).list[1].centre(),
            Point::new(2.0, 3.0)
        );
    }
}
