//! Four feet that were drafted independently; `tests/drafting/known_feet.json` says how.

use super::*;
use crate::diagnostic::Level;
use crate::foot::form::FootSide;
use crate::foot::form::fixture::known;
use std::time::Instant;

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
            assert!((length - expected).abs() < 0.02, "{name}: {length}");
        }
        let toplines: f64 = form.toplines.iter().map(|t| polyline(t.clone())).sum();
        let expected = number(&pieces["toe"]["topline"]) + number(&pieces["heel"]["topline"]);
        assert!((toplines - expected).abs() < 0.05, "{toplines}, {expected}");
        let perimeter = form.surface.edge.perimeter();
        let expected = number(&known["sole perimeter"]);
        assert!((perimeter - expected).abs() < 0.05, "{perimeter}");
    }
}

#[test]
fn the_pieces_have_the_known_lengths() {
    let mut report = Vec::new();
    for (spec, known) in known() {
        let mut diagnostics = Diagnostics::default();
        let foot = Foot::new(&spec, &mut diagnostics).unwrap();
        let begun = Instant::now();
        let shoe = draft_shoe(&foot, &choices(&known), &mut diagnostics).unwrap();
        report.push(format!(
            "{:?} {:?}",
            begun.elapsed(),
            messages(&diagnostics)
        ));
        assert_eq!(diagnostics.count(Level::Error), 0, "{diagnostics:?}");
        let mut near = |what: &str, value: f64, expected: &Value, tolerance: f64| {
            let off = value - number(expected);
            report.push(format!("{what} {value:.3} {off:+.4}"));
            let fits = off.abs() < tolerance;
            report.extend((!fits).then(|| format!("WRONG {what}: {value} for {expected}")));
        };
        for (name, piece) in [("toe", &shoe.toe), ("heel", &shoe.heel)] {
            for edge in piece.edges() {
                let expected = &known["pieces"][name][&edge.name];
                near(
                    &format!("{name} {}", edge.name),
                    edge.length(),
                    expected,
                    0.005 * number(expected),
                );
            }
        }
        near(
            "sole",
            shoe.soles.sole.perimeter(),
            &known["sole perimeter"],
            0.1,
        );
        let easing = &known["easing"];
        near("natural", shoe.easing.natural, &easing["natural"], 0.15);
        near("cap", shoe.easing.cap, &easing["cap"], 0.05);
        near("used", shoe.easing.used, &easing["used"], 0.05);
        for (step, expected) in shoe.walk.iter().zip(known["walk"].as_array().unwrap()) {
            near(
                &format!("walk to {}", step.to),
                step.sole,
                &expected[0],
                0.05,
            );
            near(
                &format!("walk to {}", step.to),
                step.piece,
                &expected[1],
                0.08,
            );
        }
        report.push(format!(
            "{:?} {:?} fold {}",
            shoe.quality,
            shoe.flat
                .each_ref()
                .map(|f| (f.stretch, f.mean_area_strain, f.points.len())),
            shoe.heel_on_fold
        ));
    }
    assert!(
        !report.iter().any(|r| r.starts_with("WRONG")),
        "{report:#?}"
    );
    println!("{report:#?}");
}
