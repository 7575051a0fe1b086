//! Small booklets laid out, and read again from their objects.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use super::{StapledJob, creep, order, stapled};
use crate::booklet::pdf::content::operations;
use crate::booklet::pdf::file::{self, POINTS};
use crate::booklet::world::BookletWorld;
use lopdf::{Document, Object};
use std::collections::BTreeMap;

const A4: StapledJob = StapledJob {
    sheet: [297.0, 210.0],
    thickness: 0.1,
    push: 1.3,
};

/// `count` half pages of A4 trimmed by 10 mm all round, each with its number and a link to the next.
fn pages(count: usize) -> Vec<u8> {
    let page = |i: usize| format!("= Page {i} <p{i}>\n#link(<p{}>)[on]\n", i % count + 1);
    let body: Vec<String> = (1..=count).map(page).collect();
    let source = format!(
        "#set document(title: \"Pages\")\n#set page(width: 138.5mm, height: 190mm)\n{}",
        body.join("#pagebreak()\n")
    );
    let files = BTreeMap::from([("main.typ".to_string(), source.into_bytes())]);
    let world = BookletWorld::new(&files, "main.typ", None).unwrap();
    let document = world.compile().0.unwrap();
    world.export(&document, "pages").unwrap()
}

#[test]
fn sixteen_pages_lie_as_in_the_imposition_table() {
    // Saddle stitch of 16 pages, plain arithmetic: 16·1 / 2·15, 14·3 / 4·13, 12·5 / 6·11, 10·7 / 8·9;
    // each pair sums to N + 1.
    let table = [
        [16, 1],
        [2, 15],
        [14, 3],
        [4, 13],
        [12, 5],
        [6, 11],
        [10, 7],
        [8, 9],
    ];
    assert_eq!(order(16), table);
    assert!(order(48).iter().all(|[a, b]| a + b == 49));
}

#[test]
fn sheets_folded_into_each_other_give_the_pages_in_order() {
    for count in [4, 8, 28, 80] {
        // from the outside in on the way to the middle, and out again
        let sides = order(count);
        let sheets: Vec<&[[usize; 2]]> = sides.chunks(2).collect();
        let first = sheets.iter().flat_map(|s| [s[0][1], s[1][0]]);
        let second = sheets.iter().rev().flat_map(|s| [s[1][1], s[0][0]]);
        let read: Vec<usize> = first.chain(second).collect();
        assert_eq!(read, (1..=count).collect::<Vec<_>>());
    }
}

#[test]
fn inner_sheets_are_moved_towards_the_fold() {
    // k·t·i: 1.3 × 0.10 mm × 6 for the seventh sheet
    assert!((creep(6, &A4) - 0.78).abs() < 1e-12);
    let laid = stapled(&pages(8), &A4).unwrap();
    assert!((laid.creep - 0.13).abs() < 1e-12);
    let document = Document::load_mem(&laid.pdf).unwrap();
    let inner = file::pages(&document)[2];
    let moves: Vec<f64> = operations(&document.get_page_content(inner))
        .unwrap()
        .iter()
        .filter(|o| o.operator == "cm")
        .flat_map(|o| [o.numbers[4] / POINTS, o.numbers[5] / POINTS])
        .collect();
    for (found, wanted) in moves.iter().zip([10.13, 10.0, 148.5 - 0.13, 10.0]) {
        assert!((found - wanted).abs() < 1e-3, "{moves:?}");
    }
}

#[test]
fn tags_links_and_places_point_at_the_sides() {
    let laid = stapled(&pages(8), &A4).unwrap();
    assert_eq!(laid.order, [[8, 1], [2, 7], [6, 3], [4, 5]]);
    let document = Document::load_mem(&laid.pdf).unwrap();
    let sides = file::pages(&document);
    assert_eq!(sides.len(), 4);
    let mut marked = 0;
    for object in document.objects.values() {
        let Object::Dictionary(dictionary) = object else {
            continue;
        };
        if let Ok(page) = dictionary.get(b"Pg") {
            assert!(sides.contains(&page.as_reference().unwrap()));
        }
        if let Ok(Object::Array(kids)) = dictionary.get(b"K") {
            assert!(kids.iter().all(|kid| kid.as_i64().is_err()));
            let content = kids.iter().filter_map(|kid| kid.as_dict().ok());
            marked += content.filter(|kid| kid.has(b"Stm")).count();
        }
    }
    assert!(marked >= 16, "{marked}");
    let links: usize = sides
        .iter()
        .map(|side| match file::inherited(&document, *side, b"Annots") {
            Some(Object::Array(links)) => links.len(),
            _ => 0,
        })
        .sum();
    assert_eq!(links, 8);
}

#[test]
fn pages_that_do_not_fill_sheets_are_refused() {
    assert!(stapled(&pages(6), &A4).is_err());
    let letter = StapledJob {
        sheet: [279.4, 215.9],
        ..A4
    };
    assert!(stapled(&pages(4), &letter).is_err());
}
