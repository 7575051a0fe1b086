#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;
use crate::geometry::space::Vec3;
use kurbo::{ParamCurve, Shape};
use std::f64::consts::{PI, TAU};

const ROOM: Room = Room {
    width: 120.0,
    height: None,
};

/// A surface of `around` by `rows` points, round in its first parameter.
fn round_mesh(
    around: usize,
    rows: usize,
    point: impl Fn(f64, f64) -> (Vec3, Vec3),
    kind: LineKind,
) -> Mesh {
    let mut mesh = Mesh {
        triangles: net_triangles(around, rows, true),
        silhouette: Some(kind),
        ..Mesh::default()
    };
    for i in 0..around {
        for j in 0..rows {
            let (at, normal) = point(TAU * i as f64 / around as f64, j as f64 / (rows - 1) as f64);
            mesh.vertices.push(at);
            mesh.normals.push(normal);
        }
    }
    mesh.face_along_normals();
    mesh
}

fn lines_of(drawing: &LineDrawing, kind: LineKind) -> Vec<&Line> {
    drawing.lines.iter().filter(|l| l.kind == kind).collect()
}

/// Closed form: a sphere's contour is a circle of its radius.
#[test]
fn a_sphere_is_one_closed_circle() {
    let radius = 30.0;
    let sphere = |a: f64, t: f64| {
        let (sin, cos) = (PI * t).sin_cos();
        let normal = Vec3::new(sin * a.cos(), sin * a.sin(), cos);
        (normal * radius, normal)
    };
    let scene = Scene {
        meshes: vec![round_mesh(512, 257, sphere, LineKind::Edge)],
        curves: Vec::new(),
    };
    let view = View {
        azimuth: 33.0,
        elevation: 21.0,
    };
    let drawing = draw(&scene, view, ROOM).unwrap();
    assert_eq!(drawing.lines.len(), 1);
    let line = &drawing.lines[0];
    assert!(line.closed && line.kind == LineKind::Outer);
    assert_eq!(drawing.open_ends, 0);
    let middle = Point::new(60.0, 0.5 * drawing.height);
    for point in &line.points {
        let off = point.distance(middle) / drawing.scale - radius;
        assert!(off.abs() < 0.01, "{off}");
    }
    for segment in line.path.segments() {
        for i in 0..10 {
            let off = segment.eval(f64::from(i) / 10.0).distance(middle) - radius * drawing.scale;
            assert!(off.abs() < TOLERANCE + 0.01, "{off}");
        }
    }
    let circle = PI * (radius * drawing.scale).powi(2);
    assert!((drawing.silhouette.area().abs() / circle - 1.0).abs() < 0.01);
}

/// A box with all its twelve edges as curves.
fn cuboid(size: Vec3) -> Scene {
    let corner = |i: usize| {
        let pick = |bit: usize, extent: f64| if i & bit > 0 { extent } else { 0.0 };
        Vec3::new(pick(1, size.x), pick(2, size.y), pick(4, size.z))
    };
    let mut scene = Scene::default();
    let middle = size * 0.5;
    for (bit, [b, c]) in [(1, [2, 4]), (2, [4, 1]), (4, [1, 2])] {
        for side in [0, bit] {
            let vertices: Vec<Vec3> = [0, b, b | c, c].map(|i| corner(i | side)).into();
            let mut way = [0.0; 3];
            way[bit / 2] = if side > 0 { 1.0 } else { -1.0 };
            let normal = Vec3::new(way[0], way[1], way[2]);
            let mut mesh = Mesh {
                normals: vec![normal; 4],
                vertices,
                triangles: vec![[0, 1, 2], [0, 2, 3]],
                ..Mesh::default()
            };
            mesh.face_along_normals();
            scene.meshes.push(mesh);
        }
        for start in [0, b, c, b | c] {
            let ends = [corner(start), corner(start | bit)];
            let between = ends[0].lerp(ends[1], 0.5);
            let mut out = between - middle;
            for (axis, value) in [(1, &mut out.x), (2, &mut out.y), (4, &mut out.z)] {
                *value = if axis == bit { 0.0 } else { value.signum() };
            }
            scene
                .curves
                .push(Curve::new(ends.into(), vec![out; 2], LineKind::Edge));
        }
    }
    scene
}

/// Closed form: from a corner's direction a box shows nine edges, six of them its contour.
#[test]
fn a_box_shows_exactly_its_nine_visible_edges() {
    let size = Vec3::new(60.0, 40.0, 25.0);
    let scene = cuboid(size);
    let view = View {
        azimuth: 35.0,
        elevation: 30.0,
    };
    let camera = Camera::new(&scene, view, ROOM).unwrap();
    let drawing = draw(&scene, view, ROOM).unwrap();
    assert_eq!(drawing.open_ends, 0);
    assert_eq!(lines_of(&drawing, LineKind::Outer).len(), 6);
    assert_eq!(lines_of(&drawing, LineKind::Edge).len(), 3);
    assert_eq!(drawing.lines.len(), 9);
    // Every edge that ends in the hidden corner is missing, every other is there in its full length.
    let hidden = Vec3::default();
    for curve in &scene.curves {
        let ends = [curve.points[0], curve.points[1]];
        let flat = ends.map(|p| camera.flat(p));
        let drawn = drawing.lines.iter().any(|line| {
            let line = [line.points[0], line.points[line.points.len() - 1]];
            let near = |a: Point, b: Point| a.distance(b) < 0.05;
            (near(line[0], flat[0]) && near(line[1], flat[1]))
                || (near(line[0], flat[1]) && near(line[1], flat[0]))
        });
        assert_eq!(drawn, !ends.contains(&hidden), "{ends:?}");
    }
}

const TORUS: [f64; 2] = [30.0, 12.0];

fn torus(a: f64, t: f64) -> (Vec3, Vec3) {
    let (sin, cos) = (TAU * t).sin_cos();
    let normal = Vec3::new(cos * a.cos(), cos * a.sin(), sin);
    let middle = Vec3::new(a.cos(), a.sin(), 0.0) * TORUS[0];
    (middle + normal * TORUS[1], normal)
}

/// The closed-form contour of a torus: on the circle at angle `a` the point whose normal is square
/// to the view, on the outer or the inner side.
fn torus_contour(toward: Vec3, a: f64, inner: bool) -> Vec3 {
    let across = toward.x * a.cos() + toward.y * a.sin();
    let angle = f64::atan2(-across, toward.z) + if inner { PI } else { 0.0 };
    torus(a, angle / TAU).0
}

/// Whether the torus hides a point of its contour, from its equation along the ray to the viewer.
fn torus_hides(point: Vec3, toward: Vec3) -> bool {
    (60..2000).any(|i| {
        let p = point + toward * (f64::from(i) * 0.05);
        let ring = (p.x * p.x + p.y * p.y).sqrt() - TORUS[0];
        ring * ring + p.z * p.z < TORUS[1] * TORUS[1] - 0.5
    })
}

/// Seen from low, the near part of a torus hides part of its inner contour: what is drawn is what
/// the equation leaves visible.
#[test]
fn a_torus_hides_part_of_its_inner_contour() {
    let scene = Scene {
        meshes: vec![round_mesh(256, 97, torus, LineKind::Edge)],
        curves: Vec::new(),
    };
    let view = View {
        azimuth: 20.0,
        elevation: 38.0,
    };
    let camera = Camera::new(&scene, view, ROOM).unwrap();
    let drawing = draw(&scene, view, ROOM).unwrap();
    assert_eq!(drawing.open_ends, 0);
    let toward = camera.toward();
    let places = 3000;
    let (mut visible, mut hidden) = (Vec::new(), 0);
    for (number, inner) in (0..places).flat_map(|i| [(i, true), (i, false)]) {
        let point = torus_contour(toward, TAU * f64::from(number) / f64::from(places), inner);
        if torus_hides(point, toward) {
            hidden += 1;
        } else {
            visible.push(camera.flat(point));
        }
    }
    assert!(hidden > 100, "the view must hide something: {hidden}");
    let near = |point: Point, points: &[Point], limit: f64| {
        points.iter().any(|p| p.distance(point) < limit)
    };
    for line in &drawing.lines {
        let inside = &line.points[2..line.points.len() - 2];
        for point in inside {
            assert!(near(*point, &visible, 0.3), "drawn but hidden: {point:?}");
        }
    }
    let drawn: Vec<Point> = drawing
        .lines
        .iter()
        .flat_map(|l| l.points.clone())
        .collect();
    let missing = visible.iter().filter(|p| !near(**p, &drawn, 1.0)).count();
    assert!(
        missing * 50 < visible.len(),
        "{missing} of {}",
        visible.len()
    );
}

/// A sheet behind another is not drawn where the other lies, and its lines keep a small distance.
#[test]
fn a_line_is_drawn_back_behind_something_much_nearer() {
    let sheet = |height: f64, low: f64, high: f64| {
        let at = |x: f64, y: f64| Vec3::new(x, y, height);
        let vertices = vec![at(low, low), at(high, low), at(high, high), at(low, high)];
        Mesh {
            normals: vec![Vec3::new(0.0, 0.0, 1.0); 4],
            vertices,
            triangles: vec![[0, 1, 2], [0, 2, 3]],
            ..Mesh::default()
        }
    };
    let across = |height: f64| {
        let points = (0..=100)
            .map(|i| Vec3::new(f64::from(i), 50.0, height))
            .collect();
        Curve::new(points, vec![Vec3::new(0.0, 0.0, 1.0); 101], LineKind::Seam)
    };
    let scene = Scene {
        meshes: vec![sheet(0.0, 0.0, 100.0), sheet(20.0, 30.0, 70.0)],
        curves: vec![across(0.0)],
    };
    let view = View {
        azimuth: 0.0,
        elevation: 90.0,
    };
    let drawing = draw(&scene, view, ROOM).unwrap();
    assert_eq!(drawing.lines.len(), 2);
    let mut lengths: Vec<f64> = drawing.lines.iter().map(|l| length(&l.points)).collect();
    lengths.sort_by(f64::total_cmp);
    for length in lengths {
        // 30 of the sheet's 100 mm, less the gap behind the nearer sheet.
        let expected = 30.0 * drawing.scale - 0.55;
        assert!((length - expected).abs() < 0.02, "{length} for {expected}");
    }
}

#[test]
fn a_scene_without_extent_is_no_drawing() {
    let view = View {
        azimuth: 0.0,
        elevation: 0.0,
    };
    assert_eq!(draw(&Scene::default(), view, ROOM), None);
    let mut scene = cuboid(Vec3::new(1.0, 1.0, 1.0));
    scene.meshes[0].vertices[0].x = f64::NAN;
    let room = Room {
        width: f64::NAN,
        height: None,
    };
    assert_eq!(draw(&scene, view, room), None);
}

#[test]
fn the_file_is_paths_only_and_the_same_every_time() {
    let scene = cuboid(Vec3::new(60.0, 40.0, 25.0));
    let view = View {
        azimuth: 35.0,
        elevation: 30.0,
    };
    let write = || {
        let drawing = draw(&scene, view, ROOM).unwrap();
        svg(&drawing, Tints::Lines, "A box <of> \"board\"", 1.0)
    };
    let text = String::from_utf8(write()).unwrap();
    assert_eq!(text.as_bytes(), write());
    let file = roxmltree::Document::parse(&text).unwrap();
    let root = file.root_element();
    assert_eq!(root.attribute("aria-label"), Some("A box <of> \"board\""));
    assert_eq!(root.attribute("width"), Some("120.00mm"));
    let known = ["svg", "title", "g", "path"];
    for node in file.descendants().filter(roxmltree::Node::is_element) {
        assert!(known.contains(&node.tag_name().name()));
    }
}

#[test]
fn a_sliver_has_no_crumbs_of_hatching() {
    let strokes = |wide: f64| {
        let strip = kurbo::Rect::new(0.0, 0.0, 20.0, wide).to_path(1e-3);
        let region = Region {
            face: Face::Wrong,
            path: strip,
        };
        match tint::pattern(&region) {
            Some(tint::Pattern::Strokes(path, _)) => path.segments().count(),
            _ => 0,
        }
    };
    assert_eq!(strokes(0.4), 0);
    assert!(strokes(1.0) > 5);
}
