//! Scans and photographs drawn from outlines in closed form. The drawing knows nothing of the tracing:
//! pixels are the mean of points seen through a pinhole camera.

use crate::trace::{Traced, axis};
use image::codecs::jpeg::{JpegEncoder, PixelDensity};
use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder};
use kurbo::{Point, Vec2};
use std::f64::consts::{PI, TAU};

/// An outline r(θ) round a centre, mm; θ = 0 points to the toe.
#[derive(Clone, Copy)]
pub struct Round {
    pub centre: Point,
    /// Direction of the toe, radians clockwise from the right.
    pub turned: f64,
    pub size: f64,
    /// -1 for the mirror image.
    pub mirrored: f64,
}

/// Waves of the outline: cosines and sines of 1, 2, 3 turns: a foot's outline with a slender heel, a
/// broader ball, and its big toe on one side.
const WAVES: [(f64, f64); 5] = [
    (0.10, 0.01),
    (0.38, -0.02),
    (-0.05, 0.03),
    (0.09, -0.01),
    (-0.03, 0.0),
];

impl Round {
    fn radius(&self, theta: f64) -> f64 {
        let wave = |(i, (c, s)): (usize, &(f64, f64))| {
            let turn = (i as f64 + 1.0) * theta;
            c * turn.cos() + self.mirrored * s * turn.sin()
        };
        self.size * (1.0 + WAVES.iter().enumerate().map(wave).sum::<f64>())
    }

    fn at(&self, theta: f64) -> Point {
        self.centre + Vec2::from_angle(self.turned + theta) * self.radius(theta)
    }

    /// How far a place lies outside, mm, to the first order, and the angle it is seen under.
    fn off(&self, place: Point) -> (f64, f64) {
        let away = place - self.centre;
        let theta = (away.atan2() - self.turned).rem_euclid(TAU);
        let radius = self.radius(theta);
        let slope = (self.radius(theta + 1e-4) - self.radius(theta - 1e-4)) / 2e-4 / radius;
        ((away.hypot() - radius) / 1.0_f64.hypot(slope), theta)
    }

    /// From end to end along the toe's direction if it is given, else along the greatest chord; and across;
    /// by looking at 2000 places.
    pub fn length_and_width(&self, toe: Option<Vec2>) -> [f64; 2] {
        let points: Vec<Point> = (0..2000)
            .map(|i| self.at(f64::from(i) * TAU / 2000.0))
            .collect();
        let mut chord = Vec2::ZERO;
        for a in &points[..1000] {
            for b in &points {
                if (*b - *a).hypot2() > chord.hypot2() {
                    chord = *b - *a;
                }
            }
        }
        let along = toe.unwrap_or(chord.normalize());
        let extent = |value: &dyn Fn(&Point) -> f64| {
            let all = points.iter().map(value);
            let (low, high) = all.fold((f64::MAX, f64::MIN), |(l, h), v| (l.min(v), h.max(v)));
            high - low
        };
        [
            extent(&|p| p.to_vec2().dot(along)),
            extent(&|p| p.to_vec2().cross(along)),
        ]
    }

    /// The farthest any of `points` lies off the outline, once its own axes are put back on the paper.
    pub fn worst(&self, shape: &Traced) -> f64 {
        let points: Vec<Point> = (0..720)
            .map(|i| self.at(f64::from(i) * TAU / 720.0))
            .collect();
        let mut ends = [points[0]; 2];
        for a in &points {
            for b in &points {
                if a.distance(*b) > ends[0].distance(ends[1]) {
                    ends = [*a, *b];
                }
            }
        }
        let middle = self.centre;
        let toe_first = (ends[0] - middle).dot(Vec2::from_angle(self.turned)) > 0.0;
        let [heel, toe] = if toe_first { [ends[1], ends[0]] } else { ends };
        let back = axis::Ends { heel, toe }.to_axes().inverse();
        // laid on each other as well as may be: the chord's ends are flat and slide
        let off = |shift: Vec2, turn: f64| {
            let pivot = heel.midpoint(toe);
            let place = |p: &Point| {
                let laid = back * *p + shift;
                pivot + (kurbo::Affine::rotate(turn) * (laid - pivot).to_point()).to_vec2()
            };
            let all = shape.points.iter().map(|p| self.off(place(p)).0.abs());
            all.fold(0.0, f64::max)
        };
        let (mut shift, mut turn) = (Vec2::ZERO, 0.0);
        let mut least = off(shift, turn);
        let mut step = 0.4;
        while step > 0.004 {
            let tries = [
                (step, 0.0, 0.0),
                (-step, 0.0, 0.0),
                (0.0, step, 0.0),
                (0.0, -step, 0.0),
                (0.0, 0.0, step / 40.0),
                (0.0, 0.0, -step / 40.0),
            ];
            let moved = tries.map(|(x, y, t)| {
                let next = (shift + Vec2::new(x, y), turn + t);
                (off(next.0, next.1), next)
            });
            let best = moved
                .into_iter()
                .min_by(|a, b| a.0.total_cmp(&b.0))
                .unwrap();
            if best.0 < least - 1e-6 {
                (least, (shift, turn)) = best;
            } else {
                step *= 0.5;
            }
        }
        least
    }
}

/// A sheet of paper and how it is seen.
#[derive(Clone)]
pub struct Scene {
    pub size: [u32; 2],
    /// Pixels to the mm at the middle.
    pub per_mm: f64,
    pub feet: Vec<Round>,
    /// Thickness of the line; none for filled shapes.
    pub pen: Option<f64>,
    /// How dark: 1 is black.
    pub ink: f64,
    /// Angles of θ that were not drawn.
    pub missing: Option<[f64; 2]>,
    /// Middle and turn of a card.
    pub card: Option<(Point, f64)>,
    /// Its light, of 1.
    pub card_light: f64,
    /// Degrees about an axis at 30° to the picture's x.
    pub tilt: f64,
    pub bend: f64,
    pub noise: f64,
    /// Light at the darker side, of 1.
    pub shadow: f64,
    /// The printed tracing sheet, its middle at the origin; how many of its targets are bare.
    pub sheet: Option<usize>,
    /// How wide and how high it was printed, of 1.
    pub printed: [f64; 2],
    /// How bright the light is where it is brightest.
    pub light: f64,
    /// Half the width and height of the paper, mm, and the light of the table round it.
    pub table: Option<([f64; 2], f64)>,
    /// Columns at the right that were cut away after the picture was taken.
    pub cropped: u32,
    /// Pixels to the inch that the file claims.
    pub dots: Option<u16>,
}

impl Scene {
    pub fn scan(foot: Round) -> Self {
        Self {
            size: [260, 360],
            per_mm: 100.0 / 25.4,
            feet: vec![foot],
            pen: Some(0.5),
            ink: 0.8,
            missing: None,
            card: None,
            card_light: 0.06,
            tilt: 0.0,
            bend: 0.0,
            noise: 0.01,
            shadow: 1.0,
            sheet: None,
            printed: [1.0; 2],
            light: 1.0,
            table: None,
            cropped: 0,
            dots: None,
        }
    }

    pub fn photo(foot: Round) -> Self {
        let mut scene = Self::scan(foot);
        scene.size = [900, 680];
        scene.per_mm = 4.6;
        scene.card = Some((Point::new(-38.0, -6.0), 0.12));
        scene
    }

    /// Where a place of the picture, in pixels, lies on the paper, mm: from a camera 330 mm away.
    fn on_paper(&self, x: f64, y: f64) -> Point {
        let [width, height] = self.size.map(f64::from);
        let half = 0.5 * width.hypot(height);
        let mut seen = Vec2::new(x - 0.5 * width, y - 0.5 * height) / half;
        // what the lens moved is put back
        seen *= 1.0 + self.bend * seen.hypot2();
        let flat = seen * half / self.per_mm;
        if self.tilt == 0.0 {
            return flat.to_point();
        }
        let axis = Vec2::from_angle(PI / 6.0);
        let (along, across) = (flat.dot(axis), flat.dot(axis.turn_90()));
        let (sine, cosine) = self.tilt.to_radians().sin_cos();
        let far = 330.0;
        let t = far * across / (far * cosine - across * sine);
        let depth = 1.0 + t * sine / far;
        (axis * (along * depth) + axis.turn_90() * t).to_point()
    }

    /// Light at a place of the paper, of 1; and how far the nearest border is, mm.
    fn light(&self, place: Point) -> (f64, f64) {
        let mut near = f64::INFINITY;
        let mut value = 0.92;
        for foot in &self.feet {
            let (off, theta) = foot.off(place);
            let drawn = self.missing.is_none_or(|[a, b]| !(a..b).contains(&theta));
            let border = self.pen.map_or(off, |pen| off.abs() - 0.5 * pen);
            near = near.min(border.abs());
            if drawn && border < 0.0 {
                value *= 1.0 - self.ink;
            }
        }
        if let Some((middle, turn)) = self.card {
            let own = kurbo::Affine::rotate(-turn) * (place - middle).to_point();
            let (x, y) = (own.x.abs() - 42.8 + 3.18, own.y.abs() - 26.99 + 3.18);
            let off = Vec2::new(x.max(0.0), y.max(0.0)).hypot() + x.max(y).min(0.0) - 3.18;
            near = near.min(off.abs());
            if off < 0.0 {
                value = self.card_light;
            }
        }
        if let Some((half, table)) = self.table {
            let off = (place.x.abs() - half[0]).max(place.y.abs() - half[1]);
            near = near.min(off.abs());
            if off > 0.0 {
                value = table;
            }
        }
        if let Some(targets) = self.sheet {
            let [wide, high] = self.printed;
            let place = Point::new(place.x / wide, place.y / high);
            let (marked, border) = printed(place + Vec2::new(90.0, 120.0), targets);
            near = near.min(border);
            value *= marked;
        }
        (value, near)
    }

    pub fn picture(&self) -> image::RgbImage {
        let [width, height] = self.size;
        let mut state = 12_345_u64;
        let mut random = move || {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (state >> 40) as f64 / f64::from(1_u32 << 24)
        };
        let mut image = image::RgbImage::new(width - self.cropped, height);
        for y in 0..height {
            for x in 0..width - self.cropped {
                let (x0, y0) = (f64::from(x), f64::from(y));
                let (mut value, near) = self.light(self.on_paper(x0 + 0.5, y0 + 0.5));
                if near < 1.6 / self.per_mm {
                    let part = |i: u32| (f64::from(i) + 0.5) / 5.0;
                    let all = (0..25).map(|i| {
                        self.light(self.on_paper(x0 + part(i % 5), y0 + part(i / 5)))
                            .0
                    });
                    value = all.sum::<f64>() / 25.0;
                }
                let share = 0.6 * x0 / f64::from(width) + 0.4 * y0 / f64::from(height);
                value *= self.light * (1.0 - (1.0 - self.shadow) * share * share.sqrt());
                let normal = (0..4).map(|_| random()).sum::<f64>() - 2.0;
                value = (value + self.noise * normal * 1.73).clamp(0.0, 1.0);
                let stored = if value <= 0.003_130_8 {
                    12.92 * value
                } else {
                    1.055 * value.powf(1.0 / 2.4) - 0.055
                };
                let grey = (255.0 * stored).round() as u8;
                image.put_pixel(x, y, image::Rgb([grey; 3]));
            }
        }
        image
    }

    pub fn png(&self) -> Vec<u8> {
        let image = self.picture();
        let mut bytes = Vec::new();
        PngEncoder::new(&mut bytes)
            .write_image(
                &image,
                image.width(),
                image.height(),
                ExtendedColorType::Rgb8,
            )
            .unwrap();
        bytes
    }

    pub fn jpeg(&self, quality: u8) -> Vec<u8> {
        let image = self.picture();
        let mut bytes = Vec::new();
        let mut encoder = JpegEncoder::new_with_quality(&mut bytes, quality);
        if let Some(dots) = self.dots {
            encoder.set_pixel_density(PixelDensity::dpi(dots));
        }
        encoder.encode_image(&image).unwrap();
        bytes
    }
}

/// The tracing sheet: rings 180 by 240 mm apart (2.2, 3.6 and 5.2 mm in radius, the first hollow to 1.1
/// mm), dots of 0.8 mm every 10 mm from 20 mm on, and a pale line along each foot. The share of light
/// that is left, and how far the nearest border is.
fn printed(place: Point, targets: usize) -> (f64, f64) {
    let (mut light, mut near) = (1.0, f64::INFINITY);
    let corners = [(0.0, 0.0), (180.0, 0.0), (180.0, 240.0), (0.0, 240.0)].map(Point::from);
    for (number, corner) in corners.into_iter().enumerate().take(targets) {
        let off = corner.distance(place);
        let hole = if number == 0 { 1.1 } else { 0.0 };
        if (hole..2.2).contains(&off) || (3.6..5.2).contains(&off) {
            light = 0.06;
        }
        for border in [hole, 2.2, 3.6, 5.2] {
            near = near.min((off - border).abs());
        }
    }
    let row = |along: f64, last: f64| (along / 10.0).round().clamp(2.0, last) * 10.0;
    let (x, y) = (row(place.x, 16.0), row(place.y, 22.0));
    for dot in [(x, 0.0), (x, 240.0), (0.0, y), (180.0, y)].map(Point::from) {
        let off = dot.distance(place);
        near = near.min((off - 0.8).abs());
        if off < 0.8 {
            light = 0.06;
        }
    }
    for line in [48.0, 132.0] {
        let off = (place.x - line).abs() - 0.125;
        near = near.min(off.abs());
        if off < 0.0 && (20.0..222.0).contains(&place.y) {
            light *= 0.26;
        }
    }
    (light, near)
}
