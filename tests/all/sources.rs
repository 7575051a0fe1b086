//! `build --typst-source`: the folder that any compiler of the typesetter's language reads.

use crate::support::{pressfoot, record};
use pressfoot::booklet::date::Moment;
use pressfoot::booklet::world::BookletWorld;
use pressfoot::proof::reading::read;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// The files below `folder`, by their paths in it.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    for entry in walkdir::WalkDir::new(folder) {
        let entry = entry.expect("a folder that can be read");
        if entry.file_type().is_file() {
            let path = entry.path().strip_prefix(folder).expect("a file of it");
            let path = path.to_string_lossy().replace('\\', "/");
            found.insert(path, fs::read(entry.path()).expect("a file"));
        }
    }
    found
}

/// What each page of a PDF reads.
fn pages(pdf: &[u8]) -> Vec<String> {
    let reading = read(pdf).expect("a PDF");
    let letters = reading.sheets.iter().map(|sheet| sheet.letters.iter());
    letters
        .map(|letters| letters.map(|letter| &*letter.text).collect())
        .collect()
}

#[test]
fn the_sources_are_complete_and_set_the_same_pages() {
    let place = tempfile::tempdir().expect("a folder");
    let folder = place.path();
    let new = ["new", "slipper", "--start", "shoe", "--by", "A stall"];
    let begun = pressfoot(
        folder,
        &[&new[..], &["--contact", "ask@stall.example"]].concat(),
    );
    assert!(begun.status.success(), "{}", record(&begun));
    let build = ["build", "slipper", "--paper", "a4,a1", "--typst-source"];
    let built = pressfoot(folder, &[&build[..], &["sources"]].concat());
    assert!(built.status.success(), "{}", record(&built));
    for (paper, main) in [("a4", "booklet.typ"), ("a1", "large.typ")] {
        let files = files(&folder.join("sources/slipper").join(paper));
        assert!(files.contains_key("data.json"), "{:?}", files.keys());
        assert!(files.contains_key("fonts/NotoSans-Regular.ttf"));
        let moment = Moment::from_epoch(1_790_000_000);
        let world = BookletWorld::new(&files, main, moment).expect("its main file");
        let (document, said) = world.compile();
        assert!(said.is_empty(), "{paper}: {said:?}");
        let pdf = world.export(&document.expect("a document"), "test");
        let finished = folder.join(format!("build-output/slipper/slipper-{paper}.pdf"));
        let finished = fs::read(finished).expect("the booklet");
        assert_eq!(pages(&pdf.expect("a PDF")), pages(&finished), "{paper}");
    }
}
