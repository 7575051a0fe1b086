//! Files for a cutter and for the shop, from the command to the folder of results.

use crate::command::{BUILD, boards};
use crate::support::{pressfoot, record};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// Two boards in two sizes, on felt by the sheet, with `more` at the end of the file.
fn design(folder: &Path, more: &str) {
    boards(folder, 2, "Lay the boards together and sew round.");
    let path = folder.join("boards/design.yaml");
    let text = fs::read_to_string(&path).expect("it was written");
    let text = text.replace("{name: cotton}", "{name: felt, sheet: 20 cm x 30 cm}");
    fs::write(&path, format!("{text}{more}\n")).expect("design written");
}

fn built(folder: &Path) -> String {
    let output = pressfoot(folder, &BUILD);
    let told = record(&output);
    assert_eq!(output.status.code(), Some(0), "{told}");
    told
}

/// The files below the folder of results that are no PDF, by name.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let out = folder.join("out/boards");
    let all = walkdir::WalkDir::new(&out).into_iter();
    let all = all.map(|entry| entry.expect("an entry"));
    all.filter(|entry| entry.file_type().is_file())
        .filter(|entry| entry.path().extension().is_none_or(|e| e != "pdf"))
        .map(|entry| {
            let path = entry.path().strip_prefix(&out).expect("below it");
            let name = path.to_string_lossy().replace('\\', "/");
            (name, fs::read(entry.path()).expect("the file"))
        })
        .collect()
}

#[test]
fn cut_files_are_listed_written_and_taken_away_again() {
    let folder = tempfile::tempdir().expect("a folder");
    design(folder.path(), "");
    let told = built(folder.path());
    assert!(told.contains("boards/cut: 6 files"), "{told}");
    assert!(told.contains("boards/boards.dxf"), "{told}");
    let first = files(folder.path());
    let drawings = |files: &BTreeMap<String, Vec<u8>>| -> Vec<String> {
        let names = files.keys().filter(|name| name.starts_with("cut/"));
        names.cloned().collect()
    };
    let wanted = [
        "cut/one/board-0.svg",
        "cut/one/board-1.svg",
        "cut/one/c-sheet-1.svg",
        "cut/two/board-0.svg",
        "cut/two/board-1.svg",
        "cut/two/c-sheet-1.svg",
    ];
    assert_eq!(drawings(&first), wanted);
    let output = pressfoot(folder.path(), &[&BUILD[..], &["--anew"]].concat());
    assert_eq!(output.status.code(), Some(0), "{}", record(&output));
    assert!(first == files(folder.path()), "two builds differ");
    // without a size its drawings go
    let path = folder.path().join("boards/design.yaml");
    let text = fs::read_to_string(&path).expect("it was written");
    fs::write(&path, text.replace("  two: {title: Two}\n", "")).expect("written");
    built(folder.path());
    assert_eq!(drawings(&files(folder.path())), wanted[..3]);
    assert!(!folder.path().join("out/boards/cut/two").exists());
}

#[test]
fn colours_and_allowances_are_as_the_design_says() {
    let folder = tempfile::tempdir().expect("a folder");
    let cutting = "cutting: {colours: {cut: \"#123456\"}, without allowance: [board 1], reference square: none}";
    design(folder.path(), cutting);
    built(folder.path());
    let all = files(folder.path());
    let text = |name: &str| String::from_utf8(all[name].clone()).expect("text");
    // a board of 20 by 40 mm with 5 mm of allowance, and one of 21 by 40 mm without
    let with = text("cut/one/board-0.svg");
    assert!(
        with.contains("stroke=\"#123456\"") && with.contains("viewBox=\"-6 -6 32 52\""),
        "{with}"
    );
    let without = text("cut/one/board-1.svg");
    assert!(without.contains("viewBox=\"-1 -1 23 42\""), "{without}");
    assert!(!without.contains("id=\"mark\""), "{without}");
}

#[test]
fn a_mistake_in_what_is_said_of_cutting_is_told_at_its_place() {
    let folder = tempfile::tempdir().expect("a folder");
    design(
        folder.path(),
        "cutting: {without allowance: [bord 1], notch: slits}",
    );
    let output = pressfoot(folder.path(), &BUILD);
    let told = record(&output);
    assert_eq!(output.status.code(), Some(1), "{told}");
    assert!(
        told.contains("unknown-key") && told.contains("Did you mean ‘board 1’?"),
        "{told}"
    );
}

#[test]
fn pictures_have_the_size_that_is_asked_for_and_the_listing_agrees_with_the_design() {
    let folder = tempfile::tempdir().expect("a folder");
    design(folder.path(), "listing: {pictures: [400 x 300, 250 x 250]}");
    let told = built(folder.path());
    assert!(told.contains("boards/listing.md"), "{told}");
    let all = files(folder.path());
    for (name, wanted) in [
        ("cover", [400, 300]),
        ("cover-250x250", [250, 250]),
        ("pieces", [400, 300]),
        ("pieces-250x250", [250, 250]),
        ("layouts", [400, 300]),
        ("layouts-250x250", [250, 250]),
    ] {
        let png = &all[&format!("pictures/{name}.png")];
        // PNG specification, third edition, 11.2.1: width and height stand at the head of IHDR
        let side = |at: usize| u32::from_be_bytes([png[at], png[at + 1], png[at + 2], png[at + 3]]);
        assert_eq!([side(16), side(20)], wanted, "{name}");
        let picture = image::load_from_memory(png).expect("a picture").to_rgb8();
        let dark = picture
            .pixels()
            .filter(|p| p.0.iter().all(|c| *c < 100))
            .count();
        assert!(dark > 50, "{name} shows nothing");
    }
    // no step has a drawing
    assert!(!all.contains_key("pictures/steps.png"));
    let listing = String::from_utf8(all["listing.md"].clone()).expect("text");
    for wanted in [
        "# Boards",
        "edition 1.0.0",
        "2 sizes",
        "A4",
        "English",
        "pictures/layouts.png",
    ] {
        assert!(listing.contains(wanted), "{wanted}\n{listing}");
    }
    // as the designer's own text it is read against the design
    fs::write(folder.path().join("boards/listing.md"), &listing).expect("written");
    let told = built(folder.path());
    assert!(!told.contains("listing-disagrees"), "{told}");
    let other = listing.replace("edition 1.0.0", "edition 1.0.9");
    fs::write(folder.path().join("boards/listing.md"), other).expect("written");
    let output = pressfoot(folder.path(), &BUILD);
    assert!(
        record(&output).contains("listing-disagrees"),
        "{}",
        record(&output)
    );
}

#[test]
fn without_pictures_none_are_made() {
    let folder = tempfile::tempdir().expect("a folder");
    design(folder.path(), "listing: {pictures: none}");
    built(folder.path());
    let all = files(folder.path());
    assert!(all.keys().all(|name| !name.starts_with("pictures/")));
    let listing = String::from_utf8(all["listing.md"].clone()).expect("text");
    assert!(!listing.contains("Pictures"), "{listing}");
}
