#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;
use crate::foot::form::FootSide;
use crate::foot::form::fixture::{known, number};
use serde_json::Value;

/// The choices with which the known feet were drafted.
fn choices(known: &Value) -> ShoeChoices {
    let length = number(&known["foot length"]);
    let kind = ClothKind::named(known["cloth"].as_str().unwrap()).unwrap();
    ShoeChoices {
        ease: number(&known["ease"]),
        ..ShoeChoices::usual(length, kind)
    }
}

fn polyline(points: impl IntoIterator<Item = FormPoint>) -> f64 {
    let points: Vec<FormPoint> = points.into_iter().collect();
    points
        .windows(2)
        .map(|w| w[0].point.distance(w[1].point))
        .sum()
}

#[test]
fn the_form_over_a_known_foot_has_the_known_sections_and_lengths() {
    for (spec, known) in known() {
        let mut diagnostics = Diagnostics::default();
        let foot = Foot::new(&spec, &mut diagnostics).unwrap();
        let form = shoe_form(&foot, &choices(&known), &mut diagnostics).unwrap();
        assert!(diagnostics.iter().next().is_none(), "{diagnostics:?}");
        let s = form.sections;
        for (name, (a, b)) in [
            ("heel", s.heel),
            ("waist", s.waist),
            ("instep", s.instep),
            ("ball", s.ball),
            ("toe", s.toe),
        ] {
            let expected = &known["shoe sections"][name];
            let off = (a - number(&expected[0]))
                .abs()
                .max((b - number(&expected[1])).abs());
            assert!(off < 0.03, "{name}: {a} {b} for {expected}");
        }
        let pieces = &known["pieces"];
        for side in FootSide::BOTH {
            let name = format!("{} side", side.words());
            let expected = number(&pieces["toe"][&name]);
            let length = polyline(form.side_seams[side as usize].points.clone());
            assert!(
                (length - expected).abs() < 0.02,
                "{name}: {length} for {expected}"
            );
        }
        let toplines: f64 = form.toplines.iter().map(|t| polyline(t.clone())).sum();
        let expected = number(&pieces["toe"]["topline"]) + number(&pieces["heel"]["topline"]);
        assert!(
            (toplines - expected).abs() < 0.05,
            "{toplines} for {expected}"
        );
        let perimeter = form.surface.edge.perimeter();
        let expected = number(&known["sole perimeter"]);
        assert!(
            (perimeter - expected).abs() < 0.05,
            "{perimeter} for {expected}"
        );
    }
}
