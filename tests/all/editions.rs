//! Editions, from the commands to the files: a foot is changed by a millimetre, and `build`, `compare` and
//! `release` tell of it.

use crate::support::{copy, pressfoot, project, record};
use serde_json::Value;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

pub const NAME: &str = "lane-tie-shoe";

/// A copy of a design with a foot, for A4 alone.
pub fn copied() -> TempDir {
    copied_of(NAME)
}

/// A copy of a design, for A4 alone.
pub fn copied_of(name: &str) -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let designs = project().join("designs");
    for design in [name, "_shared"] {
        copy(
            &designs.join(design),
            &folder.path().join("designs").join(design),
        );
    }
    change_in(
        &folder.path().join("designs").join(name).join("design.yaml"),
        |text| {
            let short = |line: &str| match line.split(':').next() {
                Some("paper") => "paper: [a4]".to_string(),
                Some("forms") => "forms: []".to_string(),
                _ => line.to_string(),
            };
            text.lines().map(|line| short(line) + "\n").collect()
        },
    );
    folder
}

pub fn design(folder: &Path) -> PathBuf {
    folder.join("designs").join(NAME)
}

pub fn change(folder: &Path, file: &str, to: impl Fn(&str) -> String) {
    change_in(&design(folder).join(file), to);
}

fn change_in(path: &Path, to: impl Fn(&str) -> String) {
    let text = fs::read_to_string(path).expect("a file of the design");
    let changed = to(&text);
    assert_ne!(text, changed, "{} has nothing to change", path.display());
    fs::write(path, changed).expect("written");
}

/// The instep of the first foot a millimetre wider round.
pub fn widen_the_foot(folder: &Path) {
    let mut feet: Vec<_> = fs::read_dir(design(folder).join("feet"))
        .expect("feet")
        .map(|entry| {
            entry
                .expect("a foot")
                .file_name()
                .into_string()
                .expect("a name")
        })
        .collect();
    feet.sort();
    change(folder, &format!("feet/{}", feet[0]), |text| {
        let at = text.find("ball girth:").expect("a measure") + "ball girth:".len();
        let (before, after) = text.split_at(at);
        let number: String = after
            .trim_start()
            .chars()
            .take_while(|c| !c.is_whitespace())
            .collect();
        let wider = number.parse::<f64>().expect("a length") + 1.0;
        before.to_string() + &after.replacen(&number, &wider.to_string(), 1)
    });
}

pub fn run(folder: &Path, arguments: &[&str], exit: i32) -> String {
    let output = pressfoot(folder, arguments);
    let told = record(&output);
    assert_eq!(output.status.code(), Some(exit), "{arguments:?}: {told}");
    told
}

pub fn release(folder: &Path, edition: &str, exit: i32) -> String {
    let more = [
        "--edition",
        edition,
        "--note",
        "A wider foot.",
        "--out",
        "out",
    ];
    run(folder, &[&["release", NAME][..], &more].concat(), exit)
}

fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = fs::read_dir(folder.join("out").join(NAME)).expect("outputs");
    let of = |entry: std::io::Result<fs::DirEntry>| {
        let entry = entry.ok()?;
        let name = entry.file_name().into_string().ok()?;
        let bytes = name
            .ends_with(".pdf")
            .then(|| fs::read(entry.path()).ok())??;
        Some((name, bytes))
    };
    entries.filter_map(of).collect()
}

fn numbers(folder: &Path) -> Value {
    let path = folder.join("out").join(NAME).join("numbers.json");
    serde_json::from_slice(&fs::read(path).expect("numbers")).expect("JSON")
}

#[test]
fn a_foot_changed_by_a_millimetre_is_built_compared_and_released() {
    let copy = copied();
    let folder = copy.path();
    release(folder, "1.0.0", 0);
    let first = files(folder);
    let kept = design(folder).join("editions/1.0.0.yaml");
    let file = fs::read(&kept).expect("the edition is kept");

    // the same again is the same edition, to the byte
    let build = ["build", NAME, "--out", "out"];
    run(folder, &build, 0);
    assert!(files(folder) == first && !first.keys().any(|name| name.contains("changes")));
    assert!(run(folder, &["compare", NAME, "--out", "out"], 0).contains("Nothing differs."));
    assert!(release(folder, "1.0.1", 1).contains("error edition-same"));

    widen_the_foot(folder);
    run(folder, &build, 0);
    let draft = files(folder);
    assert!(
        draft.contains_key(&format!("{NAME}-changes-a4.pdf")),
        "{:?}",
        draft.keys()
    );
    assert_eq!(numbers(folder)["draft"], true);

    let compare = [
        "compare",
        NAME,
        "--out",
        "out",
        "--format",
        "json",
        "--overlay",
        "o.svg",
    ];
    let told = pressfoot(folder, &compare);
    let text = String::from_utf8_lossy(&told.stdout).into_owned();
    let found = text
        .lines()
        .filter_map(|line| serde_json::from_str::<Value>(line).ok())
        .find(|object| object["kind"] == "comparison")
        .expect("a comparison");
    assert_eq!(found["suggested"], "1.1.0", "{text}");
    let pieces = found["differs"]["pieces"].as_array().expect("pieces");
    // no line may move by more than the foot grew
    let most = pieces
        .iter()
        .filter_map(|piece| piece["moved"]["most_mm"].as_f64());
    let most = most.fold(0.0, f64::max);
    assert!(most > 0.05 && most < 1.5, "{most}");
    let overlay = fs::read_to_string(folder.join("o.svg")).expect("an overlay");
    assert!(roxmltree::Document::parse(&overlay).is_ok() && overlay.contains("stroke-dasharray"));

    assert!(release(folder, "1.0.0", 1).contains("error edition-not-later"));
    assert_eq!(fs::read(&kept).expect("still there"), file);
    release(folder, "1.1.0", 0);
    let second = files(folder);
    run(folder, &build, 0);
    assert!(files(folder) == second, "the edition and its build differ");
    assert_eq!(numbers(folder)["edition"], "1.1.0");
    assert_eq!(fs::read(&kept).expect("still there"), file);
    let between = run(folder, &["compare", NAME, "1.0.0", "1.1.0"], 0);
    assert!(between.contains("1.0.0 against 1.1.0") && between.contains("moved at most"));
    assert!(run(folder, &["compare", NAME, "3.0.0"], 2).contains("no edition 3.0.0"));
}

#[test]
fn nothing_is_lost_where_an_edition_cannot_be_written() {
    let copy = copied();
    let folder = copy.path();
    run(folder, &["build", NAME, "--out", "out"], 0);
    let before = files(folder);
    // a file stands where the folder of the editions should be
    fs::write(design(folder).join("editions"), "in the way").expect("written");
    let told = release(folder, "1.0.0", 2);
    assert!(told.contains("cannot be written"), "{told}");
    assert!(files(folder) == before);
    assert_eq!(
        fs::read(design(folder).join("editions")).expect("a file"),
        b"in the way"
    );
}

#[test]
fn a_release_without_a_number_or_a_note_suggests_one() {
    let copy = copied();
    let folder = copy.path();
    let told = run(
        folder,
        &["release", NAME, "--note", "New.", "--out", "out"],
        2,
    );
    assert!(told.contains("--edition 1.0.0 is suggested"), "{told}");
    let told = run(
        folder,
        &["release", NAME, "--edition", "1.0.0", "--out", "out"],
        2,
    );
    assert!(told.contains("--note"), "{told}");
    assert!(!design(folder).join("editions").exists());
}

#[test]
fn an_edition_changed_by_hand_is_an_error_at_its_line() {
    let copy = copied();
    let folder = copy.path();
    release(folder, "1.0.0", 0);
    change(folder, "editions/1.0.0.yaml", |text| {
        text.replace("area: ", "area: 1")
    });
    let told = run(folder, &["build", NAME, "--out", "out"], 1);
    assert!(told.contains("error edition-damaged"), "{told}");
    assert!(told.contains("editions/1.0.0.yaml:6:1"), "{told}");
}
