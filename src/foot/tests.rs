#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;
use crate::design::Tracing;
use crate::diagnostic::{Level, Place, SourceText};
use crate::geometry::{Corner, curve, cut_line};
use kurbo::{ParamCurve, ParamCurveNearest, Shape, Vec2};
use proptest::prelude::*;
use serde_json::Value;
use std::f64::consts::PI;
use std::sync::Arc;

/// Four invented feet on the axes of this module, with lengths of their soles' seam lines that were
/// computed independently: outline as a Fourier series of 12 harmonics, moved outward as polygon.
const TRACINGS: &str = include_str!("../../tests/geometry/tracings.json");

struct Known {
    points: Vec<[f64; 2]>,
    length: f64,
    ease: f64,
    perimeter: f64,
    toe_side: f64,
    heel_side: f64,
}

fn known() -> Vec<Known> {
    let all: Vec<Value> = serde_json::from_str(TRACINGS).unwrap();
    let number = |v: &Value| v.as_f64().unwrap();
    let point = |p: &Value| [number(&p[0]), number(&p[1])];
    let feet = all.iter().map(|foot| Known {
        points: foot["tracing"]
            .as_array()
            .unwrap()
            .iter()
            .map(point)
            .collect(),
        length: number(&foot["foot_length"]),
        ease: number(&foot["ease"]),
        perimeter: number(&foot["sole_perimeter"]),
        toe_side: number(&foot["toe_side"]),
        heel_side: number(&foot["heel_side"]),
    });
    feet.collect()
}

/// A tracing whose axes have x from heel to toe and y > 0 inside: with y counted downwards and the
/// toe turned up, that is the right-hand side of the page.
fn spec(points: Vec<[f64; 2]>) -> FootSpec {
    let text = String::new();
    let source = Arc::new(SourceText {
        path: "feet/test.yaml".into(),
        text,
    });
    FootSpec {
        tracing: Tracing::Points(points),
        marks: None,
        inner_left: false,
        pencil: 0.0,
        measures: BTreeMap::new(),
        other: None,
        pair_tolerance: 0.8,
        grading: [1.0; 2],
        measures_place: None,
        place: Place {
            source,
            line: 1,
            column: 1,
        },
    }
}

fn marked(known: &Known) -> FootSpec {
    let marks = Some([[0.0, 0.0], [known.length, 0.0]]);
    FootSpec {
        marks,
        ..spec(known.points.clone())
    }
}

fn foot(spec: &FootSpec) -> Foot {
    let mut diagnostics = Diagnostics::default();
    let foot = Foot::new(spec, &mut diagnostics);
    assert_eq!(diagnostics.count(Level::Error), 0, "{diagnostics:?}");
    foot.unwrap()
}

fn codes(spec: &FootSpec) -> Vec<(&'static str, String)> {
    let mut diagnostics = Diagnostics::default();
    Foot::new(spec, &mut diagnostics);
    diagnostics
        .iter()
        .map(|d| (d.code, d.message.clone()))
        .collect()
}

fn close(value: f64, expected: f64, share: f64) {
    let off = value / expected - 1.0;
    assert!(
        off.abs() <= share,
        "{value} for {expected}: {:.3} %",
        100.0 * off
    );
}

#[test]
fn sole_lengths_agree_with_the_known_feet() {
    for known in known() {
        let foot = foot(&marked(&known));
        close(foot.length, known.length, 1e-3);
        let mark = 0.45 * foot.length;
        let sole = foot.outline_with_ease(known.ease, mark, mark).unwrap();
        close(sole.perimeter(), known.perimeter, 3e-3);
        close(
            sole.edge("toe edge").unwrap().length(),
            known.toe_side,
            3e-3,
        );
        close(
            sole.edge("heel edge").unwrap().length(),
            known.heel_side,
            3e-3,
        );
    }
}

#[test]
fn widths_are_those_of_the_tracing() {
    // The invented feet were drawn to these ball and heel widths, mm; the widest place lies a
    // little in front of the ball's mark.
    for (known, (ball, heel)) in
        known()
            .iter()
            .zip([(10.0, 7.5), (18.5, 14.0), (30.0, 23.5), (43.0, 34.0)])
    {
        let foot = foot(&marked(known));
        close(foot.ball_width, ball, 0.02);
        close(foot.heel_width, heel, 0.04);
    }
}

#[test]
fn seam_and_cut_line_grow_by_two_pi_times_their_distance() {
    // Steiner's formula for a convex outline: P + 2πd. An egg is convex, as a foot need not be.
    let egg = |i: usize| {
        let angle = f64::from(i as u32) / 90.0 * 2.0 * PI;
        let width = 13.0 + 2.0 * angle.cos();
        [35.0 + 35.0 * angle.cos(), width * angle.sin()]
    };
    let foot = foot(&spec((0..90).map(egg).collect()));
    let traced = curve::length(&foot.outline, 1e-9);
    let sole = foot.outline_with_ease(3.175, 30.0, 30.0).unwrap();
    close(sole.perimeter(), traced + 2.0 * PI * 3.175, 1e-4);
    let round = [Corner::Mitre { limit: 4.0 }; 2];
    let cut = cut_line(&sole, &[4.7625; 2], &round, 1e-3).unwrap();
    close(curve::length(&cut, 1e-9), traced + 2.0 * PI * 7.9375, 1e-4);
}

#[test]
fn the_sole_lies_toe_up_and_clockwise_with_the_inner_side_at_the_left() {
    let known = &known()[2];
    let foot = foot(&marked(known));
    let sole = foot.outline_with_ease(3.0, 31.0, 33.0).unwrap();
    let names: Vec<&str> = sole.edges().iter().map(|e| e.name.as_str()).collect();
    assert_eq!(names, ["toe edge", "heel edge"]);
    assert!(sole.area() > 0.0);
    let toe = sole.edge("toe edge").unwrap();
    assert!(toe.start().x < 0.0 && toe.end().x > 0.0);
    assert!((sole.bounds().y0 + foot.length + 3.0).abs() < 0.01);
    // Page y is the distance from the heel, upwards.
    assert!((toe.start().y + 31.0).abs() < 1e-6, "{:?}", toe.start());
    assert!((toe.end().y + 33.0).abs() < 1e-6, "{:?}", toe.end());
    for point in curve::spread(&sole.path(), 60) {
        let traced = Point::new(-point.y, -point.x);
        let near = foot
            .outline
            .segments()
            .map(|s| s.nearest(traced, 1e-9).distance_sq);
        assert!((near.fold(f64::INFINITY, f64::min).sqrt() - 3.0).abs() < 2e-3);
    }
}

#[test]
fn turning_the_file_over_and_round_gives_the_same_foot() {
    let known = &known()[1];
    let straight = foot(&marked(known));
    let turn = |[x, y]: [f64; 2]| {
        let turned = Vec2::from_angle(2.1);
        [
            7.0 + x * turned.x - y * turned.y,
            9.0 + x * turned.y + y * turned.x,
        ]
    };
    let turned = FootSpec {
        marks: Some([turn([0.0, 0.0]), turn([known.length, 0.0])]),
        ..spec(known.points.iter().map(|p| turn(*p)).collect())
    };
    assert!(curve::deviation(&foot(&turned).outline, &straight.outline, 200) < 0.01);
    let mirrored = FootSpec {
        inner_left: true,
        ..marked(&Known {
            points: known.points.iter().map(|[x, y]| [*x, -*y]).collect(),
            ..*known
        })
    };
    assert!(curve::deviation(&foot(&mirrored).outline, &straight.outline, 200) < 0.01);
}

#[test]
fn without_marks_the_wider_half_is_the_toe() {
    let known = &known()[2];
    let backwards: Vec<[f64; 2]> = known.points.iter().map(|[x, y]| [-*x, -*y]).collect();
    let foot = foot(&spec(backwards));
    close(foot.length, known.length, 2e-3);
    assert!(foot.ball_width > foot.heel_width);
}

#[test]
fn half_the_pencil_line_comes_off_all_round() {
    let known = &known()[2];
    let thin = foot(&marked(known));
    let thick = foot(&FootSpec {
        pencil: 0.25,
        ..marked(known)
    });
    assert!((thin.length - thick.length - 0.5).abs() < 2e-3);
    assert!((thin.ball_width - thick.ball_width - 0.5).abs() < 0.02);
    for point in curve::spread(&thick.outline, 50) {
        let moved = point + Vec2::new(0.25, 0.0);
        let near = thin
            .outline
            .segments()
            .map(|s| s.nearest(moved, 1e-9).distance_sq);
        assert!((near.fold(f64::INFINITY, f64::min).sqrt() - 0.25).abs() < 2e-3);
    }
}

#[test]
fn a_drawn_path_is_taken_as_it_is() {
    let path = BezPath::from_svg("M0,12 C0,-8 30,-9 48,-12 C68,-15 74,0 70,12 C64,28 0,32 0,12 Z")
        .unwrap();
    let drawn = FootSpec {
        tracing: Tracing::Path(path.clone()),
        ..spec(Vec::new())
    };
    let foot = foot(&drawn);
    assert!((foot.outline.area() - path.area().abs()).abs() < 1e-6);
    assert!(foot.inner_side().segments().next().unwrap().start().x == foot.length);
}

#[test]
fn a_path_of_one_two_or_three_curves_is_a_foot() {
    let paths = [
        "M 11 0 C 20 0 20 45 11 45 C 2 45 2 0 11 0 Z",
        "M 11 0 C 40 45 -18 45 11 0 Z",
        "M 0 22 C 0 -5 22 -5 22 20 C 22 55 16 50 10 50 C 2 50 0 40 0 22 Z",
    ];
    for path in paths {
        let path = BezPath::from_svg(path).unwrap();
        let spec = FootSpec {
            tracing: Tracing::Path(path.clone()),
            ..spec(Vec::new())
        };
        let found = foot(&spec);
        assert!((found.outline.area() - path.area().abs()).abs() < 1e-3);
        assert!(
            found.ball_width > 8.0 && found.heel_width > 5.0,
            "{found:?}"
        );
    }
    // the first is 45 mm long, and 3/4 of the handles' 9 mm to either side of its axis wide
    let first = FootSpec {
        tracing: Tracing::Path(BezPath::from_svg(paths[0]).unwrap()),
        ..spec(Vec::new())
    };
    close(foot(&first).length, 45.0, 1e-9);
}

#[test]
fn too_few_points_are_told() {
    let few = spec(vec![[0.0, 0.0], [10.0, 0.0], [20.0, 5.0], [10.0, 10.0]]);
    let told = codes(&few);
    assert_eq!(told.len(), 1);
    assert_eq!(told[0].0, "tracing-points");
    assert!(told[0].1.contains("4 different points"), "{}", told[0].1);
}

#[test]
fn a_tracing_that_crosses_itself_is_told_with_its_place_along_the_foot() {
    let mut known = known().swap_remove(2);
    // Two stretches of the inner side near x = 40 in the wrong order.
    let near: Vec<usize> = (0..known.points.len())
        .filter(|i| known.points[*i][1] > 0.0 && (36.0..46.0).contains(&known.points[*i][0]))
        .collect();
    let (first, last) = (near[0], near[near.len() - 1]);
    for i in first..=last {
        known.points[i][1] += 18.0 * ((i - first) as f64 / (last - first) as f64 * 2.0 * PI).sin();
        let x = known.points[i][0];
        known.points[i][0] = 41.0 - 1.5 * (x - 41.0);
    }
    let told = codes(&marked(&known));
    assert_eq!(told[0].0, "tracing-crosses", "{told:?}");
    assert!(told[0].1.contains("on the inner side"), "{told:?}");
}

#[test]
fn a_tracing_that_doubles_back_is_told() {
    let path = BezPath::from_svg(
        "M0,0 C0,-14 20,-15 30,-14 C46,-12 26,-8 38,-6 C55,-4 70,-16 70,0 C70,18 0,18 0,0 Z",
    );
    let drawn = FootSpec {
        tracing: Tracing::Path(path.unwrap()),
        marks: Some([[0.0, 0.0], [70.0, 0.0]]),
        ..spec(Vec::new())
    };
    let told = codes(&drawn);
    assert_eq!(told[0].0, "tracing-doubles-back", "{told:?}");
    assert!(told[0].1.contains("outer side"), "{told:?}");
}

#[test]
fn marks_that_lie_off_the_foot_are_told() {
    let known = &known()[2];
    let off = FootSpec {
        marks: Some([[0.0, 40.0], [70.0, 0.0]]),
        ..marked(known)
    };
    assert_eq!(codes(&off)[0].0, "tracing-marks");
    let same = FootSpec {
        marks: Some([[70.0, 0.0], [70.0, 1.0]]),
        ..marked(known)
    };
    assert_eq!(codes(&same)[0].0, "tracing-marks");
    let foot = foot(&marked(known));
    for mark in [0.0, -1.0, 70.1, f64::NAN] {
        let fault = foot.outline_with_ease(3.0, mark, 30.0).unwrap_err();
        assert!(
            matches!(fault, EaseFault::MarkOutside { inner: true, .. }),
            "{fault:?}"
        );
    }
}

#[test]
fn an_implausible_length_is_only_a_warning() {
    let known = &known()[0];
    let inches: Vec<[f64; 2]> = known
        .points
        .iter()
        .map(|[x, y]| [x / 25.4, y / 25.4])
        .collect();
    let told = codes(&spec(inches));
    assert_eq!(told.len(), 1);
    assert_eq!(told[0].0, "foot-length");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_points_give_a_foot_or_a_diagnostic(
        points in prop::collection::vec([-60.0..60.0_f64, -20.0..20.0_f64], 0..40),
        round in any::<bool>(),
        pencil in 0.0..3.0_f64,
        ease in -4.0..4.0_f64,
    ) {
        let mut points = points;
        if round {
            points.sort_by(|a, b| a[1].atan2(a[0]).total_cmp(&b[1].atan2(b[0])));
        }
        let wild = FootSpec { pencil, ..spec(points) };
        let mut diagnostics = Diagnostics::default();
        match Foot::new(&wild, &mut diagnostics) {
            None => prop_assert!(diagnostics.has_errors()),
            Some(foot) => {
                let mark = 0.45 * foot.length;
                if let Ok(sole) = foot.outline_with_ease(ease, mark, mark) {
                    prop_assert!(sole.check_simple().is_ok());
                    prop_assert_eq!(sole.edges().len(), 2);
                }
            }
        }
    }
}
