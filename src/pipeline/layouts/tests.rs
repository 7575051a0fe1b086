//! What the template is told of cloth, for designs of plain shapes that can be reckoned by hand.

use super::cloth_data;
use crate::diagnostic::Diagnostics;
use crate::folder::DesignFolder;
use crate::pipeline::{Computed, Options, compute};
use serde_json::Value;

/// A design of three squares of 40 mm on such a cloth.
fn made(cloth: &str) -> Computed {
    let design = format!(
        "title: Test\nedition: 1.0.0\nabout: Plain shapes.\npaper: [a4]\n\
         sizes:\n  one: {{title: One size}}\ncloth: {{c: {{name: felt, spacing: none, {cloth}}}}}\n\
         pieces:\n  square: {{rectangle: {{width: 40 mm, height: 40 mm}}, allowance: none, cut: {{c: 3}}}}\n"
    );
    let folder = DesignFolder::from_memory("test", [("design.yaml", design)]);
    let mut diagnostics = Diagnostics::default();
    let made = compute(&folder, &Options::default(), &mut |_| {}, &mut diagnostics);
    made.expect("sound")
}

/// Their layouts.
fn layouts(cloth: &str) -> Vec<Value> {
    let told = cloth_data(&made(cloth), false).parts;
    let layouts = told.into_iter().find(|(name, _)| *name == "layouts");
    match layouts {
        Some((_, Value::Array(layouts))) => layouts,
        other => panic!("layouts: {other:?}"),
    }
}

#[test]
fn each_sheet_tells_what_is_left_of_itself() {
    // by hand: two squares side by side leave 10 mm of 90, hardly a strip; the third leaves 50 by 44 mm
    let layouts = layouts("sheet: 90 mm x 44 mm");
    let [first, last] = &layouts[..] else {
        panic!("two sheets: {layouts:?}");
    };
    assert_eq!(first["left"], Value::Null);
    let left = last["left"].as_str().expect("a rest");
    assert!(left.replace('\u{a0}', " ").contains("5 by 4 cm"), "{left}");
}

#[test]
fn widths_that_are_told_alike_are_one_way_to_buy_a_cloth() {
    // 44 in are 1117.6 mm: both are told as 112 cm (44 in), and what lies on the narrower lies on both
    let sold = |width: &str| -> Vec<String> {
        let layouts = layouts(&format!("width: {width}")).into_iter();
        layouts.map(|it| it["sold"].to_string()).collect()
    };
    let narrower = sold("44 in");
    assert_eq!(narrower.len(), 1);
    assert_eq!(sold("[112 cm, 44 in]"), narrower);
    assert_eq!(sold("[112 cm, 5 cm]").len(), 2);
}

#[test]
fn layouts_in_large_print_are_told_as_wide_as_they_are_drawn() {
    // what is told of the width is what the scale in the caption is reckoned from
    let made = made("width: 44 in");
    let large = cloth_data(&made, true).large;
    assert_eq!(large.told.len(), large.files.len());
    for (told, svg) in large.told.iter().zip(large.files.values()) {
        let svg = std::str::from_utf8(svg).unwrap();
        let tree = roxmltree::Document::parse(svg).unwrap();
        let width = tree.root_element().attribute("width").unwrap();
        let width: f64 = width.trim_end_matches("mm").parse().unwrap();
        let told = told["width"].as_f64().unwrap();
        assert!((told - width).abs() < 0.01, "{told} {width}");
    }
}
