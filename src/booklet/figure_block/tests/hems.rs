//! Edges turned in once and twice.

use super::figure;
use kurbo::{BezPath, Shape};

/// The areas of all that is closed in a drawing, mm² of the piece.
fn areas(text: &str) -> Vec<f64> {
    let drawn = figure(text).figure;
    let svg = std::str::from_utf8(&drawn.svg).unwrap();
    let tree = roxmltree::Document::parse(svg).unwrap();
    let closed = tree
        .descendants()
        .filter_map(|node| node.attribute("d"))
        .filter(|data| data.trim_end().ends_with(['Z', 'z']));
    let areas = closed.map(|data| BezPath::from_svg(data).unwrap().area().abs());
    areas.map(|a| a / drawn.scale.powi(2)).collect()
}

/// The largest of these areas that the others have not.
fn only_in(these: &[f64], others: &[f64]) -> f64 {
    let known = |a: f64| others.iter().any(|b| (a - b).abs() < 0.01 * b.max(1.0));
    let new = these.iter().copied().filter(|a| !known(*a));
    new.fold(0.0, f64::max)
}

#[test]
fn of_an_edge_turned_twice_half_the_allowance_is_seen() {
    for edge in ["{piece: band, edge: top", "{piece: disc, edge: rim"] {
        let once = areas(&format!("hem: {edge}}}"));
        let twice = areas(&format!("hem: {edge}, turned twice: yes}}"));
        // the strip that lies on the piece is all that differs
        let (once, twice) = (only_in(&once, &twice), only_in(&twice, &once));
        let share = twice / once;
        // half of a rim that bends inwards is a little more: it is longer outside
        assert!((0.495..0.54).contains(&share), "{edge}: {once} {twice}");
    }
    let told = figure("hem: {piece: band, edge: top, turned twice: yes}").figure;
    assert!(told.alt.contains("turned in twice"), "{}", told.alt);
}
