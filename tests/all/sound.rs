//! Designs that once were refused although nothing is wrong with them: each builds, and its proof passes
//! without a word.

use crate::support::{pressfoot, project, record};
use std::fs;

#[test]
fn nothing_is_said_of_a_sound_design() {
    let from = project().join("tests/sound");
    let mut names: Vec<String> = fs::read_dir(&from)
        .expect("the folder of sound designs")
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .collect();
    names.sort();
    assert!(names.len() > 1);
    for name in names {
        let out = tempfile::tempdir().expect("a folder for the outputs");
        let to = out.path().to_string_lossy().into_owned();
        let output = pressfoot(&from, &["build", "--from", ".", "--out", &to, &name]);
        let told = record(&output);
        assert_eq!(output.status.code(), Some(0), "{name}: {told}");
        assert!(
            !told.contains("error") && !told.contains("warning"),
            "{name}: {told}"
        );
    }
}
