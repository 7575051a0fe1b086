//! A design in two languages, from its folder to the files.

use crate::support::{copy, pressfoot, project, record};
use std::fs;
use std::path::Path;

/// The design of `tests/languages` below a folder of its own.
fn copied(folder: &Path) {
    let from = project().join("tests/languages/penny-mat");
    copy(&from, &folder.join("penny-mat"));
}

fn built(folder: &Path) -> (Option<i32>, String) {
    let arguments = ["build", "--from", ".", "--out", "out", "penny-mat"];
    let output = pressfoot(folder, &arguments);
    (output.status.code(), record(&output))
}

fn out(folder: &Path, name: &str) -> Vec<u8> {
    let path = folder.join("out/penny-mat").join(name);
    fs::read(&path).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// The language that a PDF says it is in (PDF 32000-1, 14.9.2: `/Lang` of the catalogue).
fn language(pdf: &[u8]) -> String {
    let file = lopdf::Document::load_mem(pdf).expect("a PDF");
    let catalogue = file.catalog().expect("a catalogue");
    let lang = catalogue.get(b"Lang").and_then(lopdf::Object::as_str);
    String::from_utf8(lang.expect("a language").to_vec()).expect("a tag")
}

#[test]
fn each_language_has_its_files_and_one_proof_covers_all() {
    let folder = tempfile::tempdir().expect("a folder");
    copied(folder.path());
    let (code, told) = built(folder.path());
    assert_eq!(code, Some(0), "{told}");
    assert!(
        !told.contains("warning") && !told.contains("error"),
        "{told}"
    );
    let files = [
        ("penny-mat-a4.pdf", "en"),
        ("penny-mat-large-print-a4.pdf", "en"),
        ("penny-mat-de-a4.pdf", "de"),
        ("penny-mat-de-large-print-a4.pdf", "de"),
    ];
    let text = |name: &str| String::from_utf8(out(folder.path(), name)).expect("text");
    let (proof, written) = (text("proof.json"), text("written.json"));
    for (name, tag) in files {
        assert!(
            language(&out(folder.path(), name)).starts_with(tag),
            "{name}"
        );
        assert!(proof.contains(name) && written.contains(name), "{name}");
    }
    let numbers: serde_json::Value = serde_json::from_str(&text("numbers.json")).expect("JSON");
    let pages = &numbers["pages"];
    assert_eq!(pages["a4"]["plates"], pages["de-a4"]["plates"]);
    assert!(pages["de-a4"]["pages"].as_u64() > Some(4));
}

#[test]
fn what_is_not_translated_is_told_at_its_place_and_printed_in_the_first_language() {
    let folder = tempfile::tempdir().expect("a folder");
    copied(folder.path());
    let design = folder.path().join("penny-mat/design.de.yaml");
    let text = fs::read_to_string(&design).expect("there");
    let kept = text.lines().filter(|line| !line.starts_with("glossary"));
    let kept: String = kept.map(|line| format!("{line}\n")).collect();
    let kept = kept.replace(", note: mit zwei Löchern", "");
    let kept = kept.replace("finished: {side of the mat: Seite der Matte}", "");
    fs::write(&design, kept).expect("written");
    fs::remove_file(folder.path().join("penny-mat/booklet.de/20-care.md")).expect("removed");
    let (code, told) = built(folder.path());
    assert_eq!(code, Some(0), "{told}");
    assert_eq!(
        told.matches("warning missing-translation").count(),
        4,
        "{told}"
    );
    let places = ["design.yaml:23:", "design.yaml:43:", "design.yaml:44:"];
    for place in places {
        assert!(told.contains(place), "{place} in {told}");
    }
    assert!(told.contains("booklet/20-care.md:1:1"), "{told}");
}

#[test]
fn a_translation_that_gives_more_than_texts_is_refused_at_its_line() {
    let folder = tempfile::tempdir().expect("a folder");
    copied(folder.path());
    let design = folder.path().join("penny-mat/design.de.yaml");
    let text = fs::read_to_string(&design).expect("there");
    let wrong = text.replace(
        "pocket: {title: Tasche}",
        "pocket: {title: Tasche, allowance: 3 mm}",
    );
    fs::write(&design, wrong + "titel: Matte\n").expect("written");
    let (code, told) = built(folder.path());
    assert_eq!(code, Some(1), "{told}");
    assert_eq!(told.matches("error not-a-text").count(), 2, "{told}");
    assert!(
        told.contains("design.de.yaml:27:") && told.contains("design.de.yaml:34:"),
        "{told}"
    );
}

#[test]
fn words_of_a_design_are_checked_against_the_tables() {
    let folder = tempfile::tempdir().expect("a folder");
    copied(folder.path());
    let words = folder.path().join("penny-mat/template/words");
    fs::create_dir_all(&words).expect("a folder");
    let wrong = "booklet:\n  contnets: Inhalt\n  page: Blatt {number}\n  contents: [a]\n";
    fs::write(words.join("de.yaml"), wrong).expect("written");
    let (_, told) = built(folder.path());
    for code in ["unknown-key", "unknown-place", "wrong-type"] {
        assert_eq!(
            told.matches(&format!("error {code}")).count(),
            1,
            "{code}: {told}"
        );
    }
    fs::write(words.join("de.yaml"), "booklet:\n  contents: Übersicht\n").expect("written");
    let (code, told) = built(folder.path());
    assert_eq!(code, Some(0), "{told}");
}
