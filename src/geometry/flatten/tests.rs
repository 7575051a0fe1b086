#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;
use crate::geometry::mesh::{Spacing, delaunay_flips, halton, scatter, triangulate};
use crate::geometry::space::Vec3;

/// A patch that is known flat, meshed there and lifted into space, with its boundary edges and the
/// lengths they truly have along the flat boundary.
struct Known {
    flat: Vec<Point>,
    mesh: Mesh,
    ring: Vec<HeldEdge>,
    /// Which stretch of the boundary each edge belongs to.
    stretch: Vec<usize>,
}

fn known(boundary: &[Vec<Point>], h: f64, lift: impl Fn(Point) -> Vec3) -> Known {
    let mut flat: Vec<Point> = Vec::new();
    let mut lengths = Vec::new();
    let mut stretch = Vec::new();
    for (number, way) in boundary.iter().enumerate() {
        let mut along = vec![0.0];
        for pair in way.windows(2) {
            along.push(along[along.len() - 1] + pair[0].distance(pair[1]));
        }
        let whole = along[along.len() - 1];
        let count = ((whole / (0.8 * h)).round() as usize).max(4);
        for i in 0..count {
            let wanted = whole * i as f64 / count as f64;
            let index = along
                .partition_point(|a| *a <= wanted)
                .clamp(1, way.len() - 1);
            let share = (wanted - along[index - 1]) / (along[index] - along[index - 1]);
            flat.push(way[index - 1].lerp(way[index], share));
            lengths.push(whole / count as f64);
            stretch.push(number);
        }
    }
    let count = flat.len();
    flat.extend(filled(&flat, h));
    let mut mesh = Mesh {
        points: flat.iter().map(|p| lift(*p)).collect(),
        triangles: triangulate(&flat, count).unwrap(),
    };
    delaunay_flips(&mut mesh);
    let ring = lengths.iter().enumerate().map(|(i, length)| HeldEdge {
        ends: [i, (i + 1) % count],
        length: *length,
    });
    Known {
        ring: ring.collect(),
        flat,
        mesh,
        stretch,
    }
}

/// Points inside a polygon, about `h` apart.
fn filled(polygon: &[Point], h: f64) -> Vec<Point> {
    let count = polygon.len();
    let first = kurbo::Rect::from_points(polygon[0], polygon[0]);
    let bounds = polygon.iter().fold(first, |b, p| b.union_pt(*p));
    let inside = |p: &Point| {
        let mut within = false;
        for i in 0..count {
            let (a, b) = (polygon[i], polygon[(i + 1) % count]);
            if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x) {
                within = !within;
            }
        }
        within
    };
    let tries = (40.0 * bounds.area() / (h * h)) as usize;
    let points: Vec<Point> = (0..tries)
        .map(halton)
        .map(|(x, y)| {
            Point::new(
                bounds.x0 + x * bounds.width(),
                bounds.y0 + y * bounds.height(),
            )
        })
        .filter(inside)
        .collect();
    let up = |p: &Point| Vec3::new(p.x, p.y, 0.0);
    let spacing = Spacing {
        apart: 0.8 * h,
        from_fixed: 0.62 * h,
    };
    let candidates: Vec<Vec3> = points.iter().map(up).collect();
    let fixed: Vec<Vec3> = polygon.iter().map(up).collect();
    scatter(&candidates, &fixed, spacing)
        .into_iter()
        .map(|i| points[i])
        .collect()
}

/// Greatest distance left after the best rigid motion of `moved` on `still`.
fn apart(moved: &[Point], still: &[Point]) -> f64 {
    let mean = |points: &[Point]| {
        points.iter().fold(Vec2::ZERO, |sum, p| sum + p.to_vec2()) / points.len() as f64
    };
    let (from, to) = (mean(moved), mean(still));
    let (mut c, mut s) = (0.0, 0.0);
    for (a, b) in moved.iter().zip(still) {
        let (a, b) = (a.to_vec2() - from, b.to_vec2() - to);
        c += a.dot(b);
        s += a.cross(b);
    }
    let turn = s.atan2(c);
    let (sine, cosine) = turn.sin_cos();
    let distance = |(a, b): (&Point, &Point)| {
        let a = a.to_vec2() - from;
        let turned = Vec2::new(cosine * a.x - sine * a.y, sine * a.x + cosine * a.y);
        (turned - (b.to_vec2() - to)).hypot()
    };
    moved.iter().zip(still).map(distance).fold(0.0, f64::max)
}

fn way(count: usize, at: impl Fn(f64) -> Point) -> Vec<Point> {
    (0..=count).map(|i| at(i as f64 / count as f64)).collect()
}

fn cylinder(h: f64) -> Known {
    let (radius, turn) = (14.0, 200.0_f64.to_radians());
    let width = radius * turn;
    let top = |x: f64| 12.0 + 4.0 * ((x - 0.5 * width) / radius).cos();
    let boundary = [
        way(400, |u| Point::new(u * width, 0.0)),
        way(40, |u| Point::new(width, u * top(width))),
        way(400, |u| {
            Point::new((1.0 - u) * width, top((1.0 - u) * width))
        }),
        way(40, |u| Point::new(0.0, (1.0 - u) * top(0.0))),
    ];
    known(&boundary, h, |p| {
        Vec3::new(
            radius * (p.x / radius).cos(),
            radius * (p.x / radius).sin(),
            p.y,
        )
    })
}

/// Radii and height of the cone's stump, and its turn.
const CONE: (f64, f64, f64, f64) = (16.0, 13.0, 15.0, 200.0);

/// The flat radii and angle of the cone's wall, and its slant: closed forms.
fn cone_flat() -> (f64, f64, f64, f64) {
    let (wide, narrow, height, turn) = CONE;
    let slant = height.hypot(wide - narrow);
    let k = (wide - narrow) / slant;
    (wide / k, narrow / k, turn * k, slant)
}

fn cone(h: f64) -> Known {
    let (wide, narrow, height, _) = CONE;
    let (outer, inner, angle, slant) = cone_flat();
    let half = 0.5 * angle.to_radians();
    let at = |radius: f64, turn: f64| Point::new(radius * turn.sin(), -radius * turn.cos());
    let boundary = [
        way(400, |u| at(outer, -half + 2.0 * half * u)),
        way(40, |u| at(outer + (inner - outer) * u, half)),
        way(400, |u| at(inner, half - 2.0 * half * u)),
        way(40, |u| at(inner + (outer - inner) * u, -half)),
    ];
    let k = (wide - narrow) / slant;
    known(&boundary, h, move |p| {
        let radius = p.to_vec2().hypot();
        let turn = p.x.atan2(-p.y) / k;
        let r = radius * k;
        Vec3::new(
            r * turn.cos(),
            r * turn.sin(),
            (outer - radius) * height / slant,
        )
    })
}

/// A developable wall is its own flat shape, so the error of the held shape is that of the mesh's
/// chords alone; bounds from an independent implementation.
#[test]
fn developable_walls_come_out_as_their_closed_forms() {
    for (h, bound) in [(2.8, 0.022), (1.4, 0.007), (0.7, 0.002)] {
        for (name, known) in [("cylinder", cylinder(h)), ("cone", cone(h))] {
            let patch = Patch::new(&known.mesh).unwrap();
            let start = patch.conformal().unwrap();
            let flat = patch.held(&start, &known.ring, 1e-6).unwrap();
            let off = apart(&flat, &known.flat);
            assert!(off < bound, "{name} at {h}: {off}");
            for number in 0..4 {
                let edges = known
                    .ring
                    .iter()
                    .zip(&known.stretch)
                    .filter(|(_, s)| **s == number);
                let error: f64 = edges
                    .map(|(e, _)| flat[e.ends[0]].distance(flat[e.ends[1]]) - e.length)
                    .sum();
                assert!(error.abs() < 1e-4, "{name} at {h}, edge {number}: {error}");
            }
            let strain = patch.strain(&flat);
            assert!(strain.iter().all(|s| s.area_ratio > 0.0));
        }
    }
}

/// The stump of a cone unrolled: radii R = r s / (r1 - r2) and angle 200° (r1 - r2) / s.
#[test]
fn the_cone_has_its_closed_form() {
    let (outer, inner, angle, slant) = cone_flat();
    for (value, expected) in [
        (outer, 81.584),
        (inner, 66.287),
        (angle, 39.223),
        (slant, 15.2971),
        (outer * angle.to_radians(), 55.8505),
        (inner * angle.to_radians(), 45.3786),
    ] {
        assert!((value - expected).abs() < 1e-3, "{value} for {expected}");
    }
}

fn cap(h: f64) -> Known {
    let (radius, rim) = (20.0, 60.0_f64.to_radians());
    // Stereographic, ten times as large as the unit sphere.
    let rho = 20.0 * (0.5 * rim).tan();
    let turn = |u: f64| {
        Point::new(
            rho * (u * std::f64::consts::TAU).cos(),
            rho * (u * std::f64::consts::TAU).sin(),
        )
    };
    known(&[way(400, turn)], h, move |p| {
        let away = 2.0 * (p.to_vec2().hypot() / 20.0).atan();
        let around = p.y.atan2(p.x);
        Vec3::new(
            away.sin() * around.cos(),
            away.sin() * around.sin(),
            away.cos(),
        ) * radius
    })
}

/// The conformal map of a cap, and how far it lies off the stereographic projection, mm.
fn stereographic(h: f64) -> (f64, Known, Vec<Point>) {
    let known = cap(h);
    let patch = Patch::new(&known.mesh).unwrap();
    let far = |a: &usize, b: &usize| {
        let from = |i: &usize| known.flat[*i].distance(known.flat[0]);
        from(a).total_cmp(&from(b))
    };
    let second = (0..known.flat.len()).max_by(far).unwrap();
    let pins = [(0, known.flat[0]), (second, known.flat[second])];
    let conformal = patch.conformal_pinned(pins).unwrap();
    (apart(&conformal, &known.flat), known, conformal)
}

/// The conformal map of a cap is its stereographic projection, by rotational symmetry; the ratio of
/// the free flat rim to the cap's was computed by two independent implementations.
#[test]
fn a_cap_is_mapped_as_it_should_be() {
    let (off, known, conformal) = stereographic(0.5);
    // An independent implementation is off by 0.173 mm: what pinning two points costs.
    assert!(off < 0.2, "{off} mm of a radius of 11.5 mm");
    let patch = Patch::new(&known.mesh).unwrap();
    let scale = 20.0 * 60.0_f64.to_radians() / 11.547;
    let start: Vec<Point> = conformal
        .iter()
        .map(|p| (scale * p.to_vec2()).to_point())
        .collect();
    let flat = patch.relaxed(&start, 800, 1e-9).unwrap();
    let rim = |length: &dyn Fn(&HeldEdge) -> f64| known.ring.iter().map(length).sum::<f64>();
    let flat_rim = rim(&|e| flat[e.ends[0]].distance(flat[e.ends[1]]));
    let points = &known.mesh.points;
    let space_rim = rim(&|e| points[e.ends[0]].distance(points[e.ends[1]]));
    let ratio = flat_rim / space_rim;
    assert!((ratio - 1.1505).abs() < 2e-3, "{ratio}");
}

#[test]
fn a_triangle_turned_over_has_a_negative_area() {
    let mesh = Mesh {
        points: vec![
            Vec3::default(),
            Vec3::new(1.0, 0.0, 0.0),
            Vec3::new(0.0, 1.0, 0.0),
        ],
        triangles: vec![[0, 1, 2]],
    };
    let patch = Patch::new(&mesh).unwrap();
    let flat = [(0.0, 0.0), (2.0, 0.0), (0.0, -1.0)].map(Point::from);
    let strain = patch.strain(&flat)[0];
    assert!((strain.area_ratio + 2.0).abs() < 1e-12);
    assert!((strain.greatest - 2.0).abs() < 1e-12 && (strain.least - 1.0).abs() < 1e-12);
    assert_eq!(patch.area_strain_at_points(&[strain]), vec![-3.0; 3]);
}
