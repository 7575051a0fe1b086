//! A small page made ready for a print shop, read again from its objects.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use super::colours::{Inks, inks};
use super::{THINNEST, for_print_shop};
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
    let mut scales = vec![1.0];
    for operation in &all {
        match operation.operator.as_str() {
            "q" => scales.push(scales[scales.len() - 1]),
            "Q" => drop(scales.pop()),
            "cm" => {
                let last = scales.len() - 1;
                scales[last] *= super::scale_of(operation).unwrap();
            }
            "w" => {
                let width = operation.numbers[0] * scales[scales.len() - 1];
                assert!(width >= THINNEST - 1e-3, "{width}");
            }
            _ => {}
        }
    }
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
