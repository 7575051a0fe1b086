//! Files for a cutter, from the command to the folder of results.

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
    built(folder.path());
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
