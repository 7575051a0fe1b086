//! Small booklets laid out, and read again from their objects.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use super::{StapledJob, creep, order, stapled};
use crate::booklet::pdf::content::operations;
use crate::booklet::pdf::file::{self, POINTS};
use crate::booklet::world::BookletWorld;
use crate::language::Words;
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
    set((1..=count).map(page).collect())
}

fn set(body: Vec<String>) -> Vec<u8> {
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
    let laid = stapled(&pages(8), &A4, &Words::default()).unwrap();
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
    let laid = stapled(&pages(8), &A4, &Words::default()).unwrap();
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

/// The boxes of all tables, in the order of the objects, points.
fn table_boxes(pdf: &[u8]) -> Vec<[f64; 4]> {
    let document = Document::load_mem(pdf).unwrap();
    let mut boxes = Vec::new();
    for object in document.objects.values() {
        let Object::Dictionary(element) = object else {
            continue;
        };
        if element.get(b"S").and_then(Object::as_name).ok() != Some(&b"Table"[..]) {
            continue;
        }
        // a table names no page of its own: its cells do
        assert!(!element.has(b"Pg"));
        let attributes = element.get(b"A").unwrap().as_array().unwrap();
        for attribute in attributes {
            if let Ok(Object::Array(sides)) = attribute.as_dict().unwrap().get(b"BBox") {
                let side = |i: usize| f64::from(sides[i].as_float().unwrap());
                boxes.push([side(0), side(1), side(2), side(3)]);
            }
        }
    }
    boxes.sort_by(|a, b| a[3].total_cmp(&b[3]));
    boxes
}

#[test]
fn boxes_of_tables_move_with_their_pages() {
    // ISO 32000-1, 14.8.5.4.3: BBox is told in the coordinates of the page; page k lies where
    // the `cm` of its side puts it: 1 and 3 right, 2 left of the fold, all 10 mm up.
    let table = |i: usize| format!("#v({}mm)\n#table(columns: 2, [a], [b], [c], [d])\n", 10 * i);
    let body = (1..=8).map(|i| {
        if i <= 3 {
            table(i)
        } else {
            format!("Page {i}\n")
        }
    });
    let plain = set(body.collect());
    let before = table_boxes(&plain);
    let after = table_boxes(&stapled(&plain, &A4, &Words::default()).unwrap().pdf);
    // pages 3, 2, 1 from the lowest table up; page 3 is on the inner sheet
    let lefts = [148.5 - 0.13, 10.0, 148.5];
    assert_eq!((before.len(), after.len()), (3, 3));
    for ((old, new), left) in before.iter().zip(&after).zip(lefts) {
        for (i, by) in [left, 10.0, left, 10.0].into_iter().enumerate() {
            assert!(
                (new[i] - old[i] - by * POINTS).abs() < 1e-2,
                "{old:?} {new:?}"
            );
        }
    }
}

#[test]
fn pages_that_do_not_fill_sheets_are_refused() {
    assert!(stapled(&pages(6), &A4, &Words::default()).is_err());
    let letter = StapledJob {
        sheet: [279.4, 215.9],
        ..A4
    };
    assert!(stapled(&pages(4), &letter, &Words::default()).is_err());
}
