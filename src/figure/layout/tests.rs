//! Layouts drawn: scale, what lies on the paper, words.

use super::{LayoutRoom, LayoutWords, layout, layout_size, says_what_is_left};
use crate::diagnostic::Diagnostics;
use crate::folder::DesignFolder;
use crate::materials::Bought;
use crate::pipeline::{Options, compute};
use kurbo::{BezPath, Rect, Shape};

fn bought(cloth: &str) -> Bought {
    let design = format!(
        "title: Test\nedition: 1.0.0\nabout: Plain shapes.\npaper: [a4]\nsizes:\n  one: {{title: One size}}\n\
         cloth: {{c: {cloth}}}\npieces:\n  sole: {{title: Sole, ellipse: {{width: 70 mm, height: 30 mm}}, \
         allowance: none, grain: lengthwise, cut: {{c: 1 pair}}}}\n"
    );
    let folder = DesignFolder::from_memory("test", [("design.yaml", design)]);
    let mut diagnostics = Diagnostics::default();
    let made = compute(&folder, &Options::default(), &mut |_| {}, &mut diagnostics);
    made.expect("sound").materials.bought.remove(0)
}

fn words() -> LayoutWords {
    LayoutWords {
        selvedge: "selvedge".into(),
        fold: "fold".into(),
        left_over: Some("left over".into()),
        alt: "a layout".into(),
    }
}

#[test]
fn a_layout_keeps_to_its_room_and_says_its_scale() {
    let room = LayoutRoom::new(118.0, 100.0);
    for cloth in [
        "{name: felt, sheet: 9 in x 12 in}",
        "{name: lawn, kind: woven, width: 44 in}",
        "{name: lawn, kind: woven, width: 44 in, lay: double}",
        "{name: lawn, kind: woven, width: 8 cm, selvedge: none}",
    ] {
        let bought = bought(cloth);
        let figure = layout(&bought.layout, &bought.layout.laid[0], room, &words());
        assert!(
            figure.width <= room.size.width + 1e-6 && figure.height <= room.size.height + 1e-6,
            "{cloth}"
        );
        let size = layout_size(&bought.layout, &bought.layout.laid[0], room, &words());
        assert_eq!([size.width, size.height], [figure.width, figure.height]);
        let one_to = 1.0 / figure.scale;
        assert!(
            super::SCALES.iter().any(|s| (s - one_to).abs() < 1e-9),
            "{cloth}: 1 : {one_to}"
        );
    }
}

#[test]
fn a_wide_cloth_is_cut_short_beyond_its_pieces_so_that_they_can_be_seen() {
    let bought = bought("{name: lawn, kind: woven, width: 44 in}");
    let figure = layout(
        &bought.layout,
        &bought.layout.laid[0],
        LayoutRoom::new(118.0, 100.0),
        &words(),
    );
    // the whole width of 1118 mm would be drawn 1 : 12 or smaller
    assert!(figure.scale > 1.0 / 6.0, "1 : {}", 1.0 / figure.scale);
    // its selvedge stands at the left with room for its word; the broken edge wants none
    let used = bought.layout.laid[0].used.y1 * figure.scale;
    let word = super::cloth::reach_beside("selvedge", figure.height, 1.0).expect("room");
    let width = word + used + super::BEYOND + super::MARGIN;
    assert!(
        (figure.width - width).abs() < 1e-6,
        "{} {width}",
        figure.width
    );
}

#[test]
fn a_drawing_begins_with_what_is_drawn_at_its_left() {
    let letters = |selvedge: &str, fold: &str| LayoutWords {
        selvedge: selvedge.into(),
        fold: fold.into(),
        ..words()
    };
    let too_long = "a word that is longer than the cloth".repeat(4);
    for (cloth, words) in [
        ("{name: felt, sheet: 9 in x 12 in}", words()),
        ("{name: lawn, kind: woven, width: 44 in}", words()),
        // without a letter that hangs below the line
        (
            "{name: lawn, kind: woven, width: 44 in}",
            letters("edge of cloth", ""),
        ),
        (
            "{name: lawn, kind: woven, width: 44 in}",
            letters(&too_long, ""),
        ),
        (
            "{name: lawn, kind: woven, width: 44 in, lay: double}",
            letters("", "fold"),
        ),
        (
            "{name: lawn, kind: woven, width: 44 in, lay: double}",
            letters("", &too_long),
        ),
        (
            "{name: lawn, kind: woven, width: 8 cm, selvedge: none}",
            words(),
        ),
    ] {
        let bought = bought(cloth);
        for larger in [1.0, 1.7] {
            let room = LayoutRoom {
                larger,
                ..LayoutRoom::new(118.0, 100.0)
            };
            let figure = layout(&bought.layout, &bought.layout.laid[0], room, &words);
            let svg = String::from_utf8(figure.svg).expect("text");
            let tree = roxmltree::Document::parse(&svg).expect("SVG");
            let left = |node: roxmltree::Node<'_, '_>| {
                // what is seen within a piece reaches no farther than that
                let clipped = node.ancestors().any(|n| n.has_attribute("clip-path"));
                let node = (!clipped).then_some(node)?;
                let path = BezPath::from_svg(node.attribute("d")?).ok()?;
                let line = node.attribute("stroke-width").unwrap_or("0").parse::<f64>();
                Some(path.bounding_box().x0 - line.ok()? / 2.0)
            };
            let left = tree.descendants().filter_map(left).fold(f64::MAX, f64::min);
            assert!((-0.05..0.05).contains(&left), "{cloth} {words:?}: {left}");
        }
    }
}

#[test]
fn a_sheet_is_cut_short_beyond_its_pieces_unless_they_fill_it() {
    let drawn = |sheet: &str| {
        let bought = bought(&format!("{{name: felt, sheet: {sheet}}}"));
        let room = LayoutRoom::new(118.0, 100.0);
        let figure = layout(&bought.layout, &bought.layout.laid[0], room, &words());
        // on cloth
        [figure.width, figure.height].map(|side| side / figure.scale)
    };
    let [a, b] = drawn("9 in x 12 in");
    assert!(a.max(b) < 304.8 - 20.0, "{a} by {b}");
    // two soles of 70 by 30 mm leave nothing worth leaving away
    let [a, b] = drawn("84 mm x 76 mm");
    assert!(a.max(b) >= 84.0, "{a} by {b}");
}

#[test]
fn what_is_left_over_is_said_in_both_measures_or_not_in_the_drawing() {
    let said = |left_over: &str| {
        let bought = bought("{name: felt, sheet: 9 in x 12 in}");
        let room = LayoutRoom::new(118.0, 100.0);
        let words = LayoutWords {
            left_over: Some(left_over.into()),
            ..words()
        };
        says_what_is_left(&bought.layout, &bought.layout.laid[0], room, &words)
    };
    let inches = "8 by 6 in";
    assert!(said(&format!("left over 20 by 15 cm ({inches})")));
    // the first measure alone would find room, and is not said without the other
    assert!(!said(&format!(
        "left over 20 by 15 cm ({})",
        inches.repeat(30)
    )));
}

#[test]
fn a_turned_piece_is_hatched_and_another_is_not() {
    let hatched = |cloth: &str| {
        let bought = bought(cloth);
        let figure = layout(
            &bought.layout,
            &bought.layout.laid[0],
            LayoutRoom::new(118.0, 100.0),
            &words(),
        );
        String::from_utf8(figure.svg)
            .expect("text")
            .matches("<clipPath")
            .count()
    };
    assert_eq!(hatched("{name: lawn, kind: woven, width: 44 in}"), 1);
}

#[test]
fn a_fold_strikes_no_number_through() {
    // a triangle opened out along its longest side is broad in the middle, where the fold lies
    let design = "title: Test\nedition: 1.0.0\nabout: Plain shapes.\npaper: [a4]\nsizes:\n  one: {title: One size}\n\
        cloth: {c: {name: linen, kind: woven, width: 44 in}}\npieces:\n  kerchief:\n    outline:\n      \
        start: [0 mm, 0 mm]\n      edges:\n        - {name: long, to: [120 mm, 0 mm]}\n        \
        - {name: short, to: [0 mm, 100 mm]}\n        - {name: fold, to: [0 mm, 0 mm]}\n    on fold: fold\n    \
        allowance: none\n    cut: {c: 1}\n";
    let folder = DesignFolder::from_memory("test", [("design.yaml", design)]);
    let mut diagnostics = Diagnostics::default();
    let made = compute(&folder, &Options::default(), &mut |_| {}, &mut diagnostics);
    let bought = made.expect("sound").materials.bought.remove(0);
    let room = LayoutRoom::new(118.0, 100.0);
    let figure = layout(&bought.layout, &bought.layout.laid[0], room, &words());
    let text = String::from_utf8(figure.svg).expect("text");
    let tree = roxmltree::Document::parse(&text).expect("SVG");
    let path = |node: &roxmltree::Node<'_, '_>| {
        BezPath::from_svg(node.attribute("d").expect("data")).expect("path data")
    };
    let dashed =
        |node: &roxmltree::Node<'_, '_>| node.attribute("stroke-dasharray") == Some("1.6 0.8");
    let fold = tree.descendants().find(dashed).expect("a fold");
    let fold = path(&fold).bounding_box().inflate(0.1, 0.1);
    let letters = tree
        .descendants()
        .filter(|node| node.attribute("fill") == Some("#1b1a18"));
    let boxes: Vec<Rect> = letters.map(|node| path(&node).bounding_box()).collect();
    assert!(
        !boxes.is_empty() && boxes.iter().all(|b| b.intersect(fold).is_zero_area()),
        "{boxes:?}"
    );
}

#[test]
fn no_number_hides_a_cut_line() {
    // a band narrower than its number
    let mut bought = bought("{name: felt, sheet: 9 in x 12 in}");
    bought.layout.lay.pieces[0].path = Rect::new(0.0, 0.0, 60.0, 6.0).to_path(1e-3);
    let room = LayoutRoom::new(118.0, 100.0);
    let figure = layout(&bought.layout, &bought.layout.laid[0], room, &words());
    let svg = String::from_utf8(figure.svg).unwrap();
    let marks: Vec<&str> = svg.split('<').collect();
    let last_white = marks.iter().rposition(|mark| mark.contains("#ffffff"));
    let width = format!("stroke-width=\"{}\"", super::CUT.width);
    let first_cut = marks.iter().position(|mark| mark.contains(&width));
    assert!(last_white.is_some() && last_white < first_cut, "{svg}");
}
