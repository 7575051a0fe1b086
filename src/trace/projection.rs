//! From pixels to millimetres on the paper: a plain scale for scans; for photographs what a camera sees of
//! the plane of the paper ([`Photo`]).

use super::photo::Photo;
use kurbo::{Point, Vec2};

/// How pixels become mm.
#[derive(Debug, Clone, PartialEq)]
pub enum Projection {
    /// So many mm to a pixel, across and down.
    Scan([f64; 2]),
    /// A plane seen by a lens.
    Photo(Box<Photo>),
}

impl Projection {
    /// Where a pixel lies on the paper, mm.
    pub fn to_mm(&self, pixel: Point) -> Point {
        match self {
            Self::Scan([across, down]) => Point::new(pixel.x * across, pixel.y * down),
            Self::Photo(photo) => photo.place_of(pixel),
        }
    }

    /// How many mm one pixel is at `pixel`, in the direction in which it is most.
    pub fn coarsest(&self, pixel: Point) -> f64 {
        let [most, _] = self.stretch(pixel);
        most
    }

    /// Where a place on the paper is seen, in pixels, starting from a guess (Newton's method). `None` if it
    /// does not come to rest.
    pub fn to_pixel(&self, place: Point, guess: Point) -> Option<Point> {
        let mut pixel = guess;
        for _ in 0..20 {
            let [across, down] = self.derivative(pixel);
            let off = place - self.to_mm(pixel);
            let area = across.cross(down);
            let step = Vec2::new(off.cross(down) / area, across.cross(off) / area);
            if !step.is_finite() {
                return None;
            }
            pixel += step;
            if step.hypot() < 1e-6 {
                return Some(pixel);
            }
        }
        None
    }

    /// How far the camera was tilted against the paper, degrees: at the middle of the picture the plane is
    /// seen narrower by the cosine of the tilt.
    pub fn tilt(&self) -> f64 {
        match self {
            Self::Scan(_) => 0.0,
            Self::Photo(photo) => {
                let [most, least] = self.stretch(photo.centre());
                (least / most).clamp(0.0, 1.0).acos().to_degrees()
            }
        }
    }

    /// The uncertainty of the distance between two pixels, mm, one standard deviation, from what was seen
    /// of the reference alone.
    pub fn uncertainty(&self, a: Point, b: Point) -> f64 {
        match self {
            Self::Scan(_) => 0.0,
            Self::Photo(photo) => photo.uncertainty(a, b),
        }
    }

    /// How a step of one pixel across and down moves on the paper, mm.
    fn derivative(&self, pixel: Point) -> [Vec2; 2] {
        let step = |dx: f64, dy: f64| {
            let ahead = self.to_mm(pixel + Vec2::new(dx, dy));
            (ahead - self.to_mm(pixel - Vec2::new(dx, dy))) / (2.0 * (dx + dy))
        };
        [step(0.01, 0.0), step(0.0, 0.01)]
    }

    /// The greatest and the least of mm to a pixel over all directions: singular values.
    fn stretch(&self, pixel: Point) -> [f64; 2] {
        let [a, b] = self.derivative(pixel);
        let (sum, area) = (a.hypot2() + b.hypot2(), a.cross(b).abs());
        let root = (sum * sum - 4.0 * area * area).max(0.0).sqrt();
        [
            ((sum + root) / 2.0).sqrt(),
            ((sum - root) / 2.0).max(0.0).sqrt(),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trace::photo::Sight;

    /// A camera in closed form: a point of the paper, tilted about its own x axis, seen through a pinhole,
    /// then moved outwards or inwards by the lens.
    fn seen(place: Point, tilt: f64, bend: f64) -> Point {
        let (sine, cosine) = tilt.to_radians().sin_cos();
        let depth = 300.0 + place.y * sine;
        let flat = Vec2::new(place.x, place.y * cosine) * 900.0 / depth;
        // solve flat = bent (1 + k |bent|²) for the place in the picture
        let straight = flat / 500.0;
        let mut bent = straight;
        for _ in 0..60 {
            bent = straight / (1.0 + bend * bent.hypot2());
        }
        Point::new(400.0, 300.0) + bent * 500.0
    }

    #[test]
    fn plane_tilt_and_lens_are_found_again() {
        for (tilt, bend) in [(0.0, 0.0), (25.0, 0.05), (18.0, -0.05)] {
            let corner = |x: f64, y: f64| {
                let place = Point::new(x, y);
                (seen(place, tilt, bend), place)
            };
            let corners = [
                corner(-60.0, -40.0),
                corner(60.0, -40.0),
                corner(60.0, 40.0),
                corner(-60.0, 40.0),
            ];
            let mut sights = Vec::new();
            for i in -6..=6 {
                for (x, y) in [(10.0, 4.0), (10.0, -4.0)] {
                    let place = Point::new(x * f64::from(i), 10.0 * y);
                    let at = seen(place, tilt, bend);
                    sights.push(Sight::At { seen: at, place });
                }
            }
            let photo = Photo::fitted([800, 600], None, &corners, &sights).unwrap();
            assert!(
                (photo.bend() - bend).abs() < 1e-3,
                "{} for {bend}",
                photo.bend()
            );
            let projection = Projection::Photo(Box::new(photo));
            assert!(
                (projection.tilt() - tilt).abs() < 0.1 + 0.01 * tilt,
                "{}",
                projection.tilt()
            );
            for place in [
                Point::new(0.0, 0.0),
                Point::new(-33.0, 17.0),
                Point::new(50.0, 35.0),
            ] {
                let pixel = seen(place, tilt, bend);
                assert!(projection.to_mm(pixel).distance(place) < 5e-3, "{place:?}");
                let back = projection
                    .to_pixel(place, Point::new(400.0, 300.0))
                    .unwrap();
                assert!(back.distance(pixel) < 2e-2, "{back:?} for {pixel:?}");
            }
        }
    }
}
