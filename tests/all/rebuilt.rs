//! A design that did not change is not made again.

use crate::support::{pressfoot, record};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::time::SystemTime;

const NEW: [&str; 8] = [
    "new",
    "mat",
    "--start",
    "flat",
    "--by",
    "The stall",
    "--contact",
    "ask@stall.example",
];

/// What a build says, and when each file of its results was written.
fn built(folder: &Path, more: &[&str]) -> (String, BTreeMap<String, SystemTime>) {
    let arguments = [&["build", "--paper", "a4"], more].concat();
    let output = pressfoot(folder, &arguments);
    let results = folder.join("build-output").join("mat");
    let files = fs::read_dir(&results).into_iter().flatten().flatten();
    let written = files.filter(|file| file.path().is_file()).map(|file| {
        let changed = file
            .metadata()
            .and_then(|about| about.modified())
            .expect("a time");
        (file.file_name().to_string_lossy().into_owned(), changed)
    });
    (record(&output), written.collect())
}

#[test]
fn what_did_not_change_stands_and_is_told_again() {
    let place = tempfile::tempdir().expect("a folder");
    let folder = place.path();
    let begun = pressfoot(folder, &NEW);
    assert!(begun.status.success(), "{}", record(&begun));
    let (first, when) = built(folder, &[]);
    assert!(first.contains("mat: passed its proof\n"), "{first}");
    // the same again: nothing is written, and all is said as before
    let (second, later) = built(folder, &[]);
    assert_eq!(when, later);
    assert_eq!(
        second.replace("passed its proof, unchanged", "passed its proof"),
        first
    );
    assert!(second.contains("passed its proof, unchanged"), "{second}");
    // asked to, it makes all anew
    let (anew, latest) = built(folder, &["--anew"]);
    assert_eq!(anew, first);
    assert!(latest["mat-a4.pdf"] > later["mat-a4.pdf"]);
    // another paper is another booklet
    let output = pressfoot(folder, &["build", "--paper", "letter"]);
    assert!(
        !record(&output).contains("unchanged"),
        "{}",
        record(&output)
    );
}

#[test]
fn a_changed_text_and_a_lost_result_are_made_again() {
    let place = tempfile::tempdir().expect("a folder");
    let folder = place.path();
    pressfoot(folder, &NEW);
    built(folder, &[]);
    let text = folder.join("designs/mat/booklet/10-making.md");
    let words = fs::read_to_string(&text).expect("a chapter");
    fs::write(&text, format!("{words}\nPress it once more.\n")).expect("written");
    let (changed, _) = built(folder, &[]);
    assert!(!changed.contains("unchanged"), "{changed}");
    let pdf = folder.join("build-output/mat/mat-a4.pdf");
    let good = fs::read(&pdf).expect("a booklet");
    for spoilt in [None, Some(b"no PDF")] {
        match spoilt {
            Some(bytes) => fs::write(&pdf, bytes).expect("written"),
            None => fs::remove_file(&pdf).expect("removed"),
        }
        let (again, _) = built(folder, &[]);
        assert!(!again.contains("unchanged"), "{again}");
        assert!(fs::read(&pdf).expect("a booklet") == good);
    }
    let (last, _) = built(folder, &[]);
    assert!(last.contains("unchanged"), "{last}");
}
