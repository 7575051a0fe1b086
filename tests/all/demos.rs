//! The demo designs, built by the program as a designer would.

use crate::support::{pressfoot, project, record};
use serde_json::Value;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

fn build(out: &Path) {
    let out = out.to_str().expect("a plain path");
    let output = pressfoot(&project(), &["build", "--out", out]);
    assert_eq!(output.status.code(), Some(0), "{}", record(&output));
}

fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    walkdir::WalkDir::new(folder)
        .into_iter()
        .map(|entry| entry.expect("an entry"))
        .filter(|entry| entry.file_type().is_file())
        .map(|entry| {
            let path = entry.path().strip_prefix(folder).expect("below the folder");
            let bytes = fs::read(entry.path()).expect("the file");
            (path.to_string_lossy().replace('\\', "/"), bytes)
        })
        .collect()
}

fn json(path: &Path) -> Value {
    serde_json::from_slice(&fs::read(path).expect("the file")).expect("well-formed JSON")
}

fn number(value: &Value, pointer: &str) -> f64 {
    value
        .pointer(pointer)
        .and_then(Value::as_f64)
        .unwrap_or_else(|| panic!("no {pointer}"))
}

#[test]
fn demo_booklets_pass_their_proof_and_come_out_the_same_twice() {
    let (first, second) = (
        tempfile::tempdir().expect("dir"),
        tempfile::tempdir().expect("dir"),
    );
    build(first.path());
    build(second.path());
    let (a, b) = (files(first.path()), files(second.path()));
    assert_eq!(a.keys().collect::<Vec<_>>(), b.keys().collect::<Vec<_>>());
    for (name, bytes) in &a {
        assert!(b[name] == *bytes, "{name} differs between two builds");
    }
    for design in [
        "frost-slipper",
        "gleaners-apron",
        "harvest-bar-shoe",
        "lane-tie-shoe",
        "seed-pouch",
    ] {
        let folder = first.path().join(design);
        let proof = json(&folder.join("proof.json"));
        assert_eq!(proof["passed"], true, "{design}");
        for paper in ["a4", "letter"] {
            proofed(&proof, &format!("{design}-{paper}.pdf"));
            if design == "harvest-bar-shoe" {
                proofed(&proof, &format!("{design}-fitting-{paper}.pdf"));
            }
        }
    }
    harvest_bar_shoe(&json(&first.path().join("harvest-bar-shoe/numbers.json")));
}

/// On paper: outlines within 0.01 mm, squares exact to 0.01 mm (5 cm and 2 in).
fn proofed(proof: &Value, file: &str) {
    let measured = &proof["measured"][file];
    assert!(
        measured["worst_deviation_mm"]
            .as_f64()
            .is_some_and(|d| d <= 0.01),
        "{file}"
    );
    let squares = measured["test_squares"].as_array().expect("squares");
    assert!(squares.len() >= 2, "{file}");
    for square in squares {
        let (width, height) = (number(square, "/width_mm"), number(square, "/height_mm"));
        let exact = |side: f64| (width - side).abs() < 0.01 && (height - side).abs() < 0.01;
        assert!(exact(50.0) || exact(50.8), "{file}: {square}");
    }
}

/// A parallel curve of a convex outline is longer by 2π times the distance (Steiner; the sole is
/// not quite convex, so the turning adds up to 2π all the same as long as no hollow closes).
fn harvest_bar_shoe(numbers: &Value) {
    for size in ["small", "medium", "large"] {
        let sole = format!("/sizes/{size}/pieces/sole");
        let seam = number(numbers, &format!("{sole}/seam_line/perimeter_mm"));
        let cut = number(numbers, &format!("{sole}/cut_line/perimeter_mm"));
        let allowance = 4.7625;
        let expected = seam + std::f64::consts::TAU * allowance;
        assert!(
            (cut / expected - 1.0).abs() < 1e-4,
            "{size}: {cut} against {expected}"
        );
    }
}
