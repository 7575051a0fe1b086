//! What the command line promises: faults of the command, JSON on standard output, outputs of older
//! builds, text of any length.

use crate::support::{pressfoot, project, record};
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

/// A design of `pieces` small boards; `chapter` is the text of its only chapter.
pub fn boards(folder: &Path, pieces: usize, chapter: &str) {
    let mut design = "title: Boards\nedition: 1.0.0\nabout: A thing.\nby: A stall\nskill: none\n\
         age: For display.\nterms: Do as you like.\ncontact: ask@stall.example\npaper: [a4]\nsizes:\n  \
         one: {title: One}\n  two: {title: Two}\ncloth:\n  c: {name: cotton}\npieces:\n"
        .to_string();
    if pieces > 9 {
        design = design.replace("  two: {title: Two}\n", "");
    }
    for number in 0..pieces {
        let width = 20 + number % 7;
        design.push_str(&format!(
            "  board {number}:\n    rectangle: {{width: {width} mm, height: 40 mm}}\n    \
             allowance: 5 mm\n    cut: {{c: 1}}\n"
        ));
    }
    let design_folder = folder.join("boards");
    fs::create_dir_all(design_folder.join("booklet")).expect("folder made");
    fs::write(design_folder.join("design.yaml"), design).expect("design written");
    let chapter = format!("---\ntitle: Making\n---\n\n{chapter}\n");
    fs::write(design_folder.join("booklet/10-making.md"), chapter).expect("chapter written");
}

fn passes(folder: &Path, arguments: &[&str]) {
    let output = pressfoot(folder, arguments);
    assert_eq!(output.status.code(), Some(0), "{}", record(&output));
}

pub const BUILD: [&str; 6] = ["build", "boards", "--from", ".", "--out", "out"];

#[test]
fn many_small_pieces_and_long_words_keep_within_the_page() {
    let folder = tempfile::tempdir().expect("a folder");
    let word = "W".repeat(400);
    let cells = "| interfacing ".repeat(8);
    let head = &word[..200];
    let chapter = format!(
        "{word}\n\n## {head}\n\n- `{word}`\n\n{cells}|\n{}|\n{cells}|\n",
        "|---".repeat(8)
    );
    for pieces in [80, 300] {
        boards(folder.path(), pieces, &chapter);
        passes(folder.path(), &BUILD);
    }
}

#[test]
fn a_strip_of_ten_metres_is_joined_from_its_sheets() {
    let folder = tempfile::tempdir().expect("a folder");
    boards(folder.path(), 1, "Sew it.");
    let design = folder.path().join("boards/design.yaml");
    let text = fs::read_to_string(&design).expect("it was written");
    fs::write(&design, text.replace("width: 20 mm", "width: 10 m")).expect("design written");
    passes(folder.path(), &BUILD);
}

#[test]
fn a_later_build_takes_away_what_it_no_longer_makes() {
    let folder = tempfile::tempdir().expect("a folder");
    boards(folder.path(), 2, "Sew it.");
    passes(folder.path(), &BUILD);
    let out = folder.path().join("out/boards");
    assert!(out.join("cut/one/board-1.svg").exists());
    boards(folder.path(), 1, "Sew it.");
    fs::write(out.join("notes.txt"), "mine").expect("notes written");
    passes(folder.path(), &BUILD);
    assert!(!out.join("cut/one/board-1.svg").exists());
    assert!(out.join("cut/one/board-0.svg").exists() && out.join("notes.txt").exists());
}

#[test]
fn unknown_sizes_and_papers_are_faults_of_the_command() {
    let folder = tempfile::tempdir().expect("a folder");
    boards(folder.path(), 1, "Sew it.");
    for (option, value) in [("--size", "one,nope"), ("--paper", "vellum")] {
        let output = pressfoot(folder.path(), &[&BUILD[..], &[option, value]].concat());
        let told = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{told}");
        assert_eq!(
            told.matches(value.trim_start_matches("one,")).count(),
            1,
            "{told}"
        );
    }
}

#[test]
fn json_is_one_object_a_line_and_a_design_is_built_once() {
    let folder = tempfile::tempdir().expect("a folder");
    boards(folder.path(), 1, "Sew it.");
    let more = ["./boards", "--format", "json", "--timings"];
    let output = pressfoot(folder.path(), &[&BUILD[..], &more].concat());
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    let lines: Vec<serde_json::Value> = text
        .lines()
        .map(|line| serde_json::from_str(line).expect(line))
        .collect();
    let of = |kind: &str| lines.iter().filter(|line| line["kind"] == kind).count();
    // the booklet, the proof sheet, the pieces for programs of the trade and the listing; cut files and pictures
    let found = (of("verdict"), of("file"), of("folder"));
    assert_eq!(found, (1, 4, 2), "{text}");
    assert!(of("timing") > 3 && output.stderr.is_empty());
    let output = pressfoot(folder.path(), &["build", "nowhere", "--format", "json"]);
    let fault: serde_json::Value = serde_json::from_slice(&output.stdout).expect("one object");
    assert_eq!(fault["kind"], "fault");
}

#[test]
#[cfg(target_os = "linux")]
fn a_full_disk_at_standard_output_is_told() {
    let full = fs::File::options().write(true).open("/dev/full");
    let output = Command::new(env!("CARGO_BIN_EXE_pressfoot"))
        .current_dir(project())
        .args(["measure", "seed-pouch"])
        .stdout(full.expect("the device that is always full"))
        .stderr(Stdio::piped())
        .output()
        .expect("the program starts");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("cannot be written"));
}
