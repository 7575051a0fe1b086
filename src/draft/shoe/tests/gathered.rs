//! The heel piece cut longer at its topline for elastic at the back.

use super::*;
use crate::diagnostic::Level;
use crate::foot::form::fixture::known;
use crate::geometry::Outline;

/// Each known foot in a shoe so high that its topline must be longer for the foot to get in.
fn high(closure: Closure) -> Vec<Shoe> {
    let drafted = known().into_iter().map(|(spec, known)| {
        let mut diagnostics = Diagnostics::default();
        let foot = Foot::new(&spec, &mut diagnostics).unwrap();
        let mut choices = choices(&known);
        let length = number(&known["foot length"]);
        choices.cut.throat = 0.50 * length;
        choices.cut.throat_angle = 20.0;
        choices.cut.low_point = 0.25 * length;
        choices.cut.side_heights = [0.26 * length; 2];
        choices.cut.back_height = 0.34 * length;
        choices.donning.closure = closure;
        choices.donning.stretch = 2.0;
        let shoe = draft_shoe(&foot, &choices, &mut diagnostics);
        let shoe = shoe.unwrap_or_else(|| panic!("{diagnostics:?}"));
        if closure == Closure::BackElastic {
            assert_eq!(diagnostics.count(Level::Error), 0, "{diagnostics:?}");
        }
        shoe
    });
    drafted.collect()
}

fn length(outline: &Outline, edge: &str) -> f64 {
    outline.edge(edge).unwrap().length()
}

/// Only the topline of the heel piece is longer than that of the same shoe without elastic.
#[test]
fn the_topline_is_longer_by_what_is_gathered_and_nothing_else_is() {
    let plain = high(Closure::Open);
    for (shoe, plain) in high(Closure::BackElastic).iter().zip(&plain) {
        let added = shoe.donning.back.added;
        assert!(added > 0.05 * shoe.foot.length, "{added}");
        let longer = length(&shoe.heel, "topline") - length(&plain.heel, "topline");
        assert!((longer - added).abs() < 0.1, "{longer} for {added}");
        for edge in ["sole edge", "inner side", "outer side"] {
            let off = length(&shoe.heel, edge) - length(&plain.heel, edge);
            assert!(off.abs() < 0.05, "{edge}: {off}");
        }
        assert_eq!(shoe.donning, plain.donning);
        shoe.heel.check_simple().unwrap();
        for corner in shoe.quality.corners {
            assert!((corner - 180.0).abs() < 0.4, "{corner}");
        }
        assert!(
            shoe.quality.worst_fit < 0.003 * shoe.foot.length,
            "{}",
            shoe.quality.worst_fit
        );
    }
}

/// The gathered stretch lies in the middle of the back between two notches, and is as long as the
/// cloth that the elastic takes up.
#[test]
fn the_casing_is_marked_on_the_topline() {
    for shoe in high(Closure::BackElastic) {
        let casing = shoe.casing.unwrap();
        let back = shoe.donning.back;
        assert!((casing.to - casing.from - back.cloth).abs() < 1e-9);
        assert!((casing.elastic - back.elastic).abs() < 1e-9);
        let topline = shoe.heel.edge("topline").unwrap();
        assert!(casing.from > 0.0 && casing.to < topline.length());
        let marks: Vec<(&str, &str, f64)> = shoe
            .notches
            .iter()
            .filter(|n| n.name.starts_with("elastic"))
            .map(|n| (n.name, n.edge, n.distance))
            .collect();
        let expected = [
            ("elastic, inner", "topline", casing.from),
            ("elastic, outer", "topline", casing.to),
        ];
        assert_eq!(marks, expected);
        // The inner side lies at the left on the page; both ends lie at one height, nearly.
        let [left, right] = [casing.from, casing.to].map(|d| topline.station(d).point);
        assert!(left.x < 0.0 && right.x > 0.0);
        assert!(
            (left.x + right.x).abs() < 0.04 * shoe.foot.length,
            "{left:?} {right:?}"
        );
        assert!(
            (left.y - right.y).abs() < 0.04 * shoe.foot.length,
            "{left:?} {right:?}"
        );
    }
}

/// Where the topline is long enough already, elastic only draws it in: the piece stays as it is.
#[test]
fn elastic_at_a_wide_topline_adds_no_cloth() {
    let (spec, known) = known().swap_remove(2);
    let mut diagnostics = Diagnostics::default();
    let foot = Foot::new(&spec, &mut diagnostics).unwrap();
    let plain = draft_shoe(&foot, &choices(&known), &mut diagnostics).unwrap();
    let mut choices = choices(&known);
    choices.donning.closure = Closure::BackElastic;
    let shoe = draft_shoe(&foot, &choices, &mut diagnostics).unwrap();
    assert_eq!(shoe.heel, plain.heel);
    let casing = shoe.casing.unwrap();
    assert!(casing.added == 0.0 && (casing.to - casing.from - 31.5).abs() < 0.05);
}

/// More elastic than the heel piece has topline is refused in words.
#[test]
fn a_casing_longer_than_the_back_is_refused() {
    let (spec, known) = known().swap_remove(2);
    let mut diagnostics = Diagnostics::default();
    let foot = Foot::new(&spec, &mut diagnostics).unwrap();
    let mut choices = choices(&known);
    choices.donning.closure = Closure::BackElastic;
    choices.donning.back_span = 1.3;
    assert!(draft_shoe(&foot, &choices, &mut diagnostics).is_none());
    assert!(
        messages(&diagnostics)
            .iter()
            .any(|m| m.contains("takes up"))
    );
}
