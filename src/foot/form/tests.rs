#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::fixture::{known, number};
use super::*;
use crate::design::FootSpec;
use crate::diagnostic::Level;
use crate::geometry::hull;
use crate::geometry::space::Vec3;
use kurbo::Point;

fn solved(spec: &FootSpec) -> (Option<FootForm>, Diagnostics) {
    let mut diagnostics = Diagnostics::default();
    let foot = Foot::new(spec, &mut diagnostics).unwrap();
    let form = FootForm::new(&foot, &mut diagnostics);
    (form, diagnostics)
}

fn with(name: &str, value: f64) -> (Option<FootForm>, Diagnostics) {
    let (mut spec, _) = known().swap_remove(2);
    spec.measures.insert(name.into(), value);
    solved(&spec)
}

fn messages(diagnostics: &Diagnostics) -> Vec<String> {
    diagnostics
        .iter()
        .map(|d| format!("{}: {}", d.code, d.message))
        .collect()
}

#[test]
fn the_four_feet_are_solved_as_an_independent_draft_solves_them() {
    for (spec, known) in known() {
        let (form, diagnostics) = solved(&spec);
        assert!(diagnostics.iter().next().is_none(), "{diagnostics:?}");
        let solved = form.unwrap().solved;
        let near = |value: f64, name: &str, tolerance: f64| {
            let expected = number(&known["solved"][name]);
            assert!(
                (value - expected).abs() < tolerance,
                "{name}: {value} for {expected}"
            );
        };
        near(solved.ball_height, "ball height", 0.05);
        near(solved.instep_exponent, "instep exponent", 0.01);
        near(solved.heel_exponent, "heel exponent", 0.02);
        near(solved.bend, "bend", 0.1);
        near(solved.top, "top", 0.01);
    }
}

/// The plane cut of a fine triangle mesh of the surface, drawn tight: independent of the net's own
/// cuts and of the section's quarter arcs.
fn cut_of_mesh(form: &Form, origin: Vec3, normal: Vec3) -> f64 {
    let normal = normal.unit();
    let level = Vec3::new(normal.z, 0.0, -normal.x);
    let mut points = Vec::new();
    for side in FootSide::BOTH {
        let whole = form.edge.length(side);
        let row = |i: usize| -> Vec<Vec3> {
            let turn = std::f64::consts::PI * i as f64 / 400.0;
            let section = form.section(side, whole * 0.5 * (1.0 - turn.cos()));
            (0..=140)
                .map(|j| section.point(f64::from(j) / 140.0))
                .collect()
        };
        let rows: Vec<Vec<Vec3>> = (0..=400).map(row).collect();
        let mut cut = |a: Vec3, b: Vec3| {
            let (d, e) = ((a - origin).dot(normal), (b - origin).dot(normal));
            if (d <= 0.0) != (e <= 0.0) {
                let p = a.lerp(b, d / (d - e));
                points.push(Point::new((p - origin).dot(level), p.y));
            }
        };
        for pair in rows.windows(2) {
            for j in 0..140 {
                cut(pair[0][j], pair[1][j]);
                cut(pair[0][j], pair[0][j + 1]);
                cut(pair[0][j], pair[1][j + 1]);
            }
        }
    }
    hull::girth(points)
}

#[test]
fn the_form_gives_every_girth_back() {
    for (spec, _) in known() {
        let form = solved(&spec).0.unwrap();
        let surface = &form.form;
        let m = &form.measures;
        let upright = |share: f64| {
            let x = surface.edge.back() + share * form.length;
            cut_of_mesh(surface, Vec3::new(x, 0.0, 0.0), Vec3::new(1.0, 0.0, 0.0))
        };
        let level = Vec3::new(0.0, 0.0, m.bend_height);
        let ankle = cut_of_mesh(surface, level, Vec3::new(0.0, 0.0, 1.0));
        let over = Net::new(surface, form.length)
            .long_heel(0.25 * form.length, 0.59 * form.length)
            .1;
        let way = Vec3::new(over - surface.edge.back(), 0.0, surface.height(over));
        let heel = Vec3::new(surface.edge.back() + 1e-6, 0.0, 1e-6);
        let long_heel = cut_of_mesh(surface, heel, Vec3::new(-way.z, 0.0, way.x));
        for (name, found, measured) in [
            ("ball", upright(station::BALL), m.ball_girth),
            ("instep", upright(station::INSTEP), m.instep_girth),
            ("ankle", ankle, m.ankle_girth.unwrap()),
            ("long heel", long_heel, m.long_heel_girth),
            (
                "heel wrap",
                form.solved.tapes.heel_wrap,
                m.heel_wrap.unwrap(),
            ),
        ] {
            let off = found - measured;
            assert!(
                off.abs() < 0.06,
                "{name} of {:.0}: off by {off:.3}",
                form.length
            );
        }
    }
}

/// Closed form for the ellipse (complete elliptic integral); the others by independent numerical
/// integration with 20,000 chords.
#[test]
fn girths_of_sections_agree_with_known_values() {
    for (width, height, exponent, expected) in [
        (30.0, 15.0, 2.0, 77.1239),
        (30.0, 15.0, 2.3, 78.3778),
        (30.0, 15.0, 3.0, 80.5874),
        (20.0, 10.0, 2.0, 51.4159),
    ] {
        let girth = section::girth([0.5 * width; 2], height, exponent, exponent);
        assert!((girth - expected).abs() < 2e-3, "{girth} for {expected}");
    }
}

#[test]
fn a_girth_that_cannot_be_is_told_with_its_range() {
    let (form, diagnostics) = with("instep girth", 95.0);
    assert!(form.is_none());
    let said = messages(&diagnostics);
    assert!(
        said[0].starts_with(
            "measure-range: Instep girth 95.0 mm does not go with its width 26.7 mm (tracing) and \
             height 21.0 mm: it should lie between 77."
        ),
        "{said:?}"
    );
    for (name, value) in [
        ("ball girth", 95.0),
        ("ball girth", 66.0),
        ("heel wrap", 64.5),
        ("toe height", 110.0),
        ("toe height", 24.0),
    ] {
        let (form, diagnostics) = with(name, value);
        assert!(form.is_none(), "{name} {value}");
        assert_eq!(
            diagnostics.count(Level::Error),
            1,
            "{:?}",
            messages(&diagnostics)
        );
    }
}

#[test]
fn every_measure_that_cannot_be_is_told() {
    let (mut spec, _) = known().swap_remove(2);
    spec.measures.insert("instep girth".into(), 95.0);
    spec.measures.insert("ball girth".into(), 95.0);
    assert_eq!(solved(&spec).1.count(Level::Error), 2);
    spec.measures.clear();
    assert_eq!(solved(&spec).1.count(Level::Error), 6);
}

#[test]
fn a_long_heel_that_does_not_go_with_the_rest_is_a_warning() {
    let (form, diagnostics) = with("long-heel girth", 115.0);
    assert!(form.is_some());
    let said = messages(&diagnostics);
    assert!(
        said.iter().any(|m| m.starts_with(
            "measure-disagrees: Long-heel girth 115.0 mm does not go with the other measures; the form has "
        )),
        "{said:?}"
    );
}

#[test]
fn without_heel_wrap_the_ankle_tells_the_heel() {
    let (mut spec, _) = known().swap_remove(2);
    spec.measures.remove("heel wrap");
    let (form, diagnostics) = solved(&spec);
    assert_eq!(messages(&diagnostics).len(), 1);
    assert!((form.unwrap().solved.tapes.ankle - 67.0).abs() < 0.1);
    spec.measures.remove("ankle girth");
    assert!(solved(&spec).0.is_some());
}
