//! What is offered and what is promised: listing and pictures, chapters that are read, steps, a closure that is
//! bought. Each is told, or made, by the program as a whole.

use crate::support::{copy, pressfoot, project, record};
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// The good design of a shoe that has a strap, elastic and a button; of a flat bag.
const SHOE: &str = "barn-bar";
const BAG: &str = "twine-bag";

/// A copy of one of the good designs of the seeded faults.
pub fn copied(name: &str) -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let from = project().join("tests/faults/good").join(name);
    copy(&from, &folder.path().join("designs").join(name));
    folder
}

/// Exchanges words that stand in a file of the design.
fn change(folder: &Path, path: &str, old: &str, new: &str) {
    let path = folder.join("designs").join(path);
    let text = fs::read_to_string(&path).expect("a file of the design");
    assert!(text.contains(old), "{}: {old}", path.display());
    fs::write(&path, text.replace(old, new)).expect("written");
}

/// What is said when the design is built, which must succeed.
fn built(folder: &Path, name: &str, more: &[&str]) -> String {
    let output = pressfoot(folder, &[&["build", name, "--out", "out"], more].concat());
    let told = record(&output);
    assert!(output.status.success(), "{told}");
    told
}

#[test]
fn a_listing_is_made_only_if_all_papers_are() {
    let copy = copied(BAG);
    let folder = copy.path();
    change(
        folder,
        "twine-bag/design.yaml",
        "paper: [a4]",
        "paper: [a4, letter]",
    );
    let offered = |name: &str| -> PathBuf { folder.join("out/twine-bag").join(name) };
    built(folder, BAG, &["--paper", "a4"]);
    assert!(offered("twine-bag-a4.pdf").exists());
    assert!(!offered("listing.md").exists() && !offered("pictures").exists());
    built(folder, BAG, &[]);
    assert!(offered("twine-bag-letter.pdf").exists());
    let listing = fs::read_to_string(offered("listing.md")).expect("the listing");
    assert!(
        listing.contains("A4") && listing.contains("Letter"),
        "{listing}"
    );
    assert!(offered("pictures/cover.png").exists());
}

#[test]
fn a_chapter_that_is_not_read_and_a_booklet_without_steps_are_told() {
    let copy = copied(BAG);
    let folder = copy.path();
    let told = built(folder, BAG, &["--paper", "a4"]);
    assert!(!told.contains("warning"), "{told}");
    let booklet = folder.join("designs/twine-bag/booklet");
    fs::write(booklet.join("30-notes.txt"), "more\n").expect("written");
    fs::create_dir(booklet.join("old")).expect("made");
    fs::write(
        booklet.join("old/10-first.md"),
        "---\ntitle: First\n---\nOld.\n",
    )
    .expect("written");
    let told = built(folder, BAG, &["--paper", "a4"]);
    assert_eq!(told.matches("warning chapter-unread").count(), 2, "{told}");
    assert!(
        told.contains("booklet/30-notes.txt") && told.contains("booklet/old/10-first.md"),
        "{told}"
    );
    assert!(!told.contains("no-steps"), "{told}");
    change(
        folder,
        "twine-bag/booklet/10-making.md",
        "kind: steps",
        "kind: text",
    );
    let told = built(folder, BAG, &["--paper", "a4"]);
    assert_eq!(told.matches("warning no-steps").count(), 1, "{told}");
}

#[test]
fn a_closure_that_nobody_buys_is_told_with_what_it_wants() {
    let copy = copied(SHOE);
    let folder = copy.path();
    let measured = || {
        let output = pressfoot(folder, &["build", SHOE, "--paper", "a4", "--out", "out"]);
        record(&output)
    };
    let told = measured();
    assert!(!told.contains("closure-not-bought"), "{told}");
    // a ribbon of some length is no elastic
    change(
        folder,
        "barn-bar/design.yaml",
        "elastic: {name: round elastic, width: 1 mm,",
        "elastic: {name: round elastic, kind: ribbon, width: 1 mm,",
    );
    let told = measured();
    assert_eq!(
        told.matches("warning closure-not-bought").count(),
        1,
        "{told}"
    );
    // lines are broken where the terminal ends
    let words: Vec<&str> = told.split_whitespace().collect();
    let words = words.join(" ");
    assert!(
        words.contains("‘strap with elastic’ wants an elastic")
            && words.contains("length: shoe.strap elastic"),
        "{told}"
    );
}
