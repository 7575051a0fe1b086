//! A small document with layers, set by Typst and finished: what the file says is read again from its
//! objects.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use super::content::operations;
use super::{Bookmark, Finish, Sides, file, finish};
use crate::booklet::world::BookletWorld;
use lopdf::{Document, Object};
use std::collections::BTreeMap;

/// The PDF that Typst makes of `source`.
fn set(source: &str) -> Vec<u8> {
    let files = BTreeMap::from([("main.typ".to_string(), source.as_bytes().to_vec())]);
    let world = BookletWorld::new(&files, "main.typ", None).unwrap();
    let document = world.compile().0.unwrap();
    world.export(&document, "pages").unwrap()
}

/// Two pages; on the second a layer, within it another, and a square on none.
fn pages(inner_end: &str) -> Vec<u8> {
    set(&format!(
        "#let mark(id, height) = pdf.artifact(place(top + left, dx: -3000mm, dy: -3000mm, \
           rect(width: (10 + id) * 1mm, height: height, fill: black)))\n\
         #set document(title: \"Pages\")\n#set page(width: 100mm, height: 80mm, margin: 10mm)\n\
         = First\nwords\n#pagebreak()\n= Second\n\
         #mark(0, 7mm)#place(rect(width: 20mm, height: 20mm, stroke: 0.5mm))\n\
         #mark(1, 7mm)#place(circle(radius: 5mm, stroke: 0.5mm))\n{inner_end}#mark(0, 9mm)\n\
         #place(rect(width: 30mm, height: 30mm, stroke: 0.25mm))\n"
    ))
}

fn wishes() -> Finish {
    let piece = Bookmark {
        title: "1 Sole".into(),
        page: 1,
        at: [10.0, 20.0],
        inner: Vec::new(),
    };
    Finish {
        labels: vec!["1".into(), "Plate 1".into()],
        bookmarks: vec![Bookmark {
            title: "Größe".into(),
            page: 1,
            at: [0.0, 0.0],
            inner: vec![piece],
        }],
        layers: vec!["Size Small".into(), "Seam allowances".into()],
        all_layers: "All layers".into(),
        sides: Some(Sides::One),
    }
}

fn name(object: &Object) -> &[u8] {
    object.as_name().unwrap()
}

#[test]
fn a_viewer_finds_boxes_labels_bookmarks_and_layers() {
    let bytes = finish(&pages("#mark(1, 9mm)"), &wishes()).unwrap();
    let document = Document::load_mem(&bytes).unwrap();
    let catalogue = document.catalog().unwrap();
    // ISO 32000-1, table 150
    let viewer = catalogue
        .get(b"ViewerPreferences")
        .unwrap()
        .as_dict()
        .unwrap();
    assert_eq!(name(viewer.get(b"PrintScaling").unwrap()), b"None");
    assert_eq!(name(viewer.get(b"Duplex").unwrap()), b"Simplex");
    assert!(viewer.get(b"DisplayDocTitle").unwrap().as_bool().unwrap());
    let labels = catalogue.get(b"PageLabels").unwrap().as_dict().unwrap();
    assert_eq!(labels.get(b"Nums").unwrap().as_array().unwrap().len(), 4);
    // Matterhorn Protocol 20-001 to 20-003: a name, and no AS
    let layers = catalogue.get(b"OCProperties").unwrap().as_dict().unwrap();
    let shown = layers.get(b"D").unwrap().as_dict().unwrap();
    assert!(shown.has(b"Name") && !shown.has(b"AS"));
    let groups = layers.get(b"OCGs").unwrap().as_array().unwrap();
    let title = |o: &Object| {
        let group = document.get_dictionary(o.as_reference().unwrap()).unwrap();
        String::from_utf8_lossy(group.get(b"Name").unwrap().as_str().unwrap()).into_owned()
    };
    let titles: Vec<String> = groups.iter().map(title).collect();
    assert_eq!(titles, ["Size Small", "Seam allowances"]);
    for page in file::pages(&document) {
        for key in [&b"TrimBox"[..], b"BleedBox", b"MediaBox"] {
            assert!(file::inherited(&document, page, key).is_some());
        }
    }
    // headings first, then ours
    let root = catalogue.get(b"Outlines").unwrap().as_reference().unwrap();
    let outlines = document.get_dictionary(root).unwrap();
    let last = outlines.get(b"Last").unwrap().as_reference().unwrap();
    let last = document.get_dictionary(last).unwrap();
    assert!(last.has(b"Prev") && last.has(b"First") && !last.has(b"Next"));
    assert_eq!(last.get(b"Count").unwrap().as_i64().unwrap(), -1);
}

#[test]
fn marks_become_marked_content_and_leave_no_ink() {
    let bytes = finish(&pages("#mark(1, 9mm)"), &wishes()).unwrap();
    let document = Document::load_mem(&bytes).unwrap();
    let page = file::pages(&document)[1];
    let all = operations(&document.get_page_content(page)).unwrap();
    let on_layers = all
        .iter()
        .filter(|o| o.names.first().is_some_and(|n| n == "OC"));
    let names: Vec<&str> = on_layers.map(|o| o.names[1].as_str()).collect();
    assert_eq!(names, ["Layer0", "Layer1"]);
    let count = |operators: &[&str]| {
        let found = all
            .iter()
            .filter(|o| operators.contains(&o.operator.as_str()));
        found.count()
    };
    assert_eq!(count(&["BMC", "BDC"]), count(&["EMC"]));
    assert!(
        all.iter()
            .all(|o| o.operator != "cm" || o.numbers[4] > -5000.0)
    );
}

#[test]
fn a_layer_that_does_not_end_is_refused() {
    assert!(finish(&pages(""), &wishes()).is_err());
    let none = Finish {
        layers: Vec::new(),
        all_layers: String::new(),
        ..wishes()
    };
    assert!(finish(&pages("#mark(1, 9mm)"), &none).is_err());
}

#[test]
fn the_same_bytes_come_from_the_same_input() {
    let pages = pages("#mark(1, 9mm)");
    assert_eq!(finish(&pages, &wishes()), finish(&pages, &wishes()));
}

#[test]
fn a_stream_is_read_operation_by_operation() {
    let stream =
        b"/Span<</MCID 0/Alt(a \\) b (c))>>BDC q 1 0 0 -1 -5.5 .5 cm[<00>-4 (x)]TJ % note\nEMC";
    let read = operations(stream).unwrap();
    let operators: Vec<&str> = read.iter().map(|o| o.operator.as_str()).collect();
    assert_eq!(operators, ["BDC", "q", "cm", "TJ", "EMC"]);
    assert_eq!(read[2].numbers, [1.0, 0.0, 0.0, -1.0, -5.5, 0.5]);
    assert_eq!(&stream[read[4].range.clone()], b"EMC");
    assert!(operations(b"(open").is_err());
}
