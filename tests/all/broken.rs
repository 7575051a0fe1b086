//! Designs with one mistake each, as designers make them: the message, its place, the exit code,
//! and that outputs of an earlier, good build are left alone.
//!
//! Each folder of `tests/broken` holds one design and `expected.txt`, the exact record.

use crate::support::{compare, copy, pressfoot, project, record};
use std::fs;

#[test]
fn each_mistake_is_told_at_its_place_and_harms_no_older_booklet() {
    let root = project().join("tests/broken");
    let mut names: Vec<_> = fs::read_dir(&root)
        .expect("the folder of broken designs")
        .map(|entry| {
            entry
                .expect("an entry")
                .file_name()
                .into_string()
                .expect("a plain name")
        })
        .collect();
    names.sort();
    assert!(names.len() >= 25, "only {} broken designs", names.len());
    let wrong: Vec<String> = names
        .iter()
        .filter_map(|name| check(&root.join(name)))
        .collect();
    assert!(
        wrong.is_empty(),
        "{} of {} differ\n{}",
        wrong.len(),
        names.len(),
        wrong.join("\n")
    );
}

fn check(folder: &std::path::Path) -> Option<String> {
    let out = tempfile::tempdir().expect("a folder for the outputs");
    let design = ["stall-slipper", "barn-boot"]
        .into_iter()
        .find(|name| folder.join(name).is_dir())
        .expect("one of the two designs");
    let older = out.path().join(format!("{design}/{design}-a4.pdf"));
    fs::create_dir_all(older.parent().expect("it has a parent")).expect("folder made");
    fs::write(&older, "the booklet of yesterday").expect("older booklet written");
    let out_name = out.path().to_str().expect("a plain path");
    let output = pressfoot(folder, &["build", "--from", ".", "--out", out_name]);
    let text = record(&output).replace(out_name, "OUT");
    if output.status.code() != Some(1) {
        return Some(format!("{}: exit code is not 1\n{text}", folder.display()));
    }
    let kept = fs::read_to_string(&older).unwrap_or_default();
    if kept != "the booklet of yesterday" {
        return Some(format!(
            "{}: the older booklet was touched",
            folder.display()
        ));
    }
    compare(&folder.join("expected.txt"), &text)
}

/// A template is a program, and this one fills the memory; what works for ever without filling it is ended by
/// the clock, in minutes (`src/cli/patience.rs`).
#[cfg(target_os = "linux")]
#[test]
fn a_template_that_works_without_end_ends_the_program_with_its_place() {
    let house = project().join("templates/ornament.typ");
    let house = fs::read_to_string(house).expect("the ornament of the house");
    let below = house.lines().count() + 1;
    let endless =
        "#let all = { let all = (); for i in range(100000000) { all.push(str(i)) }; all }";
    let place = tempfile::tempdir().expect("a folder");
    let design = place.path().join("designs/pouch");
    copy(&project().join("designs/seed-pouch"), &design);
    fs::create_dir(design.join("template")).expect("a folder for templates");
    let own = design.join("template/ornament.typ");
    fs::write(own, format!("{house}{endless}\n")).expect("a template");
    let output = pressfoot(place.path(), &["build", "--paper", "a4"]);
    let text = record(&output);
    assert_eq!(output.status.code(), Some(1), "{text}");
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("error template-endless: The booklet is not set yet, and it has taken"),
        "{text}"
    );
    assert!(
        text.contains("at designs/pouch/template/ornament.typ:18:3"),
        "{text}"
    );
    assert!(
        text.contains(&format!(", {below}), so pressfoot has ended")),
        "{text}"
    );
    let made = place.path().join("build-output/pouch");
    assert!(!made.exists(), "nothing half-made is left");
}
