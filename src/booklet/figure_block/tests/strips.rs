//! Elastic laid on a piece, drawn and refused.

use super::{drawn, drawn_from, figure, guide_yaml, made};
use kurbo::{BezPath, ParamCurve, Point, Rect, Shape};

const LAID: &str =
    "pieces: left half\nstrip: {trim: elastic, from: crease, past: middle, sewn: yes}";

/// Boxes of the closed lines of this width; those in dashes are drawn from corner to corner.
fn closed(svg: &[u8], width: &str) -> Vec<Rect> {
    let text = std::str::from_utf8(svg).unwrap();
    let tree = roxmltree::Document::parse(text).unwrap();
    let lines = tree
        .descendants()
        .filter(|node| node.attribute("stroke-width") == Some(width));
    let mut boxes = Vec::new();
    let mut round: Option<(Point, Point, Rect)> = None;
    for data in lines.filter_map(|node| node.attribute("d")) {
        let path = BezPath::from_svg(data).unwrap();
        if data.ends_with('Z') {
            boxes.push(path.bounding_box());
            continue;
        }
        let Some((first, last)) = path.segments().next().zip(path.segments().last()) else {
            continue;
        };
        let goes_on = round.filter(|(_, end, _)| end.distance(first.start()) < 1e-5);
        let (start, all) = goes_on
            .map_or((first.start(), path.bounding_box()), |(start, _, all)| {
                (start, all.union(path.bounding_box()))
            });
        round = Some((start, last.end(), all));
        if start.distance(last.end()) < 1e-5 {
            boxes.push(all);
            round = None;
        }
    }
    boxes
}

#[test]
fn a_strip_is_as_wide_and_long_as_the_design_has_it() {
    let drawn = figure(LAID);
    let scale = drawn.figure.scale;
    let strips = closed(&drawn.figure.svg, "0.55");
    // 40 mm of elastic 6 mm wide, from the crease 20 mm before the middle edge: by hand
    let [strip] = strips[..] else {
        panic!("{strips:?}");
    };
    assert!((strip.width() - 40.0 * scale).abs() < 1e-3, "{strip:?}");
    assert!((strip.height() - 6.0 * scale).abs() < 1e-3, "{strip:?}");
    // sewn down on the 20 mm that lie on cloth, a fifth of its width inside
    // the seam line is as thin, and drawn before
    let lines = closed(&drawn.figure.svg, "0.25");
    let square = lines.last().unwrap();
    assert!(
        (square.width() - (20.0 - 2.0 * 1.2) * scale).abs() < 1e-3,
        "{square:?}"
    );
    assert!(
        drawn.figure.alt.contains("elastic lies on it"),
        "{}",
        drawn.figure.alt
    );
}

#[test]
fn a_strip_is_sewn_down_clear_of_the_row_along_the_edge() {
    let row = "stitching: {edges: [middle], inside: 5 mm}";
    let drawn = figure(&format!("{LAID}\n{row}"));
    let scale = drawn.figure.scale;
    let lines = closed(&drawn.figure.svg, "0.25");
    let square = lines.last().unwrap();
    // of the 20 mm that lie on cloth 5 lie beyond the row; a fifth of the width to either side, by hand
    assert!(
        (square.width() - (20.0 - 5.0 - 2.0 * 1.2) * scale).abs() < 1e-3,
        "{square:?}"
    );
}

#[test]
fn a_line_across_a_strip_stands_where_it_is_measured() {
    let lengths = |strip: &str| {
        let drawn = figure(&format!("pieces: left half\nstrip: {strip}"));
        let text = std::str::from_utf8(&drawn.figure.svg).unwrap().to_string();
        let tree = roxmltree::Document::parse(&text).unwrap();
        let lines = tree.descendants().filter_map(|node| node.attribute("d"));
        let boxes: Vec<Rect> = lines
            .map(|d| BezPath::from_svg(d).unwrap().bounding_box())
            .collect();
        (boxes, closed(text.as_bytes(), "0.55"), drawn.figure)
    };
    let (lines, strips, figure) =
        lengths("{trim: elastic, from: crease, past: middle, marked: 12 mm}");
    // of 40 mm 20 lie on cloth, so that the line stands 8 mm before the end
    let at = strips[0].x1 - 8.0 * figure.scale;
    let across = |b: &&Rect| b.width() < 1e-3 && (b.x0 - at).abs() < 1e-2;
    let line = lines.iter().find(across).expect("a line across it");
    assert!(
        (line.height() - 6.0 * figure.scale).abs() < 1e-2,
        "{line:?}"
    );
    assert!(
        figure.alt.contains("a line drawn across it"),
        "{}",
        figure.alt
    );
}

/// A skirt 80 mm wide with notches 16, 40 and 64 mm along its top edge, and elastic along that.
fn along(strip: &str) -> crate::figure::flat::FlatFigure {
    let strip = format!("{{trim: elastic, along: top, inside: 4 mm, {strip}}}");
    let text = format!("pieces: skirt\nstrip: {strip}");
    let (figure, said) = drawn_from(&made(&guide_yaml()), &text);
    figure.unwrap_or_else(|| panic!("{text}: {said:?}"))
}

/// Where a strip of this line begins and ends on the top edge, and how far it lies inside that, true scale.
fn lies(drawn: &crate::figure::flat::FlatFigure, width: &str) -> [f64; 4] {
    let scale = drawn.figure.scale;
    let strip = *closed(&drawn.figure.svg, width).last().expect("a strip");
    let edges = closed(&drawn.figure.svg, "0.7");
    // allowances of 6 mm all round
    let cut = edges.first().expect("a cut edge");
    let [left, top] = [cut.x0 / scale + 6.0, cut.y0 / scale + 6.0];
    [strip.x0, strip.x1]
        .map(|x| x / scale - left)
        .into_iter()
        .chain([strip.y0, strip.y1].map(|y| y / scale - top))
        .collect::<Vec<_>>()
        .try_into()
        .expect("four")
}

fn near(found: [f64; 4], wanted: [f64; 4]) {
    let off = found.iter().zip(wanted).map(|(a, b)| (a - b).abs());
    assert!(off.fold(0.0, f64::max) < 0.05, "{found:?} {wanted:?}");
}

#[test]
fn elastic_lies_along_an_edge_from_a_notch_as_long_as_it_is() {
    // 40 mm long and 6 mm wide, by hand
    let notches = "between: [left quarter, right quarter]";
    let loose = along(&format!("{notches}, beyond: 5 mm, sewn: yes"));
    near(lies(&loose, "0.55"), [11.0, 51.0, 4.0, 10.0]);
    // sewn down on the 5 mm beyond the notch, a fifth of its width inside
    near(lies(&loose, "0.25"), [12.2, 14.8, 5.2, 8.8]);
    let back = along("between: [right quarter, left quarter], beyond: 5 mm");
    near(lies(&back, "0.55"), [29.0, 69.0, 4.0, 10.0]);
    let stretched = along(&format!("{notches}, beyond: 5 mm, stretched: yes"));
    near(lies(&stretched, "0.55"), [11.0, 69.0, 4.0, 10.0]);
    // under the cloth it is dashed, and a little narrower than the room between its rows
    let hidden = along(&format!("{notches}, hidden: yes, sewn: across"));
    near(lies(&hidden, "0.3"), [16.0, 56.0, 4.72, 9.28]);
    assert!(
        hidden
            .figure
            .alt
            .contains("elastic lies under it along top"),
        "{}",
        hidden.figure.alt
    );
    assert!(closed(&hidden.figure.svg, "0.55").is_empty());
}

#[test]
fn what_cannot_be_laid_is_told_at_its_place() {
    for (strip, wanted) in [
        (
            "{trim: elastik, from: crease, past: middle}",
            "which the design has not",
        ),
        (
            "{trim: elastic, from: crease, past: middle, marked: 25 mm}",
            "beyond the end",
        ),
        (
            "{trim: bead, from: crease, past: middle}",
            "no width and length",
        ),
        (
            "{trim: elastic, from: creese, past: middle}",
            "The nearest is",
        ),
        (
            "{trim: elastic, from: crease, past: middel}",
            "The nearest is ‘middle’",
        ),
        (
            "{trim: elastic, from: crease, past: middle, hidden: yes}",
            "along an edge",
        ),
        (
            "{trim: elastic, from: crease, past: middle, sewn: across}",
            "along an edge",
        ),
        (
            "{trim: elastic, along: middle, past: middle}",
            "or hangs out past one",
        ),
        (
            "{trim: elastic, along: middle, between: [knot]}",
            "from one notch to another",
        ),
        (
            "{trim: elastic, along: top, between: [knot, knot]}",
            "not on edge ‘top’",
        ),
        (
            "{trim: elastic, along: middle, marked: 20 mm}",
            "beyond the middle",
        ),
    ] {
        let (figure, said) = drawn(&format!("pieces: left half\nstrip: {strip}"));
        assert!(figure.is_none(), "{strip}");
        let [(line, _, words)] = &said[..] else {
            panic!("{strip}: {said:?}");
        };
        assert!(*line == 2 && words.contains(wanted), "{strip}: {words}");
    }
}

#[test]
fn what_is_folded_is_shown_from_its_other_side() {
    let turned = figure("fold: {piece: left half, along: crease, show: after, turned over: yes}");
    let plain = figure("fold: {piece: left half, along: crease, show: after}");
    // right side up, the smaller part folded over shows its wrong side; turned over all that is uppermost
    // is the wrong side of what lay below
    assert!(plain.tints.contains(&"wrong") && turned.tints.contains(&"wrong"));
    assert!(
        turned.figure.alt.contains("folded and turned over"),
        "{}",
        turned.figure.alt
    );
    assert_ne!(plain.figure.svg, turned.figure.svg);
}
