//! A small page made ready for a print shop, read again from its objects.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use super::colours::{Inks, inks};
use super::content::{THINNEST, least_scale, ready};
use super::for_print_shop;
use crate::booklet::pdf::content::operations;
use crate::booklet::pdf::file::{self, POINTS};
use crate::booklet::world::BookletWorld;
use lopdf::Document;
use std::collections::BTreeMap;

fn page() -> Vec<u8> {
    let source = "#set document(title: \"Page\")\n#set page(width: 148mm, height: 210mm)\n\
         #set text(fill: rgb(\"#1B1A18\"))\n= Black words\n#text(fill: rgb(\"#8E2A1E\"))[madder]\n\
         #text(fill: rgb(\"#57534D\"))[grey]\n\
         #pdf.artifact(line(length: 30mm, stroke: 0.05mm + rgb(\"#1B1A18\")))\n\
         #pdf.artifact(scale(50%, line(length: 30mm, stroke: 0.12mm)))";
    let files = BTreeMap::from([("main.typ".to_string(), source.as_bytes().to_vec())]);
    let world = BookletWorld::new(&files, "main.typ", None).unwrap();
    let document = world.compile().0.unwrap();
    world.export(&document, "page").unwrap()
}

#[test]
fn boxes_stand_within_each_other_with_3_mm_of_bleed() {
    // ISO 15930: TrimBox within BleedBox within MediaBox; A5 is 148 x 210 mm (ISO 216); a bleed of
    // 3 mm is common practice.
    let document = Document::load_mem(&for_print_shop(&page()).unwrap()).unwrap();
    let page = file::pages(&document)[0];
    let sides = |key: &[u8]| -> Vec<f64> {
        let all = file::inherited(&document, page, key).unwrap();
        let numbers = all.as_array().unwrap().iter();
        numbers
            .map(|n| f64::from(n.as_float().unwrap()) / POINTS)
            .collect()
    };
    let near = |a: Vec<f64>, b: [f64; 4]| a.iter().zip(b).all(|(a, b)| (a - b).abs() < 1e-3);
    assert!(near(sides(b"TrimBox"), [0.0, 0.0, 148.0, 210.0]));
    assert!(near(sides(b"BleedBox"), [-3.0, -3.0, 151.0, 213.0]));
    assert!(near(sides(b"MediaBox"), [-10.0, -10.0, 158.0, 220.0]));
    assert!(file::inherited(&document, page, b"ArtBox").is_none());
}

#[test]
fn black_words_are_black_only_and_no_line_is_too_thin() {
    let document = Document::load_mem(&for_print_shop(&page()).unwrap()).unwrap();
    let page = file::pages(&document)[0];
    let all = operations(&document.get_page_content(page)).unwrap();
    let named = |operator: &str| all.iter().filter(|o| o.operator == operator).count();
    assert_eq!(named("scn") + named("SCN") + named("rg") + named("RG"), 0);
    assert!(all.iter().any(|o| o.operator == "g" && o.numbers == [0.0]));
    assert!(
        all.iter()
            .any(|o| o.operator == "k" && o.numbers == [0.25, 0.92, 0.95, 0.2])
    );
    // scale and width, kept and given back by q and Q
    let mut states = vec![(1.0, 1.0)];
    let mut lines = 0;
    for operation in &all {
        let last = states.len() - 1;
        match operation.operator.as_str() {
            "q" => states.push(states[last]),
            "Q" => drop(states.pop()),
            "cm" => {
                let [a, b, c, d] = operation.numbers[..4] else {
                    panic!("a matrix")
                };
                // pages of ours are only moved, turned and scaled evenly
                assert!((a * c + b * d).abs() < 1e-6);
                states[last].0 *= f64::hypot(a, b).min(c.hypot(d));
            }
            "w" => states[last].1 = operation.numbers[0],
            "S" => {
                let (scale, width) = states[last];
                lines += 1;
                assert!(scale * width >= THINNEST - 1e-3, "{width}");
            }
            _ => {}
        }
    }
    assert!(lines > 8, "crop marks and two lines");
}

#[test]
fn colours_become_black_or_inks() {
    assert_eq!(inks([0.0, 0.0, 0.0]), Inks::Black(0.0));
    // #57534D: luma 0.2126 R + 0.7152 G + 0.0722 B (ITU-R BT.709)
    let grey = [87.0, 83.0, 77.0].map(|v| v / 255.0);
    let luma = (0.2126 * 87.0 + 0.7152 * 83.0 + 0.0722 * 77.0) / 255.0;
    assert!(matches!(inks(grey), Inks::Black(g) if (g - luma).abs() < 1e-12));
    // pure red is magenta and yellow
    assert_eq!(inks([1.0, 0.0, 0.0]), Inks::Four([0.0, 1.0, 1.0, 0.0]));
    let Inks::Four(madder) = inks([142.0, 42.0, 30.0].map(|v| v / 255.0)) else {
        panic!("madder is no grey")
    };
    // total ink, common practice: 300 % at most, here 240
    assert!(madder.iter().sum::<f64>() <= 2.4);
}

#[test]
fn a_line_is_as_thick_as_it_is_where_it_is_thinnest() {
    // diag(1, 0.05) makes a line of 4 points 0.2 points thin one way; a turn changes nothing
    let squeezed = kurbo::Affine::new([1.0, 0.0, 0.0, 0.05, 0.0, 0.0]);
    let turned = kurbo::Affine::rotate(0.7) * squeezed;
    for axes in [squeezed, turned] {
        assert!((least_scale(axes) - 0.05).abs() < 1e-12);
        let made = ready(b"4 w 0 0 m 9 0 l S", axes).unwrap().bytes;
        let text = String::from_utf8(made).unwrap();
        assert_eq!(text, "4 w  5.0000 w\n0 0 m 9 0 l S\n4.0000 w\n");
    }
    let thick = b"6 w 0 0 m 9 0 l S".to_vec();
    assert_eq!(ready(&thick, squeezed).unwrap().bytes, thick);
    // the width that is set when none is said is 1 (ISO 32000-1, table 52)
    let made = ready(b"0.1 0 0 0.1 0 0 cm 0 0 m 9 0 l S", kurbo::Affine::IDENTITY).unwrap();
    assert!(String::from_utf8(made.bytes).unwrap().contains("2.5000 w"));
}

#[test]
fn lines_and_black_in_a_group_of_a_picture_are_made_ready_too() {
    let svg = "<svg xmlns='http://www.w3.org/2000/svg' width='40mm' height='20mm' \
         viewBox='0 0 400 200'><g opacity='0.5'><path d='M10 10L390 190' stroke='#1B1A18' \
         stroke-width='0.5' fill='none'/><rect width='50' height='50' fill='#1B1A18'/></g></svg>";
    let source = "#set document(title: \"Page\")\n#set page(width: 148mm, height: 210mm)\n\
         = Words\n#image(\"probe.svg\", alt: \"a line\")";
    let files = BTreeMap::from([
        ("main.typ".to_string(), source.as_bytes().to_vec()),
        ("probe.svg".to_string(), svg.as_bytes().to_vec()),
    ]);
    let world = BookletWorld::new(&files, "main.typ", None).unwrap();
    let set = world.compile().0.unwrap();
    let made = for_print_shop(&world.export(&set, "page").unwrap()).unwrap();
    let document = Document::load_mem(&made).unwrap();
    let forms: Vec<_> = document
        .objects
        .values()
        .filter_map(|o| o.as_stream().ok())
        .filter(|s| {
            s.dict
                .get(b"Subtype")
                .is_ok_and(|n| n.as_name().is_ok_and(|n| n == b"Form"))
        })
        .collect();
    assert!(!forms.is_empty(), "the group is no form any more");
    let mut widths = Vec::new();
    for form in forms {
        if let Ok(group) = form.dict.get(b"Group") {
            let space = group.as_dict().unwrap().get(b"CS").unwrap();
            assert_eq!(space.as_name().unwrap(), b"DeviceCMYK");
        }
        let all = operations(&form.decompressed_content().unwrap()).unwrap();
        let coloured = ["scn", "SCN", "rg", "RG"];
        assert!(all.iter().all(|o| !coloured.contains(&o.operator.as_str())));
        widths.extend(
            all.iter()
                .filter(|o| o.operator == "w")
                .map(|o| o.numbers[0]),
        );
    }
    // 40 mm are 400 units of the picture: one is 0.2835 points, a line of 0.5 is 0.142 points
    let unit = 40.0 / 400.0 * POINTS;
    let thickest = widths.iter().copied().fold(0.0, f64::max);
    assert!((thickest * unit - THINNEST).abs() < 1e-3, "{widths:?}");
}

#[test]
fn the_same_bytes_come_from_the_same_page() {
    assert_eq!(for_print_shop(&page()), for_print_shop(&page()));
}
