//! Rows of stitches that end at a notch.

use super::{drawn, figure};
use crate::geometry::curve;
use kurbo::BezPath;

/// How long all broken lines of a drawing are together, mm of the piece.
fn broken(text: &str) -> f64 {
    let drawn = figure(text).figure;
    let svg = std::str::from_utf8(&drawn.svg).unwrap();
    let tree = roxmltree::Document::parse(svg).unwrap();
    let lines = tree
        .descendants()
        .filter(|node| node.has_attribute("stroke-dasharray"));
    let data = lines.filter_map(|node| node.attribute("d"));
    let lengths = data.map(|data| curve::length(&BezPath::from_svg(data).unwrap(), 1e-4));
    lengths.sum::<f64>() / drawn.scale
}

#[test]
fn a_row_ends_at_a_notch_on_the_side_of_the_shorter_part() {
    let row = |more: &str| {
        broken(&format!(
            "pieces: left half\nstitching: {{edges: [middle], inside: 5 mm, stitch: running stitch{more}}}"
        ))
    };
    // the notch stands at 30 % of 90 mm; a row 5 mm inside begins 5 mm inside the top, by hand
    let shorter = row("") - row(", up to: knot");
    assert!((shorter - 22.0).abs() < 0.5, "{shorter}");
    // led on through the top's allowance it is 5 mm and 6 mm longer, but not where it ends at the notch
    let led_on = |more: &str| row(&format!("{more}, ends: cut edge")) - row(more);
    let at_top = led_on("") - led_on(", up to: knot");
    assert!((at_top - 11.0).abs() < 0.5, "{at_top}");
    assert!(led_on(", up to: knot") > 1.0);
}

#[test]
fn what_a_seam_leaves_open_beyond_a_notch_keeps_its_seam_line() {
    let all = |more: &str| {
        broken(&format!(
            "pieces: left half\nstitching: {{edges: [middle]{more}}}"
        ))
    };
    let (whole, part) = (all(""), all(", up to: knot"));
    assert!((whole - part).abs() < 0.5, "{whole} {part}");
    // dots there, where else are stitches
    let svg = |more: &str| {
        let text = format!("pieces: left half\nstitching: {{edges: [middle]{more}}}");
        figure(&text).figure.svg
    };
    assert_ne!(svg(""), svg(", up to: knot"));
}

#[test]
fn a_notch_that_is_on_no_edge_is_told() {
    let (figure, said) =
        drawn("pieces: left half\nstitching: {edges: [middle], inside: 5 mm, up to: knob}");
    assert!(figure.is_none());
    assert!(said[0].2.contains("The nearest is ‘knot’"), "{said:?}");
    // on an edge that has it not, the row stays whole
    let top = |more: &str| {
        broken(&format!(
            "pieces: left half\nstitching: {{edges: [top], inside: 5 mm{more}}}"
        ))
    };
    assert!((top("") - top(", up to: knot")).abs() < 1e-6);
}
