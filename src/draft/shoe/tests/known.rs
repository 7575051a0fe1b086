//! Four feet that were drafted independently; `tests/drafting/known_feet.json` says how.

use super::*;
use crate::diagnostic::Level;
use crate::foot::form::FootSide;
use crate::foot::form::fixture::known;

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

/// What is off in a figure, if anything is.
fn off(what: &str, value: f64, expected: &Value, tolerance: f64) -> Option<String> {
    let expected = number(expected);
    let fits = (value - expected).abs() < tolerance;
    (!fits).then(|| format!("{what}: {value} for {expected}"))
}

#[test]
fn the_pieces_have_the_known_lengths() {
    for (spec, known) in known() {
        let mut diagnostics = Diagnostics::default();
        let foot = Foot::new(&spec, &mut diagnostics).unwrap();
        let shoe = draft_shoe(&foot, &choices(&known), &mut diagnostics).unwrap();
        assert_eq!(diagnostics.count(Level::Error), 0, "{diagnostics:?}");
        let mut wrong = Vec::new();
        for (name, piece) in [("toe", &shoe.toe), ("heel", &shoe.heel)] {
            for edge in piece.edges() {
                let expected = &known["pieces"][name][&edge.name];
                let what = format!("{name} {}", edge.name);
                wrong.extend(off(&what, edge.length(), expected, 0.05));
            }
        }
        let perimeter = shoe.soles.sole.perimeter();
        wrong.extend(off("sole", perimeter, &known["sole perimeter"], 0.02));
        let easing = &known["easing"];
        for (name, value) in [
            ("natural", shoe.easing.natural),
            ("cap", shoe.easing.cap),
            ("used", shoe.easing.used),
            ("zone", shoe.easing.zone),
        ] {
            wrong.extend(off(name, value, &easing[name], 0.03));
        }
        for (step, expected) in shoe.walk.iter().zip(known["walk"].as_array().unwrap()) {
            wrong.extend(off(step.to, step.sole, &expected[0], 0.05));
            wrong.extend(off(step.to, step.piece, &expected[1], 0.05));
        }
        assert!(wrong.is_empty(), "{wrong:#?}");
        assert!(shoe.quality.worst_fit < 0.0023 * shoe.foot.length);
        assert!(shoe.quality.room > 0.3, "{}", shoe.quality.room);
        let [toe, heel] = &shoe.flat;
        assert!(toe.mean_area_strain < 0.04 && heel.mean_area_strain < 0.003);
        for corner in shoe.quality.corners {
            assert!((corner - 180.0).abs() < 0.1, "{corner}");
        }
    }
}

/// The edges of neighbouring pieces are named and directed so that they can be sewn: what begins at
/// a mark on one begins or ends at the same mark on the other.
#[test]
fn pieces_lie_as_they_should() {
    let (spec, known) = known().swap_remove(2);
    let mut diagnostics = Diagnostics::default();
    let foot = Foot::new(&spec, &mut diagnostics).unwrap();
    let shoe = draft_shoe(&foot, &choices(&known), &mut diagnostics).unwrap();
    let names = |o: &crate::geometry::Outline| -> Vec<String> {
        o.edges().iter().map(|e| e.name.clone()).collect()
    };
    let toe = ["sole edge", "outer side", "topline", "inner side"];
    let heel = ["sole edge", "inner side", "topline", "outer side"];
    assert_eq!(names(&shoe.toe), toe);
    assert_eq!(names(&shoe.heel), heel);
    let centre = |name: &str, piece: NotchedPiece, outline: &crate::geometry::Outline| {
        let notch = shoe
            .notches
            .iter()
            .find(|n| n.piece == piece && n.name == name);
        let notch = notch.unwrap();
        outline
            .edge(notch.edge)
            .unwrap()
            .station(notch.distance)
            .point
    };
    // Toe down on the page; heel's sole edge down.
    let tip = centre("centre toe", NotchedPiece::Toe, &shoe.toe);
    assert!(tip.y > shoe.toe.edge("topline").unwrap().start().y + 10.0);
    // A right foot with its toe down, seen from above, has its inner side at the right.
    assert!(shoe.toe.edge("sole edge").unwrap().start().x > 0.0);
    let back = centre("centre heel", NotchedPiece::Heel, &shoe.heel);
    assert!(back.y > shoe.heel.edge("topline").unwrap().station(39.0).point.y + 10.0);
    assert!(shoe.heel.edge("sole edge").unwrap().start().x > 0.0);
    // The sole's marks lie at its own toe and heel.
    let on_sole = centre("centre toe", NotchedPiece::Sole, &shoe.soles.sole);
    let bounds = shoe.soles.sole.bounds();
    assert!(
        (on_sole.y - bounds.y0).abs() < 0.01,
        "{on_sole:?} {bounds:?}"
    );
    let on_sole = centre("centre heel", NotchedPiece::Sole, &shoe.soles.sole);
    assert!(
        (on_sole.y - bounds.y1).abs() < 0.01,
        "{on_sole:?} {bounds:?}"
    );
}
