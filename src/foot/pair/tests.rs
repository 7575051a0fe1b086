#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;
use crate::design::{FootSpec, Tracing};
use crate::diagnostic::{Diagnostics, Place, SourceText};
use crate::foot::form::fixture::known;
use kurbo::Ellipse;
use std::collections::BTreeMap;
use std::f64::consts::PI;
use std::sync::Arc;

fn foot(spec: &FootSpec) -> Foot {
    let mut diagnostics = Diagnostics::default();
    Foot::new(spec, &mut diagnostics).unwrap()
}

fn drawn(path: BezPath, marks: [[f64; 2]; 2]) -> FootSpec {
    let source = Arc::new(SourceText {
        path: "feet/test.yaml".into(),
        text: String::new(),
    });
    FootSpec {
        other: None,
        pair_tolerance: 0.8,
        grading: [1.0; 2],
        measures_place: None,
        tracing: Tracing::Path(path),
        marks: Some(marks),
        inner_left: false,
        pencil: 0.0,
        measures: BTreeMap::new(),
        place: Place {
            source,
            line: 1,
            column: 1,
        },
    }
}

/// An ellipse as a foot 70 mm long: `half` is half its width.
fn oval(half: f64) -> Foot {
    let ellipse = Ellipse::new((35.0, 0.0), (35.0, half), 0.0);
    foot(&drawn(ellipse.to_path(1e-7), [[0.0, 0.0], [70.0, 0.0]]))
}

/// A left foot traced on another sheet, turned the other way up, its marks set where they were.
#[test]
fn a_foot_and_its_own_mirror_image_are_alike() {
    for (right, _) in known() {
        let mut left = right.clone();
        left.inner_left = true;
        let sheet = |[x, y]: [f64; 2]| {
            let p =
                Affine::translate(Vec2::new(31.0, -12.0)) * Affine::rotate(2.1) * Point::new(x, -y);
            [p.x, p.y]
        };
        if let Tracing::Points(points) = &mut left.tracing {
            for point in points.iter_mut() {
                *point = sheet(*point);
            }
        }
        left.marks = left.marks.map(|marks| marks.map(sheet));
        let found = compare(&foot(&right), &foot(&left));
        // Smoothing begins at another point of the ring, which moves it by a few thousandths.
        assert!(found.largest < 5e-3, "{found:?}");
        assert!(
            found.area.abs() < 0.05 && found.length.abs() < 5e-3,
            "{found:?}"
        );
        assert!(found.turned.abs() < 0.01, "{found:?}");
    }
}

/// The same outline on an axis that was marked 2 degrees off: the outlines still lie on each other,
/// and the turn is found.
#[test]
fn marks_that_were_set_differently_are_seen_through() {
    for (right, _) in known() {
        let right = foot(&right);
        let turn = Affine::rotate(2.0_f64.to_radians());
        let mut left = right.clone();
        left.outline = turn * &right.outline;
        let found = compare(&right, &left);
        assert!(found.largest < 2e-3, "{found:?}");
        assert!((found.turned + 2.0).abs() < 0.01, "{found:?}");
        assert!(found.area.abs() < 1e-6, "{found:?}");
    }
}

/// Closed form: ellipses with one centre and one length, half widths 14 and 14.7 mm. By symmetry
/// they are best laid centre on centre; they are farthest apart in the middle of the sides, and
/// their areas differ by π · 35 · 0.7.
#[test]
fn a_wider_foot_differs_by_what_it_is_wider() {
    let found = compare(&oval(14.0), &oval(14.7));
    assert!((found.largest - 0.7).abs() < 1e-3, "{found:?}");
    assert!((found.at[0] - 35.0).abs() < 0.5, "{found:?}");
    assert!((found.at[1].abs() - 14.0).abs() < 1e-3, "{found:?}");
    assert!(found.near.ends_with("side near the instep"), "{found:?}");
    assert!(found.left_larger);
    assert!((found.area - PI * 35.0 * 0.7).abs() < 1e-3, "{found:?}");
    assert!(
        found.length.abs() < 1e-6 && found.turned.abs() < 1e-3,
        "{found:?}"
    );
    let back = compare(&oval(14.7), &oval(14.0));
    assert!(!back.left_larger && (back.area + found.area).abs() < 1e-9);
    assert!((back.largest - 0.7).abs() < 1e-3);
}

/// One foot with a bump of 0.9 mm on its outer side at the ball, too small to turn the whole.
#[test]
fn the_place_of_the_greatest_difference_is_told_in_words() {
    let (right, _) = known().swap_remove(2);
    let mut left = right.clone();
    let at = 0.7 * 70.0;
    if let Tracing::Points(points) = &mut left.tracing {
        for [x, y] in points.iter_mut().filter(|p| p[1] < 0.0) {
            let off = (*x - at) / 4.0;
            *y -= 0.9 * (-off * off).exp();
        }
    }
    let found = compare(&foot(&right), &foot(&left));
    assert_eq!(found.near, "outer side near the ball");
    assert!(found.left_larger);
    assert!(found.largest > 0.55 && found.largest < 0.95, "{found:?}");
    assert!((found.at[0] - at).abs() < 3.0, "{found:?}");
}
