//! Large sheets and the further forms of the instructions, from the command to the files.

use crate::command::{BUILD, boards};
use crate::support::{pressfoot, record};
use std::fs;
use std::path::Path;

/// A design of two boards with `line` at the end of its file, and a chapter of so many paragraphs.
fn design(folder: &Path, papers: &str, line: &str, paragraphs: usize) {
    let text = "Lay the boards together, right sides facing, and sew round. ".repeat(6);
    boards(folder, 2, &format!("{text}\n\n").repeat(paragraphs));
    let path = folder.join("boards/design.yaml");
    let design = fs::read_to_string(&path).expect("it was written");
    let design = design.replace("paper: [a4]", &format!("paper: [{papers}]\n{line}"));
    fs::write(&path, design).expect("design written");
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder.join("out/boards"))
        .expect("outputs")
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| name.ends_with(".pdf"))
        .collect();
    names.sort();
    names
}

#[test]
fn every_paper_and_form_has_its_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let forms = "forms: [stapled, large print, ink saving, print shop]";
    design(folder.path(), "a4, letter, either, a1, roll24", forms, 3);
    let output = pressfoot(folder.path(), &BUILD);
    assert_eq!(output.status.code(), Some(0), "{}", record(&output));
    let expected = [
        "boards-a1.pdf",
        "boards-a4.pdf",
        "boards-either.pdf",
        "boards-ink-saving-a4.pdf",
        "boards-ink-saving-letter.pdf",
        "boards-large-print-a4.pdf",
        "boards-large-print-letter.pdf",
        "boards-letter.pdf",
        "boards-print-shop-a5.pdf",
        "boards-print-shop-half-letter.pdf",
        "boards-proof-sheet-a4.pdf",
        "boards-proof-sheet-either.pdf",
        "boards-proof-sheet-letter.pdf",
        "boards-roll24.pdf",
        "boards-stapled-a4.pdf",
        "boards-stapled-letter.pdf",
    ];
    assert_eq!(names(folder.path()), expected);
}

#[test]
fn papers_and_forms_that_lead_to_nothing_are_warned_of() {
    let folder = tempfile::tempdir().expect("a folder");
    design(folder.path(), "a0", "forms: [stapled]", 1);
    let output = pressfoot(folder.path(), &BUILD);
    let told = record(&output);
    assert_eq!(output.status.code(), Some(0), "{told}");
    assert!(told.contains("warning no-booklet"), "{told}");
    assert!(told.contains("warning form-without-paper"), "{told}");
    assert_eq!(names(folder.path()), ["boards-a0.pdf"]);
}

#[test]
fn a_booklet_too_thick_to_staple_is_warned_of_and_then_refused() {
    // common practice: more than 48 pages in one saddle stitch bulge, more than 80 do not fold
    let folder = tempfile::tempdir().expect("a folder");
    for (paragraphs, code, exit) in [
        (280, "warning booklet-thick", 0),
        (480, "error booklet-too-thick", 1),
    ] {
        design(folder.path(), "a4", "forms: [stapled]", paragraphs);
        let output = pressfoot(folder.path(), &BUILD);
        let told = record(&output);
        assert_eq!(output.status.code(), Some(exit), "{told}");
        assert!(told.contains(code), "{told}");
    }
}

#[test]
fn pieces_that_need_two_large_sheets_are_offered_on_two() {
    let folder = tempfile::tempdir().expect("a folder");
    design(folder.path(), "a4, a2, a0", "", 1);
    // A2 is 420 x 594 mm: it holds one board of 350 by 450 mm
    let path = folder.path().join("boards/design.yaml");
    let text = fs::read_to_string(&path).expect("it was written");
    let large = "{width: 350 mm, height: 450 mm}";
    let text = text.replace("{width: 20 mm, height: 40 mm}", large);
    let text = text.replace("{width: 21 mm, height: 40 mm}", large);
    let text = text.replace("  two: {title: Two}\n", "");
    fs::write(&path, text).expect("design written");
    let output = pressfoot(folder.path(), &BUILD);
    assert_eq!(output.status.code(), Some(0), "{}", record(&output));
    let listing = folder.path().join("out/boards/listing.md");
    let listing = fs::read_to_string(listing).expect("a listing");
    assert!(listing.contains("on 2 large sheets: A2, each"), "{listing}");
    assert!(listing.contains("on one large sheet: A0, "), "{listing}");
}
