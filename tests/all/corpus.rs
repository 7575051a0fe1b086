//! The corpus of the fuzz targets: what must hold for any input holds for each of its files.

#[path = "../fuzz/held/mod.rs"]
mod held;

use crate::support::project;
use std::fs;
use std::panic::catch_unwind;
use std::path::PathBuf;

/// Files and bytes that a kind of input may have.
const MOST: (usize, u64) = (60, 200_000);

#[test]
fn what_must_hold_holds_for_each_file_of_the_corpus() {
    let mut wrong = Vec::new();
    for (name, check) in held::ALL {
        let files = files(name);
        let sizes = files.iter().filter_map(|file| fs::metadata(file).ok());
        let bytes: u64 = sizes.map(|size| size.len()).sum();
        let few = (1..=MOST.0).contains(&files.len()) && bytes <= MOST.1;
        assert!(few, "{name}: {} files of {bytes} bytes", files.len());
        for file in files {
            let bytes = fs::read(&file).expect("a file of the corpus");
            if catch_unwind(|| check(&bytes)).is_err() {
                wrong.push(file);
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// The files of one kind, in order of name.
fn files(name: &str) -> Vec<PathBuf> {
    let folder = project().join("tests/fuzz/corpus").join(name);
    let entries = fs::read_dir(&folder).unwrap_or_else(|why| panic!("{}: {why}", folder.display()));
    let mut files: Vec<PathBuf> = entries
        .filter_map(|entry| Some(entry.ok()?.path()))
        .collect();
    files.sort();
    files
}
