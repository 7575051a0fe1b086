//! Cut lines, insets and outsets against GEOS.

use super::super::*;
use super::{FINE, cut, outline, perimeter};
use serde_json::Value;

/// Values made with GEOS: `tests/geometry/offsets_geos.py`.
const GEOS: &str = include_str!("../../../../tests/geometry/offsets_geos.json");

/// GEOS worked on outlines flattened to 0.002 mm, and its arcs of 64 pieces a quarter lie within
/// 0.0005 mm; ours lie within 0.001 mm.
const GEOS_DISTANCE: f64 = 0.004;

#[test]
fn cut_lines_agree_with_geos() {
    let cases: Vec<Value> = serde_json::from_str(GEOS).unwrap();
    assert_eq!(cases.len(), 27);
    for case in &cases {
        let paths: Vec<BezPath> = case["edges"]
            .as_array()
            .unwrap()
            .iter()
            .map(|d| BezPath::from_svg(d.as_str().unwrap()).unwrap())
            .collect();
        let shape = outline(&paths);
        let count = paths.len();
        let corner = match case["join"].as_str().unwrap() {
            "round" => Corner::Round,
            _ => Corner::Mitre { limit: 20.0 },
        };
        let path = match &case["distance"] {
            Value::Array(each) => {
                let widths: Vec<f64> = each.iter().map(|v| v.as_f64().unwrap()).collect();
                cut_line(&shape, &widths, &vec![corner; count], FINE).unwrap()
            }
            one => match one.as_f64().unwrap() {
                inward if inward < 0.0 => shape.inset(-inward).unwrap().path(),
                outward => {
                    if corner == Corner::Round {
                        against_geos(case, &shape.inset(-outward).unwrap().path());
                    }
                    cut(&shape, outward, corner)
                }
            },
        };
        against_geos(case, &path);
    }
}

fn against_geos(case: &Value, path: &BezPath) {
    let name = case["name"].as_str().unwrap();
    assert_eq!(winding::windings(path), Some(0..=1), "{name}");
    let length = case["perimeter"].as_f64().unwrap();
    let slack = GEOS_DISTANCE * length;
    let (area, perimeter) = (path.area(), perimeter(path));
    assert!(
        (area - case["area"].as_f64().unwrap()).abs() < slack,
        "{name}: area {area}"
    );
    assert!(
        (perimeter / length - 1.0).abs() < 2e-4,
        "{name}: perimeter {perimeter} {}",
        path.to_svg()
    );
    for point in case["points"].as_array().unwrap() {
        let point = Point::new(point[0].as_f64().unwrap(), point[1].as_f64().unwrap());
        let near = path.segments().map(|s| s.nearest(point, 1e-9).distance_sq);
        let distance = near.fold(f64::INFINITY, f64::min).sqrt();
        assert!(
            distance < GEOS_DISTANCE,
            "{name}: {point:?} lies {distance} mm off"
        );
    }
}
